//! Amounts in other currencies to the one that is counted in, by dated rates and nothing else.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::calendar::Day;
use crate::model::error::ModelError;
use crate::model::values::FieldValue;
use crate::quantity::{Currency, from_f64, to_f64};
use crate::source::Span;

use crate::model::values::decimal;

/// What one unit of a currency is in another.
#[derive(Clone, Debug, PartialEq)]
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
    /// How far it may be off by the digits that are written, relative.
    pub(super) off: f64,
}

/// How far two rates that say the same may differ at most, relative, however few digits they are written with.
const MOST_OFF: f64 = 0.01;

/// How far a written amount may be off by its last digit, relative; 1, 10 and 100 are exact.
pub(super) fn rounding(amount: Decimal) -> f64 {
    let plain = amount.normalize();
    let is_power = plain.mantissa() == 1 || {
        let mut whole = plain.mantissa();
        while whole > 1 && whole % 10 == 0 {
            whole /= 10;
        }
        whole == 1
    };
    if is_power {
        return 0.0;
    }
    to_f64(Decimal::new(5, amount.scale() + 1)) / to_f64(amount)
}

/// Keeps the rates that do not contradict those before them, by themselves or by way of other currencies.
pub(super) fn consistent(rates: Vec<Rate>, findings: &mut Vec<Finding>) -> Vec<Rate> {
    let mut kept: Vec<Rate> = Vec::new();
    for rate in rates {
        let Some(way) = way(&kept, rate.of, rate.in_) else {
            kept.push(rate);
            continue;
        };
        let stated = to_f64(rate.is);
        let off = (way.is / stated - 1.0).abs();
        if off <= (way.off + rate.off).min(MOST_OFF) {
            kept.push(rate);
            continue;
        }
        let first = way.by.first().and_then(|place| kept.get(*place));
        let (of, in_) = (rate.of.code(), rate.in_.code());
        let through: Vec<&str> = way.through.iter().map(|one| one.code()).collect();
        let by = match through.as_slice() {
            [] => String::new(),
            through => format!(" by way of {}", through.join(" and ")),
        };
        findings.push(
            ModelError::RatesContradict {
                at: rate.at,
                first: first.map_or(rate.at, |first| first.at),
                message: format!(
                    "one {of} cannot be {} {in_} and{by} {} {in_}",
                    rate.is.normalize(),
                    shown(way.is)
                ),
            }
            .into(),
        );
    }
    kept
}

/// A rate as people write one: five digits.
fn shown(rate: f64) -> String {
    let short = from_f64(rate).and_then(|rate| rate.round_sf(5));
    short.map_or_else(|| rate.to_string(), |short| short.normalize().to_string())
}

/// What one unit of a currency comes to in another by some rates, one after the other.
struct Way {
    is: f64,
    off: f64,
    by: Vec<usize>,
    through: Vec<Currency>,
}

/// The shortest way from one currency to another.
fn way(rates: &[Rate], from: Currency, to: Currency) -> Option<Way> {
    let start = Way {
        is: 1.0,
        off: 0.0,
        by: Vec::new(),
        through: Vec::new(),
    };
    let mut seen = vec![from];
    let mut open = std::collections::VecDeque::from([(from, start)]);
    while let Some((at, so_far)) = open.pop_front() {
        for (place, rate) in rates.iter().enumerate() {
            let (next, is) = match rate {
                _ if rate.of == at => (rate.in_, to_f64(rate.is)),
                _ if rate.in_ == at => (rate.of, 1.0 / to_f64(rate.is)),
                _ => continue,
            };
            if seen.contains(&next) {
                continue;
            }
            let mut by = so_far.by.clone();
            by.push(place);
            let mut through = so_far.through.clone();
            let (is, off) = (so_far.is * is, so_far.off + rate.off);
            if next == to {
                return Some(Way {
                    is,
                    off,
                    by,
                    through,
                });
            }
            through.push(next);
            seen.push(next);
            let way = Way {
                is,
                off,
                by,
                through,
            };
            open.push_back((next, way));
        }
    }
    None
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
