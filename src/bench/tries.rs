//! What-ifs: laid over the band, kept in its text, or dropped.

use std::collections::BTreeSet;

use crate::evaluate::Evaluation;
use crate::finding::{Finding, Weight};
use crate::session::{Elsewhere, Outcome, Tried, is_relative};
use crate::source::{Sources, printable};
use crate::syntax::{self, ast};

use super::moved::{orders, verdicts};
use super::{Bench, Reply, State};

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
        let Laid {
            part,
            reach,
            elsewhere,
        } = laid;
        let notes = self.notes(&part.findings, &tried);
        let ordered = self.outcome.orders.clone();
        let changed = self.outcome.patch(part, &reach, &self.session.sources);
        self.kept = self.session.sources.count();
        self.past.note(self.state.clone(), &format!("try {line}"));
        self.state.tries.push(Tried {
            typed: None,
            ..tried
        });
        let mut text = self.moved(&before, &reach);
        text.push_str(&orders(&ordered, &self.outcome.orders));
        text.push_str(&verdicts(&changed));
        if text.is_empty() {
            text.push_str("  no figure moves\n");
        }
        for one in elsewhere {
            text.push_str(&format!("  {}\n", not_here(&one)));
        }
        Reply {
            text,
            findings: notes,
            ..Reply::default()
        }
    }

    /// What there is to note of a line that is tried, located as it was typed. What earlier tries brought was
    /// told with them.
    fn notes(&mut self, found: &[Finding], tried: &Tried) -> Vec<Finding> {
        let of_it = |findings: &[Finding], sources: &Sources, text: &str| -> Vec<Finding> {
            let speaks = |one: &&Finding| {
                let source = one.span().and_then(|span| sources.holding(span));
                let is_its = source.is_some_and(|source| *source.text == *text);
                one.weight() == Weight::Note && is_its
            };
            findings.iter().filter(speaks).cloned().collect()
        };
        let notes = of_it(found, &self.session.sources, &tried.line);
        let typed = tried.typed.as_ref().filter(|_| !notes.is_empty());
        let Some(text) = typed.map(|typed| typed.placed(&tried.line)) else {
            return notes;
        };
        match self.laid(tried) {
            Ok(laid) => of_it(&laid.part.findings, &self.session.sources, &text),
            Err(_) => notes,
        }
    }

    /// A line as it would be written, its steps counted from what holds now.
    pub(super) fn absolute(&mut self, line: &str) -> Result<Tried, Vec<Finding>> {
        let line = if is_relative(line) {
            let request = self.request();
            self.session
                .absolute(line, &self.typed, &self.prepared, &request, &self.outcome)?
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
        let moved = self
            .session
            .by_numbers(&self.prepared, &self.outcome, tried);
        let found = match moved {
            Some(moved) => {
                let (part, reach) = moved?;
                let elsewhere = self.session.targets(&self.prepared, tried)?.elsewhere;
                Laid {
                    part,
                    reach,
                    elsewhere,
                }
            }
            None => self.resolved(tried)?,
        };
        let wrong = fresh(&found.part.findings, &self.outcome.findings, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() || found.part.refused {
            return Err(wrong);
        }
        Ok(found)
    }

    /// What a line comes to that says more than numbers: all that it can reach, resolved anew.
    fn resolved(&mut self, tried: &Tried) -> Result<Laid, Vec<Finding>> {
        let targets = self.session.targets(&self.prepared, tried)?;
        let reach = self.prepared.mentions().dependents(targets.names);
        let mut request = self.request();
        request.tries.push(tried.clone());
        // What an order comes to is for the whole recipe to say.
        let part = match targets.orders {
            true => self.session.outcome(&self.prepared, &request),
            false => self.session.part(&self.prepared, &request, &reach),
        };
        Ok(Laid {
            part,
            reach,
            elsewhere: targets.elsewhere,
        })
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
        let (mut kept, mut stays) = (0, Vec::new());
        let mut refused: Vec<Finding> = Vec::new();
        for (place, tried) in state.tries.iter().enumerate() {
            let written = self
                .session
                .written(&self.prepared, &self.outcome, tried, &[]);
            match written {
                Ok(text) => {
                    let rest = state.tries.get(place + 1..).unwrap_or(&[]);
                    self.state.text = text.into();
                    self.state.tries = stays.iter().chain(rest).cloned().collect();
                    let before = self.run();
                    if kept == 0 {
                        self.before = before;
                    }
                    kept += 1;
                }
                Err(findings) => {
                    // What lies in a used file stays tried, and keeps nothing else from being written.
                    let elsewhere = |one: &Finding| one.code() == "session::written_elsewhere";
                    if !findings.iter().all(elsewhere) {
                        return self.not_kept(state, findings);
                    }
                    refused.extend(findings);
                    stays.push(tried.clone());
                }
            }
        }
        if kept == 0 {
            return Reply::refused(refused);
        }
        let before = state.text.clone();
        let count = state.tries.len();
        self.past.note(state, "keep");
        let lines = if kept == 1 { "it is" } else { "they are" };
        let of = if kept < count {
            format!(" {kept} of {count}")
        } else {
            String::new()
        };
        let gone = lost_comments(&before, &self.state.text);
        let mut reply = self.say_moved(&format!("kept{of}; {lines} in the recipe now"));
        for tried in stays {
            let found = self.session.targets(&self.prepared, &tried);
            for one in found.into_iter().flat_map(|targets| targets.elsewhere) {
                reply.text.push_str(&format!(
                    "  still tried: {}; {}\n",
                    tried.line,
                    not_here(&one)
                ));
            }
        }
        reply.text.push_str(&gone);
        reply
    }

    /// Goes back to a state when a part of it could not be written.
    fn not_kept(&mut self, state: State, findings: Vec<Finding>) -> Reply {
        let sources = self.session.sources.clone();
        self.state = state;
        self.run();
        self.shown = Some(sources);
        Reply::refused(findings)
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
}

/// Why `keep` does not write something, and what to do instead.
fn not_here(one: &Elsewhere) -> String {
    let (name, file, help) = (&one.name, printable(&one.file), &one.help);
    format!("`{name}` lies in {file}, where `keep` does not write: change it there, or {help}")
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
    /// What of it lies in used files.
    elsewhere: Vec<Elsewhere>,
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
