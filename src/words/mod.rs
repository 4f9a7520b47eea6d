//! What falls short as findings: sentences, labels, helps, and the places in the recipe that they point to.
//!
//! Input: a [`Band`] and the shortfalls that were found of it. Output: [`Finding`]s. Nothing is computed here.

mod error;
pub mod fineness;
mod impossible;
mod join;
mod length;
mod made;
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
    let Evaluation {
        band,
        limits,
        shortfalls,
        ..
    } = evaluation;
    let of_metal = |short: &&Shortfall| matches!(short, Shortfall::Metal(_));
    let first = shortfalls.iter().filter(of_metal);
    let last = shortfalls.iter().filter(|short| !of_metal(short));
    let first = first.map(|short| finding(band, short));
    let last = last.map(|short| finding(band, short));
    let limits = limits.iter().cloned().map(|limit| limit.of(of_band(band)));
    first.chain(limits).chain(last).collect()
}

/// Why a band cannot be evaluated.
#[must_use]
pub fn barred(band: &Band, barred: Barred) -> Vec<Finding> {
    match barred {
        Barred::Shape(short) => {
            let said = short.iter().copied().map(Shortfall::Metal);
            said.map(|short| finding(band, &short)).collect()
        }
        Barred::Parts(shortfall) => vec![finding(band, &shortfall)],
    }
}

/// What falls short, said of its band.
#[must_use]
pub fn finding(band: &Band, shortfall: &Shortfall) -> Finding {
    let said: Finding = match shortfall {
        Shortfall::Metal(short) => metal(band, short).into(),
        Shortfall::Join(shortfall) => join::told(band, shortfall).into(),
        Shortfall::Made(shortfall) => made::told(band, shortfall).into(),
    };
    let wall = match shortfall {
        Shortfall::Metal(kernel::Shortfall::ThinWall(thin)) => Some(thin::word(thin.wall.id)),
        _ => None,
    };
    said.of(Identity {
        field: Some(shortfall.field().path()),
        wall,
        ..of_band(band)
    })
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
    }
}
