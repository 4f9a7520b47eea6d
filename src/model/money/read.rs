//! Blocks of the top level to values, by the table of their fields.
//!
//! The one reader of `prices`, `shop`, `stock` and `order`: it knows words, kinds of value and ranges from the
//! table alone. What stands in the table under a word of the recipe's own (`METAL`, `NAME`, `BAND`) is told apart
//! by the caller.

use crate::finding::Finding;
use crate::model::check;
use crate::model::error::ModelError;
use crate::model::expression::Evaluator;
use crate::model::field_value::{choose, default, single, word};
use crate::model::merge::Node;
use crate::model::program::Key;
use crate::model::review::{block_alone, held, no_block};
use crate::model::value::Value;
use crate::model::values::FieldValue;
use crate::schema::{self, BlockId, Field, FieldId, Takes};
use crate::source::Span;
use crate::suggest::{listed, metal, nearest};

use crate::model::values::Values;

use super::around::Around;

/// Reads the entries of a block; `holder` is its path in the table, `kind` the word that says what it can hold.
pub(super) fn block(
    nodes: &[Node<'_>],
    holder: &str,
    kind: Option<&str>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Values {
    let mut values = Values::default();
    into(&mut values, nodes, holder, kind, around, findings);
    values
}

fn into(
    values: &mut Values,
    nodes: &[Node<'_>],
    holder: &str,
    kind: Option<&str>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) {
    for node in nodes {
        match schema::find_in_blocks(&format!("{holder}.{}", node.head))
            .filter(|field| fits(field, kind))
        {
            Some(field) => entry(values, node, field, around, findings),
            None => findings.push(unknown(node, holder, kind, &[]).into()),
        }
    }
    for field in schema::held_in_blocks(holder).filter(|field| fits(field, kind)) {
        if values.get(field.id).is_none()
            && let Some(value) = default(field)
        {
            values.put(value);
        }
    }
}

fn fits(field: &Field, kind: Option<&str>) -> bool {
    field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
}

/// Reads one entry and its block.
pub(super) fn entry(
    values: &mut Values,
    node: &Node<'_>,
    field: &'static Field,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) {
    if field.takes == Takes::Block {
        let said = node.winner().and_then(|place| place.values.first());
        if node.block.is_none() || said.is_some() {
            let held: Vec<_> = schema::held_in_blocks(field.path).map(held).collect();
            findings.push(block_alone(node, said, &held).into());
        }
    } else if let Some(value) = value(node, field, around, findings) {
        values.put(value);
    }
    if let Some(brace) = node.block {
        if schema::held_in_blocks(field.path).next().is_none() {
            findings.push(no_block(brace, field.word(), &schema::example(field)).into());
            return;
        }
        into(values, &node.children, field.path, None, around, findings);
    }
}

/// The value of one entry, checked.
pub(super) fn value(
    node: &Node<'_>,
    field: &'static Field,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<FieldValue> {
    let place = *node.winner()?;
    let expr = single(field, place.values, place.at, findings)?;
    let at = expr.span;
    let value = match word(field, expr) {
        Some(word) => choose(field, word, &[], at, findings)?,
        None => {
            let (_, dimension) = check::due(field.takes);
            let key = Key::Setting(field.id, around.money().row);
            let value = around.evaluated(Some(key), &mut |scope| {
                let mut evaluator = Evaluator { scope, findings };
                let value = evaluator.value(expr, dimension)?;
                evaluator.due(field, expr, value, false)
            })?;
            around.worked_out(key, expr);
            let value = check::take(field, value, at, findings)?;
            let counts = field.takes == Takes::Count
                || field.block == BlockId::Order
                || field.holder() == FieldId::ShopTolerance.path();
            if counts && deviates(&value, at, findings) {
                return None;
            }
            value
        }
    };
    Some(FieldValue {
        field,
        value,
        at: Some(at),
        places: node.places.iter().map(|place| place.at).collect(),
    })
}

/// Whether a value carries a `±`, which is then refused: what is counted, what a tolerance is, and what an order says, is so much.
fn deviates(value: &Value, at: Span, findings: &mut Vec<Finding>) -> bool {
    let deviates = value.quantity().is_some_and(|of| !of.deviations.is_empty());
    if deviates {
        findings.push(
            ModelError::NoResult {
                at,
                message: "a count, a tolerance, and what an order says carry no `\u{B1}`",
                help: "write the value alone",
            }
            .into(),
        );
    }
    deviates
}

/// A word that is no field where it stands; `more` are words that would do beside those of the table.
pub(super) fn unknown(
    node: &Node<'_>,
    holder: &str,
    kind: Option<&str>,
    more: &[&str],
) -> ModelError {
    let here: Vec<&str> = schema::held_in_blocks(holder)
        .filter(|field| fits(field, kind))
        .map(Field::word)
        .filter(|word| word.chars().any(char::is_lowercase))
        .collect();
    let near = metal(node.head, more.iter().copied())
        .or_else(|| nearest(node.head, here.iter().copied()))
        .map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("fields here are {}", listed(here)),
    };
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: kind
            .unwrap_or_else(|| holder.rsplit('.').next().unwrap_or(holder))
            .to_owned(),
        help,
        nearest: near,
    }
}

/// Fields that a block lacks, as one finding.
pub(super) fn lacking(
    what: &str,
    at: Span,
    wanted: &[FieldId],
    values: &Values,
    findings: &mut Vec<Finding>,
) {
    let missing: Vec<&Field> = wanted
        .iter()
        .filter(|id| values.get(**id).is_none())
        .map(|id| id.row())
        .collect();
    if missing.is_empty() {
        return;
    }
    let named: Vec<String> = missing
        .iter()
        .map(|field| format!("`{}`", field.word()))
        .collect();
    let lines: Vec<String> = missing
        .iter()
        .map(|field| format!("`{}`", schema::example(field)))
        .collect();
    findings.push(
        ModelError::Lacks {
            at,
            what: what.to_owned(),
            fields: named.join(" and "),
            help: format!("add {}", lines.join(", ")),
        }
        .into(),
    );
}
