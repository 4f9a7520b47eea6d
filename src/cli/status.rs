//! Exit statuses, and how a finding's weight becomes one.

use crate::finding::Weight;

/// Exit statuses, in rising order of how much is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// All well.
    Well = 0,
    /// The recipe is sound, but something falls short.
    Short = 1,
    /// The recipe, a file or the call is wrong.
    Wrong = 2,
    /// What is sought cannot be met.
    Unmet = 3,
    /// Interrupted.
    Interrupted = 130,
}

impl From<Option<Weight>> for Status {
    fn from(weight: Option<Weight>) -> Self {
        match weight {
            Some(Weight::Wrong) => Self::Wrong,
            Some(Weight::Short) => Self::Short,
            Some(Weight::Note) | None => Self::Well,
        }
    }
}
