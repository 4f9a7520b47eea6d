//! What makes a band impossible, and what falls short of it, as values of the rooms that judge it.

use std::sync::Arc;

use crate::fineness;
use crate::kernel::{self, Figures, Input, StretchFigures, join, made};
use crate::model::Band;
use crate::money;
use crate::quantity::Number;
use crate::schema::FieldId;

use super::standing::Standing;
use super::weighed_short::WeighedShort;

/// One thing about a band that cannot be, or falls short.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Shortfall {
    /// Of its metal.
    Metal(kernel::KernelShortfall),
    /// Of stock, prices or rates.
    Money(money::MoneyShortfall),
    /// Of what is in the metal.
    Fineness(fineness::FinenessShortfall),
    /// About stretch and join.
    Join(join::JoinShortfall),
    /// About parts as they came off the machine.
    Made(made::MadeShortfall),
    /// About readings of the scale.
    Weighed(WeighedShort),
}

impl From<kernel::KernelShortfall> for Shortfall {
    fn from(shortfall: kernel::KernelShortfall) -> Self {
        Self::Metal(shortfall)
    }
}

impl From<money::MoneyShortfall> for Shortfall {
    fn from(shortfall: money::MoneyShortfall) -> Self {
        Self::Money(shortfall)
    }
}

impl From<fineness::FinenessShortfall> for Shortfall {
    fn from(shortfall: fineness::FinenessShortfall) -> Self {
        Self::Fineness(shortfall)
    }
}

impl From<join::JoinShortfall> for Shortfall {
    fn from(shortfall: join::JoinShortfall) -> Self {
        Self::Join(shortfall)
    }
}

impl From<made::MadeShortfall> for Shortfall {
    fn from(shortfall: made::MadeShortfall) -> Self {
        Self::Made(shortfall)
    }
}

impl Shortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Metal(shortfall) => shortfall.code(),
            Self::Money(shortfall) => shortfall.code(),
            Self::Fineness(shortfall) => shortfall.code(),
            Self::Join(shortfall) => shortfall.code(),
            Self::Made(shortfall) => shortfall.code(),
            Self::Weighed(shortfall) => shortfall.code(),
        }
    }

    /// The field that it is told at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match self {
            Self::Metal(shortfall) => shortfall.field(),
            Self::Money(shortfall) => shortfall.field(),
            Self::Fineness(shortfall) => shortfall.field().unwrap_or(FieldId::Alloy),
            Self::Join(shortfall) => shortfall.field(),
            Self::Made(shortfall) => shortfall.field(),
            Self::Weighed(shortfall) => shortfall.field(),
        }
    }

    /// What is found, where one figure says it: mm, parts per thousand, strains as true ones.
    #[must_use]
    pub fn found(&self) -> Option<Number> {
        match self {
            Self::Metal(shortfall) => shortfall.found().map(Number::Computed),
            Self::Money(shortfall) => shortfall.found(),
            Self::Fineness(shortfall) => shortfall.found().map(Number::Exact),
            Self::Join(shortfall) => shortfall.found().map(Number::Computed),
            Self::Made(shortfall) => shortfall.found().map(Number::Computed),
            Self::Weighed(shortfall) => shortfall
                .figures()
                .map(|(found, _)| Number::Computed(found)),
        }
    }

    /// What it should be, where one figure says it, in the unit of what is found.
    #[must_use]
    pub fn wanted(&self) -> Option<Number> {
        match self {
            Self::Metal(shortfall) => shortfall.wanted().map(Number::Computed),
            Self::Money(shortfall) => shortfall.wanted(),
            Self::Fineness(shortfall) => shortfall.wanted().map(Number::Exact),
            Self::Join(shortfall) => shortfall.wanted().map(Number::Computed),
            Self::Made(shortfall) => shortfall.wanted().map(Number::Computed),
            Self::Weighed(shortfall) => shortfall
                .figures()
                .map(|(_, wanted)| Number::Computed(wanted)),
        }
    }

    /// The field that would mend it alone, and its value in base units.
    #[must_use]
    pub fn fits(&self) -> Option<(FieldId, Number)> {
        let computed = |(field, value)| (field, Number::Computed(value));
        match self {
            Self::Metal(shortfall) => shortfall.fits().map(computed),
            Self::Money(shortfall) => {
                let fits = shortfall.fits()?;
                Some((shortfall.field(), Number::Exact(fits)))
            }
            Self::Fineness(_) | Self::Weighed(_) => None,
            Self::Join(shortfall) => shortfall.fits().map(computed),
            Self::Made(shortfall) => shortfall.fits().map(computed),
        }
    }
}

/// Why a band cannot be worked out.
#[derive(Clone, Debug)]
pub enum Barred {
    /// Its shape cannot be: each bound that it breaks, with the value that would just fit.
    Shape(Vec<kernel::KernelShortfall>),
    /// Its parts cannot be joined, or contradict what was measured of them.
    Parts(Box<Shortfall>),
}

/// What falls short somewhere in the ranges.
#[derive(Clone, Debug)]
pub struct Worst {
    /// What falls short there.
    pub shortfall: Shortfall,
    /// Where: the variables that it takes, each with where it stands.
    pub point: Standing,
    /// The band there.
    pub band: Arc<Band>,
    /// The band cannot be made there.
    pub bars: bool,
}

/// What about stretch, join and parts as made cannot be; `stretch` gives them where they are wanted.
pub(super) fn impossible<'a>(
    input: &Input,
    figures: &Figures,
    stretch: impl FnOnce() -> &'a StretchFigures,
) -> Option<Shortfall> {
    // Nothing is computed of a band that nothing is asked of.
    let joined = match input.shape.hollow {
        Some(_) => stretch().hollow.as_ref(),
        None => None,
    };
    if let Some(shortfall) = join::impossible(input, joined) {
        return Some(shortfall.into());
    }
    let clash = match joined {
        Some(joined) => made::contradiction(input, figures, joined),
        None => made::blank_contradiction(input, figures),
    };
    clash.map(Shortfall::from)
}

/// Whether something of stretch, join or parts as made is judged.
#[must_use]
pub fn is_stretched(input: &Input) -> bool {
    let given = &input.stretch;
    let measured = given.made != made::Measured::default();
    measured || input.shape.hollow.is_some() || given.start.is_some()
}

/// What falls short of stretch, join and parts as made; `stretch` gives them where they are wanted.
pub(super) fn short<'a>(
    input: &Input,
    figures: &Figures,
    stretch: impl FnOnce() -> &'a StretchFigures,
) -> Vec<Shortfall> {
    let mut found = Rooms::default();
    if !is_stretched(input) {
        return found.0;
    }
    let stretch = stretch();
    let strains = stretch.strains(input);
    let joined = stretch.hollow.as_ref();
    found.extend(made::unused(input, joined));
    if let Some(blank) = &stretch.blank {
        made::blank_judge(input, figures, blank, strains.first(), &mut found);
    }
    join::judge(input, &strains, joined, &mut found);
    if let (Some(joined), Some(made)) = (joined, &stretch.made) {
        made::judge(input, figures, joined, made, &mut found);
    }
    found.0
}

/// Shortfalls of all rooms in one list.
#[derive(Default)]
struct Rooms(Vec<Shortfall>);

impl<S: Into<Shortfall>> Extend<S> for Rooms {
    fn extend<I: IntoIterator<Item = S>>(&mut self, shortfalls: I) {
        self.0.extend(shortfalls.into_iter().map(S::into));
    }
}
