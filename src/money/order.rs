//! Totals of an order: metal, minutes, cost, price, stock to buy, and what is left to pay.
//!
//! All rings of one band are one batch, in whatever sizes; the whole order is one consignment to the refiner and
//! to whoever takes a fee.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::money::{Credit, Order, Price};
use crate::quantity::Currency;

use super::account::rounded;
use super::balance::Weights;
use super::book::Book;
use super::cost::{Cost, Job, Lines, cost};
use super::exact::{Exact, round};
use super::price::sold;
use super::shortfall::tidy;
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
    /// Finished weight of one, in g.
    pub finished: Decimal,
    /// Price of one before tax, rounded.
    pub net: Option<Decimal>,
}

/// What an order takes of one stock.
#[derive(Clone, Debug, PartialEq)]
pub struct StockNeed {
    /// The stock.
    pub stock: String,
    /// Length in all, in mm.
    pub length: f64,
    /// Lengths or blanks to buy; none where the stock states no length.
    pub lengths: Option<u32>,
}

/// An order with its totals.
#[derive(Clone, Debug)]
pub struct Ordered {
    /// The order.
    pub order: Order,
    /// Its totals; none where a line cannot be made, or nothing is said of prices, workshop or stock.
    pub totals: Option<OrderTotals>,
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
    /// Weights of all rings.
    pub weights: Weights,
    /// Stock to buy.
    pub stocks: Vec<StockNeed>,
    /// Minutes of labour.
    pub labour_minutes: Option<Decimal>,
    /// Minutes of the machine.
    pub machine_minutes: Option<Decimal>,
    /// Cost, rounded; none where a metal has no price.
    pub cost: Option<Cost>,
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
}

/// One line with what is computed of it.
struct Line<'a> {
    job: Job<'a>,
    count: u32,
    lines: Lines,
}

impl Line<'_> {
    /// Something of all its rings.
    fn of_all(&self, each: Exact) -> Exact {
        each * Decimal::from(self.count).into()
    }
}

