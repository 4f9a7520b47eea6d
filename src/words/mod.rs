//! What falls short, in words: findings with their places, sentences and helps.
//!
//! Input: an [`Evaluation`] or a part of a recipe, and the shortfalls that its arithmetic found. Output: findings.
//! Nothing is computed here.

pub mod money;

use crate::evaluate::{Evaluation, Limit};
use crate::finding::Finding;

/// What is said of every limit of an evaluation that is not kept, in the order in which they are judged.
#[must_use]
pub fn findings(evaluation: &Evaluation) -> Vec<Finding> {
    let limits = evaluation.limits.iter();
    let said = limits.filter_map(|limit| match limit {
        Limit::Money(short) => money::of_band(*short, &evaluation.band),
        Limit::Said(finding) => Some(finding.clone()),
    });
    said.collect()
}
