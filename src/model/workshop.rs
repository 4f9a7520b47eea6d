//! What a bore, a width and a thickness can be of anything that is worn on a finger or a wrist.
//!
//! Common practice, no source: generous enough for wire rings and for the widest bangles. Beyond, a figure is a slip,
//! and what is computed or drawn of it means nothing.

use rust_decimal::{Decimal, dec};

use crate::quantity::Number;
use crate::schema::FieldId;

use super::band::Band;
use super::error::ModelError;

/// What a field can be, mm: from, to.
const BOUNDS: &[(FieldId, Decimal, Decimal)] = &[
    (FieldId::Size, dec!(1), dec!(500)),
    (FieldId::Width, dec!(0.1), dec!(200)),
    (FieldId::Thickness, dec!(0.05), dec!(50)),
];

/// How a range is told.
fn told(from: Decimal, to: Decimal) -> String {
    format!("from {from} mm to {to} mm (common practice, no source)")
}

/// The range of a field that a length does not keep, in words; a length of 0 or less is wrong for other reasons.
pub(super) fn unworkable(id: FieldId, length: Number) -> Option<String> {
    let (_, from, to) = BOUNDS.iter().find(|(known, ..)| *known == id)?;
    let keeps = length.compared(Number::Exact(*from)).is_ge()
        && length.compared(Number::Exact(*to)).is_le();
    let positive = length.compared(Number::ZERO).is_gt();
    (positive && !keeps).then(|| told(*from, *to))
}

/// A bore that no finger or wrist goes through, or a thickness that follows and can be none.
pub(super) fn follows(band: &Band) -> Option<ModelError> {
    bore(band).or_else(|| thickness(band))
}

impl Band {
    /// Whether its bore, and a thickness that follows, can be of anything that is worn.
    #[must_use]
    pub fn is_workable(&self) -> bool {
        follows(self).is_none()
    }
}

fn bore(band: &Band) -> Option<ModelError> {
    let diameter = band.inside().diameter;
    let range = unworkable(FieldId::Size, diameter)?;
    Some(ModelError::OutOfRange {
        at: band.place(FieldId::Size),
        field: "size".to_owned(),
        found: format!("{diameter} mm across"),
        range,
        help: "a length is the inside diameter; a size stands after its system, as in `ISO 54`"
            .to_owned(),
    })
}

/// A thickness that follows from the outside diameter or from an outline, and can be none.
fn thickness(band: &Band) -> Option<ModelError> {
    if band.field(FieldId::Thickness).is_some() {
        return None;
    }
    let (thickness, outside) = (band.thickness()?, band.fields.at(FieldId::Outside));
    let profile = band.place(FieldId::Profile);
    let (_, from, to) = BOUNDS
        .iter()
        .find(|(known, ..)| *known == FieldId::Thickness)?;
    let (from, to, is) = (*from, *to, thickness.value().normalize());
    match outside {
        Some(at) if is < from || is > to => Some(ModelError::OutOfRange {
            at,
            field: "outside".to_owned(),
            found: format!("{} mm thick over the size", is.round_dp(6).normalize()),
            range: told(from, to),
            help: "the outside is a diameter, the size and twice the thickness, as in `outside 20.19 mm`"
                .to_owned(),
        }),
        // One that comes down to the bore is told where it does.
        None if is > to => Some(ModelError::OutOfRange {
            at: profile,
            field: "profile".to_owned(),
            found: format!("{is} mm high"),
            range: told(from, to),
            help: "heights of an outline are measured from the smallest bore, not from the axis".to_owned(),
        }),
        _ => None,
    }
}
