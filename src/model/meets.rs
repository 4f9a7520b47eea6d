//! `B meets UK 750`: which band or part, which rulebook, which metal and figure.

use std::collections::BTreeSet;

use crate::schema::FieldId;
use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::{Finding, is_full};
use crate::quantity::{Dimension, unit};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest, of_bands};
use crate::syntax::ast::{Expr, ExprKind, Numeral};

use super::error::ModelError;
use super::fineness;

/// A rule that a band is to meet.
#[derive(Clone, Debug)]
pub struct Meets {
    /// The band.
    pub band: Spanned<String>,
    /// `shell` or `sleeve`, where only that is meant.
    pub part: Option<String>,
    /// The word of the rulebook.
    pub book: Spanned<String>,
    /// The metal, where it is named.
    pub metal: Option<Spanned<String>>,
    /// The figure; none: any mark at all.
    pub figure: Option<(Figure, Span)>,
}

/// A figure as it is claimed.
#[derive(Clone, Debug, PartialEq)]
pub enum Figure {
    /// Parts per thousand.
    Parts(Decimal),
    /// Karats, 1/24 of gold each.
    Karats(Decimal),
    /// A word, such as sterling.
    Word(String),
}

/// What there is to be meant.
pub(super) struct Known<'a> {
    /// Names of bands, in the order written.
    pub bands: Vec<&'a str>,
    /// The same, to look one up.
    pub named: BTreeSet<&'a str>,
    /// Words of rulebooks.
    pub books: Vec<&'a str>,
}

