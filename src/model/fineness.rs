//! Fineness as one dimension: `750`, `75 %` and `18 karat` are the same thing wherever one is written, compared or
//! asked for. A bare number is parts per thousand; under 100 it could as well be per cent or karats.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::quantity::{Deviation, Dimension, Number, Quantity};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, Operator};

use super::error::ModelError;
use super::value::Value;

/// Parts per thousand, exact: a bare number, per cent, or karats.
#[must_use]
pub fn per_thousand(value: &Value) -> Option<Decimal> {
    let read = read(value)?;
    read.quantity()?
        .number
        .exact()
        .map(|number| number.normalize())
}

/// A value read as a fineness; none where it is of another kind.
#[must_use]
pub fn read(value: &Value) -> Option<Value> {
    let Value::Quantity { quantity, unit } = value else {
        return None;
    };
    let times = match quantity.dimension {
        Dimension::FINENESS => return Some(value.clone()),
        Dimension::NONE if unit.is_some() => Number::Exact(Decimal::ONE_THOUSAND),
        Dimension::NONE => Number::Exact(Decimal::ONE),
        _ => return None,
    };
    let deviations = quantity.deviations.iter().map(|one| {
        let amount = one.amount.times(times)?;
        Some(Deviation { amount, ..*one })
    });
    Some(Value::Quantity {
        quantity: Quantity {
            number: quantity.number.times(times)?,
            dimension: Dimension::FINENESS,
            deviations: deviations.collect::<Option<_>>()?,
        },
        unit: unit.clone(),
    })
}

/// The finding for a bare number that no fineness is so small as to be; none where it can be read in one way.
pub(super) fn small(value: &Value, at: Span) -> Option<ModelError> {
    let Value::Quantity {
        quantity,
        unit: None,
    } = value
    else {
        return None;
    };
    let number = quantity.number.abs();
    let bare = quantity.dimension == Dimension::NONE
        && number.compared(Number::ZERO).is_gt()
        && number.compared(Number::Exact(Decimal::ONE_HUNDRED)).is_lt();
    bare.then(|| bare_number(&quantity.number.to_string(), at))
}

/// The finding for a bare number under 100 where a fineness is due, with its readings.
pub(super) fn bare_number(written: &str, at: Span) -> ModelError {
    let number = written.parse().unwrap_or(Decimal::ONE_HUNDRED);
    let percent = number * Decimal::TEN;
    // Up to one it is most likely a part of the whole.
    if number <= Decimal::ONE && !number.is_sign_negative() {
        let share = (number * Decimal::ONE_HUNDRED).normalize();
        let parts = (number * Decimal::ONE_THOUSAND).normalize();
        return ModelError::BareFineness {
            at,
            found: written.to_owned(),
            help: format!(
                "write `{share} %` or `{parts}` for {parts} parts per thousand, or `{written} \u{2030}` for {written}"
            ),
        };
    }
    let mut readings = vec![
        format!(
            "`{written} %` for {} parts per thousand",
            percent.normalize()
        ),
        format!("`{written} \u{2030}` for {written}"),
    ];
    if number <= Decimal::from(24) {
        readings.insert(0, format!("`{written} karat` for {written} of 24 parts"));
    }
    let readings: Vec<&str> = readings.iter().map(String::as_str).collect();
    ModelError::BareFineness {
        at,
        found: written.to_owned(),
        help: format!("write {}", crate::suggest::listed(readings)),
    }
}

/// Two values that are added up or compared: where one is a fineness, a number or a share on the other side is
/// read as one. None after saying that a bare number has several readings; margins and other differences may be
/// small.
pub fn alike(
    operator: Operator,
    left: (&Expr, Value),
    right: (&Expr, Value),
    findings: &mut Vec<Finding>,
) -> Option<(Value, Value)> {
    let is_fineness = |value: &Value| {
        let quantity = value.quantity();
        quantity.is_some_and(|quantity| quantity.dimension == Dimension::FINENESS)
    };
    let ((left_at, left), (right_at, right)) = (left, right);
    let mut as_fineness = |value: Value, at: Span, beside: &Expr| {
        let value = value.plain();
        let problem = (operator.compares() && !is_difference(beside))
            .then(|| small(&value, at))
            .flatten();
        match problem {
            Some(problem) => {
                findings.push(problem.into());
                None
            }
            None => Some(read(&value).unwrap_or(value)),
        }
    };
    Some(match (is_fineness(&left), is_fineness(&right)) {
        (true, false) => (left, as_fineness(right, right_at.span, left_at)?),
        (false, true) => (as_fineness(left, left_at.span, right_at)?, right),
        _ => (left, right),
    })
}

/// Whether an expression means how far two finenesses are apart.
fn is_difference(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Path(path) => path.names().last() == Some("margin"),
        ExprKind::Binary { operator, .. } => operator.value == Operator::Subtract,
        ExprKind::Group(inner) | ExprKind::Negate(inner) => is_difference(inner),
        ExprKind::Convert { value, .. } => is_difference(value),
        _ => false,
    }
}
