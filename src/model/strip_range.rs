//! What a place on the strip, an angle or a speed of a drawn cut may be.

use rust_decimal::Decimal;

use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{Field, FieldId, Takes};

/// Whether a quantity lies in the range of such a field, and that range in words; `None` for any other field, or for a
/// quantity of another kind.
pub(super) fn strip_range(field: &Field, quantity: &Quantity) -> Option<(bool, &'static str)> {
    let between = |least: i64, most: i64| {
        let [least, most] = [least, most].map(|bound| Number::Exact(Decimal::from(bound)));
        quantity.number.compared(least).is_ge() && quantity.number.compared(most).is_le()
    };
    match (field.takes, quantity.dimension) {
        (Takes::Place, Dimension::LENGTH) => {
            Some((between(-1000, 1000), "from -1000 mm to 1000 mm"))
        }
        (Takes::Angle, Dimension::ANGLE) => Some(match field.id {
            FieldId::CutterAngle => (between(10, 170), "from 10 deg to 170 deg"),
            _ => (between(-85, 85), "from -85 deg to 85 deg"),
        }),
        (Takes::Speed, Dimension::SPEED) => Some((
            quantity.number.compared(Number::ZERO).is_gt(),
            "greater than 0 mm/min",
        )),
        _ => None,
    }
}
