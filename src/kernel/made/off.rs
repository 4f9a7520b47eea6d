//! A figure of the ring that parts as made come to, against the one ordered.

use crate::kernel::Input;
use crate::kernel::join::ROUNDING;
use crate::schema::FieldId;

use super::measured::Measured;
use super::mended::mended;
use super::shortfall::{MadeShortfall, OffSize};

/// One figure of a ring as made against the one ordered, mm.
#[derive(Clone, Copy)]
pub(super) struct Off {
    /// What of the ring.
    pub what: OffSize,
    /// What it comes to.
    pub is: f64,
    /// What is ordered.
    pub ordered: f64,
    /// The fields that could mend it, in the order that they are looked for.
    pub fields: &'static [FieldId],
}

impl Off {
    /// Whether it misses by more than it may.
    pub fn misses(&self, input: &Input) -> bool {
        (self.is - self.ordered).abs() > input.stretch.off_size + ROUNDING
    }

    /// What is said of a figure that misses; `takes`: what the ring of other measured figures comes to, none where
    /// they clash.
    pub fn shortfall<const N: usize>(
        &self,
        input: &Input,
        takes: &dyn Fn(&Measured) -> Option<[Off; N]>,
    ) -> Option<MadeShortfall> {
        let accepts = |measured: &Measured| {
            let all = takes(measured);
            let own = all.and_then(|all| all.into_iter().find(|one| one.what == self.what));
            own.is_some_and(|own| !own.misses(input))
        };
        let (field, fits) = mended(input, self.fields, &accepts);
        Some(MadeShortfall::Off {
            what: self.what,
            is: self.is,
            ordered: self.ordered,
            limit: input.stretch.off_size,
            field: field?,
            fits,
        })
    }
}
