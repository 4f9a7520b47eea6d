//! Whether one value compares to another as an operator says.

use std::cmp::Ordering;

use crate::syntax::ast::Operator;

use super::value::Value;

/// Whether a comparison holds; `None` when the values cannot be compared.
pub fn compare(operator: Operator, left: &Value, right: &Value) -> Option<bool> {
    let order = match (left, right) {
        (Value::Quantity { quantity: a, .. }, Value::Quantity { quantity: b, .. })
            if a.dimension == b.dimension =>
        {
            a.number.compared(b.number)
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
        _ => return None,
    };
    Some(holds(operator, order))
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
