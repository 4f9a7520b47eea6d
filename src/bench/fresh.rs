//! What there is now that was not there before a change.

use std::collections::BTreeSet;

use crate::evaluate::Verdict;
use crate::finding::{Finding, Weight};

/// Requirements whose verdict changed, before and after.
pub(super) fn turned(before: Vec<Verdict>, after: &[Verdict]) -> Vec<(Verdict, Verdict)> {
    let pairs = before.into_iter().zip(after);
    let turned = pairs.filter(|(old, new)| old.what == new.what && old.holds != new.holds);
    turned.map(|(old, new)| (old, new.clone())).collect()
}

/// Findings of some weights that were not there before, by what they say.
pub(super) fn fresh(
    now: &[Finding],
    before: &[Finding],
    wanted: impl Fn(Weight) -> bool,
) -> Vec<Finding> {
    let known: BTreeSet<(String, String)> = before
        .iter()
        .map(|one| (one.code(), one.message()))
        .collect();
    now.iter()
        .filter(|one| wanted(one.weight()))
        .filter(|one| !known.contains(&(one.code(), one.message())))
        .cloned()
        .collect()
}
