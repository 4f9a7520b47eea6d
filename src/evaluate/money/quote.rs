//! What is out of date on a day: prices past their limit, prices of a day to come, offers that no longer stand.

use rust_decimal::Decimal;

use crate::evaluate::error::LimitError;
use crate::model::Day;
use crate::model::money::{Money, Order};

/// Findings about dates. Ages count to `on`, or else to the days of the orders; without either nothing is judged.
#[must_use]
pub fn stale(money: &Money, orders: &[Order], on: Option<Day>) -> Vec<crate::finding::Finding> {
    let mut findings = Vec::new();
    let mut days: Vec<Day> = match on {
        Some(day) => vec![day],
        None => orders.iter().filter_map(|order| order.dated).collect(),
    };
    days.sort_unstable();
    days.dedup();
    let dated = money
        .prices
        .metals
        .iter()
        .map(|price| (format!("price of {}", price.metal), price.dated, price.at));
    let rates = money.rates.iter().map(|rate| {
        let what = format!("rate of {} in {}", rate.of.code(), rate.in_.code());
        (what, rate.dated, rate.at)
    });
    let oldest = money.prices.oldest;
    for (what, dated, at) in dated.chain(rates) {
        // The last day judges age, the first whether the price was known by then.
        if let Some(day) = days.first().filter(|day| **day < dated) {
            findings.push(LimitError::Early {
                at,
                what: what.clone(),
                dated: dated.to_string(),
                day: day.to_string(),
            });
        }
        let Some((day, oldest)) = days.last().zip(oldest) else {
            continue;
        };
        let age = day.days_after(dated);
        if Decimal::from(age) > oldest {
            findings.push(LimitError::Stale {
                at,
                what,
                age: days_of(Decimal::from(age)),
                day: day.to_string(),
                oldest: days_of(oldest),
            });
        }
    }
    for order in orders {
        let Some(quote) = &order.quote else { continue };
        let (Some(day), Some(dated), Some(valid)) = (on.or(order.dated), quote.dated, quote.valid)
        else {
            continue;
        };
        let age = day.days_after(dated);
        if Decimal::from(age) > valid {
            findings.push(LimitError::Expired {
                at: quote.at,
                dated: dated.to_string(),
                valid: days_of(valid),
                day: day.to_string(),
                over: days_of(Decimal::from(age) - valid),
            });
        }
    }
    findings.into_iter().map(Into::into).collect()
}

fn days_of(days: Decimal) -> String {
    let days = days.normalize();
    if days == Decimal::ONE {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}
