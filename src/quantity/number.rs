//! A number that knows whether it is exact.

use std::cmp::Ordering;
use std::fmt;

use rust_decimal::{Decimal, MathematicalOps};

use super::decimal::to_f64;
use super::exact;

/// An exact decimal as written, or a float as computed.
///
/// Arithmetic of two exact numbers is exact where the result can be held as a decimal; a quotient, a product or
/// a sum of more digits than that is computed, and so is whatever a computed number takes part in. `None`
/// stands for a result beyond the range, or a division by zero.
#[derive(Clone, Copy, Debug)]
pub enum Number {
    /// Written in a recipe, or exact arithmetic on such.
    Exact(Decimal),
    /// Computed in floating point.
    Computed(f64),
}

impl Number {
    /// Zero, exact.
    pub const ZERO: Self = Self::Exact(Decimal::ZERO);

    /// A computed number; nothing has no sign.
    #[must_use]
    #[inline]
    pub fn computed(value: f64) -> Self {
        Self::Computed(value + 0.0)
    }

    /// As the nearest float.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        match self {
            Self::Exact(value) => to_f64(value),
            Self::Computed(value) => value,
        }
    }

    /// The decimal, when the number is exact.
    #[must_use]
    pub fn exact(self) -> Option<Decimal> {
        match self {
            Self::Exact(value) => Some(value),
            Self::Computed(_) => None,
        }
    }

    fn with(
        self,
        other: Self,
        exact: impl Fn(Decimal, Decimal) -> Option<Decimal>,
        computed: impl Fn(f64, f64) -> f64,
    ) -> Option<Self> {
        if let (Self::Exact(left), Self::Exact(right)) = (self, other)
            && let Some(value) = exact(left, right)
        {
            return Some(Self::Exact(value));
        }
        Some(computed(self.to_f64(), other.to_f64()))
            .filter(|value| value.is_finite())
            .map(Self::computed)
    }

    /// Sum.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.with(other, exact::sum, |left, right| left + right)
    }

    /// Difference.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(other.negated())
    }

    /// Product.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.with(other, exact::product, |left, right| left * right)
    }

    /// Quotient; computed where it does not come out.
    ///
    /// # Example
    /// ```
    /// use annulet::quantity::Number;
    /// use rust_decimal::dec;
    /// let exact = |value| Number::Exact(value);
    /// assert_eq!(exact(dec!(1)).over(exact(dec!(8))).unwrap().exact(), Some(dec!(0.125)));
    /// assert_eq!(exact(dec!(1)).over(exact(dec!(3))).unwrap().exact(), None);
    /// ```
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        if other == Self::ZERO {
            return None;
        }
        self.with(other, exact::quotient, |left, right| left / right)
    }

    /// The other sign.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::Exact(value) if value.is_zero() => Self::ZERO,
            Self::Exact(value) => Self::Exact(-value),
            Self::Computed(value) => Self::computed(-value),
        }
    }

    /// Square root; exact when the root of an exact number is.
    #[must_use]
    pub fn root(self) -> Option<Self> {
        if let Self::Exact(value) = self
            && let Some(root) = value.sqrt()
            && exact::product(root, root) == Some(value.normalize())
        {
            return Some(Self::Exact(root.normalize()));
        }
        Some(self.to_f64().sqrt())
            .filter(|root| root.is_finite())
            .map(Self::Computed)
    }

    /// The number without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        if self.is_negative() {
            self.negated()
        } else {
            self
        }
    }

    /// Whether it is less than zero.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.compared(Self::ZERO) == Ordering::Less
    }

    /// Order by value where what was written counts to the last digit, as with money and fineness: two exact
    /// numbers exactly, else as floats.
    #[must_use]
    #[inline]
    pub fn compared(self, other: Self) -> Ordering {
        match (self, other) {
            (Self::Exact(left), Self::Exact(right)) => left.cmp(&right),
            _ => self.to_f64().total_cmp(&other.to_f64()),
        }
    }
}

/// Computed values that differ by no more than this part of the larger are the same.
pub const ALIKE: f64 = 1e-9;

impl Number {
    /// Order by value: two exact numbers exactly; where one is computed, within [`ALIKE`].
    ///
    /// # Example
    /// ```
    /// use std::cmp::Ordering;
    /// use annulet::quantity::Number;
    /// let third = Number::Computed(1.0 / 3.0);
    /// let thrice = third.plus(third).unwrap().plus(third).unwrap();
    /// assert_eq!(thrice.about(Number::Exact(rust_decimal::dec!(1))), Ordering::Equal);
    /// ```
    #[must_use]
    pub fn about(self, other: Self) -> Ordering {
        let (left, right) = (self.to_f64(), other.to_f64());
        match (self, other) {
            (Self::Exact(_), Self::Exact(_)) => self.compared(other),
            _ if (left - right).abs() <= ALIKE * left.abs().max(right.abs()) => Ordering::Equal,
            _ => left.total_cmp(&right),
        }
    }
}

impl PartialEq for Number {
    fn eq(&self, other: &Self) -> bool {
        self.compared(*other) == Ordering::Equal
    }
}

impl fmt::Display for Number {
    /// All digits: exact decimals as they are, floats in the fewest digits that read back the same; never `-0`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            _ if self.to_f64() == 0.0 => write!(formatter, "0"),
            Self::Exact(value) => write!(formatter, "{}", value.normalize()),
            Self::Computed(value) => write!(formatter, "{value}"),
        }
    }
}
