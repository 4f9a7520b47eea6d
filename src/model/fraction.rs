//! Fractions as numbers: `3/4` is as good as `0.75`, and a third is exact as long as it is reckoned with fractions.

use num_rational::Rational64;
use rust_decimal::Decimal;

use crate::quantity::unit::Scale;
use crate::quantity::{Arithmetic, Dimension, Number, Quantity};
use crate::syntax::ast::Operator;

use super::value::Value;

/// A fraction as a plain number: exact where it comes out.
pub(super) fn quotient(part: Rational64) -> Quantity {
    let (above, below) = terms(part);
    let computed = || Number::Computed(*part.numer() as f64 / *part.denom() as f64);
    let number = Number::Exact(above).over(Number::Exact(below));
    Quantity::new(number.unwrap_or_else(computed), Dimension::NONE)
}

/// So much of a unit, in base units: `3/64 in` is exactly 1.190625 mm, a third of a metre is computed.
pub(super) fn of_unit(part: Rational64, scale: &Scale) -> Option<Quantity> {
    let (above, below) = terms(part);
    let whole = Number::Exact(scale.to_base(above)?);
    let number = whole.over(Number::Exact(below))?;
    Some(Quantity::new(number, scale.dimension))
}

fn terms(part: Rational64) -> (Decimal, Decimal) {
    (Decimal::from(*part.numer()), Decimal::from(*part.denom()))
}

impl Value {
    /// A fraction as the plain number that it is; anything else as it is.
    #[must_use]
    pub fn plain(self) -> Self {
        match self {
            Self::Steps(part) => Self::of(quotient(part)),
            other => other,
        }
    }
}

/// Two values of which one is a fraction, multiplied or divided; none where the other is neither a fraction nor a
/// plain number that is written out.
pub(super) fn multiplied(
    operator: Operator,
    left: &Value,
    right: &Value,
) -> Option<Result<Value, Arithmetic>> {
    let fractions = [left, right].map(|value| matches!(value, Value::Steps(_)));
    if fractions == [false, false] {
        return None;
    }
    let (a, b) = left.steps().zip(right.steps())?;
    let terms = |part: Rational64| (i128::from(*part.numer()), i128::from(*part.denom()));
    let ((a_above, a_below), (b_above, b_below)) = (terms(a), terms(b));
    let (above, below) = match operator {
        Operator::Multiply => (a_above * b_above, a_below * b_below),
        Operator::Divide if b_above == 0 => return Some(Err(Arithmetic::Zero)),
        Operator::Divide => (a_above * b_below, a_below * b_above),
        _ => return None,
    };
    let reduced = num_rational::Ratio::new(above, below);
    let narrow = |term: &i128| i64::try_from(*term).ok();
    let (above, below) = (narrow(reduced.numer())?, narrow(reduced.denom())?);
    let part = Rational64::new(above, below);
    Some(Ok(match fractions {
        [true, true] => Value::Steps(part),
        _ => Value::of(quotient(part)),
    }))
}

/// Two values of an operation: a fraction stands as a plain number beside whatever is neither a size, which it
/// steps, nor itself a fraction or a number written out, with which it is reckoned exactly.
pub(super) fn beside(left: Value, right: Value) -> (Value, Value) {
    let is_size = |value: &Value| matches!(value, Value::Size { .. });
    let exact = left.steps().is_some() && right.steps().is_some();
    if exact || is_size(&left) || is_size(&right) {
        return (left, right);
    }
    (left.plain(), right.plain())
}
