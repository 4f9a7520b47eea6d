//! Where in a tree stands what an override lays over.

use crate::model::Holder;
use crate::syntax::ast::{self, Entry, Tree};

use super::names::single_word;

/// The entry that an override lays over: a band by its name, another block by its word and name.
pub(super) fn find_holder<'t>(tree: &'t Tree, holder: &Holder) -> Option<&'t Entry> {
    match holder {
        Holder::Lets => None,
        Holder::Band(name) => find_band(tree, name),
        Holder::Block(word, name) => ast::entries(&tree.items).find(|entry| {
            entry.head_name() == Some(word) && ast::first_word(&entry.values) == name.as_deref()
        }),
    }
}

/// The entry of a band by its name.
pub(super) fn find_band<'t>(tree: &'t Tree, name: &str) -> Option<&'t Entry> {
    ast::entries(&tree.items).find(|entry| {
        let is_band = matches!(entry.head_name(), Some("band" | "variant"));
        is_band && entry.values.first().and_then(single_word) == Some(name)
    })
}
