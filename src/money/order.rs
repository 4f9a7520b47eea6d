//! Totals of an order: metal, minutes, cost, price, what is left to pay.
//!
//! Metal, work and charges are those of the rings begun, rejects included; set-up is paid once for each batch of the
//! workshop that they are made in; the whole order is one consignment to the refiner and to whoever takes a fee. What is
//! asked for it stays the sum of what its rings cost one by one.

use std::sync::Arc;

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::model::Alloy;
use crate::model::money::{Credit, Order, Price, Prices};
use crate::quantity::Currency;

use super::account::{rounded, tied_up};
use super::balance::Weights;
use super::begun::{SetUps, batches, begun};
use super::book::Book;
use super::cost::{Cost, Job, Lines, Metal, fees, metal, of_time, overhead, refining};
use super::exact::{Exact, round};
use super::made::Line;
use super::price::sold;
use super::returned::{Returned, returned};
use super::to_buy::{ToBuy, to_buy};
use super::workpiece::Workpiece;

/// One line of an order, evaluated in its size.
#[derive(Clone, Debug)]
pub struct OrderLine {
    /// The band.
    pub band: String,
    /// The size as written, or the band's own.
    pub size: String,
    /// How many.
    pub count: u32,
    /// How many are begun for them, rejects included.
    pub begun: u32,
    /// Finished weight of one, in g.
    pub finished: Decimal,
    /// Price of one before tax, rounded.
    pub net: Option<Decimal>,
}

/// Totals of an order.
#[derive(Clone, Debug)]
pub struct OrderTotals {
    /// Its lines.
    pub lines: Vec<OrderLine>,
    /// The currency; none where no amount is stated.
    pub currency: Option<Currency>,
    /// Rings in all.
    pub count: u32,
    /// Rings begun in all, rejects included.
    pub begun: u32,
    /// Weights of all rings begun; finished are those that are ordered.
    pub weights: Weights,
    /// Metal to buy, for the rings begun.
    pub to_buy: Vec<ToBuy>,
    /// Batches of each band.
    pub set_ups: Vec<SetUps>,
    /// Minutes of labour.
    pub labour_minutes: Option<Decimal>,
    /// Minutes of the machine.
    pub machine_minutes: Option<Decimal>,
    /// Cost, rounded; none where a metal has no price. What rejects waste stands in each of its lines.
    pub cost: Option<Cost>,
    /// What the rings cost one by one: the sum of count times the cost of one, as that is shown.
    pub singly: Option<Decimal>,
    /// Fees by name, unrounded.
    pub fees: Vec<(String, Decimal)>,
    /// Price before tax: count times the price of one, over all lines.
    pub net: Option<Decimal>,
    /// Price with tax.
    pub gross: Option<Decimal>,
    /// What old metal is credited with.
    pub credit: Option<Decimal>,
    /// What is left to pay; none where old metal has no known worth.
    pub due: Option<Decimal>,
    /// Of that beforehand.
    pub deposit: Option<Decimal>,
    /// Metal and its price by gram below and above which a new offer is made.
    pub triggers: Vec<(Arc<str>, Decimal, Decimal)>,
    /// What one per cent more on all prices of metal adds to the cost.
    pub one_per_cent: Option<Decimal>,
    /// What is out for metal until the refiner pays, and after how many days that is; none where nobody says.
    pub tied_up: Option<(Decimal, Decimal)>,
    /// Scrap that was weighed.
    pub returned: Vec<Returned>,
}

