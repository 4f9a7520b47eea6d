//! The way back and forth through all changes.

use super::{Bench, Reply, State};

/// How many changes can be taken back.
const MOST: usize = 1000;

/// A change: what was there on its other side, and what it was.
#[derive(Clone, Debug)]
struct Step {
    state: State,
    what: String,
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
        if self.made.len() >= MOST {
            self.made.remove(0);
        }
        self.made.push(Step {
            state,
            what: what.to_owned(),
        });
        self.taken_back.clear();
    }
}

impl Bench {
    pub(super) fn undo(&mut self) -> Reply {
        match self.past.made.pop() {
            Some(step) => {
                let (what, state) = self.go(step);
                let reply = self.say_moved(&format!("undone: {what}"));
                self.past.taken_back.push(Step { state, what });
                reply
            }
            None => Reply::complaint("there is nothing to undo"),
        }
    }

    pub(super) fn redo(&mut self) -> Reply {
        match self.past.taken_back.pop() {
            Some(step) => {
                let (what, state) = self.go(step);
                let reply = self.say_moved(&format!("done again: {what}"));
                self.past.made.push(Step { state, what });
                reply
            }
            None => Reply::complaint("there is nothing to do again"),
        }
    }

    /// Goes to the state of a step; gives what the step was, and the state left behind.
    fn go(&mut self, step: Step) -> (String, State) {
        let left = std::mem::replace(&mut self.state, step.state);
        self.before = if left.text == self.state.text && left.file == self.state.file {
            self.evaluate()
        } else {
            self.run()
        };
        (step.what, left)
    }
}
