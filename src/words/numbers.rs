//! Figures in sentences.

/// A length to a micrometre.
pub(super) fn micrometres(value: f64) -> String {
    format!("{}", (value * 1e3).round() / 1e3)
}

/// A true strain in per cent of the length.
pub(super) fn percent(strain: f64) -> String {
    format!("{}", ((libm::exp(strain) - 1.0) * 1e5).round() / 1e3)
}
