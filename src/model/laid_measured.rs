//! What was measured of a ring (`made`, `weighed`), laid into its band as a block of that word.

use crate::finding::Finding;
use crate::schema::BlockId;
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, ExprKind, Item, entries};

use super::laid::{self, Holder, Override};
use super::merge::{self, Node};
use super::top::BandEntry;

/// The words of blocks that hold what was measured of a ring.
pub(super) fn of_rings() -> impl Iterator<Item = &'static str> {
    let all = BlockId::ALL.into_iter();
    all.filter_map(|block| BlockId::of_ring(block.word()))
}

/// Where it is said that what was measured of a band does not count: in the band, or laid over it.
pub(super) fn without(word: &str, band: &BandEntry<'_>, overrides: &[Override]) -> Option<Span> {
    let block = band.entry.block.iter().map(|block| block.items.as_slice());
    let holder = Holder::Band(band.name.clone());
    let layers = block.chain(laid::over(overrides, &holder));
    layers.flat_map(entries).find_map(|entry| {
        let mut values = entry.values.iter();
        let is_it = |value: &&Expr| matches!(&value.kind, ExprKind::Path(path) if path.0 == word);
        let value = values.find(is_it)?;
        (entry.head_name() == Some("without")).then_some(value.span)
    })
}

/// Lays a block of what was measured into its band.
pub(super) fn lay_measured<'t>(
    word: &str,
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    findings: &mut Vec<Finding>,
) {
    merge::lay(nodes, items, &|_| false, findings);
    // The band's name behind the word is no value of the block.
    for node in nodes.iter_mut().filter(|node| node.head == word) {
        node.places.clear();
    }
}

/// Lays a layer over such a block of a band, which need not be there yet.
pub(super) fn lay_of_ring<'t>(
    word: &'static str,
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    findings: &mut Vec<Finding>,
) {
    let place = match nodes.iter().position(|node| node.head == word) {
        Some(place) => place,
        None => {
            let at = entries(items).next().map(Entry::head_span);
            nodes.push(Node {
                head: word,
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
