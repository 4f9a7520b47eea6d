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
mod repointed;
mod spoken;
mod thin;
mod told;
mod weighed;
mod worst;

use crate::evaluate::{Barred, Evaluation, Shortfall};
use crate::finding::Finding;
use crate::kernel;
use crate::model::Band;

pub use error::MetalError;
pub use join::{basis, body, unstated};
pub use repointed::Repointed;
pub use spoken::Spoken;
pub use thin::{wall, word as wall_word};
pub use told::finding;
pub use weighed::{grams, line as settled_line, shown as shown_amount, stage};
pub use worst::stands;

/// Everything that falls short of a band that can be made.
#[must_use]
pub fn findings(evaluation: &Evaluation) -> Vec<Finding> {
    let short = evaluation.shortfalls.iter();
    let short = short.filter_map(|short| match short {
        Shortfall::Weighed(short) => Some(weighed::told(evaluation, short)),
        short => {
            let said = finding(&evaluation.band, short)?;
            Some(match short {
                Shortfall::Metal(kernel::KernelShortfall::ThinWall(thin)) if thin.worst > 0.0 => {
                    worst::of_wall(evaluation, thin, said)
                }
                _ => said,
            })
        }
    });
    let at_worst = evaluation.worst().iter();
    let at_worst = at_worst.filter_map(|one| worst::told(evaluation, one));
    short.chain(at_worst).collect()
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
