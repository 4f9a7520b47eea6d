//! How a value without dimension is written: as a share, bare, or neither; and the unit that a product keeps.

use crate::quantity::{Dimension, Quantity};
use crate::schema::Takes;
use crate::syntax::ast::Operator;

/// How a value without dimension is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Written {
    /// A number that may be meant in per cent or as such.
    Bare,
    /// A share, in per cent or per thousand.
    Share,
    /// Worked out, a count, or of another kind.
    #[default]
    Other,
}

/// A product or quotient with a plain number keeps the unit of the other.
pub(super) fn kept_unit(
    a: &Quantity,
    b: &Quantity,
    unit: &Option<String>,
    other: &Option<String>,
    operator: Operator,
) -> Option<String> {
    if a.dimension == Dimension::NONE && b.dimension == Dimension::NONE {
        // Half of a share is a share; how many times one goes into another is none.
        let both = operator == Operator::Divide && other.is_some();
        unit.clone().or_else(|| other.clone()).filter(|_| !both)
    } else if b.dimension == Dimension::NONE {
        unit.clone()
    } else if a.dimension == Dimension::NONE && operator == Operator::Multiply {
        other.clone()
    } else {
        None
    }
}

/// How a field's value is written.
#[must_use]
pub fn of_field(takes: Takes) -> Written {
    if takes.is_share() {
        Written::Share
    } else {
        Written::Other
    }
}
