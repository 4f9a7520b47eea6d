//! What completion offers, and the dimension that is due behind a field.

use crate::quantity::Dimension;
use crate::schema::{Field, Takes};

/// One thing that a word can become.
pub type Candidate = String;

/// The dimension of what a field takes.
pub(super) fn dimension(field: &Field) -> Option<Dimension> {
    match field.takes {
        Takes::Length | Takes::LengthOrZero | Takes::LengthOr(_) | Takes::Size => {
            Some(Dimension::LENGTH)
        }
        Takes::Density => Some(Dimension::DENSITY),
        Takes::Stress => Some(Dimension::STRESS),
        Takes::Time => Some(Dimension::TIME),
        Takes::Mass | Takes::MassAboveZero => Some(Dimension::MASS),
        Takes::Money => Some(Dimension::MONEY),
        Takes::MoneyByWeight | Takes::MoneyByWeightOrShare => Some(Dimension::MONEY_BY_MASS),
        Takes::MoneyByTime => Some(Dimension::MONEY_BY_TIME),
        Takes::Share
        | Takes::ShareOrMore
        | Takes::ShareBelow
        | Takes::Count
        | Takes::Number
        | Takes::Poisson
        | Takes::Steps => Some(Dimension::NONE),
        _ => None,
    }
}
