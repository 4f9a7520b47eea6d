//! What the caller of an edit knows of the words.

/// What the caller knows of the words.
pub trait Manner {
    /// Where a word stands among those of its block (a path, joined by points); the lowest first.
    fn rank(&self, path: &str) -> usize;

    /// The word that says the same thing in another way, and gives way to this one.
    fn instead(&self, path: &str) -> Option<&'static str>;

    /// Whether entries of a word are told apart by their first value, a name, as tempers are.
    fn tells_apart(&self, _word: &str) -> bool {
        false
    }
}

/// No words known: for edits that add nothing.
pub struct AsWritten;

impl Manner for AsWritten {
    fn rank(&self, _path: &str) -> usize {
        0
    }

    fn instead(&self, _path: &str) -> Option<&'static str> {
        None
    }
}
