//! The headers of the blocks of a recipe's top level.

use miette::Diagnostic;
use rust_decimal::Decimal;
use thiserror::Error;

use crate::finding::{Finding, Problem};
use crate::schema::{self, PROFILES};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::TOP_WORDS;
use crate::syntax::ast::{Entry, Expr, ExprKind, Numeral};

use super::error::ModelError;
use super::review::name_of;

/// A recipe for a program that is newer than this one.
#[derive(Debug, Error, Diagnostic)]
#[error("this version reads edition 1 of the language")]
#[diagnostic(
    code(model::edition),
    help(
        "it was written for a newer annulet: read it with that; `annulet --version` shows which this is"
    )
)]
struct NewerEdition {
    #[label("a newer edition")]
    at: Span,
}

impl Problem for NewerEdition {}

/// `variant harvest-light of harvest { … }`: its own name, and the band it is made of.
pub(super) fn variant_names(
    entry: &Entry,
    findings: &mut Vec<Finding>,
) -> Option<(String, Spanned<String>)> {
    let name = |expr: &Expr| match &expr.kind {
        ExprKind::Path(path) => path
            .single()
            .map(|name| Spanned::new(name.to_owned(), expr.span)),
        _ => None,
    };
    if let [own, of, parent] = entry.values.as_slice()
        && let (Some(own), Some(of), Some(parent)) = (name(own), name(of), name(parent))
        && of.value == "of"
    {
        return Some((own.value, parent));
    }
    findings.push(
        ModelError::ValueCount {
            at: entry
                .values
                .last()
                .map_or(entry.head_span().after(), |value| value.span),
            field: "variant".to_owned(),
            wanted: "a name, `of` and the name of a band".to_owned(),
            label: "here",
            help: "as in `variant harvest-light of harvest { hollow { \u{2026} } }`".to_owned(),
        }
        .into(),
    );
    None
}

pub(super) fn block_name(
    entry: &Entry,
    word: &str,
    example: &str,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    let name = name_of(&entry.values, word, entry.head_span(), example, findings)?;
    if entry.block.is_none() {
        findings.push(block_due(name.span.after(), word, example).into());
        return None;
    }
    Some(name.value)
}

/// `prices { … }`: a word and a block alone; its place.
pub(super) fn plain_block(entry: &Entry, word: &str, findings: &mut Vec<Finding>) -> Option<Span> {
    let (at, label) = match (entry.values.first(), &entry.block) {
        (None, Some(_)) => return Some(entry.header_span()),
        (Some(value), _) => (value.span, "one too many"),
        (None, None) => (entry.head_span().after(), "a block in braces goes here"),
    };
    findings.push(
        ModelError::ValueCount {
            at,
            field: word.to_owned(),
            wanted: "a block and nothing before it".to_owned(),
            label,
            help: format!("as in `{word} {{ \u{2026} }}`"),
        }
        .into(),
    );
    None
}

fn block_due(at: Span, word: &str, example: &str) -> ModelError {
    ModelError::ValueCount {
        at,
        field: word.to_owned(),
        wanted: "a name and a block".to_owned(),
        label: "a block in braces goes here",
        help: format!("as in `{example}`"),
    }
}

/// `profile soft domed { … }`: a name, then what a band's `profile` says.
pub(super) fn profile_name(entry: &Entry, findings: &mut Vec<Finding>) -> Option<String> {
    if let [name, kind] = entry.values.as_slice()
        && let (ExprKind::Path(name), ExprKind::Path(kind)) = (&name.kind, &kind.kind)
        && PROFILES.contains(&kind.0.as_str())
        && name.single().is_some()
    {
        if PROFILES.contains(&name.0.as_str()) {
            let word = &name.0;
            findings.push(
                ModelError::TwoMeanings {
                    at: entry.values.first().map_or(entry.head_span(), |one| one.span),
                    other: None,
                    name: word.clone(),
                    meanings: format!("the kind `profile {word}`, and this block"),
                    help: format!("give the block another name, as in `profile soft-{word} {} {{ \u{2026} }}`", kind.0),
                }
                .into(),
            );
        }
        return Some(name.0.clone());
    }
    findings.push(
        ModelError::ValueCount {
            at: entry
                .values
                .last()
                .map_or(entry.head_span().after(), |value| value.span),
            field: "profile".to_owned(),
            wanted: "a name and a kind".to_owned(),
            label: "here",
            help: format!(
                "as in `profile soft domed {{ edge 1.2 mm }}`; kinds are {}",
                listed(PROFILES.iter().copied())
            ),
        }
        .into(),
    );
    None
}

pub(super) fn edition(entry: &Entry, findings: &mut Vec<Finding>) {
    let one = Numeral::Decimal(Decimal::ONE);
    let first = matches!(entry.values.as_slice(), [value] if matches!(&value.kind, ExprKind::Quantity { number, unit: None } if *number == one));
    if !first || entry.block.is_some() {
        let at = entry
            .values
            .first()
            .map_or(entry.head_span().after(), |value| value.span);
        let is_later = |value: &Expr| {
            matches!(&value.kind, ExprKind::Quantity { number: Numeral::Decimal(number), unit: None }
                if *number > Decimal::ONE)
        };
        findings.push(match entry.values.as_slice() {
            [value] if is_later(value) => NewerEdition { at }.into(),
            _ => ModelError::Edition { at }.into(),
        });
    }
}

pub(super) fn unknown_block(at: Span, word: &str) -> ModelError {
    let near = nearest(word, TOP_WORDS.iter().copied()).map(str::to_owned);
    let is_field = schema::find(word).is_some();
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None if is_field => format!(
            "`{word}` is a field of a band: it stands between the braces of `band NAME {{ \u{2026} }}`"
        ),
        None => format!("a recipe holds {}", listed(TOP_WORDS.iter().copied())),
    };
    let nearest = near.filter(|_| !is_field);
    ModelError::UnknownBlock {
        at,
        word: word.to_owned(),
        help,
        nearest,
    }
}
