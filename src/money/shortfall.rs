//! What falls short in money, as values: stock that is too small, prices and rates that are missing, days gone by.

use rust_decimal::Decimal;

use crate::model::Day;
use crate::quantity::{Number, from_f64};
use crate::schema::FieldId;

use super::workpiece::PartOf;

/// Something about money that falls short, or that a figure cannot be given without.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum MoneyShortfall {
    /// A stock that cannot make the part it is for.
    Stock {
        /// The part.
        part: PartOf,
        /// The dimension of the stock.
        field: FieldId,
        /// It, in mm.
        found: f64,
        /// What it must be, in mm, with what a turned diameter needs to clean up: at most this where it is a bore,
        /// else at least.
        wanted: f64,
        /// The stocks of the recipe that could make it, a bit each in the order written.
        others: u64,
    },
    /// A metal whose worth no price gives.
    NoPrice {
        /// Whose metal.
        of: Unpriced,
    },
    /// Time that is spent and paid at no rate.
    UnpaidTime {
        /// The rate.
        rate: FieldId,
        /// The first operation that it is wanted for, by its place in the workshop; none where it is the cutting of the
        /// pattern.
        operation: Option<usize>,
    },
    /// A drawn cut whose time nothing tells, so that the cost does not hold it.
    Untimed {
        /// The cut, by its place among those of the band.
        cut: usize,
        /// The field that would say it.
        field: FieldId,
    },
    /// A band that is sold for no more than it costs, as both are shown.
    UnderCost {
        /// The field that says its price.
        field: FieldId,
        /// Its price before tax.
        price: Decimal,
        /// Its cost.
        cost: Decimal,
        /// The value of the field that would just earn something, where there is one.
        fits: Option<Decimal>,
    },
    /// An order that brings no more than it costs.
    OrderUnderCost {
        /// The order, by its place in the recipe.
        order: usize,
        /// Its price before tax.
        price: Decimal,
        /// Its cost.
        cost: Decimal,
        /// What it earns where every `±` stands at its worse end, where that alone loses.
        worst: Option<Decimal>,
    },
    /// A price or a rate of a day still to come.
    Early {
        /// Which.
        of: Dated,
        /// Its day.
        dated: Day,
        /// The day that ages count to.
        day: Day,
    },
    /// A price or a rate older than it may be.
    Stale {
        /// Which.
        of: Dated,
        /// Its day.
        dated: Day,
        /// The day that ages count to.
        day: Day,
        /// How many days old it may be.
        oldest: Decimal,
    },
    /// Scrap of an order that weighs less than should have been collected, or more than was taken off.
    Returned {
        /// The order, by its place in the recipe.
        order: usize,
        /// The field that says its weight.
        field: FieldId,
        /// It, in g.
        found: Decimal,
        /// What it should at least weigh, or at most, in g.
        wanted: Decimal,
    },
    /// Ages that cannot be judged, since no day is stated.
    NoDay {
        /// What of.
        of: Dayless,
    },
    /// A price that looks like a slip of a unit.
    UnlikelyPrice {
        /// It, by its place in the prices.
        price: usize,
        /// The one that it does not go with.
        beside: Option<usize>,
    },
    /// A term of the workshop that looks like a slip of a unit.
    UnlikelyTerm {
        /// The field.
        field: FieldId,
        /// The row of what is said that it stands in, where it stands in one.
        row: Option<usize>,
    },
    /// An offer that no longer stands.
    Expired {
        /// The order, by its place in the recipe.
        order: usize,
        /// Its day.
        dated: Day,
        /// The day that it is judged on.
        day: Day,
        /// How many days it stood.
        valid: Decimal,
    },
}

/// Whose metal has no price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unpriced {
    /// That of a part of the ring.
    Part(PartOf),
    /// What a customer brings.
    OldMetal,
}

/// What has no day that ages could count to or from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dayless {
    /// The recipe, which states how old its prices may be.
    Prices,
    /// An order, by its place in the recipe.
    Order(usize),
    /// An offer that stands for a time, by the place of its order.
    Offer(usize),
}

/// What has a day, by its place in the prices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dated {
    /// The price of a metal.
    Price(usize),
    /// A rate between two currencies.
    Rate(usize),
}

