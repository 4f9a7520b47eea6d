//! What a band lacks: fields without which nothing can be computed of it.

use std::borrow::Cow;

use crate::finding::Finding;
use crate::schema::{self, CutKind, Field, FieldId, Takes};
use crate::source::Span;

use super::error::ModelError;
use super::merge::Node;
use super::merge::node;

/// Fields without which nothing can be computed, and which are not written; `drawn`: whether cuts with names are.
pub(super) fn lacking(nodes: &[Node<'_>], drawn: bool) -> Vec<FieldId> {
    let is_written = |id: FieldId| {
        node(nodes, id.path())
            .is_some_and(|node| id.row().takes == Takes::Block || node.winner().is_some())
    };
    let word = |id: FieldId| node(nodes, id.path()).and_then(Node::word).unwrap_or("");
    let mut wanted = vec![
        FieldId::Size,
        FieldId::Width,
        FieldId::Profile,
        FieldId::Alloy,
    ];
    let kind = word(FieldId::Profile);
    if !is_written(FieldId::Outside) && kind != "custom" {
        wanted.insert(2, FieldId::Thickness);
    }
    wanted.extend(match kind {
        "domed" | "knife-edge" => &[FieldId::ProfileEdge][..],
        "bevelled" => &[FieldId::ProfileAcross, FieldId::ProfileDown],
        "concave" => &[FieldId::ProfileDip],
        _ => &[],
    });
    // What stands where its block is due was refused with the lines to write.
    let stands = |id: FieldId| {
        let written = node(nodes, id.path());
        written.is_some_and(|node| node.winner().is_none() || node.block.is_some())
    };
    // What drawn cuts want is said where they are read.
    let drawn = drawn || CutKind::ALL.into_iter().any(|kind| is_written(kind.block));
    if stands(FieldId::Pattern) && !drawn {
        wanted.extend([FieldId::PatternDepth, FieldId::PatternCover]);
    }
    if stands(FieldId::Hollow) {
        wanted.extend([FieldId::HollowShell, FieldId::HollowSleeve]);
    }
    for (holder, inner) in [
        (FieldId::HollowRidge, FieldId::HollowRidgeWide),
        (FieldId::HollowLip, FieldId::HollowLipWide),
    ] {
        wanted.extend(is_written(holder).then_some(inner));
    }
    // A block alone gives the fields in it and not the value that stands before it.
    let mut alone = Vec::new();
    blocks_alone("", nodes, &mut alone);
    alone.sort_unstable();
    wanted.extend(alone);
    if word(FieldId::HollowStage) == "turning" {
        wanted.push(FieldId::HollowStagePlay);
    }
    let mut seen = Vec::new();
    wanted.retain(|id| {
        let lacks = !is_written(*id) && !seen.contains(id);
        seen.push(*id);
        lacks
    });
    wanted
}

/// The fields that take a value and have a block, by the paths of what they stand in.
fn blocks_alone(holder: &str, nodes: &[Node<'_>], found: &mut Vec<FieldId>) {
    let mut seen: Vec<&str> = Vec::new();
    for node in nodes {
        // Of several of one word, such as tempers, the first stands for the field.
        if seen.contains(&node.head) {
            continue;
        }
        seen.push(node.head);
        if node.block.is_none() && node.children.is_empty() {
            continue;
        }
        let path = match holder {
            "" => Cow::Borrowed(node.head),
            holder => Cow::Owned(format!("{holder}.{}", node.head)),
        };
        let field = schema::find(&path).filter(|_| node.block.is_some());
        let takes_value = |field: &&Field| {
            field.default.is_none() && !matches!(field.takes, Takes::Block | Takes::Anything)
        };
        found.extend(field.filter(takes_value).map(|field| field.id));
        blocks_alone(&path, &node.children, found);
    }
}

/// Says what a band lacks; what was meant by a slip is not missing.
pub(super) fn missing(
    name: &str,
    at: Span,
    mut wanted: Vec<FieldId>,
    slips: &[String],
    findings: &mut Vec<Finding>,
) {
    let meant = |id: FieldId| slips.iter().any(|slip| id.word() == slip);
    wanted.retain(|id| !meant(*id));
    let Some((last, rest)) = wanted.split_last() else {
        return;
    };
    let quoted = |id: &FieldId| format!("`{}`", id.path());
    let named = match rest {
        [] => quoted(last),
        rest => format!(
            "{} and {}",
            rest.iter().map(quoted).collect::<Vec<_>>().join(", "),
            quoted(last)
        ),
    };
    let lines: Vec<String> = wanted
        .iter()
        .map(|id| id.row())
        .map(|field| format!("`{}`", schema::example(field)))
        .collect();
    let help = format!("add {}", lines.join(", "));
    findings.push(
        ModelError::MissingField {
            at,
            band: name.to_owned(),
            fields: named,
            help,
        }
        .into(),
    );
}