/// Reads what stands on both sides of `meets`; none after saying what is wrong.
pub(super) fn read(
    subject: &Expr,
    rest: &[Expr],
    known: &Known<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Meets> {
    let band = subject_of(subject, known, findings);
    let claim = claim(subject, rest, known, findings);
    let ((band, part), (book, metal, figure)) = (band?, claim?);
    Some(Meets {
        band,
        part,
        book,
        metal,
        figure,
    })
}

type Subject = (Spanned<String>, Option<String>);
type Claim = (
    Spanned<String>,
    Option<Spanned<String>>,
    Option<(Figure, Span)>,
);

const EXAMPLE: &str =
    "as in `require harvest meets UK 750`, `meets US 18 karat` or `meets UK silver 925`";

fn subject_of(subject: &Expr, known: &Known<'_>, findings: &mut Vec<Finding>) -> Option<Subject> {
    let at = subject.span;
    let ExprKind::Path(path) = &subject.kind else {
        findings.push(count(at, "a band before `meets`").into());
        return None;
    };
    let (name, part) = path
        .0
        .split_once('.')
        .map_or((path.0.as_str(), None), |(name, part)| (name, Some(part)));
    if !known.named.contains(name) {
        let near = match is_full(findings) {
            true => None,
            false => nearest(name, known.bands.iter().copied()).map(str::to_owned),
        };
        let help = of_bands(near.as_deref(), known.bands.iter().copied());
        let repair = near.filter(|_| part.is_none());
        findings.push(unknown(at, name, "the band", help, repair).into());
        return None;
    }
    let part = match part {
        None => None,
        Some(part @ ("shell" | "sleeve")) => Some(part.to_owned()),
        Some(path) if path == FieldId::HollowShell.path() => Some("shell".to_owned()),
        Some(path) if path == FieldId::HollowSleeve.path() => Some("sleeve".to_owned()),
        Some(other) => {
            let help = "a band meets a rule, or its `shell` or `sleeve` does".to_owned();
            findings.push(unknown(at, other, "the part", help, None).into());
            return None;
        }
    };
    Some((Spanned::new(name.to_owned(), at), part))
}

fn claim(
    subject: &Expr,
    rest: &[Expr],
    known: &Known<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Claim> {
    let (book, rest, first) = match rest {
        [first, rest @ ..] => match &first.kind {
            // A word in capitals and a number have the shape of a ring size.
            ExprKind::Size {
                system,
                designation,
            } => (system.clone(), rest, Some(designation)),
            ExprKind::Path(path) => (Spanned::new(path.0.clone(), first.span), rest, None),
            _ => {
                findings.push(count(first.span, "a rulebook after `meets`").into());
                return None;
            }
        },
        [] => {
            findings.push(count(subject.span.after(), "a rulebook after `meets`").into());
            return None;
        }
    };
    if !known.books.contains(&book.value.as_str()) {
        findings.push(unknown_book(&book, known).into());
        return None;
    }
    if let Some(designation) = first {
        let figure = from_designation(designation, rest, findings)?;
        return Some((book, None, Some(figure)));
    }
    match rest {
        [] => Some((book, None, None)),
        [metal, rest @ ..] => match &metal.kind {
            ExprKind::Path(path) if catalogue::element(&path.0).is_some() => {
                let metal = Spanned::new(path.0.clone(), metal.span);
                let figure = match rest {
                    [] => None,
                    rest => Some(figure(rest, findings)?),
                };
                Some((book, Some(metal), figure))
            }
            _ => figure(std::slice::from_ref(metal), findings)
                .and_then(|found| match rest {
                    [] => Some(found),
                    [more, ..] => {
                        findings.push(count(more.span, "one figure").into());
                        None
                    }
                })
                .map(|found| (book, None, Some(found))),
        },
    }
}

/// The number of a size that was none, and `karat` behind it.
fn from_designation(
    designation: &Spanned<String>,
    rest: &[Expr],
    findings: &mut Vec<Finding>,
) -> Option<(Figure, Span)> {
    let Ok(number) = designation.value.parse::<Decimal>() else {
        findings.push(count(designation.span, "a figure in parts per thousand").into());
        return None;
    };
    match rest {
        [] => bare(number, &designation.value, designation.span, findings),
        [word] => match &word.kind {
            ExprKind::Path(path) => {
                of_unit(number, &path.0, designation.span.to(word.span), findings)
            }
            _ => {
                findings.push(count(word.span, "one figure").into());
                None
            }
        },
        [_, more, ..] => {
            findings.push(count(more.span, "one figure").into());
            None
        }
    }
}

fn figure(values: &[Expr], findings: &mut Vec<Finding>) -> Option<(Figure, Span)> {
    let [value] = values else {
        let at = values.get(1).or(values.first())?.span;
        findings.push(count(at, "one figure").into());
        return None;
    };
    match &value.kind {
        ExprKind::Quantity {
            number: Numeral::Decimal(number),
            unit,
        } => match unit {
            None => bare(*number, &number.to_string(), value.span, findings),
            Some(unit) => of_unit(*number, &unit.value, value.span, findings),
        },
        ExprKind::Path(path) => Some((Figure::Word(path.0.clone()), value.span)),
        _ => {
            findings.push(count(value.span, "a figure in parts per thousand").into());
            None
        }
    }
}

/// A number without a unit: parts per thousand, unless it is so small that it may be something else.
fn bare(
    number: Decimal,
    written: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<(Figure, Span)> {
    if !number.is_zero() && number < Decimal::ONE_HUNDRED {
        findings.push(fineness::bare_number(written, at).into());
        return None;
    }
    Some((Figure::Parts(number), at))
}

/// A number with a word behind it.
fn of_unit(
    number: Decimal,
    word: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<(Figure, Span)> {
    let scale = unit::scale(word).ok();
    let problem = match scale.map(|scale| scale.dimension) {
        Some(Dimension::FINENESS) if number <= Decimal::from(24) && !number.is_zero() => {
            return Some((Figure::Karats(number), at));
        }
        Some(Dimension::FINENESS) => ModelError::OutOfRange {
            at,
            field: "karat".to_owned(),
            found: format!("{number} karat"),
            range: "up to 24 karat".to_owned(),
            help: format!("write `{number}` alone for parts per thousand"),
        },
        Some(Dimension::NONE) => {
            let scaled = scale.and_then(|scale| scale.to_base(number));
            let parts = scaled.and_then(|one| one.checked_mul(Decimal::ONE_THOUSAND))?;
            return Some((Figure::Parts(parts.normalize()), at));
        }
        _ if matches!(word, "ct" | "carat" | "carats" | "Ct" | "Carat") => {
            ModelError::AmbiguousUnit {
                at,
                message: format!("`{word}` is the weight of a stone, not a fineness"),
                help: format!("write `{number} karat`"),
            }
        }
        _ => ModelError::WrongKind {
            at,
            field: "meets".to_owned(),
            due: "a fineness".to_owned(),
            found: format!("a number of `{word}`"),
            help: EXAMPLE.to_owned(),
        },
    };
    findings.push(problem.into());
    None
}

fn unknown_book(book: &Spanned<String>, known: &Known<'_>) -> ModelError {
    let capitals = book.value.to_uppercase();
    let same = known
        .books
        .iter()
        .find(|word| word.to_uppercase() == capitals);
    // Two letters are near to any other two; only a slip in a longer word tells what was meant.
    let near = || {
        nearest(
            &book.value,
            known.books.iter().copied().filter(|word| word.len() > 2),
        )
    };
    let near = same.copied().or_else(near).map(str::to_owned);
    let all = listed(known.books.iter().copied());
    let help = match &near {
        Some(near) => format!("did you mean `{near}`? rulebooks are {all}"),
        None => format!("rulebooks are {all}; `annulet list rules` shows what they are"),
    };
    unknown(book.span, &book.value, "the rulebook", help, near)
}

fn unknown(
    at: Span,
    name: &str,
    kind: &'static str,
    help: String,
    nearest: Option<String>,
) -> ModelError {
    ModelError::UnknownName {
        at,
        name: name.to_owned(),
        kind,
        help,
        nearest,
    }
}

fn count(at: Span, wanted: &str) -> ModelError {
    ModelError::ValueCount {
        at,
        field: "meets".to_owned(),
        wanted: wanted.to_owned(),
        label: "here",
        help: EXAMPLE.to_owned(),
    }
}
