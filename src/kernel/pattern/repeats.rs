//! How many repeats close the strip, how long is one, and how far is a drawn motif stretched to it?

/// Whole repeats nearest to a wished motif, a multiple of `multiple`, at least one multiple.
///
/// # Formula
/// `multiple * round(length / (motif * multiple))` (`pattern.md`, Places).
///
/// # Example
/// ```
/// assert_eq!(annulet::kernel::pattern::repeats(62.8, 3.5, 2), 18);
/// ```
#[must_use]
pub fn repeats(length: f64, motif: f64, multiple: u32) -> u32 {
    let multiple = multiple.max(1);
    let groups = libm::round(length / (motif * f64::from(multiple)));
    let most = f64::from(u32::MAX / multiple);
    multiple * groups.clamp(1.0, most) as u32
}

/// Length of a repeat, mm.
#[must_use]
pub fn pitch(length: f64, repeats: u32) -> f64 {
    length / f64::from(repeats.max(1))
}

/// Degrees from one repeat to the next.
#[must_use]
pub fn degrees(repeats: u32) -> f64 {
    360.0 / f64::from(repeats.max(1))
}

/// How much longer the pitch is than the motif as drawn, as a share: 0.02 is two per cent longer.
#[must_use]
pub fn stretch(drawn: f64, pitch: f64) -> f64 {
    pitch / drawn - 1.0
}
