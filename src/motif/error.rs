//! Why a drawing cannot be taken.

/// What is wrong with a drawing, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MotifError {
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: String,
}

impl MotifError {
    pub(super) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            help: help.into(),
        }
    }
}
