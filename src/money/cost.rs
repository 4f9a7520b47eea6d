//! What one ring costs, line by line, unrounded.
//!
//! Every line is linear in the price of each metal, so what breaks even is read off two evaluations, exactly.

use rust_decimal::Decimal;

use crate::model::money::{Shop, Terms};

use super::balance::{Balance, PartBalance};
use super::book::Book;
use super::exact::Exact;
use super::workpiece::Workpiece;

/// The work on one ring.
#[derive(Clone, Debug)]
pub struct Job<'a> {
    /// Its metal.
    pub balance: Balance,
    /// Prices and the workshop.
    pub terms: &'a Terms,
    /// Whether it is hollow.
    pub hollow: bool,
}

/// What one ring costs, unrounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lines {
    /// Metal as bought, premium and fabrication included.
    pub bought: Exact,
    /// What the refiner pays for what comes back.
    pub returned: Exact,
    /// The refiner's charge.
    pub refining: Exact,
    /// Labour.
    pub labour: Exact,
    /// Machine.
    pub machine: Exact,
    /// Overhead.
    pub overhead: Exact,
    /// What rejects waste.
    pub rejects: Exact,
    /// Fees.
    pub fees: Exact,
    /// What one reject wastes.
    pub waste: Exact,
}

impl Lines {
    /// Metal: bought, less returned, with the refiner's charge.
    #[must_use]
    pub fn metal(&self) -> Exact {
        self.bought - self.returned + self.refining
    }

    /// All of it.
    #[must_use]
    pub fn total(&self) -> Exact {
        self.before_rejects() + self.rejects
    }

    /// All of it but what rejects waste.
    #[must_use]
    pub fn before_rejects(&self) -> Exact {
        self.metal() + self.labour + self.machine + self.overhead + self.fees
    }
}

/// Rounded lines that add up to the rounded total; each group's lines add up to the group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cost {
    /// The total.
    pub total: Decimal,
    /// Metal: bought, less returned, with the refiner's charge.
    pub metal: Decimal,
    /// Metal as bought.
    pub bought: Decimal,
    /// What the refiner pays.
    pub returned: Decimal,
    /// The refiner's charge.
    pub refining: Decimal,
    /// Labour.
    pub labour: Decimal,
    /// Machine.
    pub machine: Decimal,
    /// Overhead.
    pub overhead: Decimal,
    /// Rejects.
    pub rejects: Decimal,
    /// Fees.
    pub fees: Decimal,
}

impl<'a> Job<'a> {
    /// The work on one ring in a batch of so many.
    #[must_use]
    pub fn of(work: &'a Workpiece, batch: u32) -> Self {
        Self {
            balance: Balance::of(work, batch),
            terms: &work.terms,
            hollow: work.is_hollow(),
        }
    }

    /// The prices as stated.
    #[must_use]
    pub fn book(&self) -> Book<'a> {
        Book::new(&self.terms.money.prices)
    }

    /// What one ring costs at the prices as stated.
    #[must_use]
    pub fn lines(&self) -> Lines {
        cost(self, &self.book())
    }

    /// Seconds of labour and of the machine: once a batch, and for each ring.
    #[must_use]
    pub fn seconds(&self) -> ((Exact, Exact), (Exact, Exact)) {
        let operations = self.terms.money.shop.operations.iter();
        let mine = operations.filter(|one| if self.hollow { one.hollow } else { one.solid });
        let zero = (Exact::ZERO, Exact::ZERO);
        let (mut labour, mut machine) = (zero, zero);
        for one in mine {
            let add = |sum: (Exact, Exact)| (sum.0 + one.set_up.into(), sum.1 + one.run.into());
            if one.labour {
                labour = add(labour);
            }
            if one.machine {
                machine = add(machine);
            }
        }
        (labour, machine)
    }

    /// Share of the bands begun that is rejected.
    #[must_use]
    pub fn rejects(&self) -> Decimal {
        let shop = &self.terms.money.shop;
        if self.hollow {
            shop.rejects_hollow
        } else {
            shop.rejects_solid
        }
    }
}

/// What one ring of a batch costs.
///
/// # Formula
/// - bought = sum over parts of issued * (bought price + fabrication)
/// - returned = sum over parts of recovered * worth
/// - refining = max(charge * collected * batch, minimum) / batch
/// - labour, machine = rate * (run + set-up / batch)
/// - overhead = share * (labour + machine), or of metal bought less returned too
/// - rejects = share / (1 - share) * what one wastes: metal bought, less what comes back of it and of the rejected
///   ring as clean offcuts, and the work on it with its overhead
/// - fees = sum of max(article * batch + consignment, minimum) / batch
#[must_use]
pub fn cost(job: &Job<'_>, book: &Book<'_>) -> Lines {
    let shop = &job.terms.money.shop;
    let count = Exact::from(Decimal::from(job.balance.batch.max(1)));
    let parts = &job.balance.parts;
    let bought = parts.iter().map(|part| bought(part, book, job.terms)).sum();
    let returned = parts
        .iter()
        .map(|part| Exact::from(part.recovered(&shop.scrap)) * book.worth(&part.alloy))
        .sum();
    let collected = job.balance.collected(&shop.scrap);
    let refining = if collected.is_zero() {
        Exact::ZERO
    } else {
        let sent = Exact::from(shop.scrap.charge) * collected.into() * count;
        sent.at_least(shop.scrap.minimum.into()) / count
    };
    let (labour, machine) = job.seconds();
    let of_time = |rate: Option<Decimal>, time: Exact| {
        // No time costs nothing at any rate.
        if time == Exact::ZERO {
            time
        } else {
            Exact(rate) * time
        }
    };
    let paid =
        |rate: Option<Decimal>, (set_up, run): (Exact, Exact)| of_time(rate, run + set_up / count);
    let run = of_time(shop.labour, labour.1) + of_time(shop.machine, machine.1);
    let (labour, machine) = (paid(shop.labour, labour), paid(shop.machine, machine));
    // The refiner's charge falls on a consignment, which need not be this batch.
    let metal = bought - returned;
    let overhead = |work: Exact, metal: Exact| {
        let counted = if shop.overhead_on_cost {
            work + metal
        } else {
            work
        };
        Exact::from(shop.overhead) * counted
    };
    let ring: Exact = parts
        .iter()
        .map(|part| {
            let stream = &shop.scrap.offcuts;
            Exact::from(part.finished * stream.collected * stream.paid) * book.worth(&part.alloy)
        })
        .sum();
    let wasted = bought - returned - ring;
    let waste = wasted + run + overhead(run, wasted);
    let share = Exact::from(job.rejects());
    Lines {
        bought,
        returned,
        refining,
        labour,
        machine,
        overhead: overhead(labour + machine, metal),
        rejects: share / (Exact::ONE - share) * waste,
        fees: fees(shop, count),
        waste,
    }
}

fn bought(part: &PartBalance, book: &Book<'_>, terms: &Terms) -> Exact {
    let form = part.stock.as_ref().and_then(|stock| stock.fabrication);
    let fabrication = form.unwrap_or(terms.money.prices.fabrication);
    Exact::from(part.issued()) * (book.bought(&part.alloy) + fabrication.into())
}

fn fees(shop: &Shop, count: Exact) -> Exact {
    let fees = shop.fees.iter();
    fees.map(|fee| {
        let all = Exact::from(fee.article) * count + fee.consignment.into();
        all.at_least(fee.minimum.into()) / count
    })
    .sum()
}
