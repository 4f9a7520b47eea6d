//! Amounts in other currencies to the one that is counted in, by dated rates and nothing else.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::calendar::Day;
use crate::model::error::ModelError;
use crate::model::values::FieldValue;
use crate::quantity::Currency;
use crate::source::Span;

use crate::model::values::decimal;

/// What one unit of a currency is in another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rate {
    /// One unit of this …
    pub of: Currency,
    /// … is so many …
    pub is: Decimal,
    /// … of this.
    pub in_: Currency,
    /// The day that it is of.
    pub dated: Day,
    /// Where it is from.
    pub source: Option<String>,
    /// Where it is written.
    pub at: Span,
}

/// Rates, and the currency that all is counted in.
#[derive(Clone, Debug, Default)]
pub struct Exchange {
    /// The rates that are stated.
    pub rates: Vec<Rate>,
    /// The currency that is counted in.
    pub to: Option<Currency>,
    /// A rate was refused, so that one may be missing for that alone.
    pub faulty: bool,
}

impl Exchange {
    /// An amount with whatever it is by, in the currency that is counted in; `None` after saying that no rate is
    /// stated. The first amount of all settles the currency where none is stated.
    ///
    /// # Formula
    /// `amount * is` by a rate as stated, `amount / is` by one stated the other way round (to 28 digits).
    pub(super) fn amount(
        &mut self,
        value: &FieldValue,
        findings: &mut Vec<Finding>,
    ) -> Option<Decimal> {
        let quantity = value.value.quantity()?;
        let number = decimal(quantity)?;
        let from = quantity.dimension.currency?;
        let to = *self.to.get_or_insert(from);
        if from == to || number.is_zero() {
            return Some(number);
        }
        let by = |of: Currency, in_: Currency| {
            self.rates
                .iter()
                .find(|rate| rate.of == of && rate.in_ == in_)
        };
        let found = match (by(from, to), by(to, from)) {
            (Some(rate), _) => number.checked_mul(rate.is),
            (None, Some(rate)) => number.checked_div(rate.is),
            (None, None) => None,
        };
        if found.is_none() && !self.faulty {
            findings.push(
                ModelError::NoRate {
                    at: value.at.unwrap_or_default(),
                    from: from.code().to_owned(),
                    to: to.code().to_owned(),
                }
                .into(),
            );
        }
        found
    }
}
