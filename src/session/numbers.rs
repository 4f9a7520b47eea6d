//! A try that only moves numbers: nothing is read or resolved anew but what follows from them.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::evaluate::{self, Evaluation};
use crate::finding::Finding;
use crate::model::{Band, FieldValue, Move, Moved, Recipe, Wanted};
use crate::syntax::{self, ast};
use crate::words;

use super::overrides::is_step;
use super::{Outcome, Prepared, Request, Session, Tried};

impl Session {
    /// What a try comes to over an outcome, by moving numbers alone: the bands, `let`s and alloys that it reaches, and their
    /// names. None where it says more than numbers, so that the recipe must be resolved anew.
    ///
    /// # Errors
    /// Findings, where a number or what follows from it is out of range, or makes a band impossible.
    #[allow(clippy::type_complexity, reason = "what it reaches goes with it")]
    pub fn by_numbers(
        &mut self,
        prepared: &Prepared,
        outcome: &Outcome,
        tried: &Tried,
    ) -> Option<Result<(Outcome, BTreeSet<String>), Vec<Finding>>> {
        let moved = self.moved(prepared, outcome, tried)?;
        match moved {
            Ok(moved) => part_of(prepared, outcome, moved).map(Ok),
            Err(findings) => Some(Err(findings)),
        }
    }

    /// A band in another size, by moving numbers alone, with what then falls short or is wrong; without what is measured on
    /// one ring. None where more than numbers follows, or something was found that may follow
    /// from them.
    pub(super) fn size_by_numbers(
        &mut self,
        prepared: &Prepared,
        outcome: &Outcome,
        band: &str,
        size: &Tried,
    ) -> Option<(Option<Evaluation>, Vec<Finding>)> {
        if outcome.noted {
            return None;
        }
        let mut moved = self.moved(prepared, outcome, size)?.ok()?;
        let mut findings = moved.findings;
        if moved.bands.len() > 1 && !findings.is_empty() {
            // Some are of other bands.
            return None;
        }
        let mut bands = outcome.recipe.bands.iter();
        let place = bands.position(|one| one.name == band)?;
        let mut band = moved.bands.remove(&place)?;
        let is_measured = |value: &FieldValue| value.field.is_of_one_ring();
        if band.fields.iter().any(is_measured) {
            if !findings.is_empty() {
                // Some may be of what was measured.
                return None;
            }
            let sized = Arc::make_mut(&mut band);
            sized.fields = sized.fields.only(|field| !field.is_of_one_ring());
        }
        let evaluation = match evaluate::evaluate(&band) {
            Ok(evaluation) => {
                findings.extend(words::findings(&evaluation));
                Some(evaluation)
            }
            Err(barred) => {
                findings.extend(words::barred(&band, barred));
                None
            }
        };
        Some((evaluation, findings))
    }

    fn moved(
        &mut self,
        prepared: &Prepared,
        outcome: &Outcome,
        tried: &Tried,
    ) -> Option<Result<Moved, Vec<Finding>>> {
        if outcome.refused || outcome.patched || !prepared.is_sound() {
            return None;
        }
        let id = self.add_tried(tried);
        let parsed = syntax::parse(self.sources.get(id)?);
        if !parsed.findings.is_empty() {
            return None;
        }
        let entries = ast::entries(&parsed.value.items);
        let moves = moves(prepared, &outcome.recipe, tried.band.as_deref(), entries)?;
        let moved = outcome.recipe.moved(&moves, &evaluate::Results);
        moved.transpose()
    }

    /// The recipe with the numbers that options say in the place of its own; none where one says more than a number,
    /// or anything is found, so that the options must be laid over the tree and the recipe resolved with them.
    pub(super) fn set_by_numbers(
        &mut self,
        prepared: &Prepared,
        request: &Request,
    ) -> Option<Recipe> {
        let sets = &request.sets;
        let none = sets.is_empty() || !request.tries.is_empty() || !prepared.is_sound();
        if none || sets.iter().any(|set| is_step(set)) {
            return None;
        }
        let mut findings = Vec::new();
        let entries: Option<Vec<ast::Entry>> = sets
            .iter()
            .map(|set| self.entry(set, 0, &mut findings))
            .collect();
        let entries = entries.filter(|_| findings.is_empty())?;
        let (mut recipe, problems) = prepared.resolved(&[], Wanted::All)?;
        if !problems.is_empty() {
            return None;
        }
        let moves = moves(prepared, &recipe, request.band.as_deref(), entries.iter())?;
        let moved = recipe.moved(&moves, &evaluate::Results).ok()??;
        moved.findings.is_empty().then(|| {
            recipe.take(moved);
            recipe
        })
    }
}

