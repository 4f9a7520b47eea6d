//! Whether one value compares to another as an operator says.

use std::cmp::Ordering;

use crate::quantity::{Dimension, Quantity};
use crate::syntax::ast::Operator;

use super::value::Value;

/// Whether a comparison holds; `None` when the values cannot be compared.
pub fn compare(operator: Operator, left: &Value, right: &Value) -> Option<bool> {
    if let Value::Steps(_) = left {
        return compare(operator, &left.clone().plain(), right);
    }
    if let Value::Steps(_) = right {
        return compare(operator, left, &right.clone().plain());
    }
    let order = match (left, right) {
        (Value::Quantity { quantity: a, .. }, Value::Quantity { quantity: b, .. })
            if a.dimension == b.dimension =>
        {
            order(a, b)
        }
        (Value::Date(..), Value::Date(..)) => {
            let day = |value: &Value| match value {
                Value::Date(year, month, day) => (*year, *month, *day),
                _ => (0, 0, 0),
            };
            day(left).cmp(&day(right))
        }
        (Value::Text(_), Value::Text(_)) | (Value::Word(_), Value::Word(_)) => {
            return match operator {
                Operator::Equal => Some(left == right),
                Operator::Unequal => Some(left != right),
                _ => None,
            };
        }
        // A field that takes a word or a figure, and has the other.
        (Value::Word(_), Value::Quantity { .. }) | (Value::Quantity { .. }, Value::Word(_)) => {
            return match operator {
                Operator::Equal => Some(false),
                Operator::Unequal => Some(true),
                _ => None,
            };
        }
        _ => return None,
    };
    Some(holds(operator, order))
}

/// How two quantities of one dimension lie to each other: fineness and money to the last digit, all else that is
/// computed within its rounding.
#[must_use]
pub fn order(left: &Quantity, right: &Quantity) -> Ordering {
    if is_counted(left.dimension) {
        left.number.compared(right.number)
    } else {
        left.number.about(right.number)
    }
}

/// Whether quantities of a dimension are judged to the last digit.
#[must_use]
pub fn is_counted(dimension: Dimension) -> bool {
    dimension.money != 0 || dimension.fineness != 0
}

/// Whether an order of two values satisfies an operator.
#[must_use]
pub fn holds(operator: Operator, order: Ordering) -> bool {
    match operator {
        Operator::Equal => order == Ordering::Equal,
        Operator::Unequal => order != Ordering::Equal,
        Operator::Less => order == Ordering::Less,
        Operator::AtMost => order != Ordering::Greater,
        Operator::More => order == Ordering::Greater,
        Operator::AtLeast => order != Ordering::Less,
        _ => false,
    }
}
