//! Totals of orders in questions and requirements: `order.fair.due`, or `order.due` where the order has no name.

use std::collections::BTreeSet;

use crate::evaluate::{Ordered, Rest, Why};
use crate::finding::Finding;
use crate::model::{ModelError, Value};
use crate::quantity::{Number, Quantity, unit};
use crate::schema::{ORDER_RESULTS, OrderResult, OrderRow, find_of_order};
use crate::source::Span;
use crate::suggest::nearest;

use super::error::SessionError;
use super::question::Results;

impl<'o> Results<'o> {
    /// What a path that speaks of an order rests on.
    pub fn rests_of_order(&self, path: &str) -> Option<BTreeSet<Rest>> {
        let (ordered, rest) = self.of_order(path)?;
        Some(ordered.rests(find_of_order(rest)?.id))
    }

    /// The order that a path speaks of, and what stands behind its name; none where it speaks of none.
    fn of_order<'p>(&self, path: &'p str) -> Option<(&'o Ordered, &'p str)> {
        let rest = path.strip_prefix("order.")?;
        let named = self.outcome.orders.iter().find_map(|ordered| {
            let name = ordered.order.name.as_ref()?;
            let behind = rest.strip_prefix(name.as_str())?.strip_prefix('.')?;
            Some((ordered, behind))
        });
        named.or_else(|| {
            let mut orders = self.outcome.orders.iter();
            let unnamed = orders.find(|ordered| ordered.order.name.is_none())?;
            Some((unnamed, rest))
        })
    }

    /// The value of a path that speaks of an order; none where it speaks of none, or there is none of that name.
    pub fn ordered(
        &self,
        path: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Option<Value>> {
        let (ordered, rest) = self.of_order(path)?;
        let Some(row) = find_of_order(rest) else {
            let near = nearest(rest, ORDER_RESULTS.iter().map(|row| row.path));
            let help = match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`annulet list results` shows what can be asked of an order".to_owned(),
            };
            let problem = ModelError::UnknownName {
                at,
                name: rest.to_owned(),
                kind: "the total of an order",
                help,
                nearest: near.map(str::to_owned),
            };
            findings.push(problem.into());
            return Some(None);
        };
        let value = value(ordered, row);
        if value.is_none() {
            let what = match ordered.totals {
                Some(_) if row.id == OrderResult::CostTiedUp => {
                    "price, or no `wait` of the refiner in `scrap`,"
                }
                Some(_) => "price, rate, old metal or offer that it follows from",
                None => "line that can be made, with its prices,",
            };
            let problem = SessionError::NotGiven {
                at,
                name: path.to_owned(),
                what: what.to_owned(),
                help: row.meaning.to_owned(),
            };
            findings.push(problem.into());
        }
        Some(value)
    }

    /// What a total of an order is computed by.
    pub fn why_of_order(&self, path: &str) -> Option<Why> {
        let (ordered, rest) = self.of_order(path)?;
        let row = find_of_order(rest)?;
        Some(Why {
            path: path.to_owned(),
            value: value(ordered, row),
            meaning: row.meaning.to_owned(),
            formula: Some(row.formula.to_owned()),
            is_default: false,
            places: Vec::new(),
            inputs: Vec::new(),
        })
    }
}

/// A total with its unit.
pub(super) fn value(ordered: &Ordered, row: &OrderRow) -> Option<Value> {
    let totals = ordered.totals.as_ref()?;
    let exact = totals.exact(row.id)?;
    let (unit_word, dimension) = match row.dimension.money {
        0 => (row.unit.to_owned(), row.dimension),
        _ => {
            let currency = totals.currency?;
            let dimension = row.dimension.in_currency(currency);
            (currency.code().to_owned(), dimension)
        }
    };
    let scale = unit::scale(&unit_word).ok();
    let base = match &scale {
        Some(scale) => scale.to_base(exact)?,
        None => exact,
    };
    let one = scale
        .and_then(|scale| scale.of_base(Number::Computed(1.0)))
        .map_or(1.0, Number::to_f64);
    let mut quantity = Quantity::new(Number::Exact(base), dimension);
    for share in ordered.shares(row.id) {
        let amount = Number::Computed(share.amount.to_f64() / one);
        quantity = quantity.deviating(share.variable, amount);
    }
    Some(Value::Quantity {
        quantity,
        unit: Some(unit_word).filter(|unit| !unit.is_empty()),
    })
}
