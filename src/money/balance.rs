//! The metal balance of one ring: issued, finished, coming back, lost, charged.
//!
//! Leaves are computed masses brought to decimals once; everything else is their sum, so that the balance adds up
//! exactly: issued = finished + turnings + offcuts + polishings, and issued = finished + recovered + lost.

use std::f64::consts::PI;
use std::sync::Arc;

use rust_decimal::Decimal;

use smallvec::SmallVec;

use crate::model::Alloy;
use crate::model::money::{Sale, Scrap, Stock, Stream};
use crate::quantity::to_f64;

use super::exact::grams;
use super::need::{Need, need};
use super::workpiece::{PartOf, WorkPart, Workpiece};

/// The metal of one ring, part by part.
#[derive(Clone, Debug)]
pub struct Balance {
    /// The band, or shell and sleeve; and the solder, where there is any.
    pub parts: SmallVec<[PartBalance; 2]>,
    /// Rings in the batch that it was counted for.
    pub batch: u32,
}

/// The metal of one part, in g.
#[derive(Clone, Debug)]
pub struct PartBalance {
    /// Which part.
    pub of: PartOf,
    /// Its metal.
    pub alloy: Arc<Alloy>,
    /// What it is made of.
    pub stock: Option<Arc<Stock>>,
    /// What a batch takes of the stock.
    pub need: Option<Need>,
    /// Finished weight.
    pub finished: Decimal,
    /// What the pattern takes off.
    pub cut: Decimal,
    /// What turning, facing and parting take off.
    pub turned: Decimal,
    /// Clean offcuts: what stays in the chuck, and sprues.
    pub offcuts: Decimal,
    /// Filed and polished off.
    pub polishings: Decimal,
}

/// Weights that are never confused, in g.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weights {
    /// Stock to the job.
    pub issued: Decimal,
    /// The finished ring.
    pub finished: Decimal,
    /// Turnings, what the pattern takes off included.
    pub turnings: Decimal,
    /// Clean offcuts.
    pub offcuts: Decimal,
    /// Filings and polishings.
    pub polishings: Decimal,
    /// What the refiner pays for.
    pub recovered: Decimal,
    /// Issued, less finished, less recovered.
    pub lost: Decimal,
}

impl Weights {
    /// The sum of weights, each counted so many times.
    #[must_use]
    pub fn sum(each: impl Iterator<Item = (Decimal, Self)> + Clone) -> Self {
        let sum = |read: fn(&Self) -> Decimal| -> Decimal {
            let each = each.clone();
            each.map(|(count, weights)| count * read(&weights)).sum()
        };
        Self {
            issued: sum(|of| of.issued),
            finished: sum(|of| of.finished),
            turnings: sum(|of| of.turnings),
            offcuts: sum(|of| of.offcuts),
            polishings: sum(|of| of.polishings),
            recovered: sum(|of| of.recovered),
            lost: sum(|of| of.lost),
        }
    }

    /// Of so many rings.
    #[must_use]
    pub fn times(&self, count: u32) -> Self {
        let all = |grams: Decimal| grams * Decimal::from(count);
        Self {
            issued: all(self.issued),
            finished: all(self.finished),
            turnings: all(self.turnings),
            offcuts: all(self.offcuts),
            polishings: all(self.polishings),
            recovered: all(self.recovered),
            lost: all(self.lost),
        }
    }
}

impl PartBalance {
    fn of(part: &WorkPart, work: &Workpiece, batch: u32) -> Self {
        let polished = match part.of {
            // What is filed off a seam is a part of the ring's own uncut weight.
            PartOf::Solder => 0.0,
            _ => part.uncut * to_f64(work.terms.money.shop.scrap.polished),
        };
        let stock = part.of.stock(&work.terms);
        let mut found = Self {
            of: part.of,
            alloy: Arc::clone(&part.alloy),
            stock: stock.cloned(),
            need: None,
            finished: grams(part.uncut - part.cut),
            cut: grams(part.cut),
            turned: Decimal::ZERO,
            offcuts: Decimal::ZERO,
            polishings: grams(polished),
        };
        if let (Some(stock), Some(extent)) = (stock, part.extent) {
            let (outside, bore) = (stock.outside.to_mm(), stock.bore.to_mm());
            let density = part.alloy.density.grams_per_cm3() / 1000.0;
            let by_mm = PI / 4.0 * (outside * outside - bore * bore) * density;
            let need = need(stock, extent.width, batch);
            let turned = by_mm * need.piece - part.uncut - polished;
            found.turned = grams(turned).max(Decimal::ZERO);
            found.offcuts = grams(by_mm * need.offcut / f64::from(batch)) + stock.sprue.round_dp(6);
            found.need = Some(need);
        }
        found
    }

