//! Words that are no field where they stand, and names behind a block's word.

use crate::finding::Finding;
use crate::quantity::Dimension;
use crate::schema::{self, Field, PROFILES, Takes};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Expr, ExprKind};

use super::error::ModelError;
use super::merge::Node;

/// Reports every word of a band that is no field where it stands.
pub(super) fn review(
    nodes: &[Node<'_>],
    holder: &'static str,
    kind: Option<&str>,
    findings: &mut Vec<Finding>,
) {
    for node in nodes {
        let path = if holder.is_empty() {
            node.head.to_owned()
        } else {
            format!("{holder}.{}", node.head)
        };
        let fits = |field: &&Field| {
            field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
        };
        let Some(field) = schema::find(&path).filter(fits) else {
            findings.push(unknown_field(node, nodes, holder, kind).into());
            continue;
        };
        // What an outline holds is read with it; what is laid over it is not.
        if let Some(brace) = node.block {
            let mut held = schema::held_by(field.path).peekable();
            if held.peek().is_none() && field.takes != Takes::Anything {
                let mut problem = no_block(brace, node.head, &schema::example(field));
                if let (Takes::Alloy, ModelError::ValueCount { help, .. }) =
                    (field.takes, &mut problem)
                {
                    "density, tempers and parts stand in the metal's own block, `alloy NAME { \u{2026} }`, at the top level".clone_into(help);
                }
                findings.push(problem.into());
                continue;
            }
            // A kind that is itself a slip says nothing about the fields of its block; one not written is the default.
            let usual = match field.takes {
                Takes::Word(_) if node.winner().is_none() => field.default.map(|(word, _)| word),
                _ => None,
            };
            let kind = node
                .word()
                .or(usual)
                .filter(|word| field.takes != Takes::Profile || PROFILES.contains(word));
            review(&node.children, field.path, kind, findings);
        }
        if field.takes == Takes::Block
            && let Some(place) = node.winner()
        {
            let held: Vec<Held<'_>> = schema::held_by(field.path).map(held).collect();
            findings.push(block_alone(node, place.values.first(), &held).into());
        }
    }
}

fn unknown_field(
    node: &Node<'_>,
    beside: &[Node<'_>],
    holder: &'static str,
    kind: Option<&str>,
) -> ModelError {
    let fits = |field: &&Field| {
        field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
    };
    let here: Vec<&str> = schema::held_by(holder)
        .filter(fits)
        .map(Field::word)
        .collect();
    // Other words of the trade for the same.
    let meant = match node.head {
        "metal" | "material" => Some("alloy"),
        "name" => Some("title"),
        "ring-size" | "bore" => Some("size"),
        _ => None,
    };
    let meant = meant.filter(|meant| here.contains(meant));
    let near = meant.or_else(|| nearest(node.head, here.iter().copied()));
    let near = near.map(str::to_owned);
    // Written a second time it would be no better.
    let stands = beside.iter().any(|one| Some(one.head) == near.as_deref());
    let elsewhere = schema::matching(node.head);
    let goes_with = schema::held_by(holder)
        .find(|field| field.word() == node.head)
        .map_or(&[][..], |field| field.only);
    let owner = match (holder.is_empty(), kind) {
        (true, _) => "band",
        (false, Some(kind)) => kind,
        (false, None) => holder,
    };
    let help = match (&near, elsewhere.first()) {
        _ if !goes_with.is_empty() => {
            let holder = schema::find(holder).map_or(holder, Field::word);
            let quoted = goes_with.iter().map(|kind| format!("`{holder} {kind}`"));
            let quoted: Vec<String> = quoted.collect();
            format!(
                "`{}` goes with {}",
                node.head,
                listed(quoted.iter().map(String::as_str))
            )
        }
        (Some(near), _) if stands => format!("did you mean `{near}`, which stands here already?"),
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, Some(field)) if field.holder() != holder => match field.holder() {
            "" => format!("`{}` stands in the band itself", node.head),
            other => format!("`{}` stands in the block of `{other}`", node.head),
        },
        (None, _) if here.is_empty() => format!("`{owner}` has no fields of its own"),
        (None, _) => format!("fields here are {}", listed(here)),
    };
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: owner.to_owned(),
        help,
        nearest: near.filter(|_| !stands),
    }
}

/// A field of a block: its word, the dimension that it takes, and how it is written.
pub(super) struct Held<'a> {
    pub word: &'a str,
    pub dimension: Option<Dimension>,
    pub example: String,
}