/// Totals of an order, of the ring of each line and its size as shown, in the order written.
///
/// `None` where it has no line.
#[must_use]
pub fn order_totals(order: &Order, rings: &[(Workpiece, String)]) -> Option<OrderTotals> {
    let money = &rings.first()?.0.terms.money;
    let (currency, shop) = (money.currency, &money.shop);
    let places = currency.map_or(2, |currency| currency.places());
    let known = |value: Exact| {
        value
            .0
            .filter(|_| currency.is_some())
            .map(|value| round(value, places))
    };
    let begun = begun(order, rings);
    let mut by_band: FxHashMap<&str, u32> = FxHashMap::default();
    for (item, begun) in order.items.iter().zip(&begun) {
        let sum = by_band.entry(item.band.as_str()).or_default();
        *sum = sum.saturating_add(*begun);
    }
    let of_band = |band: &str| by_band.get(band).copied().unwrap_or_default();
    let items = order.items.iter().zip(rings).zip(&begun);
    let made: Vec<Line<'_>> = items
        .map(|((item, (work, _)), begun)| {
            let one = Job::of(work, shop.batch);
            let lines = one.lines();
            Line {
                job: Job::of(work, of_band(&item.band)),
                count: item.count,
                begun: *begun,
                one: lines,
                net: sold(&one, lines.total()).and_then(|sold| known(sold.net)),
            }
        })
        .collect();
    let set_ups = batches(order, &of_band, shop.batch);
    let total = all(order, &made, &set_ups, Decimal::ONE);
    let dearer = all(order, &made, &set_ups, Decimal::new(101, 2)).total() - total.total();
    let count = made.iter().map(|one| one.count);
    let count = count.fold(0_u32, u32::saturating_add);
    let articles = Exact::from(Decimal::from(count));
    let lines = lines(order, rings, &made);
    let sum = |each: &dyn Fn(&Line<'_>) -> Option<Decimal>| {
        made.iter().try_fold(Decimal::ZERO, |sum, line| {
            sum.checked_add(each(line)?.checked_mul(Decimal::from(line.count))?)
        })
    };
    let net = sum(&|line| line.net);
    let gross = net.and_then(|net| known(Exact::from(net) * (Exact::ONE + shop.tax.into())));
    let book = Book::new(&money.prices);
    let credit = order
        .credit
        .as_ref()
        .and_then(|credit| known(credited(credit, &book)));
    // Old metal without a worth is not worth nothing.
    let due = match (&order.credit, credit) {
        (Some(_), None) => None,
        _ => gross.map(|gross| gross - credit.unwrap_or_default()),
    };
    let quote = order.quote.as_ref();
    let deposit = quote.and_then(|quote| known(Exact(due) * quote.deposit.into()));
    let triggers = quote
        .and_then(|quote| quote.trigger)
        .map_or_else(Vec::new, |move_| {
            let bound = |by_gram: Decimal, factor: Decimal| {
                by_gram
                    .checked_mul(factor)
                    .map(|price| round(price, places))
            };
            let one = |price: &Price| {
                let low = bound(price.by_gram, Decimal::ONE - move_)?;
                Some((
                    Arc::clone(&price.metal),
                    low,
                    bound(price.by_gram, Decimal::ONE + move_)?,
                ))
            };
            let priced = money.prices.metals.iter();
            let worth: Vec<Decimal> = priced
                .map(|price| worth_of(price, &money.prices, &made))
                .collect();
            let all = worth
                .iter()
                .try_fold(Decimal::ZERO, |sum, one| sum.checked_add(*one));
            let all = all.unwrap_or(Decimal::MAX);
            let priced = money.prices.metals.iter().zip(worth);
            let matters = priced.filter(|(_, worth)| *worth > all * MATTERS);
            matters.filter_map(|(price, _)| one(price)).collect()
        });
    let (labour, machine) = seconds(order, &made, &set_ups);
    let minutes = |seconds: Exact| {
        let minutes = (seconds / Decimal::from(60).into()).0?;
        Some(minutes.round_dp(9).normalize())
    };
    let begun = begun.iter().copied();
    let weights = weights(&made);
    let cost = rounded(&total, places).filter(|_| currency.is_some());
    Some(OrderTotals {
        tied_up: tied_up(shop, cost.as_ref()).zip(shop.scrap.wait),
        lines,
        currency,
        count,
        begun: begun.fold(0_u32, u32::saturating_add),
        returned: returned(order, &weights, &shop.scrap),
        weights,
        to_buy: to_buy(&made, currency),
        set_ups,
        labour_minutes: minutes(labour),
        machine_minutes: minutes(machine),
        cost,
        singly: sum(&|line| known(line.one.total())),
        fees: fees(shop, articles)
            .filter_map(|(name, fee)| Some((name.to_owned(), fee.0?)))
            .collect(),
        net,
        gross,
        credit,
        due,
        deposit,
        triggers,
        one_per_cent: known(dearer),
    })
}

/// From which part of the worth of an order's metal on a metal makes a new offer due: common practice, no source.
const MATTERS: Decimal = rust_decimal::dec!(0.02);

