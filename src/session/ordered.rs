//! Orders of a recipe: each line evaluated in its size, then added up.

use crate::evaluate::{Ordered, Shortfall};
use crate::finding::{Finding, Weight};
use crate::model::money::{Order, OrderItem};
use crate::model::{Moved, Recipe};
use crate::money::{
    self, OrderTotals, order_may_lose, order_under_cost, round, slips, stale, uncredited,
};
use crate::quantity::from_f64;
use crate::schema::OrderResult;
use crate::words;

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use super::order_line::Line;
use super::{Outcome, Prepared, Request, Session};

impl Session {
    /// Adds up every order of an outcome.
    pub(super) fn order(&mut self, prepared: &Prepared, request: &Request, outcome: &mut Outcome) {
        if outcome.refused {
            return;
        }
        let orders = std::mem::take(&mut outcome.recipe.orders);
        // A band in a size is worked out once, however often it is ordered so.
        let mut known: FxHashMap<(&str, &str), Line> = FxHashMap::default();
        for order in &orders {
            let mut lines: Vec<Line> = Vec::new();
            for item in &order.items {
                let own = outcome.evaluation(&item.band);
                let size = item.size.as_deref();
                let before = size.and_then(|size| known.get(&(&*item.band, size)));
                let line = match (size, before) {
                    (_, Some(line)) => line.clone(),
                    (None, None) => Line {
                        evaluation: own.cloned(),
                        said: Vec::new(),
                    },
                    (Some(size), None) => {
                        let (evaluation, mut said) =
                            self.in_size(prepared, request, outcome, (&item.band, size), None);
                        let limits = evaluation.as_ref().map(words::findings);
                        let limits = limits.unwrap_or_default();
                        said.retain(|one| !limits.iter().any(|limit| limit.says_as(one)));
                        // What is wrong with the band in its own size was said already.
                        if own.is_none() {
                            said.clear();
                        }
                        let line = Line { evaluation, said };
                        known.insert((&item.band, size), line.clone());
                        line
                    }
                };
                if own.is_some() {
                    outcome.of_line(item, &line);
                }
                lines.push(line);
            }
            let money = outcome.recipe.money.as_deref();
            let credit = money.zip(order.credit.as_ref());
            let unknown = credit.and_then(|(money, credit)| {
                uncredited(credit, money)?;
                words::money::of_old_metal(order, money)
            });
            outcome.findings.extend(unknown);
            let added = ordered(order, &lines);
            outcome.sold(&added, &lines);
            outcome.orders.push(added);
            outcome.lines.push(lines);
        }
        outcome.recipe.orders = orders;
    }
}

/// What orders as a whole are known by among the names of bands, none of which holds a space.
pub(super) const ORDERS: &str = "all orders";

/// An order added up.
fn ordered(order: &Order, lines: &[Line]) -> Ordered {
    let made = lines.iter().map(|line| line.evaluation.clone());
    Ordered::of(order, made.collect())
}

/// What an order earns at least, every `±` at its worse end; none where none is written.
fn earns_at_worst(ordered: &Ordered) -> Option<Decimal> {
    let totals = ordered.totals.as_ref()?;
    let earns = totals.exact(OrderResult::Earning)?;
    let least = from_f64(ordered.spread(OrderResult::Earning)?.low)?;
    Some(round(earns.checked_add(least)?, totals.currency?.places()))
}

impl Outcome {
    /// Takes in what was found of a line of an order in a size of its own.
    fn of_line(&mut self, item: &OrderItem, line: &Line) {
        let limits = line.evaluation.as_ref().filter(|_| item.size.is_some());
        let limits = limits.iter().flat_map(|ring| {
            // A stock is too small for this line, not for the band.
            ring.shortfalls.iter().filter_map(|short| match short {
                Shortfall::Money(stock @ money::MoneyShortfall::Stock { .. }) => {
                    words::money::of_line(*stock, &ring.band, item.at)
                }
                _ => words::finding(&ring.band, short),
            })
        });
        for one in line.said.iter().cloned().chain(limits) {
            self.of_bands.push((item.band.clone(), one.clone()));
            self.findings.push(one);
        }
    }

