//! What is out of date on a day: prices past their limit, prices of a day to come, offers that no longer stand.

use rust_decimal::Decimal;

use crate::model::Day;
use crate::model::money::{Money, Order};

use super::shortfall::{Dated, Dayless, MoneyShortfall};

/// What is out of date. Ages count to `on`, or else to the days of the orders; without either that is said.
#[must_use]
pub fn stale(money: &Money, orders: &[Order], on: Option<Day>) -> Vec<MoneyShortfall> {
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
            found.push(MoneyShortfall::Early { of, dated, day });
        }
        let Some((day, oldest)) = last.zip(money.prices.oldest) else {
            continue;
        };
        if Decimal::from(day.days_after(dated)) > oldest {
            found.push(MoneyShortfall::Stale {
                of,
                dated,
                day,
                oldest,
            });
        }
    }
    found.extend(dayless(money, orders, on).map(|of| MoneyShortfall::NoDay { of }));
    let expired = orders.iter().enumerate().filter_map(|(place, order)| {
        let quote = order.quote.as_ref()?;
        let (day, dated, valid) = (on.or(order.dated)?, quote.dated?, quote.valid?);
        let over = Decimal::from(day.days_after(dated)) > valid;
        over.then_some(MoneyShortfall::Expired {
            order: place,
            dated,
            day,
            valid,
        })
    });
    found.extend(expired);
    found
}

/// What cannot be judged without a day: the age of prices, where they may be only so old; whether an offer still stands.
fn dayless<'a>(
    money: &'a Money,
    orders: &'a [Order],
    on: Option<Day>,
) -> impl Iterator<Item = Dayless> + 'a {
    let aged = on.is_none() && money.prices.oldest.is_some() && !money.prices.metals.is_empty();
    let nowhere = aged && orders.is_empty();
    let of_orders = orders.iter().enumerate().filter_map(move |(place, order)| {
        let quote = order.quote.as_ref();
        let is_endless = quote.is_none_or(|quote| quote.valid.is_none() || quote.dated.is_some());
        if aged && order.dated.is_none() {
            Some(Dayless::Order(place))
        } else {
            (!is_endless).then_some(Dayless::Offer(place))
        }
    });
    nowhere
        .then_some(Dayless::Prices)
        .into_iter()
        .chain(of_orders)
}
