//! Names that a value can be: of the recipe's own first, then what is built in.

use crate::catalogue;
use crate::quantity::{Dimension, RingSize, Steps, unit};
use crate::schema;

use super::Bench;
use super::due::Candidate;

/// What can stand behind `meets`: rulebooks, the recipe's own first, and behind one its standards; none elsewhere.
pub(super) fn claim(bench: &Bench, before: &str) -> Option<Vec<Candidate>> {
    let at = before.rfind("meets")?;
    let behind = before.get(at..)?.strip_prefix("meets")?.trim();
    let own = bench.prepared.named("rules").into_iter();
    if behind.is_empty() {
        let built_in = catalogue::rulebook_words().map(str::to_owned);
        return Some(own.chain(built_in).collect());
    }
    let book = catalogue::rulebook(behind)?;
    let mut standards: Vec<_> = book
        .standards
        .values()
        .flat_map(|of| of.value.iter())
        .map(|standard| standard.normalize())
        .collect();
    standards.sort_unstable();
    standards.dedup();
    Some(standards.iter().map(ToString::to_string).collect())
}

/// What the recipe itself gives names to.
pub(super) fn own_names(bench: &Bench) -> Vec<Candidate> {
    let lets = bench.outcome.recipe.lets.iter().map(|one| one.name.clone());
    bands(bench).into_iter().chain(lets).collect()
}

/// The forms that stock comes in.
pub(super) fn forms() -> Vec<Candidate> {
    schema::FORMS
        .iter()
        .map(|form| (*form).to_owned())
        .collect()
}

pub(super) fn units(dimension: Dimension) -> Vec<Candidate> {
    unit::of_dimension(dimension)
        .into_iter()
        .map(str::to_owned)
        .collect()
}

pub(super) fn bands(bench: &Bench) -> Vec<Candidate> {
    bench.prepared_names()
}

pub(super) fn alloys(bench: &Bench) -> Vec<Candidate> {
    let mut own = bench.prepared.named("alloy");
    let mut known: Vec<Candidate> = catalogue::alloy_names().map(str::to_owned).collect();
    known.sort_unstable();
    own.append(&mut known);
    own
}

/// What a price can be of: an element when fine, or an alloy as such.
pub(super) fn metals(bench: &Bench) -> Vec<Candidate> {
    let elements = catalogue::element_names().map(str::to_owned);
    elements.chain(alloys(bench)).collect()
}

/// The states that alloys are known in; those of the recipe's own alloys too.
pub(super) fn tempers(bench: &Bench) -> Vec<Candidate> {
    let usual = ["annealed", "hard", "aged"].map(str::to_owned);
    let own = bench.outcome.recipe.alloys.iter();
    let own = own.flat_map(|alloy| alloy.tempers.iter().map(|temper| temper.name.clone()));
    usual.into_iter().chain(own).collect()
}

/// System words, and behind one its sizes.
pub(super) fn sizes(rest: &str) -> Vec<Candidate> {
    let Some(system) = catalogue::system(rest) else {
        return if rest.is_empty() {
            catalogue::system_words().map(str::to_owned).collect()
        } else {
            Vec::new()
        };
    };
    let mut found = Vec::new();
    let mut next = RingSize::at(system, system.lowest).ok();
    while let Some(size) = next {
        found.push(size.designation());
        next = size.stepped(Steps::from_integer(1)).ok();
    }
    found
}
