//! Parts as made, laid into their band as its block `made`.

use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, ExprKind, Item, entries};

use super::laid::{self, Holder, Override};
use super::merge::{self, Node};
use super::top::BandEntry;

/// Where it is said that a band's parts as made do not count: in the band, or laid over it.
pub(super) fn without_made(band: &BandEntry<'_>, overrides: &[Override]) -> Option<Span> {
    let block = band.entry.block.iter().map(|block| block.items.as_slice());
    let holder = Holder::Band(band.name.clone());
    let layers = block.chain(laid::over(overrides, &holder));
    layers.flat_map(entries).find_map(|entry| {
        let mut values = entry.values.iter();
        let is_made =
            |value: &&Expr| matches!(&value.kind, ExprKind::Path(path) if path.0 == "made");
        let value = values.find(is_made)?;
        (entry.head_name() == Some("without")).then_some(value.span)
    })
}

/// Lays a `made` block into its band.
pub(super) fn lay_measured<'t>(
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    findings: &mut Vec<Finding>,
) {
    merge::lay(nodes, items, &|_| false, findings);
    // The band's name behind the word is no value of the block.
    for node in nodes.iter_mut().filter(|node| node.head == "made") {
        node.places.clear();
    }
}

/// Lays a layer over the block `made` of a band, which need not be there yet.
pub(super) fn lay_made<'t>(
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    findings: &mut Vec<Finding>,
) {
    let place = match nodes.iter().position(|node| node.head == "made") {
        Some(place) => place,
        None => {
            let at = entries(items).next().map(Entry::head_span);
            nodes.push(Node {
                head: "made",
                at: at.unwrap_or_default(),
                places: Vec::new(),
                children: Vec::new(),
                block: at,
                outline: None,
            });
            nodes.len() - 1
        }
    };
    if let Some(node) = nodes.get_mut(place) {
        laid::lay_over(&mut node.children, items, &|_| false, findings);
    }
}
