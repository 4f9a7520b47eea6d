//! Where the bench stands: the recipe as it is, read and evaluated, and the way back when a line is refused.

use std::path::Path;

use crate::session::{Outcome, Prepared, Session};
use crate::source::cells;

use super::state::State;
use super::{Bench, UNNAMED};

/// All that a line may change before it is known whether it is taken.
pub(super) struct Stand {
    pub state: State,
    pub outcome: Outcome,
    band: Option<String>,
    pub session: Session,
    pub prepared: Prepared,
    kept: usize,
    grown: bool,
}

/// How many cells of the prompt a file's name may take.
const ROOM: usize = 28;

impl Bench {
    /// Reads and evaluates another state, with a band that bare names mean from then on; gives all that was there
    /// before.
    pub(super) fn attempt(&mut self, state: State, band: Option<String>) -> Stand {
        let name = self.file.clone().unwrap_or_else(|| UNNAMED.to_owned());
        let mut library = self.files.library(&name);
        let mut session = Session::default();
        let prepared = session.prepare(&name, &state.text, library.as_mut());
        let mut before = Stand {
            state: std::mem::replace(&mut self.state, state),
            band: std::mem::replace(&mut self.band, band),
            session: std::mem::replace(&mut self.session, session),
            prepared: std::mem::replace(&mut self.prepared, prepared),
            kept: self.kept,
            grown: self.grown,
            outcome: Outcome::default(),
        };
        before.outcome = self.evaluate();
        before
    }

    /// Goes back to where the bench stood, as if nothing had been typed; what was found stays to be drawn.
    pub(super) fn go_back(&mut self, before: Stand) {
        let Stand {
            state,
            outcome,
            band,
            session,
            prepared,
            kept,
            grown,
        } = before;
        let refused = std::mem::replace(&mut self.session, session);
        self.shown = Some(refused.sources);
        self.state = state;
        self.outcome = outcome;
        self.band = band;
        self.prepared = prepared;
        self.tied = (0, false);
        self.kept = kept;
        self.grown = grown;
    }

    /// Reads the text anew and evaluates all of it; gives what it came to before.
    pub(super) fn run(&mut self) -> Outcome {
        self.attempt(self.state.clone(), self.band.clone()).outcome
    }

    /// Evaluates all of the text as read; gives what it came to before.
    pub(super) fn evaluate(&mut self) -> Outcome {
        let names = || self.prepared_names();
        if !self
            .band
            .as_ref()
            .is_some_and(|band| names().contains(band))
        {
            self.band = names().into_iter().next();
        }
        self.tied = (0, false);
        self.grown = false;
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        self.kept = self.session.sources.count();
        std::mem::replace(&mut self.outcome, outcome)
    }

    /// The file that `save` writes, as the prompt has room for it: its name, with its folders where another known
    /// file is called the same.
    pub(super) fn file_in_short(&self) -> Option<String> {
        let file = self.file.as_deref()?;
        let name = |of: &str| {
            let name = Path::new(of).file_name();
            name.map(|name| name.to_string_lossy().into_owned())
        };
        let mut known = self.disk.keys();
        let twin = known.any(|other| other != file && name(other) == name(file));
        let whole = match name(file) {
            Some(name) if !twin => name,
            _ => file.to_owned(),
        };
        let short = whole.strip_suffix(".annulet").unwrap_or(&whole);
        let mut short = crate::source::printable(short);
        while cells(&short) > ROOM {
            let rest: String = short
                .trim_start_matches('\u{2026}')
                .chars()
                .skip(1)
                .collect();
            short = format!("\u{2026}{rest}");
        }
        Some(short)
    }
}
