//! A recipe that is being written: read and evaluated after every change, the last state that could be evaluated kept.

use crate::session::{Library, Outcome, Prepared, Request, Session};
use crate::source::Source;

/// A recipe as it is, and as it was when all of it could last be read.
#[derive(Debug)]
pub struct Opening {
    /// Its texts.
    pub session: Session,
    /// As read.
    pub prepared: Prepared,
    /// What it came to.
    pub outcome: Outcome,
    /// The last state with results, where this one has none.
    before: Option<Box<Opening>>,
}

impl Opening {
    /// Reads and evaluates a text; `before` is what it was before the change.
    #[must_use]
    pub fn read(name: &str, text: &str, library: &mut dyn Library, before: Option<Self>) -> Self {
        let mut session = Session::default();
        let prepared = session.prepare(name, text, library);
        let request = Request::default();
        let mut outcome = session.outcome(&prepared, &request);
        prepared.tell_unused(&request, &mut outcome);
        let before = before.filter(|_| outcome.evaluations.is_empty());
        Self {
            session,
            prepared,
            outcome,
            before: before.and_then(Self::with_results).map(Box::new),
        }
    }

    fn with_results(self) -> Option<Self> {
        match self.outcome.evaluations.is_empty() {
            true => self.before.map(|before| *before),
            false => Some(Self {
                before: None,
                ..self
            }),
        }
    }

    /// The state that results are read of: this one, or the last that had any.
    pub fn good(&mut self) -> &mut Self {
        match self.before {
            Some(ref mut before) => before,
            None => self,
        }
    }

    /// Whether what [`Self::good`] gives is an earlier state.
    #[must_use]
    pub fn is_stale(&self) -> bool {
        self.before.is_some()
    }

    /// Its own text.
    #[must_use]
    pub fn source(&self) -> Option<&Source> {
        self.session.sources.get(self.prepared.id)
    }
}
