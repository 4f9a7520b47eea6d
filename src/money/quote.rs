//! What is out of date on a day: prices past their limit, prices of a day to come, offers that no longer stand.

use rust_decimal::Decimal;

use crate::model::Day;
use crate::model::money::{Money, Order};

use super::shortfall::{Dated, Shortfall};

/// What is out of date. Ages count to `on`, or else to the days of the orders; without either nothing is judged.
#[must_use]
pub fn stale(money: &Money, orders: &[Order], on: Option<Day>) -> Vec<Shortfall> {
    let mut found = Vec::new();
    let days = || {
        let of_orders = orders.iter().filter_map(|order| order.dated);
        on.into_iter().chain(of_orders.filter(|_| on.is_none()))
    };
    let (first, last) = (days().min(), days().max());
    let prices = money.prices.metals.iter().enumerate();
    let prices = prices.map(|(place, price)| (Dated::Price(place), price.dated));
    let rates = money.rates.iter().enumerate();
    let rates = rates.map(|(place, rate)| (Dated::Rate(place), rate.dated));
    for (of, dated) in prices.chain(rates) {
        // The last day judges age, the first whether the price was known by then.
        if let Some(day) = first.filter(|day| *day < dated) {
            found.push(Shortfall::Early { of, dated, day });
        }
        let Some((day, oldest)) = last.zip(money.prices.oldest) else {
            continue;
        };
        if Decimal::from(day.days_after(dated)) > oldest {
            found.push(Shortfall::Stale {
                of,
                dated,
                day,
                oldest,
            });
        }
    }
    let expired = orders.iter().enumerate().filter_map(|(place, order)| {
        let quote = order.quote.as_ref()?;
        let (day, dated, valid) = (on.or(order.dated)?, quote.dated?, quote.valid?);
        let over = Decimal::from(day.days_after(dated)) > valid;
        over.then_some(Shortfall::Expired {
            order: place,
            dated,
            day,
            valid,
        })
    });
    found.extend(expired);
    found
}
