//! The way back and forth through all changes.

use super::stand::State;
use super::{Asks, Bench, Reply};
use crate::source::printable;

/// How many changes can be taken back.
const MOST: usize = 1000;

/// A change: what was there on its other side, and what it was.
#[derive(Clone, Debug)]
struct Step {
    state: State,
    what: String,
    /// Where it opened another recipe: the file on its other side.
    opened: Option<Option<String>>,
    /// The file that `save` wrote until the recipe was saved under another name behind this change.
    left: Option<String>,
}

/// Changes made, and changes taken back.
#[derive(Debug, Default)]
pub(super) struct Past {
    made: Vec<Step>,
    taken_back: Vec<Step>,
}

impl Past {
    /// Notes a change that was made to a state.
    pub fn note(&mut self, state: State, what: &str) {
        self.add(state, what, None);
    }

    /// Notes that another recipe was opened in place of that of a file.
    pub fn note_open(&mut self, state: State, what: &str, file: Option<String>) {
        self.add(state, what, Some(file));
    }

    fn add(&mut self, state: State, what: &str, opened: Option<Option<String>>) {
        if self.made.len() >= MOST {
            self.made.remove(0);
        }
        self.made.push(Step {
            state,
            what: what.to_owned(),
            opened,
            left: None,
        });
        self.taken_back.clear();
    }

    /// Notes that the recipe was saved under another name than before: what lies behind was another file's.
    pub fn saved_as(&mut self, before: String) {
        if let Some(last) = self.made.last_mut() {
            last.left.get_or_insert(before);
        }
    }
}

impl Bench {
    /// `undo [FILE]`: behind `save` under another name it asks which file is meant from there.
    pub(super) fn undo(&mut self, file: &str) -> Reply {
        let Some(step) = self.past.made.last() else {
            return Reply::complaint("there is nothing to undo");
        };
        let other = step.left.clone().filter(|_| step.opened.is_none());
        let choice = other.zip(self.file.clone());
        let choice = choice.filter(|(before, now)| before != now);
        match (choice, file) {
            (None, "") => {}
            (None, _) => {
                return Reply::complaint(
                    "`undo` takes a file only where it leads back behind a `save` under another name",
                );
            }
            (Some((before, now)), "") => {
                return Reply {
                    asks: Some(Asks::BeforeUndo { before, now }),
                    ..Reply::default()
                };
            }
            (Some((before, now)), file) if file == before || file == now => {
                self.file = Some(file.to_owned());
            }
            (Some((before, now)), _) => {
                let (before, now) = (printable(&before), printable(&now));
                return Reply::complaint(format!("write `undo {now}` or `undo {before}`"));
            }
        }
        let file_before = self.file.clone();
        let Some(step) = self.past.made.pop() else {
            return Reply::default();
        };
        let chosen = !file.is_empty();
        let (back, what) = self.go(step, chosen);
        let mut reply = self.say_moved(&format!("undone: {what}"));
        self.past.taken_back.push(back);
        if chosen || self.file != file_before {
            reply.text.push_str(&self.now_saves());
        }
        reply
    }

    pub(super) fn redo(&mut self) -> Reply {
        let Some(step) = self.past.taken_back.pop() else {
            return Reply::complaint("there is nothing to do again");
        };
        let file_before = self.file.clone();
        let (forth, what) = self.go(step, false);
        let mut reply = self.say_moved(&format!("done again: {what}"));
        self.past.made.push(forth);
        if self.file != file_before {
            reply.text.push_str(&self.now_saves());
        }
        reply
    }

    /// Goes to the state of a step, read anew where the file has changed; gives the step that leads back, and what
    /// it was.
    fn go(&mut self, step: Step, anew: bool) -> (Step, String) {
        let left = self.state.clone();
        let opened = step.opened.map(|file| {
            // The other recipe is another file's.
            std::mem::replace(&mut self.file, file)
        });
        self.before = if left.text == step.state.text && opened.is_none() && !anew {
            self.state = step.state;
            self.evaluate()
        } else {
            self.attempt(step.state, self.band.clone()).outcome
        };
        let back = Step {
            state: left,
            what: step.what.clone(),
            opened,
            left: None,
        };
        (back, step.what)
    }

    /// Which file `save` writes, where that has changed.
    fn now_saves(&self) -> String {
        match &self.file {
            Some(file) => format!("  `save` writes {}\n", printable(file)),
            None => "  the recipe has no file\n".to_owned(),
        }
    }
}
