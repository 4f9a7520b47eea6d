//! What is said of days of prices and of offers, and of figures of the workshop that look like slips.

use crate::finding::Finding;
use crate::model::check;
use crate::model::money::{Money, Order, Price};
use crate::money::{Dated, Dayless, MoneyShortfall};
use crate::quantity::Number;
use crate::schema::FieldId;
use crate::source::Span;

use super::money::{code, named};
use super::money_limit::MoneyLimit;

/// What to ask about a term of the workshop.
fn unlikely_term(field: FieldId, row: Option<usize>, money: &Money) -> Option<MoneyLimit> {
    let values = match row {
        Some(place) => &money.said.rows.get(place)?.values,
        None => &money.said.shop,
    };
    let said = values.get(field)?;
    let word = field.word();
    let shown = check::shown(&said.value);
    Some(MoneyLimit::UnlikelyTerm {
        at: said.at?,
        message: match field {
            FieldId::ShopTax => format!("a tax of {shown} is more than half of the price"),
            FieldId::ShopOperationRun => format!("`run {shown}` is more than a day for each ring"),
            FieldId::ShopOperationSetUp => format!("`set-up {shown}` is more than a day"),
            _ => format!("`{word} {shown}` is more than 1000 {} an hour", code(money)),
        },
    })
}

/// What is said of a day that is past or to come, and of a slip of a unit; none of what has nothing to do with days.
#[must_use]
pub fn of_days(short: MoneyShortfall, money: &Money, orders: &[Order]) -> Option<Finding> {
    let found = match short {
        MoneyShortfall::Early { of, dated, day } => {
            let (what, at) = dated_one(of, money)?;
            MoneyLimit::Early {
                at,
                what,
                dated: dated.to_string(),
                day: day.to_string(),
            }
        }
        MoneyShortfall::NoDay { of } => no_day(of, money, orders)?,
        MoneyShortfall::UnlikelyPrice { price, beside } => {
            let metals = &money.prices.metals;
            let price = metals.get(price)?;
            let shown = |of: &Price| {
                let by_gram = of.by_gram.round_dp(6).normalize();
                format!("{} at {by_gram} {}/g", of.metal, code(money))
            };
            let other = beside.and_then(|place| metals.get(place));
            MoneyLimit::UnlikelyPrice {
                at: price.at,
                beside: other.map(|other| other.at),
                message: match other {
                    Some(other) if *price.metal == *"silver" => {
                        format!("{} is dearer than {}", shown(price), shown(other))
                    }
                    Some(other) => {
                        format!("{} is over a thousand times {}", shown(price), shown(other))
                    }
                    None => format!("{} is far from any usual price", shown(price)),
                },
            }
        }
        MoneyShortfall::UnlikelyTerm { field, row } => unlikely_term(field, row, money)?,
        MoneyShortfall::Stale {
            of, day, oldest, ..
        } => {
            let (what, at) = dated_one(of, money)?;
            MoneyLimit::Stale {
                at,
                what,
                age: days(short.found()?),
                day: day.to_string(),
                oldest: days(Number::Exact(oldest)),
            }
        }
        MoneyShortfall::Expired {
            order,
            dated,
            day,
            valid,
        } => MoneyLimit::Expired {
            at: orders.get(order)?.quote.as_ref()?.at,
            dated: dated.to_string(),
            valid: days(Number::Exact(valid)),
            day: day.to_string(),
            over: days(short.found()?.minus(Number::Exact(valid))?),
        },
        _ => return None,
    };
    Some(found.into())
}

fn no_day(of: Dayless, money: &Money, orders: &[Order]) -> Option<MoneyLimit> {
    let (at, what, help) = match of {
        Dayless::Prices => {
            let at = money.said.get(FieldId::PricesOldest, None)?.at;
            let help = "ask with `--on DATE`; an `order` with its `dated` serves too";
            (at?, "the age of the prices".to_owned(), help)
        }
        Dayless::Order(place) => {
            let order = orders.get(place)?;
            let what = format!("the age of the prices for {}", named(order));
            (
                order.at,
                what,
                "add `dated 2026-11-25` with the day of the order, or ask with `--on DATE`",
            )
        }
        Dayless::Offer(place) => {
            let order = orders.get(place)?;
            let what = format!("until when the offer of {} stands", named(order));
            (
                order.quote.as_ref()?.at,
                what,
                "add `dated 2026-11-25` with the day of the offer",
            )
        }
    };
    Some(MoneyLimit::NoDay { at, what, help })
}

/// A price or a rate: what it is, and where it is written.
fn dated_one(of: Dated, money: &Money) -> Option<(String, Span)> {
    match of {
        Dated::Price(place) => {
            let price = money.prices.metals.get(place)?;
            Some((format!("price of {}", price.metal), price.at))
        }
        Dated::Rate(place) => {
            let rate = money.rates.get(place)?;
            let what = format!("rate of {} in {}", rate.of.code(), rate.in_.code());
            Some((what, rate.at))
        }
    }
}

fn days(days: Number) -> String {
    match days.to_string().as_str() {
        "1" => "1 day".to_owned(),
        days => format!("{days} days"),
    }
}