    /// Takes in that an order brings no more than it costs, and what is off of the scrap that came back.
    fn sold(&mut self, added: &Ordered, lines: &[Line]) {
        // Of a ring that is sold under its cost, or may be, that is said already.
        let rings = lines.iter().filter_map(|line| line.evaluation.as_ref());
        let under = |short: &Shortfall| {
            matches!(
                short,
                Shortfall::Money(money::MoneyShortfall::UnderCost { .. })
            )
        };
        let told = |doubts: bool| {
            rings.clone().any(|ring| {
                let may_be = || ring.worst().iter().any(|one| under(&one.shortfall));
                ring.shortfalls.iter().any(under) || (doubts && may_be())
            })
        };
        let place = self.orders.len();
        let may_lose = |totals: &OrderTotals| {
            let worst = earns_at_worst(added)?;
            order_may_lose(place, totals, worst)
        };
        let totals = added.totals.iter();
        let short: Vec<money::MoneyShortfall> = totals
            .flat_map(|totals| {
                let under = match order_under_cost(place, totals) {
                    Some(under) => Some(under).filter(|_| !told(false)),
                    None if told(true) => None,
                    None => may_lose(totals),
                };
                let returned = totals.returned.iter().filter_map(|one| one.short(place));
                under.into_iter().chain(returned)
            })
            .collect();
        let Some(money) = self.recipe.money.clone() else {
            return;
        };
        for short in short {
            if let Some(one) = words::money::of_order(short, &money, &added.order) {
                self.of_bands.push((ORDERS.to_owned(), one.clone()));
                self.findings.push(one);
            }
        }
    }

    /// Takes in what was found of what has no name.
    pub(super) fn find_in_common(&mut self, found: Vec<Finding>) {
        let common = found.iter().map(|one| (String::new(), one.clone()));
        self.of_bands.extend(common);
        self.findings.extend(found);
    }

    /// What is out of date in a recipe, on the day of this outcome.
    pub(super) fn stale(&self, recipe: &Recipe) -> Vec<Finding> {
        let Some(money) = &recipe.money else {
            return Vec::new();
        };
        let orders = &recipe.orders;
        let stale = stale(money, orders, self.on);
        // Whether an order that is wrong states its day is not known.
        let mut findings = self.findings.iter();
        let wrong = findings.any(|one| one.weight() == Weight::Wrong);
        let is_open = |short: &money::MoneyShortfall| {
            wrong && matches!(short, money::MoneyShortfall::NoDay { .. })
        };
        let stale = stale.into_iter().chain(slips(money));
        let stale = stale.filter(|short| !is_open(short));
        let said = stale.filter_map(|short| words::money_days::of_days(short, money, orders));
        said.collect()
    }

    /// The orders of this outcome with what moved of money, put into a part of it; none where a line must be resolved
    /// anew.
    pub(super) fn orders_moved(&self, moved: &Moved, part: &mut Outcome) -> Option<()> {
        let orders = moved.orders.as_ref().unwrap_or(&self.recipe.orders);
        for (order, lines) in orders.iter().zip(&self.lines) {
            let mut new = Vec::new();
            for (item, line) in order.items.iter().zip(lines) {
                let own = self.evaluation(&item.band);
                let evaluation = match (&line.evaluation, own) {
                    (Some(sized), Some(own)) => {
                        let band = moved.in_size(&own.band, &sized.band)?;
                        Some(sized.with_money_of(band))
                    }
                    (evaluation, _) => evaluation.clone(),
                };
                let line = Line {
                    evaluation,
                    said: line.said.clone(),
                };
                if own.is_some() {
                    part.of_line(item, &line);
                }
                new.push(line);
            }
            let added = ordered(order, &new);
            part.recipe.money = moved.money.clone().or_else(|| self.recipe.money.clone());
            part.sold(&added, &new);
            part.orders.push(added);
            part.lines.push(new);
        }
        part.recipe.orders.clone_from(orders);
        Some(())
    }
}
