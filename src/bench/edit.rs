//! Recipe lines and questions typed at the bench.
//!
//! What reads as one expression is a question; a word of the top level begins a block of the recipe; all else
//! is a field of the current band, written into the recipe's text in place. A line that brings a mistake and
//! mends none changes nothing. What is not said yet is no mistake here: a band may be built line by line.

use std::collections::BTreeSet;

use crate::finding::{Finding, Weight};
use crate::schema;
use crate::session::{Tried, put_block, touched, with_block};
use crate::source::Sources;
use crate::suggest::nearest;
use crate::syntax::{self, TOP_WORDS, ast};

use super::fresh::fresh;
use super::stand::Stand;
use super::state::State;
use super::tries::lost_comments;
use super::words::{WORDS, elsewhere};
use super::{Bench, Reply};

impl Bench {
    /// A line that is no command.
    pub(super) fn recipe_line(&mut self, line: &str) -> Reply {
        let word = word_of(line);
        if TOP_WORDS.contains(&word) && !self.is_field_line(line, word) {
            return self.block(line).or_not_taken();
        }
        if let Some((word, instead)) = elsewhere(line)
            && !self.gives(word)
        {
            return Reply::complaint(instead);
        }
        match self.question(line) {
            Some(reply) => reply,
            None => self.field(line).or_not_taken(),
        }
    }

    /// `alloy sterling`, `stock tube-21` and `profile flat` are fields of the band; `alloy mine { … }` is a block.
    fn is_field_line(&self, line: &str, word: &str) -> bool {
        match word {
            "alloy" | "stock" => !line.contains('{'),
            "profile" => {
                let mut sources = Sources::default();
                let id = sources.add("line", line);
                let parsed = sources.get(id).map(syntax::parse);
                let values = parsed.and_then(|parsed| {
                    let entry = ast::entries(&parsed.value.items).next()?;
                    Some(entry.values.len())
                });
                values == Some(1)
            }
            _ => false,
        }
    }

    /// A block of the top level.
    fn block(&mut self, line: &str) -> Reply {
        // Its shape is looked at in the line itself, so that the caret stands under what was typed.
        let placed = self.typed.placed(line);
        let id = self.session.sources.add(&self.typed.name, &placed);
        let Some(source) = self.session.sources.get(id) else {
            return Reply::default();
        };
        let parsed = syntax::parse(&source.behind(self.typed.before()));
        if !parsed.findings.is_empty() {
            return Reply::refused(parsed.findings);
        }
        let named = crate::session::band_names(&parsed.value.items);
        let mut block = line.trim().to_owned();
        if !self.comments.is_empty() {
            block = format!("{}\n{block}", self.comments.join("\n"));
        }
        // A recipe that begins here says its edition, as a person would.
        let text = match self.state.text.trim() {
            "" if word_of(line) != "annulet" => with_block(EDITION, &block),
            _ => self.text_with(&block),
        };
        let band = named.first().or(self.band.as_ref()).cloned();
        // A band that was whole is not replaced by a part of one.
        let mut evaluations = self.outcome.evaluations.iter();
        let whole = evaluations.any(|one| named.contains(&one.band.name));
        self.edited(text, first_line(line), band, whole)
    }

    /// The recipe's text with a block of the top level.
    pub(super) fn text_with(&self, block: &str) -> String {
        let own = self.session.sources.get(self.prepared.id);
        match own.zip(self.prepared.tree()) {
            Some((own, tree)) => put_block(own, tree, block),
            None => with_block(&self.state.text, block),
        }
    }

    /// A field of the current band, or of the one that its path names.
    fn field(&mut self, line: &str) -> Reply {
        if let Some(near) = self.misspelt_command(line) {
            return Reply::complaint(format!("did you mean `{near}`? `help` lists the words"));
        }
        let word = word_of(line);
        let of_band = !schema::matching(word).is_empty();
        if of_band && self.prepared_names().is_empty() {
            return Reply::complaint(
                "there is no band yet; `band mine { size ISO 54 }` begins one",
            );
        }
        let tried = Tried {
            line: line.trim().to_owned(),
            band: self.band.clone(),
            typed: Some(self.typed.clone()),
        };
        let comments = &self.comments;
        let written = self
            .session
            .written(&self.prepared, &self.outcome, &tried, comments);
        let reply = match written {
            // Nothing to write: said already, or nothing that can be said.
            Ok(text) if *text == *self.state.text => match self.lay(&tried) {
                Err(findings) if findings.iter().any(is_mistake) => {
                    return Reply::refused(findings);
                }
                _ => self.edited(text, line.trim(), self.band.clone(), false),
            },
            Ok(text) => self.edited(text, line.trim(), self.band.clone(), false),
            Err(findings) => return Reply::refused(findings),
        };
        if !reply.refused || self.is_stopped() {
            return reply;
        }
        // What is wrong is shown in the line as typed, where laying it over the recipe finds it too.
        match self.lay(&tried) {
            Err(mut findings) if findings.iter().any(is_mistake) => {
                self.shown = None;
                findings.retain(is_mistake);
                Reply::refused(findings)
            }
            _ => reply,
        }
    }

