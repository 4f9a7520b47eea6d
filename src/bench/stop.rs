//! A line or a session that is told to end before it is done: nothing of a line is taken that is not whole, and what is
//! not saved can be rescued.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::evaluate::until;

use super::{Asks, Bench, Reply};

/// What would be lost if the session ended now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unsaved {
    /// The file that `save` writes; none where there is none yet.
    pub file: Option<String>,
    /// The recipe, and behind it as comments the lines that are tried.
    pub text: String,
}

/// Said of a line that changed nothing.
const AS_IT_WAS: &str = "interrupted: the recipe is as it was";

/// Said of one whose change was made before its figures were worked out.
const STILL_TO_COME: &str =
    "interrupted: the change is made, and what it comes to is worked out with the next line";

impl Bench {
    /// What would be lost if the session ended now; none where nothing would.
    #[must_use]
    pub fn unsaved_work(&self) -> Option<Unsaved> {
        let tries = &self.state.tries;
        (self.unsaved() || !tries.is_empty()).then(|| {
            let mut text = self.state.text.to_string();
            if !text.is_empty() && !text.ends_with('\n') {
                text.push('\n');
            }
            for tried in tries {
                let on = tried.band.as_deref();
                let on = on.map_or_else(String::new, |band| format!(" (on {band})"));
                text.push_str(&format!("# tried{on}: {}\n", tried.line.replace('\n', " ")));
            }
            Unsaved {
                file: self.file.clone(),
                text,
            }
        })
    }

    /// The flag that an interrupt raises, so that a long line ends at once.
    #[must_use]
    pub fn interrupts(&self) -> Arc<AtomicBool> {
        Arc::clone(&self.stop)
    }

    /// Whether the present line is to end.
    pub(super) fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// One statement, unless it is told to end.
    pub(super) fn until_stopped(&mut self, statement: &str) -> Reply {
        let stop = self.interrupts();
        stop.store(false, Ordering::Relaxed);
        if self.stale {
            until(&stop, || self.evaluate());
            self.stale = self.is_stopped();
            if self.stale {
                return Reply::stopped(AS_IT_WAS);
            }
        }
        let (text, tries) = (Arc::clone(&self.state.text), self.state.tries.len());
        let reply = until(&stop, || self.one(statement));
        if !self.is_stopped() {
            return reply;
        }
        // What was found since then, kept or not, may lack what could not be evaluated any more.
        self.stale = true;
        let same = Arc::ptr_eq(&text, &self.state.text) && tries == self.state.tries.len();
        match (reply.stopped, same) {
            // It says itself how far it came.
            (true, _) => reply,
            (false, true) => Reply::stopped(AS_IT_WAS),
            (false, false) => Reply::stopped(STILL_TO_COME),
        }
    }

    /// `quit`.
    pub(super) fn quit(&mut self) -> Reply {
        Reply {
            ends: !self.unsaved(),
            asks: self.unsaved().then_some(Asks::BeforeQuit),
            ..Reply::default()
        }
    }
}
