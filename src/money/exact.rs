//! Exact decimals: the border where a computed mass becomes one, rounding, and parts that add up.

use std::ops::{Add, Div, Mul, Sub};

use rust_decimal::{Decimal, RoundingStrategy};
use smallvec::SmallVec;

use crate::quantity::{Number, from_f64, to_places};

/// A decimal that may be beyond the range of 28 digits, or not known; whatever is computed from it then is not
/// known either.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Exact(pub Option<Decimal>);

impl Exact {
    /// Nothing.
    pub const ZERO: Self = Self(Some(Decimal::ZERO));
    /// One.
    pub const ONE: Self = Self(Some(Decimal::ONE));
    /// Not known.
    pub const UNKNOWN: Self = Self(None);

    /// The larger of two.
    #[must_use]
    pub fn at_least(self, other: Self) -> Self {
        self.with(other, |a, b| Some(a.max(b)))
    }

    #[inline]
    fn with(self, other: Self, of: impl Fn(Decimal, Decimal) -> Option<Decimal>) -> Self {
        match (self.0, other.0) {
            (Some(a), Some(b)) => Self(of(a, b)),
            _ => Self::UNKNOWN,
        }
    }
}

impl From<Decimal> for Exact {
    fn from(value: Decimal) -> Self {
        Self(Some(value))
    }
}

impl Add for Exact {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.with(other, |a, b| match (is_plain_zero(a), is_plain_zero(b)) {
            // Sums begin with it.
            (true, _) => Some(b),
            (_, true) => Some(a),
            _ => a.checked_add(b),
        })
    }
}

/// Whether it is nothing, with no digits behind the point that a sum would have too.
#[inline]
fn is_plain_zero(value: Decimal) -> bool {
    value.is_zero() && value.scale() == 0
}

impl Sub for Exact {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.with(other, Decimal::checked_sub)
    }
}

impl Mul for Exact {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.with(other, Decimal::checked_mul)
    }
}

impl Div for Exact {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        self.with(other, Decimal::checked_div)
    }
}

impl std::iter::Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

/// A computed mass as a decimal: to 1e-6 g, halves to even.
///
/// # Example
/// ```
/// use annulet::money::grams;
/// assert_eq!(grams(4.293_933_500_1).to_string(), "4.293934");
/// assert_eq!(grams(0.000_000_5).to_string(), "0.000000");
/// ```
#[must_use]
pub fn grams(mass: f64) -> Decimal {
    to_places(mass, 6).unwrap_or_default()
}

/// A time in seconds as a decimal: as written, or computed to the millisecond, halves to even.
///
/// # Example
/// ```
/// use annulet::money::seconds;
/// use annulet::quantity::Number;
/// assert_eq!(seconds(Number::computed(141.239_49)).to_string(), "141.239");
/// ```
#[must_use]
pub fn seconds(time: Number) -> Decimal {
    match time {
        Number::Exact(seconds) => seconds,
        Number::Computed(seconds) => {
            from_f64(seconds).map_or(Decimal::ZERO, |seconds| seconds.round_dp(3))
        }
    }
}

/// Money to the places of its minor unit, halves to even.
///
/// # Example
/// ```
/// use annulet::money::round;
/// use rust_decimal::dec;
/// assert_eq!(round(dec!(4.785), 2), dec!(4.78));
/// assert_eq!(round(dec!(4.775), 2), dec!(4.78));
/// ```
#[must_use]
pub fn round(money: Decimal, places: u32) -> Decimal {
    money.round_dp_with_strategy(places, RoundingStrategy::MidpointNearestEven)
}

/// Parts of a rounded total, each a whole number of minor units, which add up to it.
///
/// # Formula
/// Each part is rounded down to the minor unit; what the total then lacks goes, a unit each, to the parts that
/// lost most (the first of equals), and what it has too much is taken from those that lost least.
///
/// # Range
/// The total differs from the sum of the exact parts by less than a minor unit each.
///
/// # Example
/// ```
/// use annulet::money::apportioned;
/// use rust_decimal::dec;
/// let parts = apportioned([dec!(1.335), dec!(2.336), dec!(0.339)], dec!(4.01), 2);
/// assert_eq!(parts, [dec!(1.33), dec!(2.34), dec!(0.34)]);
/// ```
#[must_use]
pub fn apportioned<const N: usize>(
    parts: [Decimal; N],
    total: Decimal,
    places: u32,
) -> [Decimal; N] {
    let unit = Decimal::new(1, places);
    let down = RoundingStrategy::ToNegativeInfinity;
    let mut shares = parts.map(|part| part.round_dp_with_strategy(places, down));
    let sum: Decimal = shares.iter().sum();
    let mut lacks = total - sum;
    let lost = parts.iter().zip(&shares).map(|(part, share)| part - share);
    let mut order: SmallVec<[(usize, Decimal); 6]> = lost.enumerate().collect();
    // A stable sort: of two that lost as much the first is served first.
    order.sort_by_key(|(_, lost)| std::cmp::Reverse(*lost));
    let rounds = N * 4;
    for (place, _) in order.iter().cycle().take(rounds) {
        if lacks < unit {
            break;
        }
        if let Some(share) = shares.get_mut(*place) {
            *share += unit;
            lacks -= unit;
        }
    }
    for (place, _) in order.iter().rev().cycle().take(rounds) {
        if lacks > -unit {
            break;
        }
        if let Some(share) = shares.get_mut(*place) {
            *share -= unit;
            lacks += unit;
        }
    }
    shares
}
