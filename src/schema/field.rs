//! One row of the vocabulary, and how a word or a path finds it.

use std::sync::LazyLock;

use super::block::{BlockId, held};
use super::fields::{FIELDS, FieldId};
use super::takes::Takes;

/// One field.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// How the program knows it.
    pub id: FieldId,
    /// Where it stands.
    pub block: BlockId,
    /// Full path: within the band, or from the word of its block.
    pub path: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Default as a recipe would write it, and its basis.
    pub default: Option<(&'static str, &'static str)>,
    /// The words of the field around it with which alone it makes sense; empty: always.
    pub only: &'static [&'static str],
    /// Not evaluated by this version.
    pub later: bool,
    /// Entries of its word are told apart by what stands behind it, as in `temper hard { … }`.
    pub apart: bool,
    /// What it means.
    pub meaning: &'static str,
}

/// A default that follows from the definition of the field.
pub(super) const DEFINED: &str = "definition";
/// A default that is habit, not rule.
pub(super) const PRACTICE: &str = "common practice, no source";

pub(super) const fn field(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        id: FieldId::Title,
        block: BlockId::Band,
        path,
        takes,
        default: None,
        only: &[],
        later: false,
        apart: false,
        meaning,
    }
}

pub(super) const fn default(
    path: &'static str,
    takes: Takes,
    default: (&'static str, &'static str),
    meaning: &'static str,
) -> Field {
    Field {
        default: Some(default),
        ..field(path, takes, meaning)
    }
}

pub(super) const fn of(field: Field, only: &'static [&'static str]) -> Field {
    Field { only, ..field }
}

pub(super) const fn apart(field: Field) -> Field {
    Field {
        apart: true,
        ..field
    }
}

pub(super) const fn later(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        later: true,
        ..field(path, takes, meaning)
    }
}

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

/// How many fields a band has; they stand first in the vocabulary.
static BAND: LazyLock<usize> = LazyLock::new(|| {
    let of_band = FIELDS
        .iter()
        .take_while(|field| field.block == BlockId::Band);
    of_band.count()
});

/// The fields of a band.
#[must_use]
pub fn of_band() -> &'static [Field] {
    FIELDS.get(..*BAND).unwrap_or(&[])
}

/// The fields of all other blocks.
#[must_use]
pub fn of_blocks() -> &'static [Field] {
    FIELDS.get(*BAND..).unwrap_or(&[])
}

/// The field of a band by its full path.
#[must_use]
pub fn find(path: &str) -> Option<&'static Field> {
    of_band().iter().find(|field| field.path == path)
}

/// The field of another block by its full path, which begins with the word of the block.
#[must_use]
pub fn find_in_blocks(path: &str) -> Option<&'static Field> {
    of_blocks().iter().find(|field| field.path == path)
}

/// The fields that stand directly in a block of a band; an empty path is the band itself.
pub fn held_by(holder: &str) -> impl Iterator<Item = &'static Field> {
    of_band()
        .iter()
        .filter(move |field| field.holder() == holder)
}

/// The fields that stand directly under one.
pub fn held_under(field: &'static Field) -> impl Iterator<Item = &'static Field> {
    let rows = field.block.rows().iter();
    rows.filter(move |inner| inner.holder() == field.path)
}

/// The field of a word that stands directly in another block, by the path of what it stands in.
#[must_use]
pub fn held_in_block(block: BlockId, holder: &str, word: &str) -> Option<&'static Field> {
    held(block.rows(), holder, word)
}

/// The fields that stand directly in another block.
pub fn held_in_blocks(holder: &str) -> impl Iterator<Item = &'static Field> {
    of_blocks()
        .iter()
        .filter(move |field| field.holder() == holder)
}

/// Fields of a band that a short path could mean: those that it ends, at a point.
#[must_use]
pub fn matching(short: &str) -> Vec<&'static Field> {
    if let Some(field) = find(short) {
        return vec![field];
    }
    let ends = |field: &&Field| {
        field
            .path
            .strip_suffix(short)
            .is_some_and(|rest| rest.ends_with('.'))
    };
    let mut found: Vec<&'static Field> = of_band().iter().filter(ends).collect();
    // What a limit is set for is called as the thing itself, which is what a bare word means.
    let is_limit = |field: &Field| field.path.starts_with("limit.");
    if found.iter().any(|field| !is_limit(field)) {
        found.retain(|field| !is_limit(field));
    }
    found
}

/// What a field stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Under {
    /// The band itself.
    Band,
    /// A block that needs not be written for its defaults to hold.
    Always,
    /// The block of a field, by its place in the vocabulary.
    Field(usize),
}

/// Each field with its word and what it stands in, worked out once; blocks stand before what they hold.
pub(crate) static PLACED: LazyLock<Vec<(&Field, &str, Under)>> = LazyLock::new(|| {
    let placed = |(place, field): (usize, &'static Field)| {
        let before = of_band().iter().take(place);
        let holder = match field.holder() {
            "" => Under::Band,
            "limit" => Under::Always,
            holder => before
                .rev()
                .position(|known| known.path == holder)
                .map_or(Under::Always, |back| Under::Field(place - 1 - back)),
        };
        (field, field.word(), holder)
    };
    of_band().iter().enumerate().map(placed).collect()
});
