//! The changes that were made, and those that were taken back: of each what is other on its other side, not all of it.

use std::sync::Arc;

use crate::session::Tried;
use crate::source::alike_ahead;

use super::state::State;

/// How many changes can be taken back.
const MOST: usize = 1000;

/// A change: what was there on its other side, and what it was.
#[derive(Clone, Debug)]
pub(super) struct Step {
    /// Where the text begins to differ, and how much of its end is the same again, in bytes.
    text: (usize, usize),
    /// What stands between the two on the other side.
    text_there: Box<str>,
    /// The same of what is tried.
    tries: (usize, usize),
    tries_there: Vec<Tried>,
    pub what: String,
    /// Where it opened another recipe: the file on its other side.
    pub opened: Option<Option<String>>,
    /// The file that `save` wrote until the recipe was saved under another name behind this change.
    pub left: Option<String>,
}

impl Step {
    /// The step that leads from one state to another.
    pub fn from_to(here: &State, there: &State, what: &str) -> Self {
        let ahead = alike_ahead(&here.text, &there.text);
        let rest = |text: &'_ str| text.len() - ahead;
        let most = rest(&here.text).min(rest(&there.text));
        let ends = here.text.bytes().rev().zip(there.text.bytes().rev());
        let ends = ends.take(most);
        let behind = ends.take_while(|(one, other)| one == other).count();
        // Between two characters of both.
        let ahead = (0..=ahead).rev().find(|at| here.text.is_char_boundary(*at));
        let ahead = ahead.unwrap_or(0);
        let is_end = |back: usize| {
            let starts = [&here.text, &there.text].map(|text| (text, text.len() - back));
            starts.iter().all(|(text, at)| text.is_char_boundary(*at))
        };
        let behind = (0..=behind).rev().find(|back| is_end(*back)).unwrap_or(0);
        let text_there = there.text.get(ahead..there.text.len() - behind);
        let tries = alike(&here.tries, &there.tries);
        let tries_there = there.tries.get(tries.0..there.tries.len() - tries.1);
        Self {
            text: (ahead, behind),
            text_there: text_there.unwrap_or_default().into(),
            tries,
            tries_there: tries_there.unwrap_or_default().to_vec(),
            what: what.to_owned(),
            opened: None,
            left: None,
        }
    }

    /// The state that it leads to from the one it was made at.
    pub fn there(&self, here: &State) -> State {
        let (ahead, behind) = self.text;
        let text = match ahead + behind == here.text.len() && self.text_there.is_empty() {
            true => Arc::clone(&here.text),
            false => {
                let part = |range| here.text.get(range).unwrap_or_default();
                let (first, last) = (
                    part(0..ahead),
                    part(here.text.len() - behind..here.text.len()),
                );
                format!("{first}{}{last}", self.text_there).into()
            }
        };
        let (ahead, behind) = self.tries;
        let mut tries = here.tries.clone();
        tries.splice(
            ahead..here.tries.len() - behind,
            self.tries_there.iter().cloned(),
        );
        State { text, tries }
    }
}

/// How many first members of two rows are the same, and how many last ones of the rest.
fn alike<T: PartialEq>(one: &[T], other: &[T]) -> (usize, usize) {
    let ahead = one
        .iter()
        .zip(other)
        .take_while(|(one, other)| one == other)
        .count();
    let rest = one.len().min(other.len()) - ahead;
    let ends = one.iter().rev().zip(other.iter().rev()).take(rest);
    (ahead, ends.take_while(|(one, other)| one == other).count())
}

/// Changes made, and changes taken back.
#[derive(Debug, Default)]
pub(super) struct Past {
    pub made: Vec<Step>,
    pub taken_back: Vec<Step>,
}

impl Past {
    /// Notes a change that was made to a state.
    pub fn note(&mut self, before: &State, now: &State, what: &str) {
        self.add(Step::from_to(now, before, what));
    }

    /// Notes that the last of what is tried came to it.
    pub fn note_try(&mut self, now: &State, what: &str) {
        self.add(Step {
            text: (now.text.len(), 0),
            text_there: Box::default(),
            tries: (now.tries.len().saturating_sub(1), 0),
            tries_there: Vec::new(),
            what: what.to_owned(),
            opened: None,
            left: None,
        });
    }

    /// Notes that another recipe was opened in place of that of a file.
    pub fn note_open(&mut self, before: &State, now: &State, what: &str, file: Option<String>) {
        self.add(Step {
            opened: Some(file),
            ..Step::from_to(now, before, what)
        });
    }

    fn add(&mut self, step: Step) {
        if self.made.len() >= MOST {
            self.made.remove(0);
        }
        self.made.push(step);
        self.taken_back.clear();
    }

    /// Notes that the recipe was saved under another name than before: what lies behind was another file's.
    pub fn saved_as(&mut self, before: String) {
        if let Some(last) = self.made.last_mut() {
            last.left.get_or_insert(before);
        }
    }
}
