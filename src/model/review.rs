//! Words that are no field where they stand, fields not evaluated yet, and names behind a block's word.

use crate::finding::Finding;
use crate::schema::{self, Field, PROFILES, Takes};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Expr, ExprKind};

use super::error::ModelError;
use super::merge::Node;

/// Reports every word of a band that is no field where it stands, and every field not evaluated yet.
pub(super) fn review(
    nodes: &[Node<'_>],
    holder: &'static str,
    kind: Option<&str>,
    quiet: bool,
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
            findings.push(unknown_field(node, holder, kind).into());
            continue;
        };
        if field.later && !quiet {
            findings.push(
                ModelError::NotEvaluated {
                    at: node.at,
                    name: node.head.to_owned(),
                    help: "the results below do not take it into account",
                }
                .into(),
            );
        }
        if let Some(brace) = node.block.filter(|_| node.outline.is_none()) {
            let mut held = schema::held_by(field.path).peekable();
            if held.peek().is_none() && field.takes != Takes::Anything {
                findings.push(
                    ModelError::ValueCount {
                        at: brace,
                        field: node.head.to_owned(),
                        wanted: "no block".to_owned(),
                        label: "no block stands here",
                        help: format!("as in `{}`", schema::example(field)),
                    }
                    .into(),
                );
                continue;
            }
            // A kind that is itself a slip says nothing about the fields of its block.
            let kind = node
                .word()
                .filter(|word| field.takes != Takes::Profile || PROFILES.contains(word));
            review(
                &node.children,
                field.path,
                kind,
                quiet || field.later,
                findings,
            );
        }
        if field.takes == Takes::Block
            && let Some(place) = node.winner()
        {
            let at = place
                .values
                .first()
                .map_or(node.at.after(), |value| value.span);
            findings.push(
                ModelError::ValueCount {
                    at,
                    field: node.head.to_owned(),
                    wanted: "a block".to_owned(),
                    label: "a block in braces is due",
                    help: format!("as in `{} {{ … }}`", node.head),
                }
                .into(),
            );
        }
    }
}

fn unknown_field(node: &Node<'_>, holder: &'static str, kind: Option<&str>) -> ModelError {
    let fits = |field: &&Field| {
        field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
    };
    let here: Vec<&str> = schema::held_by(holder)
        .filter(fits)
        .map(Field::word)
        .collect();
    let near = nearest(node.head, here.iter().copied()).map(str::to_owned);
    let elsewhere = schema::matching(node.head);
    let owner = match (holder.is_empty(), kind) {
        (true, _) => "band",
        (false, Some(kind)) => kind,
        (false, None) => holder,
    };
    let help = match (&near, elsewhere.first()) {
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
        nearest: near,
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
        [_, second, ..] => {
            findings.push(wrong(second.span, "one too many").into());
            None
        }
    }
}
