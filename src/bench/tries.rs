//! What-ifs: laid over the band, kept in its text, or dropped.

use std::collections::BTreeSet;

use crate::evaluate::{Evaluation, Ordered, Verdict};
use crate::finding::{Finding, Weight};
use crate::model::Mentions;
use crate::session::{Elsewhere, Outcome, Request, Tried, is_relative};
use crate::source::{Sources, alike_ahead, printable};
use crate::syntax::{self, ast};
use crate::words;

use super::fresh::{fresh, turned};
use super::moved::{marks, orders, verdicts};
use super::{Bench, Reply};

impl Bench {
    /// `try FIELD VALUE`.
    pub(super) fn try_line(&mut self, line: &str) -> Reply {
        if line.is_empty() {
            return self.tried_so_far();
        }
        if let Some(reply) = self.try_values(line) {
            return reply;
        }
        let tried = match self.absolute(line) {
            Ok(tried) => tried,
            Err(findings) => return Reply::refused(findings),
        };
        let laid = match self.lay(&tried) {
            Ok(laid) => laid,
            Err(findings) => return Reply::refused(findings),
        };
        let taken = match self.take(laid, &tried) {
            Ok(taken) => taken,
            Err(findings) => return Reply::refused(findings),
        };
        if self.is_stopped() {
            return Reply::refused(Vec::new());
        }
        self.state.tries.push(Tried {
            typed: None,
            ..tried
        });
        self.past.note_try(&self.state, &format!("try {line}"));
        let mut text = self.moved(&taken.before, &taken.reach);
        text.push_str(&orders(&taken.ordered, &self.outcome.orders));
        text.push_str(&marks(&taken.before, &self.outcome.evaluations));
        text.push_str(&verdicts(&taken.changed));
        text.push_str(&self.gone(&taken.known));
        if text.is_empty() && taken.findings.is_empty() {
            text.push_str("  no figure moves\n");
        }
        for one in taken.elsewhere {
            text.push_str(&format!("  {}\n", not_here(&one)));
        }
        Reply {
            text,
            findings: taken.findings,
            ..Reply::default()
        }
    }

