//! What a number must be so that another can stand in its place.

use crate::quantity::{Deviation, Dimension};
use crate::schema::{FieldId, Takes};
use crate::source::Span;

use super::value::Value;

/// Whether a place holds another.
pub(super) fn holds(outer: Span, inner: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}

/// Whether a value can stand in place of another as a mere number: both quantities of a kind, or sizes, and no `±`
/// that would go. Where a field takes both, a size and an inside diameter stand for each other.
pub(super) fn alike(old: &Value, new: &Value, takes: Takes) -> bool {
    let (Some((old, was)), Some((new, is))) = (measured(old), measured(new)) else {
        return false;
    };
    let same = match (old, new) {
        (Some(old), Some(new)) => old == new,
        (None, None) => true,
        (Some(length), None) | (None, Some(length)) => {
            takes == Takes::Size && length == Dimension::LENGTH
        }
    };
    same && was.is_empty() && is.is_empty()
}

/// The dimension of a quantity, none of a size, and the deviations of either.
fn measured(value: &Value) -> Option<(Option<Dimension>, &[Deviation])> {
    match value {
        Value::Quantity { quantity, .. } => Some((Some(quantity.dimension), &quantity.deviations)),
        Value::Size { deviations, .. } => Some((None, deviations)),
        _ => None,
    }
}

/// The numbers that say how a band is sold.
pub(super) const SALE: [FieldId; 5] = [
    FieldId::SaleMarkup,
    FieldId::SaleMargin,
    FieldId::SaleAt,
    FieldId::SaleMaking,
    FieldId::SaleAdd,
];

pub(super) fn is_of_sale(id: FieldId) -> bool {
    SALE.contains(&id)
}

/// Whether a field of a band is read as a number wherever it counts, so that moving it chooses nothing.
pub(super) fn moves(id: FieldId) -> bool {
    let head = id.path().split('.').next().unwrap_or_default();
    let chooses = matches!(head, "allow" | "stock");
    id.row().takes.is_measured() && !chooses && id != FieldId::HollowRidgeCount
}
