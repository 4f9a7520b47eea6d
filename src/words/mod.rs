//! What falls short as findings: sentences, labels, helps, and the places in the recipe that they point to.
//!
//! Input: a [`Band`] and the shortfalls that were found of it. Output: [`Finding`]s. Nothing is computed here.

mod error;
mod impossible;
mod length;
mod thin;

use crate::evaluate::{Barred, Evaluation, Shortfall};
use crate::finding::Finding;
use crate::kernel;
use crate::model::Band;

pub use error::MetalError;
pub use thin::wall;

/// Everything that falls short of a band that can be made.
#[must_use]
pub fn findings(evaluation: &Evaluation) -> Vec<Finding> {
    let band = &evaluation.band;
    let short = evaluation.shortfalls.iter();
    short
        .map(|short| finding(band, short))
        .chain(evaluation.limits.iter().cloned())
        .collect()
}

/// Everything that makes a band impossible.
#[must_use]
pub fn barred(band: &Band, barred: Barred) -> Vec<Finding> {
    match barred {
        Barred::Shape(short) => {
            let said = short.iter().map(|short| metal(band, short).into());
            said.collect()
        }
        Barred::Parts(findings) => findings,
    }
}

/// What falls short, said of its band.
#[must_use]
pub fn finding(band: &Band, short: &Shortfall) -> Finding {
    match short {
        Shortfall::Metal(short) => metal(band, short).into(),
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
