//! Shortfalls as findings: the sentences, their places in the recipe, and what would help.

mod join;
mod made;
mod numbers;
mod spoken;

pub use join::{basis, body, unstated};
pub use spoken::Spoken;

use crate::evaluate::{Barred, Evaluation, Shortfall};
use crate::finding::Finding;
use crate::model::Band;

/// Everything that falls short of a band, and what must be said of it.
#[must_use]
pub fn findings(evaluation: &Evaluation) -> Vec<Finding> {
    let Evaluation {
        band,
        limits,
        shortfalls,
        ..
    } = evaluation;
    let told = shortfalls.iter().map(|shortfall| finding(band, shortfall));
    limits.iter().cloned().chain(told).collect()
}

/// Why a band cannot be evaluated.
#[must_use]
pub fn barred(band: &Band, barred: Barred) -> Vec<Finding> {
    match barred {
        Barred::Shape(findings) => findings,
        Barred::Parts(shortfall) => vec![finding(band, &shortfall)],
    }
}

/// A shortfall of a band.
#[must_use]
pub fn finding(band: &Band, shortfall: &Shortfall) -> Finding {
    let told = match shortfall {
        Shortfall::Join(shortfall) => join::told(band, shortfall),
        Shortfall::Made(shortfall) => made::told(band, shortfall),
    };
    told.into()
}