/// A field of the vocabulary as its block holds it.
pub(super) fn held(field: &'static Field) -> Held<'static> {
    Held {
        word: field.word(),
        dimension: super::check::due(field.takes).1,
        example: schema::example(field),
    }
}

/// The finding for a block's word with a value behind it, or without its block.
pub(super) fn block_alone(node: &Node<'_>, said: Option<&Expr>, held: &[Held<'_>]) -> ModelError {
    let (at, label) = match said {
        Some(value) => (value.span, "the block does not take it"),
        None => (node.at.after(), "a block in braces goes here"),
    };
    let none = node
        .word()
        .is_some_and(|word| matches!(word, "none" | "no" | "off"));
    ModelError::ValueCount {
        at,
        field: node.head.to_owned(),
        wanted: "a block".to_owned(),
        label,
        help: match none {
            true => format!(
                "leave the line out, or say `without {}` in a variant of a band that has one",
                node.head
            ),
            false => line(node.head, said, held),
        },
    }
}

/// The name of a block that is told from others by one (`operation turning { run 7 min }`): a name, a block and
/// nothing between; `None` after saying what is wrong.
pub(super) fn named_block<'t>(
    node: &Node<'t>,
    example: &str,
    held: &[Held<'_>],
    findings: &mut Vec<Finding>,
) -> Option<&'t str> {
    let Some(name) = node.word() else {
        findings.push(
            ModelError::ValueCount {
                at: node.winner().map_or(node.at, |place| place.at),
                field: node.head.to_owned(),
                wanted: "a name and a block".to_owned(),
                label: "here",
                help: format!("as in `{example}`"),
            }
            .into(),
        );
        return None;
    };
    let place = node.winner()?;
    let said = place.values.get(1);
    if said.is_none() && node.block.is_some() {
        return Some(name);
    }
    let (at, label) = match said {
        Some(value) => (value.span, "the block does not take it"),
        None => (place.at.after(), "a block in braces goes here"),
    };
    findings.push(
        ModelError::ValueCount {
            at,
            field: node.head.to_owned(),
            wanted: "a name and a block".to_owned(),
            label,
            help: line(&format!("{} {name}", node.head), said, held),
        }
        .into(),
    );
    None
}

/// The line to write: a block with the value in it that stood outside, or with an example.
fn line(header: &str, said: Option<&Expr>, held: &[Held<'_>]) -> String {
    let dimension = said.and_then(|said| match &said.kind {
        ExprKind::Quantity { unit: None, .. } => Some(Dimension::NONE),
        ExprKind::Quantity {
            unit: Some(unit), ..
        } => {
            let scale = crate::quantity::unit::scale(&unit.value).ok()?;
            Some(scale.dimension.without_currency())
        }
        _ => None,
    });
    let fits = held
        .iter()
        .find(|one| dimension.is_some() && one.dimension == dimension);
    match (fits, said) {
        (Some(one), Some(said)) => {
            let value = crate::syntax::print_expression(said);
            format!("write `{header} {{ {} {value} }}`", one.word)
        }
        _ => {
            let plain = held.iter().find(|one| !one.example.contains('{'));
            let inner = plain
                .or(held.first())
                .map_or("\u{2026}", |one| &one.example);
            format!("as in `{header} {{ {inner} }}`")
        }
    }
}

/// Refuses a block behind what takes none; whether there was one.
pub(super) fn refused_block(node: &Node<'_>, example: &str, findings: &mut Vec<Finding>) -> bool {
    let Some(brace) = node.block else {
        return false;
    };
    findings.push(no_block(brace, node.head, example).into());
    true
}

/// The finding for a block where none is taken.
pub(super) fn no_block(brace: Span, head: &str, example: &str) -> ModelError {
    ModelError::ValueCount {
        at: brace,
        field: head.to_owned(),
        wanted: "no block".to_owned(),
        label: "no block stands here",
        help: format!("as in `{example}`"),
    }
}

/// The name that follows a block's word, as in `band harvest {`.
pub(super) fn name_of(
    values: &[Expr],
    word: &str,
    at: Span,
    example: &str,
    findings: &mut Vec<Finding>,
) -> Option<Spanned<String>> {
    let wrong = |at: Span, label: &'static str| ModelError::ValueCount {
        at,
        field: word.to_owned(),
        wanted: "a name and a block".to_owned(),
        label,
        help: format!("as in `{example}`"),
    };
    match values {
        [first] => match &first.kind {
            ExprKind::Path(path) if path.single().is_some() => {
                Some(Spanned::new(path.0.clone(), first.span))
            }
            _ => {
                findings.push(wrong(first.span, "not a name: a name begins with a letter").into());
                None
            }
        },
        [] => {
            findings.push(wrong(at.after(), "a name is missing").into());
            None
        }
        [first, second, ..] => {
            findings.push(wrong(second.span, "one too many").into());
            // `band band oak {`: the word stands twice, and the name is behind it.
            let doubled = matches!(&first.kind, ExprKind::Path(path) if path.0 == word);
            match &second.kind {
                ExprKind::Path(path) if doubled && path.single().is_some() => {
                    Some(Spanned::new(path.0.clone(), second.span))
                }
                _ => None,
            }
        }
    }
}
