//! Lengths for people: no more digits than a nanometre needs.

/// A length in mm, with its unit.
pub(super) fn mm(value: f64) -> String {
    format!("{} mm", places(value))
}

/// A length in mm as a bare number.
pub(super) fn places(value: f64) -> String {
    // The sum keeps a zero from having a sign.
    format!("{}", (value * 1e6).round() / 1e6 + 0.0)
}
