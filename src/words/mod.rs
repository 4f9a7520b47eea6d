//! What falls short as findings: sentences, labels, helps, and the places in the recipe that they point to.
//!
//! Input: a [`Band`] and the shortfalls that were found of it. Output: [`Finding`]s. Nothing is computed here.

mod cut;
mod error;
pub mod fineness;
mod impossible;
mod join;
mod length;
mod made;
pub mod money;
pub mod money_days;
mod money_limit;
mod numbers;
mod spoken;
mod thin;

use crate::evaluate::{Barred, Evaluation, Shortfall};
use crate::finding::{Finding, Identity};
use crate::kernel;
use crate::model::Band;

pub use error::MetalError;
pub use join::{basis, body, unstated};
pub use spoken::Spoken;
pub use thin::wall;

/// Everything that falls short of a band that can be made.
#[must_use]
pub fn findings(evaluation: &Evaluation) -> Vec<Finding> {
    let short = evaluation.shortfalls.iter();
    short
        .filter_map(|short| finding(&evaluation.band, short))
        .collect()
}

/// Why a band cannot be worked out.
#[must_use]
pub fn barred(band: &Band, barred: Barred) -> Vec<Finding> {
    match barred {
        Barred::Shape(short) => {
            let said = short.iter().copied().map(Shortfall::Metal);
            said.filter_map(|short| finding(band, &short)).collect()
        }
        Barred::Parts(shortfall) => finding(band, &shortfall).into_iter().collect(),
    }
}

/// What falls short, said of its band; none where nothing of the band can be pointed at.
#[must_use]
pub fn finding(band: &Band, shortfall: &Shortfall) -> Option<Finding> {
    let said: Finding = match shortfall {
        Shortfall::Metal(short) => metal(band, short).into(),
        Shortfall::Money(short) => money::of_band(*short, band)?,
        Shortfall::Fineness(short) => fineness::of_band(band, short)?,
        Shortfall::Join(shortfall) => join::told(band, shortfall).into(),
        Shortfall::Made(shortfall) => made::told(band, shortfall).into(),
    };
    let wall = match shortfall {
        Shortfall::Metal(kernel::Shortfall::ThinWall(thin)) => Some(thin::word(thin.wall.id)),
        _ => None,
    };
    Some(said.of(Identity {
        field: Some(shortfall.field().path()),
        wall,
        ..of_band(band)
    }))
}

fn of_band(band: &Band) -> Identity {
    Identity {
        band: Some(band.name.as_str().into()),
        ..Identity::default()
    }
}

fn metal(band: &Band, short: &kernel::Shortfall) -> MetalError {
    use kernel::Shortfall as Short;
    match *short {
        Short::DoesNotFit { misfit, fits } => impossible::does_not_fit(band, &misfit, fits),
        Short::OverStated {
            field,
            from,
            stated,
            follows,
        } => impossible::over_stated(band, field, from, stated, follows),
        Short::ThinWall(thin) => thin::thin_wall(band, &thin),
        Short::Cut(short) => cut::told(band, &short),
    }
}
