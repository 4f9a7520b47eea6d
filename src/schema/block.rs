//! The blocks of the top level that hold fields: their words, and where their fields stand in the vocabulary.

use std::sync::LazyLock;

use super::field::{Field, of_band};
use super::fields::FIELDS;

/// The block of the top level that a field stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BlockId {
    /// A band, or a variant of one.
    Band,
    /// What metal costs.
    Prices,
    /// How the workshop counts.
    Shop,
    /// What metal is issued as.
    Stock,
    /// What a customer wants.
    Order,
    /// A metal of the recipe's own.
    Alloy,
    /// A rulebook of the recipe's own.
    Rules,
    /// An outside with a name; its fields are those of a band's `profile`.
    Profile,
    /// Parts as they came off the machine; its fields are those of a band's `made`.
    Made,
}

/// Whether a block has a name behind its word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// It has none.
    Never,
    /// It may have one.
    Maybe,
    /// It has one, which begins no path by itself.
    Always,
    /// It has one, and a path can begin with the name alone.
    Alone,
    /// It has that of a band.
    OfBand,
}

impl BlockId {
    /// Every block.
    pub const ALL: [Self; 9] = [
        Self::Band,
        Self::Prices,
        Self::Shop,
        Self::Stock,
        Self::Order,
        Self::Alloy,
        Self::Rules,
        Self::Profile,
        Self::Made,
    ];

    /// The word that a recipe writes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Prices => "prices",
            Self::Shop => "shop",
            Self::Stock => "stock",
            Self::Order => "order",
            Self::Alloy => "alloy",
            Self::Rules => "rules",
            Self::Profile => "profile",
            Self::Made => "made",
        }
    }

    /// The block of a word; a variant is a band.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        match word {
            "variant" => Some(Self::Band),
            word => Self::ALL.into_iter().find(|block| block.word() == word),
        }
    }

    /// How it is named.
    #[must_use]
    pub fn naming(self) -> Naming {
        match self {
            Self::Prices | Self::Shop => Naming::Never,
            Self::Order => Naming::Maybe,
            Self::Rules => Naming::Always,
            Self::Band | Self::Alloy | Self::Profile | Self::Stock => Naming::Alone,
            Self::Made => Naming::OfBand,
        }
    }

    /// Whether its fields are some of a band's, written in a block of their own.
    #[must_use]
    pub fn is_of_band(self) -> bool {
        matches!(self, Self::Band | Self::Profile | Self::Made)
    }

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
            Some((word, rest)) if self.tells_apart(word) => {
                let (_, inner) = rest.split_once('.')?;
                let holder = self.find(word)?;
                held(self.rows(), holder.path, inner)
            }
            _ => self.find(path),
        }
    }

    /// Whether entries of a word in it are told apart by what stands behind the word, as tempers are.
    #[must_use]
    pub fn tells_apart(self, word: &str) -> bool {
        APART.contains(&(self, word))
    }
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
