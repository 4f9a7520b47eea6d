//! What-ifs: laid over the band, kept in its text, or dropped.

use std::collections::BTreeSet;

use crate::evaluate::{Evaluation, Verdict};
use crate::explore::{self, Change};
use crate::finding::{Finding, Weight};
use crate::report;
use crate::session::{Outcome, Tried, is_relative};
use crate::source::{Sources, printable};
use crate::syntax::{self, ast};

use super::{Bench, Reply};

impl Bench {
    /// `try FIELD VALUE`.
    pub(super) fn try_line(&mut self, line: &str) -> Reply {
        if line.is_empty() {
            return self.tried_so_far();
        }
        let tried = match self.absolute(line) {
            Ok(tried) => tried,
            Err(findings) => return Reply::refused(findings),
        };
        let laid = match self.lay(&tried) {
            Ok(laid) => laid,
            Err(findings) => return Reply::refused(findings),
        };
        let before: Vec<Evaluation> = laid.taken_from(&self.outcome);
        let Laid { part, reach, .. } = laid;
        let notes = fresh(&part.findings, &self.outcome.findings, |weight| {
            weight == Weight::Note
        });
        let changed = self.outcome.patch(part, &reach, &self.session.sources);
        self.kept = self.session.sources.count();
        self.past.note(self.state.clone(), &format!("try {line}"));
        self.state.tries.push(Tried {
            typed: None,
            ..tried
        });
        let mut text = self.moved(&before, &reach);
        text.push_str(&verdicts(&changed));
        Reply {
            text,
            findings: notes,
            ..Reply::default()
        }
    }

    /// A line as it would be written, its steps counted from what holds now.
    pub(super) fn absolute(&mut self, line: &str) -> Result<Tried, Vec<Finding>> {
        let line = if is_relative(line) {
            self.session
                .absolute(line, self.band.as_deref(), &self.prepared, &self.outcome)?
        } else {
            line.to_owned()
        };
        Ok(Tried {
            line,
            band: self.band.clone(),
            typed: Some(self.typed.clone()),
        })
    }

    /// What a line comes to over the present state: every band that it can reach, evaluated anew.
    pub(super) fn lay(&mut self, tried: &Tried) -> Result<Laid, Vec<Finding>> {
        // What is wrong is said of the line as typed; what is taken stands as a try from then on.
        let taken = Tried {
            typed: None,
            ..tried.clone()
        };
        self.laid(&taken).map_err(|findings| {
            let located = self.laid(tried).err();
            located.unwrap_or(findings)
        })
    }

