//! Fineness in words: verdicts, the reasons behind them with their clauses, and what is wrong with a claim.

mod claim;
mod error;
mod judged;
mod reasons;
mod skin;
mod tag;
mod verdict;

use crate::finding::Finding;
use crate::fineness::FinenessShortfall;
use crate::model::Band;
use crate::schema::FieldId;

pub use claim::{claimed, found, margin, problem, subject};
pub use error::FinenessError;
pub use judged::Judged;
pub use reasons::{ReasonSaid, statement};
pub use skin::RestrictedMetal;
pub use tag::FalseTag;
pub use verdict::{CLOSING, asked, explain, label, paths, with_reasons};

/// What falls short of a band whatever is claimed of it; none for what only a claim brings.
#[must_use]
pub fn of_band(band: &Band, shortfall: &FinenessShortfall) -> Option<Finding> {
    match *shortfall {
        FinenessShortfall::Restricted {
            part,
            held,
            most,
            limit,
        } => {
            let field = shortfall.field().unwrap_or(FieldId::Alloy);
            Some(RestrictedMetal::of(band, (field, part), (held, most), limit).into())
        }
        FinenessShortfall::Tag { reason } => FalseTag::of(band, &reason).map(Finding::from),
        _ => None,
    }
}
