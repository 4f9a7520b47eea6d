//! A part of a recipe evaluated anew, put in place of what the whole came to before.

use std::collections::{BTreeSet, HashMap};

use crate::evaluate::Verdict;
use crate::finding::{Finding, settle};
use crate::model::{Requirement, mentioned};
use crate::source::Sources;

use super::Outcome;
use super::ordered::ORDERS;

impl Outcome {
    /// Puts the bands and `let`s of a part in place of those of the same names, with what was found of them, and
    /// judges anew what is required of them.
    ///
    /// Gives the requirements whose verdict changed, before and after.
    pub fn patch(
        &mut self,
        part: Outcome,
        names: &BTreeSet<String>,
        sources: &Sources,
    ) -> Vec<(Verdict, Verdict)> {
        self.refused = part.refused;
        self.noted |= part.noted;
        self.patched |= part.patched;
        let ordered = !part.orders.is_empty();
        let (gone, mut others): (Vec<_>, Vec<_>) = std::mem::take(&mut self.of_bands)
            .into_iter()
            .partition(|(band, _)| names.contains(band) || (ordered && band == ORDERS));
        let of_another = |one: &Finding| others.iter().any(|(_, other)| other.says_as(one));
        self.findings.retain(|one| {
            let is_gone = gone.iter().any(|(_, known)| known.says_as(one));
            !is_gone || of_another(one)
        });
        others.extend(part.of_bands);
        self.of_bands = others;
        for one in part.findings {
            if !self.findings.iter().any(|known| known.says_as(&one)) {
                self.findings.push(one);
            }
        }
        self.aside.extend(part.aside);
        self.recipe.money = part.recipe.money;
        self.recipe.money_is_faulty = part.recipe.money_is_faulty;
        for one in part.recipe.lets {
            if let Some(known) = self
                .recipe
                .lets
                .iter_mut()
                .find(|known| known.name == one.name)
            {
                *known = one;
            }
        }
        if !part.orders.is_empty() {
            self.orders = part.orders;
            self.lines = part.lines;
            self.recipe.orders = part.recipe.orders;
        }
        swap(&mut self.recipe.alloys, part.recipe.alloys, names, &|one| {
            &one.name
        });
        let bands = swap(&mut self.recipe.bands, part.recipe.bands, names, &|band| {
            &band.name
        });
        let evaluations = swap(&mut self.evaluations, part.evaluations, names, &|one| {
            &one.band.name
        });
        if bands || evaluations {
            self.put_in_order();
        }
        self.judge_again(names, sources)
    }

    /// Bands and evaluations in the order of the names, where something was put in that was not there.
    fn put_in_order(&mut self) {
        let Self {
            recipe,
            evaluations,
            ..
        } = self;
        let names = recipe.names.iter().chain(&recipe.used_names);
        let places: HashMap<&str, usize> = names
            .enumerate()
            .map(|(place, named)| (named.name.as_str(), place))
            .collect();
        let place = |name: &str| places.get(name).copied();
        evaluations.sort_by_key(|one| place(&one.band.name));
        recipe.bands.sort_by_key(|band| place(&band.name));
    }

    fn judge_again(
        &mut self,
        names: &BTreeSet<String>,
        sources: &Sources,
    ) -> Vec<(Verdict, Verdict)> {
        let requirements = std::mem::take(&mut self.recipe.requirements);
        let mut verdicts = std::mem::take(&mut self.verdicts);
        let mut changed = Vec::new();
        let mut findings: Vec<Finding> = Vec::new();
        for (requirement, verdict) in requirements.iter().zip(&mut verdicts) {
            if !self.concerns(requirement, names) {
                continue;
            }
            let is_inside = |one: &Finding| {
                let at = requirement.at;
                let span = one.span();
                span.is_some_and(|span| at.start <= span.start && span.end <= at.end)
            };
            self.findings.retain(|one| !is_inside(one));
            let after = self.judged(requirement, sources, &mut findings);
            let before = std::mem::replace(verdict, after.clone());
            if before.holds != after.holds {
                changed.push((before, after));
            }
        }
        self.recipe.requirements = requirements;
        self.verdicts = verdicts;
        self.findings.append(&mut findings);
        let mut findings = std::mem::take(&mut self.findings);
        self.tell_unread(&mut findings);
        self.findings = findings;
        settle(&mut self.findings);
        changed
    }

    /// Whether a requirement may rest on some of these names.
    fn concerns(&self, requirement: &Requirement, names: &BTreeSet<String>) -> bool {
        let Some(condition) = &requirement.condition else {
            return true;
        };
        // A path without a band's name means the chosen band, or the only one.
        mentioned(condition)
            .iter()
            .any(|word| names.contains(word) || !self.recipe.is_band(word))
    }
}

/// Puts what is new in place of what has the same name, takes out what is gone, adds the rest at the end;
/// whether there was such a rest.
fn swap<T>(
    known: &mut Vec<T>,
    new: Vec<T>,
    names: &BTreeSet<String>,
    name: &dyn Fn(&T) -> &String,
) -> bool {
    let mut new: Vec<Option<T>> = new.into_iter().map(Some).collect();
    known.retain_mut(|one| {
        if !names.contains(name(one)) {
            return true;
        }
        let found = new
            .iter_mut()
            .find(|candidate| candidate.as_ref().is_some_and(|new| name(new) == name(one)));
        match found.and_then(Option::take) {
            Some(found) => {
                *one = found;
                true
            }
            None => false,
        }
    });
    let before = known.len();
    known.extend(new.into_iter().flatten());
    known.len() > before
}