/// What the rings of an order hold of a metal, at its price; of an alloy with a price as such no other counts.
fn worth_of(price: &Price, prices: &Prices, made: &[Line<'_>]) -> Decimal {
    let as_such = |alloy: &Alloy| {
        let mut prices = prices.metals.iter();
        prices.any(|price| *price.metal == *alloy.name)
    };
    let held_of = |alloy: &Alloy| {
        if *price.metal == *alloy.name {
            return Decimal::ONE_THOUSAND;
        }
        let mut parts = alloy.parts.iter().filter(|_| !as_such(alloy));
        let of = parts.find(|(metal, _)| **metal == *price.metal);
        of.map_or(Decimal::ZERO, |(_, held)| *held)
    };
    let grams = made.iter().map(|one| {
        let parts = one.job.balance.parts.iter();
        let held = parts.map(|part| part.finished * held_of(&part.alloy) / Decimal::ONE_THOUSAND);
        Exact::from(held.sum::<Decimal>()) * Decimal::from(one.count).into()
    });
    let grams: Exact = grams.sum();
    (grams * price.by_gram.into()).0.unwrap_or(Decimal::MAX)
}

/// What an order costs, all prices of metal times a factor; what rejects waste stands in each line.
///
/// # Formula
/// - bought, returned = sum over lines of the rings begun; of the rejected ones the rings too, as clean offcuts
/// - labour, machine = rate * (run * rings begun + set-up * batches)
/// - refining, fees: of one consignment; fees are of the rings ordered
fn all(order: &Order, made: &[Line<'_>], set_ups: &[SetUps], factor: Decimal) -> Lines {
    let mut lines = Lines {
        bought: Exact::ZERO,
        returned: Exact::ZERO,
        refining: Exact::ZERO,
        labour: Exact::ZERO,
        machine: Exact::ZERO,
        overhead: Exact::ZERO,
        rejects: Exact::ZERO,
        fees: Exact::ZERO,
        waste: Exact::ZERO,
        labour_time: Exact::ZERO,
        machine_time: Exact::ZERO,
    };
    let Some(first) = made.first() else {
        return lines;
    };
    let shop = &first.job.terms.money.shop;
    let mut sent = Exact::ZERO;
    let mut count = Exact::ZERO;
    for one in made {
        let Metal {
            bought,
            returned,
            rejected,
        } = metal(&one.job, &one.job.book().times(factor));
        let (begun, rejects) = (Decimal::from(one.begun), one.rejected());
        lines.bought = lines.bought + bought * begun.into();
        lines.returned = lines.returned + returned * begun.into() + rejected * rejects.into();
        let balance = &one.job.balance;
        let rings = Exact::from(balance.finished() * shop.scrap.offcuts.collected);
        sent = sent
            + Exact::from(balance.collected(&shop.scrap)) * begun.into()
            + rings * rejects.into();
        count = count + Decimal::from(one.count).into();
    }
    let (labour, machine) = seconds(order, made, set_ups);
    (lines.labour_time, lines.machine_time) = (labour, machine);
    lines.labour = of_time(shop.labour, labour);
    lines.machine = of_time(shop.machine, machine);
    lines.refining = refining(&shop.scrap, sent);
    let work = lines.labour + lines.machine;
    lines.overhead = overhead(shop, work, lines.bought - lines.returned);
    lines.fees = fees(shop, count).map(|(_, fee)| fee).sum();
    lines
}

/// Seconds of labour and of the machine: set-up once a batch, the run for each ring begun.
fn seconds(order: &Order, made: &[Line<'_>], set_ups: &[SetUps]) -> (Exact, Exact) {
    let mut sums = (Exact::ZERO, Exact::ZERO);
    for one in made {
        let begun = Exact::from(Decimal::from(one.begun));
        let (labour, machine) = one.job.seconds();
        sums.0 = sums.0 + labour.1 * begun;
        sums.1 = sums.1 + machine.1 * begun;
    }
    for set_up in set_ups {
        let mut lines = order.items.iter().zip(made);
        let Some((_, one)) = lines.find(|(item, _)| item.band == set_up.band) else {
            continue;
        };
        let times = Exact::from(Decimal::from(set_up.times));
        let (labour, machine) = one.job.seconds();
        sums.0 = sums.0 + labour.0 * times;
        sums.1 = sums.1 + machine.0 * times;
    }
    sums
}

/// What old metal is worth: at the price of the day, or at what buying it would cost where it is taken for the job.
fn credited(credit: &Credit, book: &Book<'_>) -> Exact {
    let by_gram = if credit.supplied {
        book.gram(&credit.alloy).bought
    } else {
        book.worth(&credit.alloy)
    };
    by_gram * credit.grams.into() * credit.paid.into()
}

fn lines(order: &Order, rings: &[(Workpiece, String)], made: &[Line<'_>]) -> Vec<OrderLine> {
    let lines = order.items.iter().zip(rings).zip(made);
    lines
        .map(|((item, (_, size)), one)| OrderLine {
            band: item.band.clone(),
            size: size.clone(),
            count: item.count,
            begun: one.begun,
            finished: one.job.balance.finished(),
            net: one.net,
        })
        .collect()
}

/// Weights of all rings begun; what is rejected when finished comes back as clean offcuts.
fn weights(made: &[Line<'_>]) -> Weights {
    let each = made.iter().map(|one| {
        let scrap = &one.job.terms.money.shop.scrap;
        let of_one = one.job.balance.weights(scrap);
        let begun = of_one.times(one.begun);
        let rejected = of_one.finished * one.rejected();
        let paid = rejected * scrap.offcuts.collected * scrap.offcuts.paid;
        let finished = of_one.finished * Decimal::from(one.count);
        let weights = Weights {
            finished,
            offcuts: begun.offcuts + rejected,
            recovered: begun.recovered + paid,
            lost: begun.issued - finished - begun.recovered - paid,
            ..begun
        };
        (Decimal::ONE, weights)
    });
    Weights::sum(each)
}