    /// Whether the recipe gives a name to something.
    pub(super) fn gives(&self, name: &str) -> bool {
        let recipe = &self.outcome.recipe;
        recipe.is_band(name) || recipe.lets.iter().any(|one| one.name == name)
    }

    /// The command that a line's first word comes nearest to, when that word is nothing that a recipe knows.
    fn misspelt_command(&self, line: &str) -> Option<&'static str> {
        let word = line.split_whitespace().next()?;
        let recipe = &self.outcome.recipe;
        let first = word.split('.').next().unwrap_or(word);
        let is_known = !schema::matching(word).is_empty()
            || recipe.is_band(first)
            || self.gives(word)
            || word.contains('.');
        let commands = WORDS.iter().map(|known| known.word);
        let all = commands.chain(schema::of_band().iter().map(|field| field.word()));
        let near = nearest(word, all).filter(|_| !is_known)?;
        WORDS
            .iter()
            .map(|known| known.word)
            .find(|known| *known == near)
    }

    /// The recipe with another text, unless that brings mistakes and mends none; where it is to stay whole,
    /// what lacks something is a mistake too. What is taken is on a band from then on.
    fn edited(&mut self, text: String, what: &str, band: Option<String>, whole: bool) -> Reply {
        if *text == *self.state.text {
            return Reply::of("that is in the recipe already\n");
        }
        let state = State {
            text: text.into(),
            tries: self.state.tries.clone(),
        };
        if let Some((state, reach)) = self.grow(&state, band.as_ref(), Some(whole)) {
            return self.taken(&state, what, Some(&reach));
        }
        let known_alone = self.of_text_alone();
        let before = self.attempt(state, band);
        let alone = self.of_text_alone();
        let mistakes = |now: &[Finding], then: &[Finding]| {
            let mut found = fresh(now, then, |weight| weight == Weight::Wrong);
            found.retain(|one| whole || is_mistake(one));
            found
        };
        let mut brought = mistakes(&alone, &known_alone);
        if brought.is_empty() {
            brought = mistakes(&self.outcome.findings, &before.outcome.findings);
        }
        if self.is_stopped() || !brought.is_empty() && mistakes(&known_alone, &alone).is_empty() {
            self.go_back(before);
            return Reply::refused(brought);
        }
        let reach = touched(
            (&before.prepared, &before.session.sources),
            (&self.prepared, &self.session.sources),
        );
        let Stand { state, outcome, .. } = before;
        self.before = outcome;
        self.taken(&state, what, reach.as_ref())
    }

    /// What is to be said of a change that is taken, given the state before it.
    fn taken(&mut self, state: &State, what: &str, reach: Option<&BTreeSet<String>>) -> Reply {
        self.comments.clear();
        let gone = lost_comments(&state.text, &self.state.text);
        let hidden = !state.tries.is_empty();
        self.past.note(state, &self.state, what);
        let mut reply = self.say_moved(what, reach);
        if hidden {
            reply
                .text
                .push_str("  in the recipe now; what is tried still lies over it\n");
        }
        reply.text.push_str(&gone);
        reply.text.push_str(&self.still_missing());
        reply
            .findings
            .retain(|one| one.weight() != Weight::Wrong || is_mistake(one));
        reply
    }

    /// What is wrong or short in the text alone, without what is tried over it.
    fn of_text_alone(&mut self) -> Vec<Finding> {
        if self.state.tries.is_empty() {
            return self.outcome.findings.clone();
        }
        let tries = std::mem::take(&mut self.state.tries);
        let request = self.request();
        self.state.tries = tries;
        self.session.outcome(&self.prepared, &request).findings
    }

    /// What is not said yet, a line for each band.
    fn still_missing(&self) -> String {
        let lacks = |one: &&Finding| one.code() == "model::missing_field";
        let found = self.outcome.findings.iter().filter(lacks);
        found
            .map(|one| {
                let help = one.help().unwrap_or_default();
                format!("  still missing: {}; {help}\n", one.message())
            })
            .collect()
    }
}

/// Whether a finding tells of a slip, and not only of what is still to be said.
pub(super) fn is_mistake(finding: &Finding) -> bool {
    !matches!(
        finding.code().as_str(),
        "model::missing_field" | "model::no_band"
    )
}

/// The first line of a recipe.
const EDITION: &str = "annulet 1\n";

/// The word that a line begins with.
fn word_of(line: &str) -> &str {
    let line = line.trim_start();
    let end = line.find(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '_' | '.')));
    line.get(..end.unwrap_or(line.len())).unwrap_or("")
}

fn first_line(text: &str) -> &str {
    let line = text.trim().lines().next().unwrap_or("");
    line.trim_end_matches([' ', '{'])
}
