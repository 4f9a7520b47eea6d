//! What is laid over a recipe from outside: entries for a band, for `let`s, or for another block of the top level.
//!
//! An override is an edit not yet written, so each layer merges as the text would that it stands for.

use crate::finding::Finding;
use crate::schema::{self, BlockId};
use crate::syntax::ast::Item;

use super::merge::{self, Node};
use super::note::ModelNote;

/// The name under which blocks without one (prices, the shop) are kept; every band may rest on them.
pub(super) const COMMON: &str = "";

/// What an override belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Holder {
    /// The `let`s of the top level.
    Lets,
    /// A band or a variant, by its name.
    Band(String),
    /// Another block of the top level, by its word and, where it has one, its name; `made` by that of its band.
    Block(&'static str, Option<String>),
}

impl Holder {
    /// The name under which [`super::Mentions`] knows it; of `let`s each entry is a name of its own.
    #[must_use]
    pub fn mentioned(&self) -> Option<&str> {
        match self {
            Self::Lets => None,
            Self::Band(name) | Self::Block("alloy" | "profile", Some(name)) => Some(name),
            Self::Block(word, Some(name)) if BlockId::of_ring(word).is_some() => Some(name),
            Self::Block(..) => Some(COMMON),
        }
    }

    /// The path that its fields stand behind, as it is shown.
    #[must_use]
    pub fn path(&self) -> String {
        match self {
            Self::Lets => String::new(),
            Self::Band(name) | Self::Block("alloy" | "profile" | "stock", Some(name)) => {
                name.clone()
            }
            Self::Block(word, Some(name)) if BlockId::of_ring(word).is_some() => {
                format!("{name}.{word}")
            }
            Self::Block(word, Some(name)) => format!("{word}.{name}"),
            Self::Block(word, None) => (*word).to_owned(),
        }
    }

    /// Whether entries of a word, or of the word that a path begins with, are told apart by their name in it.
    #[must_use]
    pub fn tells_apart(&self, path: &str) -> bool {
        match self {
            Self::Lets => false,
            Self::Band(_) => schema::BlockId::Band.tells_apart(path),
            Self::Block(block, _) => tells_apart(block, path),
        }
    }
}

/// Whether entries of a word, or of the word that a path begins with, are told apart by their first value in a block
/// of the top level.
#[must_use]
pub fn tells_apart(block: &str, path: &str) -> bool {
    schema::BlockId::of_word(block).is_some_and(|block| block.tells_apart(path))
}

/// Entries laid over a block, or over `let`s, as if they had been written there.
#[derive(Clone, Debug)]
pub struct Override {
    /// What it belongs to.
    pub holder: Holder,
    /// The entries.
    pub items: Vec<Item>,
}

/// The layers over one holder, weakest first.
pub(super) fn over<'t>(
    overrides: &'t [Override],
    holder: &Holder,
) -> impl Iterator<Item = &'t [Item]> {
    let of_it = overrides.iter().filter(move |over| over.holder == *holder);
    of_it.map(|over| over.items.as_slice())
}

/// Lays one layer over what is written; a written `±` that it drops is told.
pub(super) fn lay_over<'t>(
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    tells_apart: &dyn Fn(&str) -> bool,
    findings: &mut Vec<Finding>,
) {
    let dropped = merge::dropped(nodes, items, tells_apart);
    findings.extend(
        dropped
            .into_iter()
            .map(|(at, written)| ModelNote::DeviationDropped { at, written }.into()),
    );
    merge::lay(nodes, items, tells_apart, findings);
}
