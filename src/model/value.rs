//! What a written expression comes to.

use num_rational::Rational64;

use crate::quantity::{Deviation, Number, Quantity, RingSize};

/// A value of the language.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with a dimension, and the unit it was last written or asked in.
    Quantity {
        /// In base units.
        quantity: Quantity,
        /// The unit to show it in.
        unit: Option<String>,
    },
    /// A ring size; its deviations are on the inside diameter, in mm.
    Size {
        /// System and designation.
        size: RingSize,
        /// What may be off.
        deviations: Vec<Deviation>,
        /// The same in steps of its system, where it is written so.
        steps: Option<Rational64>,
        /// Where it is only the nearest to what was meant: how much larger its inside diameter is, in mm.
        off: Option<f64>,
    },
    /// The difference of two sizes: a length round the finger, which no field takes for a length across.
    Circumference {
        /// In mm.
        quantity: Quantity,
        /// The unit to show it in.
        unit: Option<String>,
    },
    /// A fraction such as `1/2`: steps of a size.
    Steps(Rational64),
    /// Text.
    Text(String),
    /// A day: year, month, day.
    Date(i32, u8, u8),
    /// A bare word: the name of an alloy, a kind, a choice.
    Word(String),
    /// Values in a list.
    List(Vec<Value>),
    /// The outcome of a comparison.
    Truth(bool),
}

impl Value {
    /// A quantity without a preferred unit.
    #[must_use]
    pub fn of(quantity: Quantity) -> Self {
        Self::Quantity {
            quantity,
            unit: None,
        }
    }

    /// The kind of value in words, with its article.
    #[must_use]
    pub fn named(&self) -> String {
        match self {
            Self::Quantity { quantity, .. } => quantity.dimension.named(),
            Self::Size { .. } => "a ring size".to_owned(),
            Self::Circumference { .. } => "a circumference".to_owned(),
            Self::Steps(_) => "a fraction".to_owned(),
            Self::Text(_) => "a text".to_owned(),
            Self::Date(..) => "a date".to_owned(),
            Self::Word(word) => format!("the word `{word}`"),
            Self::List(_) => "a list".to_owned(),
            Self::Truth(_) => "a comparison".to_owned(),
        }
    }

    /// The quantity, when it is one.
    #[must_use]
    pub fn quantity(&self) -> Option<&Quantity> {
        match self {
            Self::Quantity { quantity, .. } => Some(quantity),
            _ => None,
        }
    }

    /// As a plain number in base units: of a size its inside diameter; none where it is neither it nor a quantity.
    #[must_use]
    pub fn bare(&self) -> Option<f64> {
        match self {
            Self::Quantity { quantity, .. } => Some(quantity.number.to_f64()),
            Self::Size { size, .. } => Some(size.diameter()),
            _ => None,
        }
    }

    /// What is measured, across or round, and the unit to show it in.
    #[must_use]
    pub fn measured(&self) -> Option<(&Quantity, Option<&str>)> {
        match self {
            Self::Quantity { quantity, unit } | Self::Circumference { quantity, unit } => {
                Some((quantity, unit.as_deref()))
            }
            _ => None,
        }
    }

    /// A measured value with another quantity in its place, of the same kind.
    #[must_use]
    pub(super) fn with(&self, quantity: Quantity, unit: Option<String>) -> Self {
        match self {
            Self::Circumference { .. } => Self::Circumference { quantity, unit },
            _ => Self::Quantity { quantity, unit },
        }
    }

    /// As steps of a size: a fraction, or a plain decimal.
    #[must_use]
    pub fn steps(&self) -> Option<Rational64> {
        match self {
            Self::Steps(steps) => Some(*steps),
            Self::Quantity {
                quantity,
                unit: None,
            } => match quantity.number {
                Number::Exact(value) if quantity.dimension == crate::quantity::Dimension::NONE => {
                    crate::quantity::fraction(&value.normalize().to_string())
                }
                _ => None,
            },
            _ => None,
        }
    }
}
