//! The block `shop`: rates, operations, overhead, rejects, scrap, fees and tax.

use crate::schema::{self, Field, FieldId, Takes};

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::merge::Node;
use crate::model::merge::node as find_node;
use crate::model::review::{held, named_block};
use crate::suggest::listed;

use super::around::Around;
use super::read;
use super::said::{Row, RowOf};
use crate::model::values::Values;

/// The entries of the block: its own values, and its named blocks.
pub(super) struct Block<'t> {
    pub values: Values,
    named: Vec<(RowOf, Node<'t>)>,
    pub is_written: bool,
}

/// Reads the plain values.
pub(super) fn block<'t>(
    nodes: Vec<Node<'t>>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Block<'t> {
    let is_written = !nodes.is_empty();
    let (mut own, mut named) = (Vec::new(), Vec::new());
    for node in nodes {
        match node.head {
            "operation" => named.push((RowOf::Operation, node)),
            "fee" => named.push((RowOf::Fee, node)),
            _ => own.push(node),
        }
    }
    let values = read::block(&own, "shop", None, around, findings);
    unpaid(&own, findings);
    Block {
        values,
        named,
        is_written,
    }
}

/// The rows of operations and fees.
pub(super) fn rows(
    block: &Block<'_>,
    rows: &mut Vec<Row>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) {
    for (of, node) in &block.named {
        let (holder, example) = match of {
            RowOf::Fee => (FieldId::ShopFee, "fee hallmark { article 1 EUR }"),
            _ => (FieldId::ShopOperation, "operation turning { run 6 min }"),
        };
        // What an example shows comes first.
        let mut fields: Vec<_> = schema::held_in_blocks(holder.path()).map(held).collect();
        fields.sort_by_key(|one| !example.contains(&format!(" {} ", one.word)));
        let Some(name) = named_block(node, example, &fields, findings) else {
            continue;
        };
        let before = findings.len();
        around.money().row = Some(rows.len());
        let values = read::block(&node.children, holder.path(), None, around, findings);
        if findings.len() == before {
            says_something(node, holder, name, findings);
        }
        rows.push(Row {
            of: *of,
            name: name.into(),
            word: name.into(),
            at: node.winner().map_or(node.at, |place| place.at),
            values,
        });
    }
    around.money().row = None;
}

/// An operation without any time, or a fee without any amount, would count as nothing.
fn says_something(node: &Node<'_>, holder: FieldId, name: &str, findings: &mut Vec<Finding>) {
    let fields: Vec<&Field> = schema::held_in_blocks(holder.path())
        .filter(|field| matches!(field.takes, Takes::Time | Takes::Money))
        .collect();
    let is_written = |field: &&Field| node.children.iter().any(|one| one.head == field.word());
    if fields.iter().any(is_written) {
        return;
    }
    let words: Vec<String> = fields
        .iter()
        .map(|field| format!("`{}`", field.word()))
        .collect();
    let lines: Vec<String> = fields
        .iter()
        .map(|field| format!("`{}`", schema::example(field)))
        .collect();
    findings.push(
        ModelError::Lacks {
            at: node.winner().map_or(node.at, |place| place.at),
            what: format!("{} `{name}`", node.head),
            fields: listed(words.iter().map(String::as_str)),
            help: format!("add {}", listed(lines.iter().map(String::as_str))),
        }
        .into(),
    );
}

/// What is collected of a stream is worth nothing until it is said what the refiner pays for.
fn unpaid(nodes: &[Node<'_>], findings: &mut Vec<Finding>) {
    for stream in ["offcuts", "turnings", "polishings"] {
        let Some(found) = find_node(nodes, &format!("scrap.{stream}")) else {
            continue;
        };
        let collected = found.children.iter().find(|one| one.head == "collected");
        let is_paid = found.children.iter().any(|one| one.head == "paid");
        if let Some(collected) = collected.filter(|_| !is_paid) {
            findings.push(
                ModelError::Lacks {
                    at: collected.at,
                    what: format!("`{stream}`"),
                    fields: "`paid`".to_owned(),
                    help: "add `paid 95 %`, the share that the refiner pays for".to_owned(),
                }
                .into(),
            );
        }
    }
}
