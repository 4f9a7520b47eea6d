//! Written quantities as types: a length cannot stand where a density is due.

use rust_decimal::Decimal;

use super::{Dimension, Number, Quantity, from_f64, to_f64};

/// Defines one written quantity: its meaning, its unit and the names of its constructor and getters.
macro_rules! written {
    ($(#[$meaning:meta])* $name:ident, $unit:literal, $make:ident, $float:ident, $dimension:expr, $factor:literal) => {
        $(#[$meaning])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $name(Decimal);

        impl $name {
            #[doc = concat!("From a number of ", $unit, ".")]
            #[must_use]
            pub const fn $make(value: Decimal) -> Self {
                Self(value)
            }

            #[doc = concat!("In ", $unit, ", exact.")]
            #[must_use]
            pub const fn value(self) -> Decimal {
                self.0
            }

            #[doc = concat!("In ", $unit, ", as the nearest float.")]
            #[must_use]
            pub fn $float(self) -> f64 {
                to_f64(self.0)
            }

            /// From a quantity of the right dimension; a computed one by its shortest digits.
            #[must_use]
            pub fn from_quantity(quantity: &Quantity) -> Option<Self> {
                let number = match quantity.number {
                    Number::Exact(value) => value,
                    Number::Computed(value) => from_f64(value)?,
                };
                let right = quantity.dimension == $dimension;
                Some(number).filter(|_| right)?.checked_mul(Decimal::from($factor)).map(|value| Self(value.normalize()))
            }

            /// As a quantity in base units.
            #[must_use]
            pub fn quantity(self) -> Quantity {
                let base = self.0.checked_div(Decimal::from($factor)).unwrap_or_default();
                Quantity::new(Number::Exact(base), $dimension)
            }
        }
    };
}

written! {
    /// A length.
    Length, "mm", mm, to_mm, Dimension::LENGTH, 1
}
written! {
    /// A density.
    Density, "g/cm3", grams_per_cm3, to_grams_per_cm3, Dimension::DENSITY, 1000
}
written! {
    /// A plain ratio: 1 is the whole.
    Ratio, "parts of one", of_one, to_one, Dimension::NONE, 1
}
