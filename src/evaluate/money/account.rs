//! The account of one ring: metal, cost, price, and how it stands against another build; rounded once.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::evaluate::Evaluation;
use crate::evaluate::evaluation::evaluate;
use crate::evaluate::spread::at_end;
use crate::finding::Finding;
use crate::model::Band;
use crate::model::money::{Sale, Terms};
use crate::quantity::Currency;

use super::balance::{Balance, Weights};
use super::break_even::{break_even_metal, break_even_rejects, same_earning};
use super::cost::{Book, Cost, Job, Lines, cost};
use super::exact::{Exact, apportioned, round};
use super::price::{Price, charged, charged_worth, price};

/// Everything about money that is computed of a band.
#[derive(Clone, Debug)]
pub struct Account {
    /// Its metal.
    pub balance: Balance,
    /// Its weights.
    pub weights: Weights,
    /// The weight that a by-weight price counts.
    pub charged: Option<Decimal>,
    /// The currency; none where no amount is stated.
    pub currency: Option<Currency>,
    /// Minutes of labour, set-up shared out over the batch.
    pub labour_minutes: Option<Decimal>,
    /// Minutes of the machine.
    pub machine_minutes: Option<Decimal>,
    /// Its cost, rounded; none where a metal has no price.
    pub cost: Option<Cost>,
    /// Its cost, unrounded.
    pub lines: Lines,
    /// Price before tax, rounded.
    pub net: Option<Decimal>,
    /// Price with tax, rounded.
    pub gross: Option<Decimal>,
    /// The making charge in it, rounded.
    pub making: Option<Decimal>,
    /// Price less cost.
    pub earning: Option<Decimal>,
    /// What one per cent more on all prices of metal adds to the cost.
    pub one_per_cent: Option<Decimal>,
    /// The other build.
    pub against: Option<Against>,
}

/// How a band stands against another build.
#[derive(Clone, Debug)]
pub struct Against {
    /// The other band's name; none for the solid of the same look.
    pub name: Option<String>,
    /// Its cost, rounded.
    pub cost: Option<Decimal>,
    /// Element and the price at which both cost the same, money by gram.
    pub metals: Vec<(String, Decimal)>,
    /// The share of rejects at which this build costs what the other does.
    pub rejects: Option<Decimal>,
    /// The making charge by gram with which this build earns what the other does.
    pub making: Option<Decimal>,
}

/// The account of a band; none where its recipe says nothing of prices, workshop or stock.
#[must_use]
pub fn account(evaluation: &Evaluation) -> Option<Account> {
    let terms = evaluation.band.terms.as_ref()?;
    if !can_be_made(evaluation) {
        return None;
    }
    let own = Side::of(evaluation, terms);
    let shop = &terms.money.shop;
    let currency = terms.money.currency;
    let places = currency.map_or(2, |currency| currency.places());
    let lines = own.lines();
    let total = lines.total();
    let batch = Exact::from(Decimal::from(shop.batch.max(1)));
    let minutes = |(set_up, run): (Exact, Exact)| {
        ((run + set_up / batch) / Decimal::from(60).into())
            .0
            .map(|minutes| minutes.normalize())
    };
    let (labour, machine) = own.job().seconds();
    let cost = rounded(&lines, places).filter(|_| currency.is_some());
    let sold = terms
        .sale
        .as_ref()
        .map(|sale| price(sale, total, &own.balance, &own.book()));
    let money = |value: Exact| {
        value
            .0
            .filter(|_| currency.is_some())
            .map(|value| round(value, places))
    };
    let net = sold.and_then(|sold| money(sold.net));
    let taxed = |sold: Price| money(sold.net * (Exact::ONE + shop.tax.into()));
    let dearer = Decimal::new(101, 2);
    let more = super::cost::cost(&own.job(), &own.book().times(dearer), shop.batch).total() - total;
    Some(Account {
        weights: own.balance.weights(&shop.scrap),
        charged: own.balance.charged(terms.sale.as_ref()),
        currency,
        labour_minutes: minutes(labour),
        machine_minutes: minutes(machine),
        gross: sold.and_then(taxed),
        making: sold.and_then(|sold| sold.making).and_then(money),
        earning: net.zip(cost.as_ref()).map(|(net, cost)| net - cost.total),
        net,
        cost,
        lines,
        one_per_cent: money(more),
        against: against(evaluation, terms, &own),
        balance: own.balance,
    })
}