impl MoneyShortfall {
    /// The stable code of what is said of it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Stock { .. } => "evaluate::stock",
            Self::NoPrice { .. } => "evaluate::no_price",
            Self::UnpaidTime { .. } => "evaluate::unpaid_time",
            Self::Untimed { .. } => "evaluate::untimed_cut",
            Self::UnderCost { .. } | Self::OrderUnderCost { .. } => "evaluate::under_cost",
            Self::Early { .. } => "evaluate::early_price",
            Self::Returned { .. } => "evaluate::returned",
            Self::NoDay { .. } => "evaluate::no_day",
            Self::UnlikelyPrice { .. } => "evaluate::unlikely_price",
            Self::UnlikelyTerm { .. } => "evaluate::unlikely_term",
            Self::Stale { .. } => "evaluate::stale_price",
            Self::Expired { .. } => "evaluate::expired_offer",
        }
    }

    /// The field that would mend it.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match self {
            Self::Stock { field, .. } => *field,
            Self::NoPrice { .. } => FieldId::PricesMetal,
            Self::UnpaidTime { rate, .. } => *rate,
            Self::Untimed { field, .. } => *field,
            Self::UnderCost { field, .. } => *field,
            Self::OrderUnderCost { .. } => FieldId::OrderBand,
            Self::Early { of, .. } | Self::Stale { of, .. } => match of {
                Dated::Price(_) => FieldId::PricesMetalDated,
                Dated::Rate(_) => FieldId::PricesRateDated,
            },
            Self::Returned { field, .. } => *field,
            Self::NoDay { of } => match of {
                Dayless::Prices => FieldId::PricesOldest,
                Dayless::Order(_) => FieldId::OrderDated,
                Dayless::Offer(_) => FieldId::OrderQuoteDated,
            },
            Self::UnlikelyPrice { .. } => FieldId::PricesMetal,
            Self::UnlikelyTerm { field, .. } => *field,
            Self::Expired { .. } => FieldId::OrderQuoteValid,
        }
    }

    /// What there is: mm of a stock, money, days of age (negative: still to come); none of what is missing.
    #[must_use]
    pub fn found(&self) -> Option<Number> {
        match self {
            Self::Stock { found, .. } => Some(Number::Computed(*found)),
            Self::NoPrice { .. }
            | Self::UnpaidTime { .. }
            | Self::Untimed { .. }
            | Self::NoDay { .. }
            | Self::UnlikelyPrice { .. }
            | Self::UnlikelyTerm { .. } => None,
            Self::Returned { found, .. } => Some(Number::Exact(*found)),
            Self::UnderCost { price, .. } | Self::OrderUnderCost { price, .. } => {
                Some(Number::Exact(*price))
            }
            Self::Early { dated, day, .. }
            | Self::Stale { dated, day, .. }
            | Self::Expired { dated, day, .. } => {
                Some(Number::Exact(Decimal::from(day.days_after(*dated))))
            }
        }
    }

    /// What there must be, in the same unit.
    #[must_use]
    pub fn wanted(&self) -> Option<Number> {
        match self {
            Self::Stock { wanted, .. } => Some(Number::Computed(*wanted)),
            Self::NoPrice { .. }
            | Self::UnpaidTime { .. }
            | Self::Untimed { .. }
            | Self::NoDay { .. }
            | Self::UnlikelyPrice { .. }
            | Self::UnlikelyTerm { .. } => None,
            Self::Returned { wanted, .. } => Some(Number::Exact(*wanted)),
            Self::UnderCost { cost, .. } | Self::OrderUnderCost { cost, .. } => {
                Some(Number::Exact(*cost))
            }
            Self::Early { .. } => Some(Number::Exact(Decimal::ZERO)),
            Self::Stale { oldest, .. } => Some(Number::Exact(*oldest)),
            Self::Expired { valid, .. } => Some(Number::Exact(*valid)),
        }
    }

    /// The value of [`Self::field`] that would just do: of a stock, to the next micrometre.
    #[must_use]
    pub fn fits(&self) -> Option<Decimal> {
        match self {
            Self::Stock { field, wanted, .. } => {
                let micrometres = wanted * 1000.0;
                let next = match field {
                    FieldId::StockBore => (micrometres + 1e-6).floor(),
                    _ => (micrometres - 1e-6).ceil(),
                };
                Some(Decimal::new(next as i64, 3).normalize())
            }
            Self::UnderCost { fits, .. } => *fits,
            _ => None,
        }
    }
}

/// A length without the last bits that a computation leaves: to a millionth of a mm.
#[must_use]
pub fn tidy(length: f64) -> f64 {
    let tidied = (length * 1e6).round() / 1e6;
    from_f64(tidied).map_or(tidied, crate::quantity::to_f64)
}
