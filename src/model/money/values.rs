//! Values of one block, by field: looked up, and brought to exact decimals in base units.

use crate::schema::FieldId;
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
    pub fn get(&self, id: FieldId) -> Option<&FieldValue> {
        self.0.iter().find(|value| value.field.id == id)
    }

    pub fn quantity(&self, id: FieldId) -> Option<&Quantity> {
        self.get(id)?.value.quantity()
    }

    /// The number of a quantity in base units.
    pub fn decimal(&self, id: FieldId) -> Option<Decimal> {
        self.quantity(id).and_then(decimal)
    }

    pub fn length(&self, id: FieldId) -> Option<Length> {
        self.quantity(id).and_then(Length::from_quantity)
    }

    pub fn count(&self, id: FieldId) -> Option<u32> {
        self.decimal(id)
            .and_then(|count| u32::try_from(count.trunc().mantissa()).ok())
    }

    pub fn word(&self, id: FieldId) -> Option<&str> {
        match &self.get(id)?.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }

    pub fn text(&self, id: FieldId) -> Option<String> {
        match &self.get(id)?.value {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    pub fn day(&self, id: FieldId) -> Option<Day> {
        day(&self.get(id)?.value)
    }

    pub fn at(&self, id: FieldId) -> Option<Span> {
        self.get(id)?.at
    }
}

/// The exact number of a quantity in base units; of a computed one the shortest digits.
pub(super) fn decimal(quantity: &Quantity) -> Option<Decimal> {
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
