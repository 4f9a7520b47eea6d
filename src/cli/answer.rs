//! An answer to a question, as a line of its own.

use crate::model::{Value, check};
use crate::report::{self, Digits};

use super::arguments::Ask;

/// An answer as one line; where there is none, a line that shifts no other.
pub(super) fn line(question: &str, value: Option<&Value>, ask: &Ask) -> String {
    let digits = if ask.plain {
        Digits::All
    } else {
        ask.digits.into()
    };
    match value {
        None if ask.plain => String::new(),
        None => report::NO_ANSWER.to_owned(),
        Some(
            found @ (Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit }),
        ) => {
            if ask.plain {
                return check::in_unit(quantity, unit.as_deref()).0.to_string();
            }
            report::answer(question, found, digits)
        }
        Some(Value::Text(text)) => crate::source::printable(text),
        Some(other) => check::shown(other),
    }
}
