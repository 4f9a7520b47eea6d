//! A try that only moves numbers: nothing is read or resolved anew but what follows from them.

use std::collections::BTreeSet;

use crate::evaluate;
use crate::finding::Finding;
use crate::model::{Holder, Key, Move, Moved};
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
        Some(Ok(part_of(outcome, moved)))
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
                Holder::Block(..) => return None,
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

/// The bands that moved numbers reach, evaluated, with the `let`s among them.
fn part_of(outcome: &Outcome, moved: Moved) -> (Outcome, BTreeSet<String>) {
    let mut part = Outcome {
        chosen: outcome.chosen.clone(),
        ..Outcome::default()
    };
    part.recipe.money = outcome.recipe.money.clone();
    part.recipe.money_is_faulty = outcome.recipe.money_is_faulty;
    part.recipe.lets = moved.lets.into_values().collect();
    part.findings = moved.findings;
    let mut names: BTreeSet<String> = BTreeSet::new();
    names.extend(part.recipe.lets.iter().map(|one| one.name.clone()));
    for band in moved.bands.into_values() {
        names.insert(band.name.clone());
        match evaluate::evaluate(&band) {
            Ok(evaluation) => {
                if !band.used {
                    part.findings.extend(words::findings(&evaluation));
                }
                part.evaluations.push(evaluation);
            }
            Err(impossible) if !band.used => part.findings.extend(impossible),
            Err(impossible) => part.aside.extend(impossible),
        }
        part.recipe.bands.push(band);
    }
    (part, names)
}
