//! Values of one block, by path: looked up, and brought to exact decimals in base units.

use rust_decimal::Decimal;

use crate::model::band::FieldValue;
use crate::model::calendar::Day;
use crate::model::value::Value;
use crate::quantity::{Length, Number, Quantity, from_f64};
use crate::source::Span;

/// Values of one block.
#[derive(Clone, Debug, Default)]
pub(super) struct Values(pub Vec<FieldValue>);

impl Values {
    pub fn get(&self, path: &str) -> Option<&FieldValue> {
        self.0.iter().find(|value| value.field.path == path)
    }

    pub fn quantity(&self, path: &str) -> Option<&Quantity> {
        self.get(path)?.value.quantity()
    }

    /// The number of a quantity in base units.
    pub fn decimal(&self, path: &str) -> Option<Decimal> {
        self.quantity(path).and_then(decimal)
    }

    pub fn length(&self, path: &str) -> Option<Length> {
        self.quantity(path).and_then(Length::from_quantity)
    }

    pub fn count(&self, path: &str) -> Option<u32> {
        self.decimal(path)
            .and_then(|count| u32::try_from(count.trunc().mantissa()).ok())
    }

    pub fn word(&self, path: &str) -> Option<&str> {
        match &self.get(path)?.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }

    pub fn text(&self, path: &str) -> Option<String> {
        match &self.get(path)?.value {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    pub fn day(&self, path: &str) -> Option<Day> {
        day(&self.get(path)?.value)
    }

    pub fn at(&self, path: &str) -> Option<Span> {
        self.get(path)?.at
    }
}

/// The exact number of a quantity in base units; of a computed one the shortest digits.
pub(in crate::model) fn decimal(quantity: &Quantity) -> Option<Decimal> {
    match quantity.number {
        Number::Exact(value) => Some(value),
        Number::Computed(value) => from_f64(value),
    }
}

/// A value as a day.
pub(super) fn day(value: &Value) -> Option<Day> {
    match value {
        Value::Date(year, month, day) => Day::new(*year, *month, *day),
        _ => None,
    }
}