/// Totals of an order, of the ring of each line and its size as shown, in the order written.
///
/// `None` where it has no line.
#[must_use]
pub fn order_totals(order: &Order, rings: &[(Workpiece, String)]) -> Option<OrderTotals> {
    // All rings of one band are one batch.
    let batch = |band: &str| {
        let mine = order.items.iter().filter(|item| item.band == band);
        mine.fold(0_u32, |sum, item| sum.saturating_add(item.count))
    };
    let begun = order.items.iter().zip(rings).map(|(item, (work, _))| {
        let job = Job::of(work, batch(&item.band));
        let lines = job.lines();
        let count = item.count;
        Line { job, count, lines }
    });
    let mut made: Vec<Line<'_>> = begun.collect();
    let money = &made.first()?.job.terms.money;
    let (currency, shop) = (money.currency, &money.shop);
    let places = currency.map_or(2, |currency| currency.places());
    let count = made
        .iter()
        .fold(0_u32, |sum, one| sum.saturating_add(one.count));
    let all = Exact::from(Decimal::from(count));
    let fees: Vec<(String, Exact)> = shop
        .fees
        .iter()
        .map(|fee| {
            let all = Exact::from(fee.article) * all + fee.consignment.into();
            (fee.name.clone(), all.at_least(fee.minimum.into()))
        })
        .collect();
    let all_fees: Exact = fees.iter().map(|(_, fee)| *fee).sum();
    let collected = |one: &Line<'_>| Exact::from(one.job.balance.collected(&shop.scrap));
    let sent: Exact = made.iter().map(|one| one.of_all(collected(one))).sum();
    let refining = if sent == Exact::ZERO {
        Exact::ZERO
    } else {
        (sent * shop.scrap.charge.into()).at_least(shop.scrap.minimum.into())
    };
    // Of the whole order's fees and refining, what falls to one ring of each line.
    for one in &mut made {
        one.lines.fees = all_fees / all;
        if sent != Exact::ZERO {
            one.lines.refining = refining * collected(one) / sent;
        }
    }
    let sum = |read: &dyn Fn(&Lines) -> Exact| -> Exact {
        made.iter().map(|one| one.of_all(read(&one.lines))).sum()
    };
    let total = Lines {
        bought: sum(&|of| of.bought),
        returned: sum(&|of| of.returned),
        refining,
        labour: sum(&|of| of.labour),
        machine: sum(&|of| of.machine),
        overhead: sum(&|of| of.overhead),
        rejects: sum(&|of| of.rejects),
        fees: all_fees,
        waste: sum(&|of| of.waste),
    };
    let dearer = |one: &Line<'_>| {
        let (job, book) = (&one.job, one.job.book());
        let then = cost(job, &book.times(Decimal::new(101, 2)));
        one.of_all(then.total() - cost(job, &book).total())
    };
    let dearer: Exact = made.iter().map(dearer).sum();
    let known = |value: Exact| {
        value
            .0
            .filter(|_| currency.is_some())
            .map(|value| round(value, places))
    };
    let lines = lines(order, rings, &made, places);
    let net = lines.iter().try_fold(Decimal::ZERO, |sum, line| {
        sum.checked_add(line.net?.checked_mul(Decimal::from(line.count))?)
    });
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
            let worth: Vec<Decimal> = priced.map(|price| worth_of(price, &made)).collect();
            let all = worth
                .iter()
                .try_fold(Decimal::ZERO, |sum, one| sum.checked_add(*one));
            let all = all.unwrap_or(Decimal::MAX);
            let priced = money.prices.metals.iter().zip(worth);
            let matters = priced.filter(|(_, worth)| *worth > all * MATTERS);
            matters.filter_map(|(price, _)| one(price)).collect()
        });
    let (labour, machine) = minutes(&made);
    Some(OrderTotals {
        lines,
        currency,
        count,
        weights: weights(&made),
        stocks: stocks(&made),
        labour_minutes: labour,
        machine_minutes: machine,
        cost: rounded(&total, places).filter(|_| currency.is_some()),
        fees: fees
            .into_iter()
            .filter_map(|(name, fee)| Some((name, fee.0?)))
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

/// What the rings of an order hold of a metal, at its price.
fn worth_of(price: &Price, made: &[Line<'_>]) -> Decimal {
    let grams = made.iter().map(|one| {
        let parts = one.job.balance.parts.iter();
        let held = parts.map(|part| {
            let mut of = part.alloy.parts.iter();
            let of = of.find(|(metal, _)| **metal == *price.metal);
            let held = of.map_or(Decimal::ZERO, |(_, held)| *held);
            part.finished * held / Decimal::ONE_THOUSAND
        });
        Exact::from(held.sum::<Decimal>()) * Decimal::from(one.count).into()
    });
    let grams: Exact = grams.sum();
    (grams * price.by_gram.into()).0.unwrap_or(Decimal::MAX)
}

/// What old metal is worth: at the price of the day, or at what buying it would cost where it is taken for the job.
fn credited(credit: &Credit, book: &Book<'_>) -> Exact {
    let by_gram = if credit.supplied {
        book.bought(&credit.alloy)
    } else {
        book.worth(&credit.alloy)
    };
    by_gram * credit.grams.into() * credit.paid.into()
}

fn lines(
    order: &Order,
    rings: &[(Workpiece, String)],
    made: &[Line<'_>],
    places: u32,
) -> Vec<OrderLine> {
    let lines = order.items.iter().zip(rings).zip(made);
    lines
        .map(|((item, (_, size)), one)| OrderLine {
            band: item.band.clone(),
            size: size.clone(),
            count: item.count,
            finished: one.job.balance.finished(),
            net: sold(&one.job, one.lines.total())
                .and_then(|sold| sold.net.0)
                .map(|net| round(net, places)),
        })
        .collect()
}

fn weights(made: &[Line<'_>]) -> Weights {
    let each = made.iter().map(|one| {
        let scrap = &one.job.terms.money.shop.scrap;
        (Decimal::from(one.count), one.job.balance.weights(scrap))
    });
    Weights::sum(each)
}

/// Minutes of labour and of the machine: set-up once a band, the run for each ring.
fn minutes(made: &[Line<'_>]) -> (Option<Decimal>, Option<Decimal>) {
    let mut sums = (Exact::ZERO, Exact::ZERO);
    for one in made {
        let share =
            Exact::from(Decimal::from(one.count)) / Decimal::from(one.job.balance.batch).into();
        let count = Exact::from(Decimal::from(one.count));
        let (labour, machine) = one.job.seconds();
        sums.0 = sums.0 + labour.0 * share + labour.1 * count;
        sums.1 = sums.1 + machine.0 * share + machine.1 * count;
    }
    let minutes = |seconds: Exact| {
        let minutes = (seconds / Decimal::from(60).into()).0?;
        Some(minutes.round_dp(9).normalize())
    };
    (minutes(sums.0), minutes(sums.1))
}

/// Stock to buy: of each length as many pieces as go into it, one line after the other.
fn stocks(made: &[Line<'_>]) -> Vec<StockNeed> {
    /// A length that is begun.
    struct Begun {
        need: StockNeed,
        left: f64,
    }
    let mut begun: Vec<Begun> = Vec::new();
    for one in made {
        for part in &one.job.balance.parts {
            let (Some(stock), Some(need)) = (&part.stock, &part.need) else {
                continue;
            };
            let place = begun
                .iter()
                .position(|known| known.need.stock == stock.name);
            let place = place.unwrap_or_else(|| {
                let rest = if stock.length.is_none() {
                    stock.rest.to_mm()
                } else {
                    0.0
                };
                begun.push(Begun {
                    need: StockNeed {
                        stock: stock.name.clone(),
                        length: rest,
                        lengths: stock.length.map(|_| 0),
                    },
                    left: 0.0,
                });
                begun.len() - 1
            });
            let Some(known) = begun.get_mut(place) else {
                continue;
            };
            let Some(length) = stock.length.map(|length| length.to_mm()) else {
                known.need.length += need.piece * f64::from(one.count);
                continue;
            };
            let usable = length - stock.rest.to_mm();
            let into = |left: f64| (left / need.piece + 1e-9).floor().max(0.0);
            let mut pieces = f64::from(one.count);
            let now = into(known.left).min(pieces);
            pieces -= now;
            known.left -= now * need.piece;
            if pieces > 0.0 {
                let each = into(usable).max(1.0);
                let more = (pieces / each).ceil();
                known.left = usable - (pieces - (more - 1.0) * each) * need.piece;
                known.need.length += more * length;
                known.need.lengths = known
                    .need
                    .lengths
                    .map(|lengths| lengths.saturating_add(more as u32));
            }
        }
    }
    let needs = begun.into_iter().map(|known| StockNeed {
        length: tidy(known.need.length),
        ..known.need
    });
    needs.collect()
}
