//! How an embedding program names a field or a result, and what it gives as a value.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::{Value, check};
use crate::quantity::{Dimension, Number, Quantity, from_f64};
use crate::schema::{self, FieldId, ResultId, Takes};
use crate::source::Sources;
use crate::syntax;

/// A field or a result, by its id or by its path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which<'a, Id> {
    /// By id.
    Id(Id),
    /// By path.
    Path(&'a str),
}

impl<'a, Id> From<&'a str> for Which<'a, Id> {
    fn from(path: &'a str) -> Self {
        Self::Path(path)
    }
}

impl From<FieldId> for Which<'_, FieldId> {
    fn from(id: FieldId) -> Self {
        Self::Id(id)
    }
}

impl From<ResultId> for Which<'_, ResultId> {
    fn from(id: ResultId) -> Self {
        Self::Id(id)
    }
}

impl<'a> Which<'a, FieldId> {
    /// The field of a band; none for another path.
    #[must_use]
    pub fn id(self) -> Option<FieldId> {
        match self {
            Self::Id(id) => Some(id),
            Self::Path(path) => schema::find(path).map(|field| field.id),
        }
    }

    /// Its path.
    #[must_use]
    pub fn path(self) -> &'a str {
        match self {
            Self::Id(id) => id.path(),
            Self::Path(path) => path,
        }
    }
}

impl Which<'_, ResultId> {
    /// The result; none for a path that is none.
    #[must_use]
    pub fn id(self) -> Option<ResultId> {
        match self {
            Self::Id(id) => Some(id),
            Self::Path(path) => schema::find_result(path).map(|row| row.id),
        }
    }
}

/// A value that is given to a field.
#[derive(Clone, Debug)]
pub enum Given {
    /// A bare number, in the base unit of what it is given to.
    Number(Number),
    /// A value as a recipe writes it, such as `4.5 mm`, `ISO 54`, `silver-925`; a text with or without its quotes.
    Written(String),
}

impl From<Decimal> for Given {
    fn from(number: Decimal) -> Self {
        Self::Number(Number::Exact(number))
    }
}

impl From<i32> for Given {
    fn from(number: i32) -> Self {
        Decimal::from(number).into()
    }
}

/// A float is the decimal that it prints as.
impl From<f64> for Given {
    fn from(number: f64) -> Self {
        Self::Number(from_f64(number).map_or(Number::Computed(number), Number::Exact))
    }
}

impl From<&str> for Given {
    fn from(text: &str) -> Self {
        Self::Written(text.to_owned())
    }
}

impl From<String> for Given {
    fn from(text: String) -> Self {
        Self::Written(text)
    }
}

impl Given {
    /// As a recipe writes it behind the path of a field that takes such values.
    ///
    /// # Errors
    /// What is wrong with it, where it is not just a value.
    pub(super) fn written(&self, takes: Option<Takes>) -> Result<String, Vec<Finding>> {
        let text = match self {
            Self::Number(number) => return Ok(with_unit(*number, takes)),
            Self::Written(text) => text,
        };
        if takes == Some(Takes::Text) && !text.starts_with('"') {
            return Ok(check::written(&Value::Text(text.clone())));
        }
        let mut sources = Sources::default();
        let id = sources.add("value", text);
        let Some(source) = sources.get(id) else {
            return Ok(String::new());
        };
        let read = syntax::parse_setting(source);
        if !read.findings.is_empty() {
            return Err(read.findings);
        }
        let values: Vec<String> = read.value.iter().map(syntax::print_expression).collect();
        Ok(values.join(" "))
    }
}

/// A bare number with the unit that a recipe needs.
fn with_unit(number: Number, takes: Option<Takes>) -> String {
    let dimension = takes.and_then(|takes| check::due(takes).1);
    let quantity = Quantity::new(number, dimension.unwrap_or(Dimension::NONE));
    let is_share = matches!(
        takes,
        Some(Takes::Share | Takes::ShareBelow | Takes::ShareOrMore)
    );
    check::shown_quantity(&quantity, is_share.then_some("%"))
}

/// A bare number in place of a value, in its dimension and shown in its unit; in place of a size it is the inside
/// diameter.
pub(super) fn like(value: &Value, number: Number) -> Option<Value> {
    match value {
        Value::Quantity { quantity, unit } => Some(Value::Quantity {
            quantity: Quantity::new(number, quantity.dimension),
            unit: unit.clone(),
        }),
        Value::Size { .. } => Some(Value::of(Quantity::new(number, Dimension::LENGTH))),
        _ => None,
    }
}