    /// Takes over what a line comes to. What it brings is told at once; a mistake that only shows in what is
    /// required, or in an order, refuses it as any other does.
    fn take(&mut self, laid: Laid, tried: &Tried) -> Result<Taken, Vec<Finding>> {
        let mut findings = self.notes(&laid.part.findings, tried);
        let before = laid.taken_from(&self.outcome);
        let ordered = self.outcome.orders.clone();
        let known = self.outcome.findings.clone();
        let changed = if laid.is_whole {
            let before = std::mem::replace(&mut self.outcome, laid.part);
            turned(before.verdicts, &self.outcome.verdicts)
        } else {
            let sources = &self.session.sources;
            self.outcome.patch(laid.part, &laid.reach, sources)
        };
        let wrong = fresh(&self.outcome.findings, &known, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() {
            // They point into texts of this line, which stay until they are drawn.
            let sources = self.session.sources.clone();
            self.session.sources.forget_behind(self.kept);
            self.evaluate();
            self.shown = Some(sources);
            return Err(wrong);
        }
        self.kept = self.session.sources.count();
        // Limits and requirements are told with what moved.
        let all = self.outcome.evaluations.iter();
        let limits: Vec<Finding> = all.flat_map(words::findings).collect();
        let is_told = |one: &Finding| {
            one.code() == BROKEN
                || limits
                    .iter()
                    .any(|known| known.code() == one.code() && known.span() == one.span())
        };
        let mut new = fresh(&self.outcome.findings, &known, |weight| {
            weight == Weight::Short
        });
        new.retain(|one| !is_told(one));
        findings.extend(new);
        Ok(Taken {
            before,
            reach: laid.reach,
            ordered,
            changed,
            elsewhere: laid.elsewhere,
            findings,
            known,
        })
    }

    /// Lays overrides over the recipe as it was opened, as what is tried: all of them together, whatever their
    /// order.
    pub fn lay_over(&mut self, sets: &[String]) -> Reply {
        if sets.is_empty() {
            return Reply::default();
        }
        let request = Request {
            sets: sets.to_vec(),
            ..self.request()
        };
        let outcome = self.session.outcome(&self.prepared, &request);
        let wrong = fresh(&outcome.findings, &self.outcome.findings, |weight| {
            weight == Weight::Wrong
        });
        if outcome.refused || !wrong.is_empty() || self.is_stopped() {
            return Reply::refused(wrong);
        }
        let lines = match self.session.set_lines(&self.prepared, &request) {
            Ok(lines) => lines,
            Err(findings) => return Reply::refused(findings),
        };
        let band = &self.band;
        let tries = lines.into_iter().map(|line| Tried {
            line,
            band: band.clone(),
            typed: None,
        });
        self.state.tries.extend(tries);
        self.before = self.evaluate();
        self.say_moved("laid over the recipe:", None)
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

    /// Whether some of what is tried mentions a name of the top level; each try is looked at once.
    fn is_tied(&mut self) -> bool {
        let (seen, tied) = self.tied;
        let tries = self.state.tries.get(seen..).unwrap_or_default();
        let tied = tied || self.session.tie(&self.prepared, tries);
        self.tied = (self.state.tries.len(), tied);
        tied
    }

    fn laid(&mut self, tried: &Tried) -> Result<Laid, Vec<Finding>> {
        let targets = self.session.targets(&self.prepared, tried)?;
        let reach = self.prepared.mentions().dependents(targets.names);
        let tied = self.is_tied();
        let by_numbers = match tied {
            true => None,
            false => self
                .session
                .by_numbers(&self.prepared, &self.outcome, tried)
                .transpose()?,
        };
        // What has no name, such as an order or prices, is for the whole recipe to judge.
        let common = targets.orders || Mentions::reach_common(&reach);
        let is_whole = tied || by_numbers.is_none() && common;
        let (part, reach) = match by_numbers {
            Some(moved) => moved,
            None => {
                let mut request = self.request();
                request.tries.push(tried.clone());
                let part = match is_whole {
                    true => self.session.outcome(&self.prepared, &request),
                    false => self.session.part(&self.prepared, &request, &reach),
                };
                (part, reach)
            }
        };
        let found = Laid {
            part,
            is_whole,
            reach,
            elsewhere: targets.elsewhere,
        };
        let wrong = fresh(&found.part.findings, &self.outcome.findings, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() || found.part.refused {
            return Err(wrong);
        }
        Ok(found)
    }
}

/// Why `keep` does not write something, and what to do instead.
pub(super) fn not_here(one: &Elsewhere) -> String {
    let (name, file, help) = (&one.name, printable(&one.file), &one.help);
    format!("`{name}` is in {file}, where `keep` does not write: change it there, or {help}")
}

/// Comments that stood in what was replaced, as lines; they cannot be kept where their block is gone.
pub(super) fn lost_comments(before: &str, after: &str) -> String {
    if !changed_lines(before, after).contains(&b'#') {
        return String::new();
    }
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

/// What of a text differs from another, in whole lines: a comment begins ahead of what differs in it.
fn changed_lines<'t>(before: &'t str, after: &str) -> &'t [u8] {
    let ahead = alike_ahead(before, after);
    let rest = before.len().min(after.len()) - ahead;
    let ends = before.bytes().rev().zip(after.bytes().rev()).take(rest);
    let behind = ends.take_while(|(one, other)| one == other).count();
    let (first, last) = before.as_bytes().split_at(before.len() - behind);
    let is_end = |byte: &u8| *byte == b'\n';
    let from = first.iter().take(ahead).rposition(is_end).unwrap_or(0);
    let to = last.iter().position(is_end).unwrap_or(last.len());
    before
        .as_bytes()
        .get(from..first.len() + to)
        .unwrap_or_default()
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
    /// It is the whole recipe that was evaluated, and not only what can be reached.
    is_whole: bool,
    /// The names that it can reach.
    pub reach: BTreeSet<String>,
    /// What of it lies in used files.
    elsewhere: Vec<Elsewhere>,
}

/// A try taken over: what there was before it, and what is to be told of it.
struct Taken {
    /// The evaluations of what it can reach.
    before: Vec<Evaluation>,
    reach: BTreeSet<String>,
    ordered: Vec<Ordered>,
    /// Requirements whose verdict changed, before and after.
    changed: Vec<(Verdict, Verdict)>,
    elsewhere: Vec<Elsewhere>,
    findings: Vec<Finding>,
    /// What was found before it.
    known: Vec<Finding>,
}

/// The code of a requirement that does not hold.
const BROKEN: &str = "session::broken";

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
