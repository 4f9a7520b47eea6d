//! The values of one block, by field: looked up, and brought to exact numbers in base units.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::quantity::{Length, Number, Quantity, from_f64};
use crate::schema::{Field, FieldId};
use crate::source::Span;

use super::calendar::Day;
use super::value::Value;

/// The value of one field and where it comes from.
#[derive(Clone, Debug)]
pub struct FieldValue {
    /// Which field.
    pub field: &'static Field,
    /// Its value.
    pub value: Value,
    /// Where the value is written; none for a default.
    pub at: Option<Span>,
    /// Every place that set it, weakest first.
    pub places: Vec<Span>,
}

/// The fields of a block that have a value, in the order of the vocabulary; each id stands beside its value, so that one
/// is found without looking into others.
#[derive(Clone, Debug, Default)]
pub struct Values(Vec<(FieldId, Arc<FieldValue>)>);

impl Values {
    /// Puts a value in its place; one of the same field gives way.
    pub fn put(&mut self, value: impl Into<Arc<FieldValue>>) {
        let value = value.into();
        let id = value.field.id;
        let place = self.0.partition_point(|(known, _)| *known < id);
        match self.0.get_mut(place) {
            Some((known, old)) if *known == id => *old = value,
            _ => self.0.insert(place, (id, value)),
        }
    }

    /// The values of those fields that are to stay.
    #[must_use]
    pub fn only(&self, stays: impl Fn(&Field) -> bool) -> Self {
        let values = self.0.iter();
        Self(
            values
                .filter(|(_, value)| stays(value.field))
                .cloned()
                .collect(),
        )
    }

    /// Every value, in the order of the vocabulary.
    pub fn iter(&self) -> impl Iterator<Item = &FieldValue> {
        self.0.iter().map(|(_, value)| &**value)
    }

    /// The shared value of a field.
    #[must_use]
    pub fn shared(&self, id: FieldId) -> Option<&Arc<FieldValue>> {
        let place = self.0.partition_point(|(known, _)| *known < id);
        let (known, value) = self.0.get(place)?;
        (*known == id).then_some(value)
    }

    /// The value of a field.
    #[must_use]
    pub fn get(&self, id: FieldId) -> Option<&FieldValue> {
        self.shared(id).map(|value| &**value)
    }

    /// The quantity of a field.
    #[must_use]
    pub fn quantity(&self, id: FieldId) -> Option<&Quantity> {
        self.get(id)?.value.quantity()
    }

    /// The number of a quantity in base units; of a computed one the shortest digits.
    #[must_use]
    pub fn decimal(&self, id: FieldId) -> Option<Decimal> {
        self.quantity(id).and_then(decimal)
    }

    /// The number of a quantity in base units, as a float.
    #[must_use]
    pub fn number(&self, id: FieldId) -> Option<f64> {
        self.quantity(id).map(|quantity| quantity.number.to_f64())
    }

    /// A length.
    #[must_use]
    pub fn length(&self, id: FieldId) -> Option<Length> {
        self.quantity(id).and_then(Length::from_quantity)
    }

    /// A whole number.
    #[must_use]
    pub fn count(&self, id: FieldId) -> Option<u32> {
        let number = self.quantity(id)?.number.exact()?;
        u32::try_from(number.trunc().mantissa()).ok()
    }

    /// A word.
    #[must_use]
    pub fn word(&self, id: FieldId) -> Option<&str> {
        match &self.get(id)?.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }

    /// A text.
    #[must_use]
    pub fn text(&self, id: FieldId) -> Option<&str> {
        match &self.get(id)?.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// A day.
    #[must_use]
    pub fn day(&self, id: FieldId) -> Option<Day> {
        day(&self.get(id)?.value)
    }

    /// Where a field is written; none for a default.
    #[must_use]
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
