//! Where the fields of each block stand in the vocabulary, and the field of a path inside a block.

use std::sync::LazyLock;

use super::block::BlockId;
use super::cuts::{CutKind, DRAWS};
use super::fields::{FIELDS, Field};

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

impl BlockId {
    /// The rows among which its fields stand.
    #[must_use]
    pub fn rows(self) -> &'static [Field] {
        if self.is_of_band() {
            return of_band();
        }
        let found = ROWS.iter().find(|(block, _)| *block == self);
        found.map_or(&[], |(_, rows)| rows)
    }

    /// The field of a path inside it.
    #[must_use]
    pub fn find(self, path: &str) -> Option<&'static Field> {
        match self {
            Self::Band => held(of_band(), "", path),
            block => held(block.rows(), block.word(), path),
        }
    }

    /// The field of a path inside it as a recipe says it, the name of what is told apart by one in its place:
    /// `temper.hard.yield`.
    #[must_use]
    pub fn named(self, path: &str) -> Option<&'static Field> {
        match path.split_once('.') {
            Some((word, rest)) if self.tells_apart(path) => {
                let (_, inner) = rest.split_once('.')?;
                let holder = self.find(word)?;
                held(self.rows(), holder.path, inner)
            }
            _ => self.find(path),
        }
    }

    /// Whether entries of a word in it are told apart by what stands behind the word, as tempers are. `path` is the
    /// word, or a path that begins with it: a drawn cut may stand without a name, and then one of its fields follows.
    #[must_use]
    pub fn tells_apart(self, path: &str) -> bool {
        let (word, rest) = path.split_once('.').unwrap_or((path, ""));
        if self == Self::Band {
            return CutKind::of_word(word).is_some_and(|kind| !holds(kind, rest));
        }
        APART.contains(&(self, word))
    }
}

/// Whether a path inside a drawn cut begins with one of its fields, or with a word that draws it.
fn holds(kind: CutKind, path: &str) -> bool {
    let word = path.split('.').next().unwrap_or(path);
    let field = || held(of_band(), kind.block.path(), word).is_some();
    !word.is_empty() && (field() || kind.is_drawn() && DRAWS.contains(&word))
}

/// The field of a word that stands right behind a path, among some rows. Words in capitals stand in the vocabulary
/// for those of the recipe's own, and are no field's.
pub(super) fn held(rows: &'static [Field], holder: &str, word: &str) -> Option<&'static Field> {
    let is_it = |field: &&Field| match field.path.strip_suffix(word) {
        Some("") => holder.is_empty(),
        Some(rest) => rest.strip_suffix('.') == Some(holder),
        None => false,
    };
    let found = rows.iter().find(is_it)?;
    word.contains(char::is_lowercase).then_some(found)
}

/// The rows of each block that has its own, which stand behind each other.
static ROWS: LazyLock<Vec<(BlockId, &'static [Field])>> = LazyLock::new(|| {
    let by_block = FIELDS.chunk_by(|one, next| one.block == next.block);
    by_block
        .filter_map(|rows| Some((rows.first()?.block, rows)))
        .collect()
});

/// The words whose entries are told apart by a name.
static APART: LazyLock<Vec<(BlockId, &str)>> = LazyLock::new(|| {
    let apart = FIELDS.iter().filter(|field| field.apart);
    apart.map(|field| (field.block, field.word())).collect()
});
