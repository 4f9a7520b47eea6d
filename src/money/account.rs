//! The account of one ring: metal, cost, price, and how it stands against another build; rounded once.

use std::sync::{Arc, OnceLock};

use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::model::money::{Sale, Shop, Terms};
use crate::quantity::Currency;

use super::balance::{Balance, Weights};
use super::break_even::{Pays, Stand, pays, same_earning, stand};
use super::cost::{Cost, Job, Lines, cost};
use super::exact::{Exact, apportioned, round};
use super::need::unfit;
use super::price::{charged, charged_worth, sold};
use super::workpiece::Workpiece;

/// Everything about money that is computed of a band.
#[derive(Clone, Debug)]
pub struct Account {
    /// Its metal.
    pub balance: Balance,
    /// The weight that a by-weight price counts.
    pub charged: Option<Decimal>,
    /// The currency; none where no amount is stated.
    pub currency: Option<Currency>,
    /// Its cost, unrounded.
    pub lines: Lines,
    /// All of it.
    pub total: Exact,
    /// Price before tax, rounded.
    pub net: Option<Decimal>,
    /// Price with tax, rounded.
    pub gross: Option<Decimal>,
    /// The making charge in it, rounded.
    pub making: Option<Decimal>,
    /// Price less cost.
    pub earning: Option<Decimal>,
    terms: Arc<Terms>,
    weights: OnceLock<Weights>,
    cost: OnceLock<Option<Cost>>,
}

impl Account {
    /// Its weights.
    #[must_use]
    pub fn weights(&self) -> &Weights {
        let scrap = &self.terms.money.shop.scrap;
        self.weights.get_or_init(|| self.balance.weights(scrap))
    }

    /// What it costs in all, rounded; none where a metal has no price.
    #[must_use]
    pub fn whole_cost(&self) -> Option<Decimal> {
        let places = self.currency?.places();
        self.total.0.map(|total| round(total, places))
    }

    /// Its cost, rounded line by line; none where a metal has no price.
    #[must_use]
    pub fn cost(&self) -> Option<&Cost> {
        let compute = || rounded(&self.lines, self.currency?.places());
        self.cost.get_or_init(compute).as_ref()
    }

    /// Minutes of labour, set-up shared out over the batch.
    #[must_use]
    pub fn labour_minutes(&self) -> Option<Decimal> {
        minutes(self.lines.labour_time)
    }

    /// Minutes of the machine, so too.
    #[must_use]
    pub fn machine_minutes(&self) -> Option<Decimal> {
        minutes(self.lines.machine_time)
    }

    /// What is out for metal until the refiner pays; none where nobody says when that is.
    #[must_use]
    pub fn tied_up(&self) -> Option<Decimal> {
        tied_up(&self.terms.money.shop, self.cost())
    }
}

fn minutes(seconds: Exact) -> Option<Decimal> {
    let minutes = (seconds / Decimal::from(60).into()).0;
    minutes.map(|minutes| minutes.normalize())
}

/// How a band stands against another build; nothing of it where a stock of the other cannot make its part.
#[derive(Clone, Debug, Default)]
pub struct Against {
    /// Its cost, rounded.
    pub cost: Option<Decimal>,
    /// Element, and how both stand by its price, money by gram.
    pub metals: SmallVec<[(Arc<str>, Stand); 4]>,
    /// Up to which share of rejects this build costs no more; none where a cost is not known.
    pub pays: Option<Pays>,
    /// The making charge by gram with which this build earns what the other does.
    pub making: Option<Decimal>,
    /// This one is counted from its stock, and the other from its uncut weight.
    pub no_stock: bool,
}