    fn laid(&mut self, tried: &Tried) -> Result<Laid, Vec<Finding>> {
        let targets = self.session.targets(&self.prepared, tried)?;
        let reach = self.prepared.mentions().dependents(targets);
        let mut request = self.request();
        request.tries.push(tried.clone());
        let part = self.session.part(&self.prepared, &request, &reach);
        let wrong = fresh(&part.findings, &self.outcome.findings, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() || part.refused {
            return Err(wrong);
        }
        Ok(Laid { part, reach })
    }

    fn tried_so_far(&self) -> Reply {
        let lines = self.state.tries.iter().map(|one| match &one.band {
            Some(band) if self.band_names().len() > 1 => format!("  {}  (on {band})\n", one.line),
            _ => format!("  {}\n", one.line),
        });
        let text: String = lines.collect();
        if text.is_empty() {
            return Reply::complaint("nothing is tried; as in `try width 5 mm`");
        }
        Reply::of(text)
    }

    /// `keep`.
    pub(super) fn keep(&mut self) -> Reply {
        if self.state.tries.is_empty() {
            return Reply::complaint("nothing is tried, so there is nothing to keep");
        }
        let state = self.state.clone();
        let count = state.tries.len();
        for place in 0..count {
            let Some(tried) = state.tries.get(place) else {
                break;
            };
            let written = self
                .session
                .written(&self.prepared, &self.outcome, tried, &[]);
            match written {
                Ok(text) => {
                    self.state.text = text.into();
                    self.state.tries = state.tries.get(place + 1..).unwrap_or(&[]).to_vec();
                    let before = self.run();
                    if place == 0 {
                        self.before = before;
                    }
                }
                Err(findings) => {
                    let sources = self.session.sources.clone();
                    self.state = state;
                    self.run();
                    self.shown = Some(sources);
                    return Reply::refused(findings);
                }
            }
        }
        let before = state.text.clone();
        self.past.note(state, "keep");
        let lines = if count == 1 { "it is" } else { "they are" };
        let gone = lost_comments(&before, &self.state.text);
        let mut reply = self.say_moved(&format!("kept; {lines} in the recipe now"));
        reply.text.push_str(&gone);
        reply
    }

    /// `drop`.
    pub(super) fn drop_tries(&mut self) -> Reply {
        if self.state.tries.is_empty() {
            return Reply::complaint("nothing is tried, so there is nothing to drop");
        }
        let state = self.state.clone();
        self.past.note(state, "drop");
        self.state.tries.clear();
        self.before = self.evaluate();
        self.say_moved("dropped")
    }

    /// What moved since the whole was evaluated before, under a heading.
    pub(super) fn say_moved(&mut self, heading: &str) -> Reply {
        let before = std::mem::take(&mut self.before);
        let mut text = format!("{heading}\n");
        let mut changed = Vec::new();
        for (old, new) in before.verdicts.iter().zip(&self.outcome.verdicts) {
            if old.what == new.what && old.holds != new.holds {
                changed.push((old.clone(), new.clone()));
            }
        }
        let names: BTreeSet<String> = before
            .recipe
            .names
            .iter()
            .chain(&self.outcome.recipe.names)
            .map(|named| named.name.clone())
            .collect();
        text.push_str(&self.moved(&before.evaluations, &names));
        text.push_str(&verdicts(&changed));
        let findings = fresh(&self.outcome.findings, &before.findings, |_| true);
        Reply {
            text,
            findings,
            ..Reply::default()
        }
    }

    /// What moved in some bands: the current one whole, of the others the first figure.
    fn moved(&self, before: &[Evaluation], names: &BTreeSet<String>) -> String {
        let mut text = String::new();
        let mut aside: Vec<String> = Vec::new();
        let find =
            |all: &[Evaluation], name: &str| all.iter().position(|one| one.band.name == *name);
        let current = self.band.iter().filter(|band| names.contains(*band));
        let others = names
            .iter()
            .filter(|name| Some(*name) != self.band.as_ref());
        for name in current.chain(others) {
            let old = find(before, name).and_then(|place| before.get(place));
            let new = find(&self.outcome.evaluations, name)
                .and_then(|place| self.outcome.evaluations.get(place));
            let is_current = Some(name) == self.band.as_ref();
            match (old, new) {
                (Some(old), Some(new)) => {
                    let change = explore::change(old, new);
                    if change.is_none() {
                        continue;
                    }
                    if is_current {
                        text.push_str(&report::change(&change, self.digits, self.width));
                    } else {
                        aside.push(self.in_short(&change));
                    }
                }
                (None, Some(new)) if !new.band.used => {
                    let weight = crate::evaluate::find("weight")
                        .and_then(|entry| new.value(entry))
                        .map(|weight| report::value(&weight, self.digits));
                    let weight = weight.unwrap_or_default();
                    aside.push(format!("{name}: weight {weight}"));
                }
                (Some(old), None) if !old.band.used => aside.push(format!("{name}: no result now")),
                _ => {}
            }
        }
        for line in aside {
            text.push_str(&format!("  {line}\n"));
        }
        text
    }

    /// A change of another band in one line.
    fn in_short(&self, change: &Change) -> String {
        let first = change
            .moved
            .iter()
            .find(|one| one.is_headline())
            .or_else(|| change.moved.iter().find(|one| one.is_result))
            .or_else(|| change.moved.first());
        let moved = first.map_or_else(String::new, |one| {
            let after = one
                .after
                .as_ref()
                .map_or_else(String::new, |after| report::value(after, self.digits));
            let difference = report::difference(one, self.digits);
            format!("{} {after}  {difference}", one.path)
        });
        let short = match change.broken.len() {
            0 => "",
            _ => "; a limit falls short now",
        };
        format!("{}: {}{short}", change.band, moved.trim_end())
    }
}

/// Comments that stood in what was replaced, as lines; they cannot be kept where their block is gone.
pub(super) fn lost_comments(before: &str, after: &str) -> String {
    let mut left = comments(after);
    let mut text = String::new();
    for comment in comments(before) {
        match left.iter().position(|known| *known == comment) {
            Some(place) => drop(left.swap_remove(place)),
            None => text.push_str(&format!(
                "  gone with what was replaced: {}\n",
                printable(&comment)
            )),
        }
    }
    text
}

/// All comments of a text, in order.
fn comments(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add("recipe", text);
    let tree = sources.get(id).map(|source| syntax::parse(source).value);
    let items = tree.as_ref().map_or(&[][..], |tree| &tree.items);
    let found = ast::comments(items).into_iter();
    found.map(|comment| comment.text.clone()).collect()
}

/// A try evaluated, not yet taken.
pub(super) struct Laid {
    pub part: Outcome,
    /// The names that it can reach.
    pub reach: BTreeSet<String>,
}

impl Laid {
    /// The evaluations that it replaces.
    fn taken_from(&self, outcome: &Outcome) -> Vec<Evaluation> {
        let reached = outcome
            .evaluations
            .iter()
            .filter(|one| self.reach.contains(&one.band.name));
        reached.cloned().collect()
    }
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

/// Requirements whose verdict changed, as lines.
fn verdicts(changed: &[(Verdict, Verdict)]) -> String {
    let line = |after: &Verdict| {
        let state = if after.holds == Some(true) {
            "holds again"
        } else {
            "broken now"
        };
        let margin = if after.margin.is_empty() {
            String::new()
        } else {
            format!(", {}", after.margin)
        };
        format!(
            "  required, {state}: {}: {}{margin}\n",
            after.what, after.found
        )
    };
    changed.iter().map(|(_, after)| line(after)).collect()
}
