//! Figures in sentences.

use crate::schema::FieldId;

/// A length or a share to six places.
pub(super) fn places(value: f64) -> String {
    format!("{}", (value * 1e6).round() / 1e6)
}

/// A length to a micrometre.
pub(super) fn micrometres(value: f64) -> String {
    format!("{}", (value * 1e3).round() / 1e3)
}

/// A true strain in per cent of the length.
pub(super) fn percent(strain: f64) -> String {
    format!("{}", ((libm::exp(strain) - 1.0) * 1e5).round() / 1e3)
}

/// A field with a length in mm, as a recipe states it: `` `ridge 0.1 mm` ``.
pub(super) fn set(field: FieldId, value: f64) -> String {
    format!("`{} {} mm`", field.word(), places(value))
}
