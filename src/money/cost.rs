//! What one ring costs, line by line, unrounded.
//!
//! Every line is linear in the price of each metal, so what breaks even is read off two evaluations, exactly.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::Alloy;
use crate::model::money::{Scrap, Shop, Terms};

use super::balance::{Balance, PartBalance};
use super::book::{Book, Gram};
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
    /// Seconds that the machine cuts its pattern.
    pub cutting: Decimal,
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
    /// Seconds of labour, set-up shared out over the batch.
    pub labour_time: Exact,
    /// Seconds of the machine, so too.
    pub machine_time: Exact,
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
            cutting: work.cutting.seconds(),
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
        // The pattern is cut while the machine runs; its set-up is an operation.
        let (mut labour, mut machine) = (zero, (Exact::ZERO, Exact::from(self.cutting)));
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
/// - refining = max(charge * sent, minimum) / batch, of what a batch sends in, or of a stated consignment by its weight
/// - labour, machine = rate * (run + set-up / batch), the time of the pattern in the machine's run
/// - overhead = share * (labour + machine), or of metal bought less returned too
/// - rejects = share / (1 - share) * what one wastes: metal bought, less what comes back of it and of the rejected
///   ring as clean offcuts, and the work on it with its overhead
/// - fees = sum of max(article * batch + consignment, minimum) / batch
#[must_use]
pub fn cost(job: &Job<'_>, book: &Book<'_>) -> Lines {
    let shop = &job.terms.money.shop;
    let count = Exact::from(Decimal::from(job.balance.batch.max(1)));
    let Metal {
        bought,
        returned,
        rejected,
    } = metal(job, book);
    let sent = Exact::from(job.balance.collected(&shop.scrap)) * count;
    let (labour, machine) = job.seconds();
    let shared = |(set_up, run): (Exact, Exact)| run + set_up / count;
    let run = of_time(shop.labour, labour.1) + of_time(shop.machine, machine.1);
    let (labour_time, machine_time) = (shared(labour), shared(machine));
    let labour = of_time(shop.labour, labour_time);
    let machine = of_time(shop.machine, machine_time);
    let wasted = bought - returned - rejected;
    let waste = wasted + run + overhead(shop, run, wasted);
    let share = Exact::from(job.rejects());
    Lines {
        bought,
        returned,
        refining: refining(&shop.scrap, sent) / count,
        labour,
        machine,
        // The refiner's charge falls on a consignment, which need not be this batch.
        overhead: overhead(shop, labour + machine, bought - returned),
        rejects: share / (Exact::ONE - share) * waste,
        fees: fees(shop, count).map(|(_, fee)| fee).sum::<Exact>() / count,
        waste,
        labour_time,
        machine_time,
    }
}

/// Money for the metal of one ring begun.
pub(super) struct Metal {
    /// As bought, premium and fabrication included.
    pub bought: Exact,
    /// What the refiner pays for what is taken off.
    pub returned: Exact,
    /// What the refiner pays for the ring itself as clean offcuts, where it is rejected when finished.
    pub rejected: Exact,
}

/// Money for the metal of one ring begun.
pub(super) fn metal(job: &Job<'_>, book: &Book<'_>) -> Metal {
    let (parts, scrap) = (&job.balance.parts, &job.terms.money.shop.scrap);
    let mut sum = Metal {
        bought: Exact::ZERO,
        returned: Exact::ZERO,
        rejected: Exact::ZERO,
    };
    // Parts in one alloy have its price looked up once.
    let mut last: Option<(&Arc<Alloy>, Gram)> = None;
    for part in parts {
        let gram = match last {
            Some((alloy, gram)) if Arc::ptr_eq(alloy, &part.alloy) => gram,
            _ => book.gram(&part.alloy),
        };
        last = Some((&part.alloy, gram));
        let melted = part.finished * scrap.offcuts.collected * scrap.offcuts.paid;
        let bought = gram.bought + fabrication(part, job.terms).into();
        sum.bought = sum.bought + Exact::from(part.issued()) * bought;
        sum.returned = sum.returned + Exact::from(part.recovered(scrap)) * gram.worth;
        sum.rejected = sum.rejected + Exact::from(melted) * gram.worth;
    }
    sum
}

/// What time costs at a rate; no time costs nothing at any.
pub(super) fn of_time(rate: Option<Decimal>, time: Exact) -> Exact {
    if time == Exact::ZERO {
        time
    } else {
        Exact(rate) * time
    }
}

/// Overhead on work, and on metal where the workshop counts it so.
pub(super) fn overhead(shop: &Shop, work: Exact, metal: Exact) -> Exact {
    let counted = if shop.overhead_on_cost {
        work + metal
    } else {
        work
    };
    Exact::from(shop.overhead) * counted
}

/// What the refiner charges for what is sent in, in g.
pub(super) fn refining(scrap: &Scrap, sent: Exact) -> Exact {
    if sent == Exact::ZERO {
        return sent;
    }
    let (charge, minimum) = (Exact::from(scrap.charge), Exact::from(scrap.minimum));
    match scrap.consignment {
        // What is sent goes with other scrap: it bears the charge by its weight.
        Some(consignment) => {
            (charge * consignment.into()).at_least(minimum) * sent / consignment.into()
        }
        None => (charge * sent).at_least(minimum),
    }
}

/// What a gram of a part's metal is bought for, in the form that it is issued in.
pub(super) fn gram(part: &PartBalance, book: &Book<'_>, terms: &Terms) -> Exact {
    book.gram(&part.alloy).bought + fabrication(part, terms).into()
}

/// What is paid for a gram in the form that a part is issued in.
fn fabrication(part: &PartBalance, terms: &Terms) -> Decimal {
    let form = part.stock.as_ref().and_then(|stock| stock.fabrication);
    form.unwrap_or(terms.money.prices.fabrication)
}

/// Fees for so many articles in one consignment, by name.
pub(super) fn fees(shop: &Shop, count: Exact) -> impl Iterator<Item = (&str, Exact)> {
    shop.fees.iter().map(move |fee| {
        let all = Exact::from(fee.article) * count + fee.consignment.into();
        (fee.name.as_str(), all.at_least(fee.minimum.into()))
    })
}
