//! A number with its dimension and its deviations, and the arithmetic that keeps all three right.

use crate::source::Span;

use super::{Dimension, Number};

/// How far a quantity may be off because of one written `±`.
///
/// Each written `±` is one variable, named by its place: a value that is used twice is off by the same
/// amount in both places. Deviations are carried through arithmetic to first order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviation {
    /// The `±` it stems from.
    pub variable: Span,
    /// Signed, in the base unit of the quantity.
    pub amount: Number,
}

/// A number in base units, its dimension, and its deviations.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// In base units.
    pub number: Number,
    /// What kind of quantity.
    pub dimension: Dimension,
    /// Empty where no `±` was written.
    pub deviations: Vec<Deviation>,
}

/// Why an operation has no result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arithmetic {
    /// The dimensions do not fit.
    Dimensions,
    /// Two currencies would mix.
    Currencies,
    /// A division by zero.
    Zero,
    /// A root of a negative number.
    NegativeRoot,
    /// More digits than are kept.
    Range,
    /// A step to where the system has no size.
    NoSize,
}

impl Quantity {
    /// A quantity without deviations.
    #[must_use]
    pub fn new(number: Number, dimension: Dimension) -> Self {
        Self {
            number,
            dimension,
            deviations: Vec::new(),
        }
    }

    /// The largest deviation to either side, as if all worked together.
    #[must_use]
    pub fn worst(&self) -> f64 {
        self.deviations
            .iter()
            .map(|deviation| deviation.amount.to_f64().abs())
            .sum()
    }

    /// Sum of two quantities of one dimension.
    ///
    /// # Errors
    /// [`Arithmetic::Dimensions`], [`Arithmetic::Currencies`], [`Arithmetic::Range`].
    pub fn plus(&self, other: &Self) -> Result<Self, Arithmetic> {
        self.same_dimension(other)?;
        self.linear(
            other,
            self.number.plus(other.number),
            self.dimension,
            Number::Exact(1.into()),
            Number::Exact(1.into()),
        )
    }

    /// Difference of two quantities of one dimension.
    ///
    /// # Errors
    /// As [`Quantity::plus`].
    pub fn minus(&self, other: &Self) -> Result<Self, Arithmetic> {
        self.plus(&other.negated())
    }

    /// Product.
    ///
    /// # Errors
    /// [`Arithmetic::Currencies`], [`Arithmetic::Range`].
    pub fn times(&self, other: &Self) -> Result<Self, Arithmetic> {
        let dimension = self
            .dimension
            .times(other.dimension)
            .ok_or(Arithmetic::Currencies)?;
        self.linear(
            other,
            self.number.times(other.number),
            dimension,
            other.number,
            self.number,
        )
    }

    /// Quotient.
    ///
    /// # Errors
    /// [`Arithmetic::Zero`], [`Arithmetic::Currencies`], [`Arithmetic::Range`].
    pub fn over(&self, other: &Self) -> Result<Self, Arithmetic> {
        if other.number == Number::ZERO {
            return Err(Arithmetic::Zero);
        }
        let dimension = self
            .dimension
            .over(other.dimension)
            .ok_or(Arithmetic::Currencies)?;
        let quotient = self.number.over(other.number).ok_or(Arithmetic::Range)?;
        if self.deviations.is_empty() && other.deviations.is_empty() {
            return Ok(Self::new(quotient, dimension));
        }
        let one = Number::Exact(1.into());
        let by_left = one.over(other.number).ok_or(Arithmetic::Range)?;
        let by_right = quotient
            .over(other.number)
            .ok_or(Arithmetic::Range)?
            .negated();
        self.linear(other, Some(quotient), dimension, by_left, by_right)
    }

    /// The other sign.
    #[must_use]
    pub fn negated(&self) -> Self {
        let deviations = self
            .deviations
            .iter()
            .map(|one| Deviation {
                amount: one.amount.negated(),
                ..*one
            })
            .collect();
        Self {
            number: self.number.negated(),
            dimension: self.dimension,
            deviations,
        }
    }

    /// Square root.
    ///
    /// # Errors
    /// [`Arithmetic::Dimensions`] for odd powers, [`Arithmetic::NegativeRoot`], [`Arithmetic::Range`].
    pub fn root(&self) -> Result<Self, Arithmetic> {
        if self.number.is_negative() {
            return Err(Arithmetic::NegativeRoot);
        }
        let dimension = self.dimension.root().ok_or(Arithmetic::Dimensions)?;
        let root = self.number.root().ok_or(Arithmetic::Range)?;
        let mut deviations = Vec::new();
        for one in &self.deviations {
            let twice = root.plus(root).ok_or(Arithmetic::Range)?;
            deviations.push(Deviation {
                amount: one.amount.over(twice).ok_or(Arithmetic::Range)?,
                ..*one
            });
        }
        Ok(Self {
            number: root,
            dimension,
            deviations,
        })
    }

    /// The quantity with a further deviation.
    #[must_use]
    pub fn deviating(mut self, variable: Span, amount: Number) -> Self {
        self.deviations.push(Deviation { variable, amount });
        self
    }

    fn same_dimension(&self, other: &Self) -> Result<(), Arithmetic> {
        let plain = |dimension: Dimension| Dimension {
            currency: None,
            ..dimension
        };
        if self.dimension == other.dimension {
            Ok(())
        } else if plain(self.dimension) == plain(other.dimension) {
            Err(Arithmetic::Currencies)
        } else {
            Err(Arithmetic::Dimensions)
        }
    }

    /// A result whose deviations are those of both operands, each times its factor.
    fn linear(
        &self,
        other: &Self,
        number: Option<Number>,
        dimension: Dimension,
        by_left: Number,
        by_right: Number,
    ) -> Result<Self, Arithmetic> {
        let number = number.ok_or(Arithmetic::Range)?;
        let mut result = Self::new(number, dimension);
        for (one, factor) in self
            .deviations
            .iter()
            .map(|one| (one, by_left))
            .chain(other.deviations.iter().map(|one| (one, by_right)))
        {
            let amount = one.amount.times(factor).ok_or(Arithmetic::Range)?;
            match result
                .deviations
                .iter_mut()
                .find(|known| known.variable == one.variable)
            {
                Some(known) => known.amount = known.amount.plus(amount).ok_or(Arithmetic::Range)?,
                None => result.deviations.push(Deviation {
                    variable: one.variable,
                    amount,
                }),
            }
        }
        Ok(result)
    }
}
