//! Whether a value of an alloy is what its field takes, and what the alloy keeps of it.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::quantity::{Density, Dimension, Number};
use crate::schema::{Field, Takes};
use crate::source::Span;

use super::alloy::AlloyDensity;
use super::check;
use super::error::ModelError;
use super::fineness;
use super::rows::example;
use super::value::Value;

/// How a value that the recipe states is known.
pub(super) const STATED: &str = "stated in the recipe";

/// The most that Poisson's ratio can be: a body that keeps its volume.
const MOST_POISSON: Decimal = Decimal::from_parts(5, 0, 0, false, 1);

/// Parts per thousand of an element or of an assay, by its word: a bare number, per cent, or karat.
pub(super) fn parts(
    word: &str,
    value: &Value,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Decimal> {
    let problem = match fineness::per_thousand(value) {
        Some(part) if !part.is_sign_negative() && part <= Decimal::ONE_THOUSAND => {
            return Some(part.normalize());
        }
        Some(part) => ModelError::OutOfRange {
            at,
            field: word.to_owned(),
            found: part.to_string(),
            range: "from 0 to 1000 per thousand".to_owned(),
            help: format!("as in `{word} 585`"),
        },
        None => ModelError::WrongKind {
            at,
            field: word.to_owned(),
            due: "parts per thousand".to_owned(),
            found: match fineness::read(value) {
                Some(_) => "a quotient that does not come out".to_owned(),
                None => value.named(),
            },
            help: format!("as in `{word} 585` or `{word} 58.5 %`"),
        },
    };
    findings.push(problem.into());
    None
}

/// The finding for a `±` behind an assay, which nothing is judged by.
pub(super) fn assay_off(at: Span) -> ModelError {
    ModelError::NoResult {
        at,
        message: "a fineness found by assay is judged as it was found, without a `\u{B1}`",
        help: "write the figure of the report alone",
    }
}

/// A density of a metal.
pub(super) fn density(
    field: &Field,
    value: &Value,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<AlloyDensity> {
    let quantity = value.quantity();
    let found = quantity.filter(|quantity| quantity.dimension == Dimension::DENSITY);
    let Some(quantity) = found else {
        let is_bare = quantity.is_some_and(|quantity| quantity.dimension == Dimension::NONE);
        let problem = match is_bare {
            true => ModelError::UnitMissing {
                at,
                field: field.word().to_owned(),
                due: check::due(field.takes).0.to_owned(),
                units: crate::suggest::listed(crate::quantity::unit::of_dimension(
                    Dimension::DENSITY,
                )),
            },
            false => wrong(field, check::due(field.takes).0, value, at),
        };
        findings.push(problem.into());
        return None;
    };
    let range = Decimal::ONE..=Decimal::from(25);
    let stated = Density::from_quantity(quantity);
    match stated.filter(|density| range.contains(&density.value())) {
        Some(value) => Some(AlloyDensity::Stated {
            value,
            basis: STATED.to_owned(),
            quantity: quantity.clone(),
        }),
        None => {
            findings.push(
                ModelError::OutOfRange {
                    at,
                    field: field.word().to_owned(),
                    found: check::shown(value),
                    range: "from 1 to 25 g/cm3".to_owned(),
                    help: "metals lie between 1.7 (magnesium) and 22.6 g/cm3 (iridium)".to_owned(),
                }
                .into(),
            );
            None
        }
    }
}

/// A figure of a temper.
pub(super) fn figure(
    field: &Field,
    value: Value,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let dimension = check::due(field.takes).1?;
    let most = (field.takes == Takes::Poisson).then_some(Number::Exact(MOST_POISSON));
    let problem = match value.quantity() {
        Some(quantity) if quantity.dimension != dimension || quantity.number.is_negative() => {
            wrong(field, &dimension.named(), &value, at)
        }
        Some(quantity) if most.is_some_and(|most| quantity.number.compared(most).is_gt()) => {
            ModelError::OutOfRange {
                at,
                field: field.word().to_owned(),
                found: check::shown(&value),
                range: format!("from 0 to {MOST_POISSON}"),
                help: format!("as in `{}`", example(field, field.word())),
            }
        }
        Some(_) => return Some(value),
        None => wrong(field, &dimension.named(), &value, at),
    };
    findings.push(problem.into());
    None
}

/// The finding for a value of another kind than is due.
pub(super) fn wrong(field: &Field, due: &str, value: &Value, at: Span) -> ModelError {
    ModelError::WrongKind {
        at,
        field: field.word().to_owned(),
        due: due.to_owned(),
        found: value.named(),
        help: format!("as in `{}`", example(field, field.word())),
    }
}
