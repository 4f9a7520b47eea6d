//! `undo` and `redo`: the way back and forth through all changes.

use std::collections::BTreeSet;

use crate::source::printable;

use super::past::Step;
use super::{Asks, Bench, Reply};

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
                    "`undo` takes a file only where it goes back past a `save` under another name",
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
        let (back, what, reach) = self.go(step, chosen);
        let mut reply = self.say_moved(&format!("undone: {what}"), reach.as_ref());
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
        let (forth, what, reach) = self.go(step, false);
        let mut reply = self.say_moved(&format!("done again: {what}"), reach.as_ref());
        self.past.made.push(forth);
        if self.file != file_before {
            reply.text.push_str(&self.now_saves());
        }
        reply
    }

    /// Goes to the state of a step, read anew where the file has changed; gives the step that leads back, and what
    /// it was.
    fn go(&mut self, step: Step, anew: bool) -> (Step, String, Option<BTreeSet<String>>) {
        let left = self.state.clone();
        let opened = step.opened.clone().map(|file| {
            // The other recipe is another file's.
            std::mem::replace(&mut self.file, file)
        });
        let there = step.there(&left);
        let mut back = Step::from_to(&there, &left, &step.what);
        back.opened = opened;
        let is_here = back.opened.is_none() && !anew;
        let band = self.band.clone();
        let grown = is_here.then(|| self.grow(&there, band.as_ref(), None));
        let reach = grown.flatten().map(|(_, reach)| reach);
        if reach.is_none() {
            self.before = if left.text == there.text && is_here {
                self.state = there;
                self.evaluate()
            } else {
                self.attempt(there, band).outcome
            };
        }
        (back, step.what, reach)
    }

    /// Which file `save` writes, where that has changed.
    fn now_saves(&self) -> String {
        match &self.file {
            Some(file) => format!("  `save` writes {}\n", printable(file)),
            None => "  the recipe has no file\n".to_owned(),
        }
    }
}
