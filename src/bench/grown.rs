//! A change of the last bands of a recipe, as when bands are typed one by one: the rest of it is not read again.

use std::collections::BTreeSet;

use crate::finding::Weight;
use crate::session::Request;

use super::Bench;
use super::edit::is_mistake;
use super::fresh::fresh;
use super::state::State;

/// Commands that need not know what follows from what.
const GROWING: &[&str] = &[
    "digits", "help", "list", "more", "on", "open", "quit", "redo", "save", "show", "undo", "watch",
];

impl Bench {
    /// Works out the whole, where bands were put behind it and a command asks what follows from what.
    pub(super) fn grown_before(&mut self, command: &str) {
        if self.grown && !GROWING.contains(&command) {
            self.evaluate();
        }
    }

    /// Takes over another state, where it differs in its last bands alone and brings no mistake; gives the state before
    /// and the bands that may differ, what there was of them being kept. Where a line is judged by it, it says whether
    /// what lacks something is a mistake too; else a band that is gone gives way to the first. None where the whole is to
    /// be read.
    pub(super) fn grow(
        &mut self,
        state: &State,
        band: Option<&String>,
        judged: Option<bool>,
    ) -> Option<(State, BTreeSet<String>)> {
        let band = band?;
        let same = state.tries.is_empty() && self.state.tries.is_empty() && !self.stale;
        if !same || self.state.text == state.text {
            return None;
        }
        let request = Request {
            band: Some(band.clone()),
            ..self.request()
        };
        let grown = self
            .session
            .grown(&self.prepared, &self.outcome, &state.text, &request)?;
        let first = || grown.first(&self.outcome);
        let band = match (judged, grown.has(&self.outcome, band)) {
            (_, true) => band.clone(),
            (None, false) => first()?.clone(),
            (Some(_), false) => return None,
        };
        if self.is_stopped() {
            return None;
        }
        if let Some(whole) = judged {
            let mut brought = fresh(grown.findings(), &self.outcome.findings, |weight| {
                weight == Weight::Wrong
            });
            brought.retain(|one| whole || is_mistake(one));
            if !brought.is_empty() {
                return None;
            }
        }
        let reach = grown.reach();
        self.before = self
            .session
            .grow(&mut self.prepared, &mut self.outcome, grown);
        self.kept = self.session.sources.count();
        self.outcome.chosen = Some(band.clone());
        self.band = Some(band);
        self.tied = (0, false);
        self.grown = true;
        Some((std::mem::replace(&mut self.state, state.clone()), reach))
    }
}
