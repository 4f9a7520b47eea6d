//! The entries of a block matched with the rows of the vocabulary: what no row takes, and a block where none is
//! taken, is a finding, so that nothing is passed by.

use crate::finding::Finding;
use crate::schema::{self, Field, Takes};
use crate::suggest::{listed, nearest};

use super::error::ModelError;
use super::merge::Node;
use super::review::refused_block;

/// Each entry with its row, which `row` gives by the entry's word; what has none is said by `unknown`.
pub(super) fn matched<'n, 't>(
    nodes: &'n [Node<'t>],
    row: &dyn Fn(&str) -> Option<&'static Field>,
    unknown: &dyn Fn(&Node<'t>) -> ModelError,
    findings: &mut Vec<Finding>,
) -> Vec<(&'static Field, &'n Node<'t>)> {
    let mut found = Vec::new();
    for node in nodes {
        let Some(field) = row(node.head) else {
            findings.push(unknown(node).into());
            continue;
        };
        let holds = |field: &'static Field| {
            field.takes == Takes::Block || schema::held_under(field).next().is_some()
        };
        if node.block.is_none()
            || holds(field)
            || !refused_block(node, &example(field, node.head), findings)
        {
            found.push((field, node));
        }
    }
    found
}

/// How an entry of a row is written; a word of the recipe's own stands in its place.
pub(super) fn example(field: &Field, word: &str) -> String {
    let example = schema::example(field);
    match example.split_once(' ') {
        Some((_, value)) if !field.has_word() => format!("{word} {value}"),
        _ => example,
    }
}

/// The words of the rows that stand right under one.
pub(super) fn words_under(field: &'static Field) -> Vec<&'static str> {
    schema::held_under(field).map(Field::word).collect()
}

/// A word that is no field of a temper, a rulebook and the like; `holder` is what it stands in, `what` that with its
/// article.
pub(super) fn unknown(
    node: &Node<'_>,
    holder: &str,
    what: &str,
    words: &[&'static str],
) -> ModelError {
    let near = nearest(node.head, words.iter().copied()).map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("{what} holds {}", listed(words.iter().copied())),
    };
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: holder.to_owned(),
        help,
        nearest: near,
    }
}
