//! A `cutter` block: its form, its sizes and its speeds.

use std::sync::Arc;

use crate::finding::Finding;
use crate::schema::{self, BlockId, CUTTERS, Field, FieldId};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Entry, ExprKind};

use super::cuts::{Cutter, CutterKind};
use super::error::ModelError;
use super::field_value::default;
use super::laid::{self, Holder};
use super::merge::{self, Node};
use super::resolve::Resolver;
use super::rows::{matched, unknown};
use super::values::Values;

/// `cutter vee-90 vee { … }`: its name; `None` after saying that it has none. A kind that is none is told too.
pub(super) fn name(entry: &Entry, findings: &mut Vec<Finding>) -> Option<String> {
    let word = |place: usize| match &entry.values.get(place)?.kind {
        ExprKind::Path(word) => word.single(),
        _ => None,
    };
    let name = word(0).map(str::to_owned);
    let is_whole = entry.values.len() == 2 && word(1).is_some_and(|kind| CUTTERS.contains(&kind));
    if name.is_some() && is_whole {
        return name;
    }
    let last = entry.values.last();
    let near = last.and_then(|value| match &value.kind {
        ExprKind::Path(kind) => nearest(&kind.0, CUTTERS.iter().copied()),
        _ => None,
    });
    let help = match near {
        Some(near) if entry.values.len() == 2 => format!("did you mean `{near}`?"),
        _ => format!(
            "as in `cutter vee-90 vee {{ angle 90 deg }}`; kinds are {}",
            listed(CUTTERS.iter().copied())
        ),
    };
    findings.push(
        ModelError::ValueCount {
            at: last.map_or(entry.head_span().after(), |value| value.span),
            field: "cutter".to_owned(),
            wanted: "a name and a kind".to_owned(),
            label: "here",
            help,
        }
        .into(),
    );
    name
}

/// Reads every cutter, each with what is laid over it.
pub(super) fn read<'t>(
    resolver: &mut Resolver<'t>,
    written: &[(String, &'t Entry)],
    findings: &mut Vec<Finding>,
) {
    for (name, entry) in written {
        let cutter = cutter(resolver, name, entry, findings).map(Arc::new);
        resolver.cutters.push((name.clone(), cutter));
    }
}

fn cutter(
    resolver: &mut Resolver<'_>,
    name: &str,
    entry: &Entry,
    findings: &mut Vec<Finding>,
) -> Option<Cutter> {
    let before = findings.len();
    let word = entry.values.get(1).and_then(|kind| match &kind.kind {
        ExprKind::Path(kind) => CUTTERS.iter().find(|word| **word == kind.0),
        _ => None,
    })?;
    let (kind, wanted): (_, &[FieldId]) = match *word {
        "vee" => (CutterKind::Vee, &[FieldId::CutterAngle]),
        "ball" => (CutterKind::Ball, &[FieldId::CutterRadius]),
        "flat" => (CutterKind::Flat, &[FieldId::CutterWidth]),
        _ => (CutterKind::Facet, &[]),
    };
    let mut nodes: Vec<Node<'_>> = Vec::new();
    if let Some(block) = &entry.block {
        merge::lay(&mut nodes, &block.items, &|_| false, findings);
    }
    let holder = Holder::Block(BlockId::Cutter.word(), Some(name.to_owned()));
    for items in laid::over(resolver.overrides, &holder) {
        laid::lay_over(&mut nodes, items, &|_| false, findings);
    }
    let fits = |field: &Field| field.only.is_empty() || field.only.contains(word);
    let row = |head: &str| BlockId::Cutter.find(head).filter(|field| fits(field));
    let words: Vec<&str> = schema::held_in_blocks(BlockId::Cutter.word())
        .filter(|field| fits(field))
        .map(Field::word)
        .collect();
    let what = format!("a {word} cutter");
    let strange = |node: &Node<'_>| unknown(node, "cutter", &what, &words);
    let mut values = Values::default();
    for (field, node) in matched(&nodes, &row, &strange, findings) {
        let winner = node.winner().copied();
        if let Some(value) = resolver.value_of(None, field, winner, &node.places, false, findings) {
            values.put(value);
        }
    }
    for field in schema::held_in_blocks(BlockId::Cutter.word()) {
        if fits(field)
            && values.get(field.id).is_none()
            && let Some(value) = default(field)
        {
            values.put(value);
        }
    }
    if findings.len() > before {
        return None;
    }
    let lacks: Vec<&FieldId> = wanted
        .iter()
        .filter(|id| values.get(**id).is_none())
        .collect();
    if let Some(id) = lacks.first() {
        findings.push(
            ModelError::Lacks {
                at: entry.header_span(),
                what: format!("the cutter `{name}`"),
                fields: format!("`{}`", id.word()),
                help: format!("add `{}`", schema::example(id.row())),
            }
            .into(),
        );
        return None;
    }
    Some(Cutter {
        name: name.to_owned(),
        kind,
        at: entry.header_span(),
        values,
    })
}
