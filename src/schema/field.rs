//! What a row of the vocabulary tells of its field: its path, and the word that a recipe writes.

use super::fields::{FIELDS, Field, FieldId};

impl FieldId {
    /// Its row.
    #[must_use]
    #[allow(
        clippy::indexing_slicing,
        reason = "one macro makes the ids and the rows"
    )]
    pub fn row(self) -> &'static Field {
        &FIELDS[self as usize]
    }

    /// Its full path.
    #[must_use]
    pub fn path(self) -> &'static str {
        self.row().path
    }

    /// The word that a recipe writes.
    #[must_use]
    pub fn word(self) -> &'static str {
        self.row().word()
    }
}

impl Field {
    /// The last word of its path, which is the word that a recipe writes.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self.path.rsplit('.').next() {
            // The table's stand-in for a word of the recipe's own.
            Some("METAL") => "price",
            Some(word) => word,
            None => self.path,
        }
    }

    /// Whether it is measured on one ring: its parts as they came off the machine, or its metal on the scale.
    #[must_use]
    pub fn is_of_one_ring(&self) -> bool {
        matches!(self.path.split('.').next(), Some("made" | "weighed"))
    }

    /// Whether a recipe writes the word of its row, and no word of its own in that place.
    #[must_use]
    pub fn has_word(&self) -> bool {
        let last = self.path.rsplit('.').next();
        last.is_some_and(|word| word.contains(char::is_lowercase))
    }

    /// The path of the block it stands in; empty for the band itself.
    #[must_use]
    pub fn holder(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(holder, _)| holder)
    }
}