/// Whether every stated stock can make its part.
pub(super) fn can_be_made(evaluation: &Evaluation) -> bool {
    let unfit = |finding: &Finding| finding.code() == "evaluate::stock";
    !evaluation.limits.iter().any(unfit)
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
    let parts: Vec<Decimal> = parts.iter().map(|part| part.0).collect::<Option<_>>()?;
    let total = round(lines.total().0?, places);
    let mut shares = apportioned(&parts, total, places).into_iter();
    let mut next = || shares.next().unwrap_or_default();
    let (metal, labour, machine) = (next(), next(), next());
    let (overhead, rejects, fees) = (next(), next(), next());
    let of_metal = [lines.bought.0?, -lines.returned.0?, lines.refining.0?];
    let mut shares = apportioned(&of_metal, metal, places).into_iter();
    let mut next = || shares.next().unwrap_or_default();
    let (bought, returned, refining) = (next(), next(), next());
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

/// One of two builds that are compared.
struct Side<'a> {
    balance: Balance,
    terms: &'a Terms,
    hollow: bool,
}

impl<'a> Side<'a> {
    fn of(evaluation: &'a Evaluation, terms: &'a Terms) -> Self {
        Self {
            balance: Balance::of(evaluation, terms, terms.money.shop.batch),
            terms,
            hollow: evaluation.band.hollow.is_some(),
        }
    }

    fn job(&self) -> Job<'_> {
        Job {
            balance: &self.balance,
            terms: self.terms,
            hollow: self.hollow,
        }
    }

    fn book(&self) -> Book<'_> {
        Book::new(&self.terms.money.prices)
    }

    fn lines(&self) -> Lines {
        cost(&self.job(), &self.book(), self.terms.money.shop.batch)
    }
}

/// The other build: the one that the band names, or the solid of the same look.
fn against(evaluation: &Evaluation, terms: &Terms, own: &Side<'_>) -> Option<Against> {
    let band = &evaluation.band;
    let other = match &terms.against {
        Some(other) => Arc::clone(other),
        None if band.hollow.is_some() => Arc::new(Band {
            hollow: None,
            ..(**band).clone()
        }),
        None => return None,
    };
    let currency = terms.money.currency?;
    let mut evaluated = evaluate(&other).ok()?;
    // What both share is off in both by the same.
    if let Some((variable, sign)) = evaluation.moved {
        evaluated = at_end(&evaluated, variable, sign);
    }
    let other_terms = evaluated.band.terms.as_ref()?;
    let side = Side::of(&evaluated, other_terms);
    let (lines, other_lines) = (own.lines(), side.lines());
    let batch = terms.money.shop.batch;
    let elements = terms
        .money
        .prices
        .metals
        .iter()
        .map(|price| price.metal.as_str());
    let metals = elements.filter_map(|element| {
        let (mine, its) = ((&own.job(), &own.book()), (&side.job(), &side.book()));
        let found = break_even_metal(element, mine, its, batch)?;
        Some((element.to_owned(), found))
    });
    let making = match (&terms.sale, &other_terms.sale) {
        (Some(Sale::Weight { add, .. }), Some(other_sale)) => {
            let sold = price(other_sale, other_lines.total(), &side.balance, &side.book());
            let earned = sold.net - other_lines.total();
            let worth = charged_worth(*add, &own.balance, &own.book());
            same_earning(earned, lines.total(), worth, charged(*add, &own.balance))
        }
        _ => None,
    };
    Some(Against {
        name: terms.against.as_ref().map(|other| other.name.clone()),
        cost: other_lines
            .total()
            .0
            .map(|total| round(total, currency.places())),
        metals: metals.collect(),
        rejects: break_even_rejects(&lines, &other_lines),
        making,
    })
}