    /// Stock to the job.
    #[must_use]
    pub fn issued(&self) -> Decimal {
        self.finished + self.cut + self.turned + self.offcuts + self.polishings
    }

    /// What the refiner pays for.
    ///
    /// # Formula
    /// sum over the streams of mass * collected * paid
    #[must_use]
    pub fn recovered(&self, scrap: &Scrap) -> Decimal {
        let of = |mass: Decimal, stream: &Stream| mass * stream.collected * stream.paid;
        of(self.cut + self.turned, &scrap.turnings)
            + of(self.offcuts, &scrap.offcuts)
            + of(self.polishings, &scrap.polishings)
    }

    /// What is sent to the refiner.
    #[must_use]
    pub fn collected(&self, scrap: &Scrap) -> Decimal {
        (self.cut + self.turned) * scrap.turnings.collected
            + self.offcuts * scrap.offcuts.collected
            + self.polishings * scrap.polishings.collected
    }

    /// All weights of the part.
    #[must_use]
    pub fn weights(&self, scrap: &Scrap) -> Weights {
        let (issued, recovered) = (self.issued(), self.recovered(scrap));
        Weights {
            issued,
            finished: self.finished,
            turnings: self.cut + self.turned,
            offcuts: self.offcuts,
            polishings: self.polishings,
            recovered,
            lost: issued - self.finished - recovered,
        }
    }
}

impl Balance {
    /// The balance of one ring, made in a batch of so many.
    #[must_use]
    pub fn of(work: &Workpiece, batch: u32) -> Self {
        let parts = work.parts.iter();
        let parts = parts.map(|part| PartBalance::of(part, work, batch));
        Self {
            parts: parts.collect(),
            batch,
        }
    }

    /// All weights of the ring.
    #[must_use]
    pub fn weights(&self, scrap: &Scrap) -> Weights {
        self.fine(scrap, &|_| Decimal::ONE)
    }

    /// All weights of the ring in one element, fine.
    #[must_use]
    pub fn fine_weights(&self, scrap: &Scrap, element: &str) -> Weights {
        self.fine(scrap, &|alloy| fineness(alloy, element))
    }

    /// Its finished weight.
    #[must_use]
    pub fn finished(&self) -> Decimal {
        self.parts.iter().map(|part| part.finished).sum()
    }

    /// What is sent to the refiner.
    #[must_use]
    pub fn collected(&self, scrap: &Scrap) -> Decimal {
        self.parts.iter().map(|part| part.collected(scrap)).sum()
    }

    fn fine(&self, scrap: &Scrap, part_of: &dyn Fn(&Alloy) -> Decimal) -> Weights {
        let parts = self.parts.iter();
        let each: SmallVec<[(Decimal, Weights); 2]> = parts
            .map(|part| (part_of(&part.alloy), part.weights(scrap)))
            .collect();
        Weights::sum(each.iter().copied())
    }

    /// What a by-weight price counts; none where the band is not sold by weight.
    ///
    /// # Formula
    /// finished * (1 + add)
    #[must_use]
    pub fn charged(&self, sale: Option<&Sale>) -> Option<Decimal> {
        match sale {
            Some(Sale::Weight { add, .. }) => Some(self.finished() * (Decimal::ONE + add)),
            _ => None,
        }
    }
}

/// The part of an alloy that is one element, as a part of one.
#[must_use]
pub(super) fn fineness(alloy: &Alloy, element: &str) -> Decimal {
    let found = alloy.parts.iter().find(|(name, _)| name == element);
    found.map_or(Decimal::ZERO, |(_, part)| part / Decimal::ONE_THOUSAND)
}
