//! The changes that were made, and those that were taken back.

use super::state::State;

/// How many changes can be taken back.
const MOST: usize = 1000;

/// A change: what was there on its other side, and what it was.
#[derive(Clone, Debug)]
pub(super) struct Step {
    pub state: State,
    pub what: String,
    /// Where it opened another recipe: the file on its other side.
    pub opened: Option<Option<String>>,
    /// The file that `save` wrote until the recipe was saved under another name behind this change.
    pub left: Option<String>,
}

/// Changes made, and changes taken back.
#[derive(Debug, Default)]
pub(super) struct Past {
    pub made: Vec<Step>,
    pub taken_back: Vec<Step>,
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
