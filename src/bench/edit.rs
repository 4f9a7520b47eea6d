//! Recipe lines and questions typed at the bench.
//!
//! What reads as one expression is a question; a word of the top level begins a block of the recipe; all else
//! is a field of the current band, written into the recipe's text in place. A line that brings a mistake
//! changes nothing.

use crate::finding::{Finding, Weight};
use crate::model::fields;
use crate::session::{Tried, with_block};
use crate::source::Sources;
use crate::suggest::nearest;
use crate::syntax::{self, TOP_WORDS, ast};

use super::tries::{fresh, lost_comments};
use super::words::WORDS;
use super::{Bench, Reply};

impl Bench {
    /// A line that is no command.
    pub(super) fn recipe_line(&mut self, line: &str, comments: &[String]) -> Reply {
        let word: String = line
            .trim_start()
            .chars()
            .take_while(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'))
            .collect();
        if TOP_WORDS.contains(&word.as_str()) && !self.is_field_line(line, &word) {
            return self.block(line, comments);
        }
        match self.question(line) {
            Some(reply) => reply,
            None => self.field(line),
        }
    }

    /// `alloy sterling` and `profile flat` are fields of the band; `alloy mine { … }` is a block.
    fn is_field_line(&self, line: &str, word: &str) -> bool {
        match word {
            "alloy" => !line.contains('{'),
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
    fn block(&mut self, line: &str, comments: &[String]) -> Reply {
        // Its shape is looked at in the line itself, so that the caret stands under what was typed.
        let placed = self.typed.placed(line);
        let id = self.session.sources.add(&self.typed.name, &placed);
        let Some(source) = self.session.sources.get(id) else {
            return Reply::default();
        };
        let parsed = syntax::parse(source);
        if !parsed.findings.is_empty() {
            return Reply::refused(parsed.findings);
        }
        let named = crate::session::band_names(&parsed.value.items);
        let mut block = line.trim().to_owned();
        if !comments.is_empty() {
            block = format!("{}\n{block}", comments.join("\n"));
        }
        let text = with_block(&self.state.text, &block);
        let band = self.band.clone();
        if let Some(name) = named.first() {
            self.band = Some(name.clone());
        }
        let reply = self.edited(text, first_line(line));
        if reply.refused {
            self.band = band;
        }
        reply
    }

    /// A field of the current band, or of the one that its path names.
    fn field(&mut self, line: &str) -> Reply {
        let tried = Tried {
            line: line.trim().to_owned(),
            band: self.band.clone(),
            typed: Some(self.typed.clone()),
        };
        if let Some(near) = self.misspelt_command(line) {
            return Reply::complaint(format!("did you mean `{near}`? `help` lists the words"));
        }
        // Laid over first: what is wrong is then shown in the line as typed.
        if let Err(findings) = self.lay(&tried) {
            return Reply::refused(findings);
        }
        match self.session.written(&self.prepared, &self.outcome, &tried) {
            Ok(text) => self.edited(text, line.trim()),
            Err(findings) => Reply::refused(findings),
        }
    }

    /// The command that a line's first word comes nearest to, when that word is nothing that a recipe knows.
    fn misspelt_command(&self, line: &str) -> Option<&'static str> {
        let word = line.split_whitespace().next()?;
        let recipe = &self.outcome.recipe;
        let first = word.split('.').next().unwrap_or(word);
        let is_known = !fields::matching(word).is_empty()
            || recipe.is_band(first)
            || recipe.lets.iter().any(|one| one.name == word)
            || word.contains('.');
        let commands = WORDS.iter().map(|known| known.word);
        let all = commands.chain(fields::FIELDS.iter().map(|field| field.word()));
        let near = nearest(word, all).filter(|_| !is_known)?;
        WORDS
            .iter()
            .map(|known| known.word)
            .find(|known| *known == near)
    }

    /// The recipe with another text, unless that brings mistakes.
    fn edited(&mut self, text: String, what: &str) -> Reply {
        if *text == *self.state.text {
            return Reply::of("that is in the recipe already\n");
        }
        let state = self.state.clone();
        let known = self.outcome.findings.clone();
        self.state.text = text.into();
        let before = self.run();
        let is_empty = |one: &Finding| one.code() == "model::no_band";
        let mut wrong = fresh(&self.outcome.findings, &known, |weight| {
            weight == Weight::Wrong
        });
        wrong.retain(|one| !is_empty(one));
        if !wrong.is_empty() {
            // The findings point into the text as it would be, so that stays until they are drawn.
            let sources = self.session.sources.clone();
            self.state = state;
            self.run();
            self.shown = Some(sources);
            return Reply::refused(wrong);
        }
        let gone = lost_comments(&state.text, &self.state.text);
        let hidden = !state.tries.is_empty();
        self.past.note(state, what);
        self.before = before;
        let mut reply = self.say_moved(what);
        if hidden {
            reply
                .text
                .push_str("  in the recipe now; what is tried still lies over it\n");
        }
        reply.text.push_str(&gone);
        reply.findings.retain(|one| !is_empty(one));
        reply
    }
}

fn first_line(text: &str) -> &str {
    let line = text.trim().lines().next().unwrap_or("");
    line.trim_end_matches([' ', '{'])
}
