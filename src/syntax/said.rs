//! What an edit is to say, and how that is written on one line.

use crate::source::Source;

use super::ast::{Block, Entry};

/// What an entry is to say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// The word that names it.
    pub head: String,
    /// The values as text; empty: they stay as they are.
    pub values: String,
    /// What its block says.
    pub inner: Vec<Said>,
    /// Another kind than before: what its block said does not apply to it.
    pub anew: bool,
}

impl Said {
    /// What an entry says, its texts as the source has them.
    #[must_use]
    pub fn of(entry: &Entry, source: &Source) -> Self {
        let values = match (entry.values.first(), entry.values.last()) {
            (Some(first), Some(last)) => source.slice(first.span.to(last.span)).to_owned(),
            _ => String::new(),
        };
        let inner = entry.block.iter().flat_map(Block::entries);
        Self {
            head: entry
                .head
                .as_ref()
                .map_or_else(String::new, |head| head.value.0.clone()),
            values,
            inner: inner.map(|inner| Self::of(inner, source)).collect(),
            anew: false,
        }
    }

    /// The same, held by the blocks that a path leads through.
    #[must_use]
    pub fn at(self, path: &str) -> Self {
        match split(path) {
            (first, Some(rest)) => Self {
                head: first.to_owned(),
                inner: vec![self.at(rest)],
                ..Self::default()
            },
            (last, None) => Self {
                head: last.to_owned(),
                ..self
            },
        }
    }
}

/// Entries on one line.
pub(super) fn one_line(said: &[Said]) -> String {
    let one = |said: &Said| {
        let gap = if said.values.is_empty() { "" } else { " " };
        format!(
            "{}{gap}{}{}",
            said.head,
            said.values,
            block_text(&said.inner)
        )
    };
    said.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// A block on one line, with the space before it; nothing where it would be empty.
pub(super) fn block_text(inner: &[Said]) -> String {
    if inner.is_empty() {
        String::new()
    } else {
        format!(" {{ {} }}", one_line(inner))
    }
}

/// The first word of a path, and the rest.
pub(super) fn split(path: &str) -> (&str, Option<&str>) {
    path.split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)))
}
