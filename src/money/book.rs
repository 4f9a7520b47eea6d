//! What a gram of an alloy is worth by the prices of metal, with what is laid over them.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::catalogue;
use crate::model::Alloy;
use crate::model::money::{Price, Prices};

use super::exact::Exact;

/// Prices of metal, with what is laid over them.
#[derive(Clone, Copy, Debug)]
pub struct Book<'a> {
    prices: &'a Prices,
    laid: Option<(&'a str, Decimal)>,
    times: Exact,
}

/// Money for a gram of an alloy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gram {
    /// What it is worth; not known where a precious metal of it has no price.
    pub worth: Exact,
    /// What it is bought for: its worth with the premium of each price.
    pub bought: Exact,
}

impl Gram {
    /// What no price tells.
    const UNKNOWN: Self = Self {
        worth: Exact::UNKNOWN,
        bought: Exact::UNKNOWN,
    };
}

impl<'a> Book<'a> {
    /// Prices as stated.
    #[must_use]
    pub fn new(prices: &'a Prices) -> Self {
        Self {
            prices,
            laid: None,
            times: Exact::ONE,
        }
    }

    /// With another price of one element, money by gram of fine metal.
    #[must_use]
    pub fn with(self, element: &'a str, by_gram: Decimal) -> Self {
        Self {
            laid: Some((element, by_gram)),
            ..self
        }
    }

    /// With all prices times a factor.
    #[must_use]
    pub fn times(self, factor: Decimal) -> Self {
        Self {
            times: factor.into(),
            ..self
        }
    }

    /// What a gram of an alloy is worth; not known where a precious metal of it has no price.
    ///
    /// # Formula
    /// sum over elements of parts / 1000 * price, or the price of the alloy as such
    #[must_use]
    pub fn worth(&self, alloy: &Alloy) -> Exact {
        self.gram(alloy).worth
    }

    /// Elements of an alloy that no price is stated for; base metals among them count as nothing.
    pub fn unpriced<'b>(&self, alloy: &'b Alloy) -> impl Iterator<Item = &'b str> {
        let as_such = self.price_of(&alloy.name).is_some();
        let of_it = move |(element, part): &&(String, Decimal)| {
            !as_such && !part.is_zero() && self.price_of(element).is_none()
        };
        let parts = alloy.parts.iter().filter(of_it);
        parts.map(|(element, _)| element.as_str())
    }

    /// The metals whose prices the worth of an alloy cannot be given without; empty where it can.
    #[must_use]
    pub fn wanting<'b>(&self, alloy: &'b Alloy) -> SmallVec<[&'b str; 4]> {
        if self.worth(alloy) != Exact::UNKNOWN {
            return SmallVec::new();
        }
        let precious = self.unpriced(alloy).filter(|one| is_precious(one));
        let mut metals: SmallVec<[&str; 4]> = precious.collect();
        if metals.is_empty() {
            // Base metals may count as nothing, but not all that there is.
            metals.extend(self.unpriced(alloy).take(1));
        }
        metals
    }

    fn price_of(&self, metal: &str) -> Option<&'a Price> {
        let mut prices = self.prices.metals.iter();
        prices.find(|price| *price.metal == *metal)
    }

    /// What a gram of an alloy is worth, and what it is bought for.
    #[must_use]
    pub fn gram(&self, alloy: &Alloy) -> Gram {
        let mut total = Gram {
            worth: Exact::ZERO,
            bought: Exact::ZERO,
        };
        let mut add = |worth: Exact, premium: Decimal| {
            total.worth = total.worth + worth;
            total.bought = total.bought + worth * (Exact::ONE + premium.into());
        };
        if let Some(price) = self.price_of(&alloy.name) {
            add(Exact::from(price.by_gram) * self.times, price.premium);
            return total;
        }
        let mut known = false;
        for (element, part) in &alloy.parts {
            let Some(price) = self.price_of(element) else {
                if is_precious(element) && !part.is_zero() {
                    return Gram::UNKNOWN;
                }
                continue;
            };
            let by_gram = match self.laid {
                Some((laid, by_gram)) if laid == element => by_gram,
                _ => price.by_gram,
            };
            known = true;
            let part = Exact::from(*part) / Decimal::ONE_THOUSAND.into();
            add(part * by_gram.into() * self.times, price.premium);
        }
        if known { total } else { Gram::UNKNOWN }
    }
}

/// Whether an element is a precious metal.
fn is_precious(element: &str) -> bool {
    catalogue::element(element).is_some_and(|row| row.precious)
}
