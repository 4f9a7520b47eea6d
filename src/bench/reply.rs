//! What a line at the bench came to.

use crate::finding::Finding;
use crate::source::printable;

/// What a line came to.
#[derive(Debug, Default)]
pub struct Reply {
    /// What is printed.
    pub text: String,
    /// What there is to say about it, to be drawn with [`Bench::sources`].
    pub findings: Vec<Finding>,
    /// What is wrong beside findings, in words.
    pub complaint: Option<String>,
    /// The line was refused, and changed nothing.
    pub refused: bool,
    /// What the bench must know before it goes on.
    pub asks: Option<Asks>,
    /// The session ends.
    pub ends: bool,
    /// What it seeks cannot be met.
    pub unmet: bool,
    /// It was told to end before it was done.
    pub stopped: bool,
}

impl Reply {
    pub(super) fn of(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            ..Self::default()
        }
    }

    pub(super) fn complaint(message: impl Into<String>) -> Self {
        Self {
            complaint: Some(message.into()),
            refused: true,
            ..Self::default()
        }
    }

    /// A line that was told to end, and what became of it.
    pub(super) fn stopped(message: &str) -> Self {
        Self {
            stopped: true,
            ..Self::complaint(message)
        }
    }

    /// A line that was to change something says that it did not.
    pub(super) fn or_not_taken(mut self) -> Self {
        if self.refused && !self.findings.is_empty() && self.complaint.is_none() {
            self.complaint = Some("not taken: the recipe is as it was".to_owned());
        }
        self
    }

    pub(super) fn refused(findings: Vec<Finding>) -> Self {
        Self {
            findings,
            refused: true,
            ..Self::default()
        }
    }
}

/// A question about changes that are not saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Asks {
    /// Before the session ends.
    BeforeQuit,
    /// Before another recipe takes its place.
    BeforeOpen(String),
    /// Before a change is taken back that was made before the recipe was saved under another name.
    BeforeUndo {
        /// The file that `save` wrote before.
        before: String,
        /// The file that it writes now.
        now: String,
    },
}

impl Asks {
    /// The question, with the answers that it takes.
    #[must_use]
    pub fn question(&self) -> String {
        match self {
            Self::BeforeQuit | Self::BeforeOpen(_) => {
                "the recipe has changes that are not saved; save them first? (yes, no, stay) "
                    .to_owned()
            }
            Self::BeforeUndo { before, now } => {
                let (before, now) = (printable(before), printable(now));
                format!(
                    "this was done before `save {now}`; which file does `save` write from there? \
                     (new: {now}, old: {before}, stay) "
                )
            }
        }
    }

    /// What to type instead, where nobody is there to answer.
    #[must_use]
    pub fn instead(&self) -> String {
        match self {
            Self::BeforeQuit | Self::BeforeOpen(_) => {
                "the recipe has changes that are not saved; `save` or `undo` them first".to_owned()
            }
            Self::BeforeUndo { before, now } => {
                let (before, now) = (printable(before), printable(now));
                format!(
                    "this was done before `save {now}`; write `undo {now}` or `undo {before}`, the file that \
                     `save` writes from there"
                )
            }
        }
    }
}
