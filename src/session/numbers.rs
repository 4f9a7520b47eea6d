//! A try that only moves numbers: nothing is read or resolved anew but what follows from them.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::evaluate;
use crate::finding::Finding;
use crate::model::{Band, Holder, Key, Move, Moved};
use crate::schema;
use crate::syntax::{self, ast};
use crate::words;

use super::{Outcome, Prepared, Session, Tried};

impl Session {
    /// What a try comes to over an outcome, by moving numbers alone: the bands and `let`s that it reaches, and their
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
        let moves = self.moves(prepared, outcome, tried)?;
        let moved = match outcome.recipe.moved(&moves, &evaluate::Results) {
            Ok(moved) => moved?,
            Err(findings) => return Some(Err(findings)),
        };
        part_of(prepared, outcome, moved).map(Ok)
    }

    /// The numbers that a line moves; none where it says anything else.
    fn moves(
        &mut self,
        prepared: &Prepared,
        outcome: &Outcome,
        tried: &Tried,
    ) -> Option<Vec<Move>> {
        if outcome.refused {
            return None;
        }
        let id = self.add_tried(tried);
        let parsed = syntax::parse(self.sources.get(id)?);
        if !parsed.findings.is_empty() {
            return None;
        }
        let mut seen = Vec::new();
        let mut moves = Vec::new();
        for item in &parsed.value.items {
            let ast::Item::Entry(entry) = item else {
                continue;
            };
            let mut findings = Vec::new();
            let (holder, path) =
                prepared
                    .names()
                    .place(entry, tried.band.as_deref(), &mut findings)?;
            let key = match holder {
                Holder::Lets => Key::Let(outcome.recipe.let_place(&path)?),
                Holder::Band(name) => {
                    let field = schema::find(&path)?;
                    Key::Field(outcome.recipe.place_of(&name)?, field.id)
                }
                Holder::Block(block, name) => {
                    let recipe = &outcome.recipe;
                    recipe.setting_key(block, name.as_deref(), &path)?
                }
            };
            if !findings.is_empty() || seen.contains(&key) {
                return None;
            }
            seen.push(key);
            moves.push(Move::of(key, entry)?);
        }
        Some(moves)
    }
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
            Some(Err(impossible)) if band.used => {
                part.aside.extend(impossible);
                Vec::new()
            }
            Some(Err(impossible)) => impossible,
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
