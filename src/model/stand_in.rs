//! A band's `profile` that is the name of a `profile` block: what that block says, and over it what the band says.

use crate::finding::Finding;
use crate::syntax::ast::{Entry, entries, first_word};

use super::laid::{self, Holder, Override};
use super::merge::{self, Node, Statement};

/// Puts a `profile` block in the place of its name: its kind and fields, and over them what the band says.
pub(super) fn stand_in<'t>(
    nodes: &mut [Node<'t>],
    profiles: &[(String, &'t Entry)],
    overrides: &'t [Override],
    findings: &mut Vec<Finding>,
) {
    let Some(node) = nodes.iter_mut().find(|node| node.head == "profile") else {
        return;
    };
    let found = profiles.iter().find(|(name, _)| node.word() == Some(name));
    let Some((name, entry)) = found else { return };
    let Some(kind) = entry.values.get(1..) else {
        return;
    };
    node.places.push(Statement {
        values: kind,
        at: entry.header_span(),
    });
    let own = std::mem::take(&mut node.children);
    if let Some(block) = &entry.block {
        node.block = node.block.or(Some(block.open));
        if first_word(kind) == Some("custom") {
            node.outline = Some(&block.items);
        } else {
            merge::lay(&mut node.children, &block.items, &|_| false, findings);
        }
    }
    for items in laid::over(overrides, &Holder::Block("profile", Some(name.clone()))) {
        if node.outline.is_some() {
            node.outline = Some(items);
        } else {
            node.block = node.block.or(entries(items).next().map(Entry::head_span));
            laid::lay_over(&mut node.children, items, &|_| false, findings);
        }
    }
    for child in own {
        match node
            .children
            .iter_mut()
            .find(|known| known.head == child.head)
        {
            Some(known) => {
                known.at = child.at;
                known.places.extend(child.places);
            }
            None => node.children.push(child),
        }
    }
}