/// The numbers that entries move in a recipe; none where one says anything else, or two say the same.
fn moves<'e>(
    prepared: &Prepared,
    recipe: &Recipe,
    band: Option<&str>,
    entries: impl Iterator<Item = &'e ast::Entry>,
) -> Option<Vec<Move>> {
    let mut moves: Vec<Move> = Vec::new();
    for entry in entries {
        let mut findings = Vec::new();
        let (holder, path) = prepared.names().place(entry, band, &mut findings)?;
        let key = recipe.key_of(&holder, &path)?;
        if !findings.is_empty() || moves.iter().any(|known| known.key == key) {
            return None;
        }
        moves.push(Move::of(key, entry)?);
    }
    Some(moves)
}

/// The bands that moved numbers reach, evaluated, with the `let`s among them, prices and orders; none where a line of
/// an order must be resolved anew.
fn part_of(
    prepared: &Prepared,
    outcome: &Outcome,
    moved: Moved,
) -> Option<(Outcome, BTreeSet<String>)> {
    let mut part = Outcome {
        chosen: outcome.chosen.clone(),
        ..Outcome::default()
    };
    let ordered = |band: &Band| {
        let mut items = outcome.recipe.orders.iter().flat_map(|order| &order.items);
        items.any(|item| item.band == band.name)
    };
    let mut shaped = moved
        .shaped
        .iter()
        .filter_map(|place| moved.bands.get(place));
    if shaped.any(|band| ordered(band)) {
        return None;
    }
    let common = moved.money.is_some() || moved.orders.is_some();
    if common || moved.bands.values().any(|band| ordered(band)) {
        outcome.orders_moved(&moved, &mut part)?;
    } else {
        part.recipe.orders.clone_from(&outcome.recipe.orders);
    }
    let money = moved.money.or_else(|| outcome.recipe.money.clone());
    part.recipe.money = money;
    part.recipe.money_is_faulty = outcome.recipe.money_is_faulty;
    part.recipe.lets = moved.lets.into_values().collect();
    part.findings.extend(moved.findings);
    let mut names: BTreeSet<String> = BTreeSet::new();
    names.extend(part.recipe.lets.iter().map(|one| one.name.clone()));
    part.recipe.alloys = moved.alloys.into_values().collect();
    names.extend(part.recipe.alloys.iter().map(|alloy| alloy.name.clone()));
    if common {
        // What has no name: days of prices and offers.
        names.insert(String::new());
        let stale = outcome.stale(&part.recipe);
        part.find_in_common(stale);
    }
    for (place, band) in moved.bands {
        names.insert(band.name.clone());
        let mut known = outcome.evaluations.iter();
        let known = known.find(|one| one.band.name == band.name);
        let evaluated = match known.filter(|_| !moved.shaped.contains(&place)) {
            Some(known) => Some(Ok(known.with_money_of(Arc::clone(&band)))),
            None if prepared.is_broken(&band) => None,
            None => Some(evaluate::evaluate(&band)),
        };
        let found = match evaluated {
            Some(Ok(evaluation)) => {
                let limits = words::findings(&evaluation);
                part.evaluations.push(evaluation);
                limits
            }
            Some(Err(why)) if band.used => {
                part.aside.extend(words::barred(&band, why));
                Vec::new()
            }
            Some(Err(why)) => words::barred(&band, why),
            None => Vec::new(),
        };
        if !band.used {
            part.findings.extend(found.iter().cloned());
            let found = found.into_iter().map(|one| (band.name.clone(), one));
            part.of_bands.extend(found);
        }
        part.recipe.bands.push(band);
    }
    evaluate::read_each_other(&part.evaluations);
    Some((part, names))
}
