//! How a full or short path, or a word inside a block, finds its field.

use std::sync::LazyLock;

use super::block::BlockId;
use super::cuts::CutKind;
use super::fields::Field;
use super::rows::{held, of_band, of_blocks};

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
    // What a limit is set for is called as the thing itself, and a drawn cut has many of the words that others have:
    // a bare word means the thing itself.
    let is_limit = |field: &Field| field.path.starts_with("limit.");
    let of_cut = |field: &Field| {
        CutKind::ALL
            .iter()
            .any(|kind| kind.block.path() == field.holder())
    };
    for lesser in [&is_limit as &dyn Fn(&Field) -> bool, &of_cut] {
        if found.iter().any(|field| !lesser(field)) {
            found.retain(|field| !lesser(field));
        }
    }
    found
}

/// The field of a drawn cut with a name, by its full path: `pattern.ring.border.depth`.
#[must_use]
pub fn named_cut(path: &str) -> Option<&'static Field> {
    let (holder, word) = path.rsplit_once('.')?;
    let (block, _) = holder.rsplit_once('.')?;
    let kind = CutKind::ALL
        .iter()
        .find(|kind| kind.block.path() == block)?;
    held_by(kind.block.path()).find(|field| field.word() == word)
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
