//! The measured figure that would mend parts as made, and the nearest value of it that does.

use crate::kernel::Input;
use crate::kernel::section::fitting;
use crate::schema::FieldId;

use super::again::{Again, again};
use super::clash::Clash;
use super::measured::Measured;
use super::shortfall::MadeShortfall;

/// The measured field among some, and the nearest value of it that `accepts` takes; the first field alone where none is
/// sought.
pub(super) fn mended(
    input: &Input,
    fields: &[FieldId],
    accepts: &dyn Fn(&Measured) -> bool,
) -> (Option<FieldId>, Option<f64>) {
    let measured = &input.stretch.made;
    let stated = |path: &&FieldId| measured.of(**path).is_some();
    let mut first = None;
    for path in fields.iter().filter(stated) {
        first = first.or(Some(*path));
        if input.stretch.unadvised {
            break;
        }
        let now = measured.of(*path).unwrap_or(0.0);
        let takes = |value: f64| value > 0.0 && accepts(&measured.with(*path, value));
        let offers = [fitting(true, now, takes), fitting(false, now, takes)];
        let near = offers
            .into_iter()
            .flatten()
            .min_by(|a, b| (a - now).abs().total_cmp(&(b - now).abs()));
        if near.is_some() {
            return (Some(*path), near);
        }
    }
    (first, None)
}

/// A clash, told at the first measured field that could mend it: with walls as thick as they must be, else at all.
pub(super) fn refused(
    input: &Input,
    clash: Clash,
    thick: &dyn Fn(&Measured) -> bool,
    sound: &dyn Fn(&Measured) -> bool,
) -> Option<MadeShortfall> {
    let (field, fits) = match mended(input, clash.fields(), thick) {
        (_, None) => mended(input, clash.fields(), sound),
        offer => offer,
    };
    let field = field.or_else(|| input.stretch.made.stated().next())?;
    let again = match fits {
        Some(_) => Again::default(),
        None if input.stretch.unadvised => Again::default(),
        None => again(&input.stretch.made, sound),
    };
    Some(MadeShortfall::Contradicts {
        clash,
        field,
        fits,
        again,
    })
}
