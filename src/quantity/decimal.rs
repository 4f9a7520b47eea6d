//! The border between exact decimals and floats.

use rust_decimal::Decimal;

/// The float nearest to a decimal.
///
/// # Example
/// ```
/// use rust_decimal::Decimal;
/// let tenth = Decimal::from_str_exact("0.1").unwrap();
/// assert_eq!(annulet::quantity::to_f64(tenth), 0.1);
/// ```
#[must_use]
pub fn to_f64(value: Decimal) -> f64 {
    const EXACT: u64 = 1 << 53;
    let mantissa = i64::try_from(value.mantissa());
    let power = POWERS.get(value.scale() as usize);
    match mantissa.ok().zip(power) {
        // Both are exact floats, so the quotient is the nearest float.
        Some((mantissa, power)) if mantissa.unsigned_abs() <= EXACT => mantissa as f64 / power,
        _ => value.to_string().parse().unwrap_or(f64::NAN),
    }
}

/// The decimal that a float prints as: its shortest digits, not its binary expansion.
///
/// # Errors
/// None for a float that is not finite, or beyond 28 digits before the point.
#[must_use]
pub fn from_f64(value: f64) -> Option<Decimal> {
    if !value.is_finite() {
        return None;
    }
    let text = format!("{value:e}");
    Decimal::from_scientific(&text)
        .ok()
        .map(|value| value.normalize())
}

/// The decimal that a float prints as, to so many places behind the point, halves to even.
///
/// # Errors
/// As [`from_f64`].
#[must_use]
pub fn to_places(value: f64, places: u32) -> Option<Decimal> {
    let units = value * POWERS.get(places as usize)?;
    let whole = units.round_ties_even();
    let off = (units - whole).abs();
    // Neither a half nor a whole number, as far as a float tells: rounded by its digits it comes to the same.
    if off > 1e-4 && off < 0.499 && whole.abs() < 1e12 {
        return Some(Decimal::new(whole as i64, places));
    }
    Some(from_f64(value)?.round_dp(places))
}

/// Powers of ten that a float holds exactly.
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];