/// The account of one ring, made in the batch of its workshop.
///
/// # Range
/// Every stated stock can make its part ([`super::unfit`]).
#[must_use]
pub fn account(work: &Workpiece) -> Account {
    let (terms, shop) = (&work.terms, &work.terms.money.shop);
    let own = Job::of(work, shop.batch);
    let currency = terms.money.currency;
    let places = currency.map_or(2, |currency| currency.places());
    let lines = own.lines();
    let total = lines.total();
    let price = sold(&own, total);
    let money = |value: Exact| {
        value
            .0
            .filter(|_| currency.is_some())
            .map(|value| round(value, places))
    };
    let net = price.and_then(|sold| money(sold.net));
    Account {
        charged: own.balance.charged(terms.sale.as_ref()),
        currency,
        gross: net.and_then(|net| money(Exact::from(net) * (Exact::ONE + shop.tax.into()))),
        making: price.and_then(|sold| sold.making).and_then(money),
        earning: net.zip(money(total)).map(|(net, cost)| net - cost),
        net,
        lines,
        total,
        terms: Arc::clone(terms),
        weights: OnceLock::new(),
        cost: OnceLock::new(),
        balance: own.balance,
    }
}

/// What one per cent more on all prices of metal adds to the cost of one ring; none where a metal has no price.
#[must_use]
pub fn one_per_cent(work: &Workpiece) -> Option<Decimal> {
    let currency = work.terms.money.currency?;
    let own = Job::of(work, work.terms.money.shop.batch);
    let dearer = Decimal::new(101, 2);
    let more = cost(&own, &own.book().times(dearer)).total() - own.lines().total();
    more.0.map(|more| round(more, currency.places()))
}

/// What the refiner is to pay, where it is said when: what comes back, less the charge; nothing where that is more.
#[must_use]
pub fn tied_up(shop: &Shop, cost: Option<&Cost>) -> Option<Decimal> {
    shop.scrap.wait?;
    cost.map(|cost| (cost.returned - cost.refining).max(Decimal::ZERO))
}

/// Lines rounded so that they add up to the rounded total.
#[must_use]
pub fn rounded(lines: &Lines, places: u32) -> Option<Cost> {
    let parts = [
        lines.metal(),
        lines.labour,
        lines.machine,
        lines.overhead,
        lines.rejects,
        lines.fees,
    ];
    let total = round(lines.total().0?, places);
    if parts.iter().any(|part| part.0.is_none()) {
        return None;
    }
    let parts = parts.map(|part| part.0.unwrap_or_default());
    let [metal, labour, machine, overhead, rejects, fees] = apportioned(parts, total, places);
    let of_metal = [lines.bought.0?, -lines.returned.0?, lines.refining.0?];
    let [bought, returned, refining] = apportioned(of_metal, metal, places);
    Some(Cost {
        total,
        metal,
        bought,
        returned: -returned,
        refining,
        labour,
        machine,
        overhead,
        rejects,
        fees,
    })
}

/// How one build stands against another; none where no amount is stated.
///
/// # Range
/// As [`account`].
#[must_use]
pub fn against(work: &Workpiece, other: &Workpiece) -> Option<Against> {
    let terms = &work.terms;
    let currency = terms.money.currency?;
    if unfit(other).next().is_some() {
        return Some(Against::default());
    }
    let own = Job::of(work, terms.money.shop.batch);
    let lines = own.lines();
    let side = Job::of(other, other.terms.money.shop.batch);
    let other_lines = side.lines();
    let elements = terms.money.prices.metals.iter();
    let metals = elements.filter_map(|price| {
        let found = stand(&price.metal, &own, &side)?;
        Some((Arc::clone(&price.metal), found))
    });
    let making = match (&terms.sale, sold(&side, other_lines.total())) {
        (Some(Sale::Weight { add, .. }), Some(sold)) => {
            let earned = sold.net - other_lines.total();
            let worth = charged_worth(*add, &own.balance, &own.book());
            same_earning(earned, lines.total(), worth, charged(*add, &own.balance))
        }
        _ => None,
    };
    let cost = other_lines.total().0;
    Some(Against {
        cost: cost.map(|total| round(total, currency.places())),
        metals: metals.collect(),
        pays: pays(&lines, &other_lines),
        no_stock: !own.balance.parts.iter().any(|part| part.stock.is_none())
            && side.balance.parts.iter().any(|part| part.stock.is_none()),
        making,
    })
}
