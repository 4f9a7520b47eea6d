//! The values that a range or a list means, each as a recipe would write it.

use rust_decimal::Decimal;

use crate::explore::{MOST, sizes};
use crate::finding::Finding;
use crate::model::{Evaluator, ModelError, Value, check};
use crate::quantity::{Dimension, Number, Quantity};
use crate::source::Span;
use crate::syntax;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

use super::question::Results;
use super::{Outcome, Session};

impl Session {
    /// The values of a text such as `0.45 mm .. 0.60 mm by 0.05 mm` or `[US 6, US 7 1/2]`; none, and nothing found,
    /// where it is neither a range nor a list.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn values(&mut self, text: &str, outcome: &Outcome) -> (Option<Vec<String>>, Vec<Finding>) {
        let id = self.sources.add("values", text);
        let Some(source) = self.sources.get(id) else {
            return (None, Vec::new());
        };
        let parsed = syntax::parse_query(source);
        let is_many =
            |expr: &Expr| matches!(expr.kind, ExprKind::Range { .. } | ExprKind::List { .. });
        let Some(expr) = parsed.value.filter(is_many) else {
            return (None, Vec::new());
        };
        let mut findings = parsed.findings;
        if !findings.is_empty() {
            return (None, findings);
        }
        let found = self.each(&expr, outcome, &mut findings);
        let found = match found {
            Some(all) if all.len() > MOST => {
                let message = "these are more than 1000 values";
                refuse(expr.span, message, "take a longer step", &mut findings)
            }
            found => found,
        };
        (found, findings)
    }

    fn each(
        &self,
        expr: &Expr,
        outcome: &Outcome,
        findings: &mut Vec<Finding>,
    ) -> Option<Vec<String>> {
        match &expr.kind {
            ExprKind::List { items, .. } => {
                let mut all = Vec::new();
                for item in items {
                    if let ListItem::Value(value) = item {
                        all.extend(self.each(value, outcome, findings)?);
                    }
                }
                Some(all)
            }
            ExprKind::Range { from, to, by } => {
                range(expr, (from, to, by.as_deref()), outcome, findings)
            }
            _ => Some(vec![self.sources.slice(expr.span).trim().to_owned()]),
        }
    }
}

fn range(
    expr: &Expr,
    (from, to, by): (&Expr, &Expr, Option<&Expr>),
    outcome: &Outcome,
    findings: &mut Vec<Finding>,
) -> Option<Vec<String>> {
    let mut scope = Results { outcome };
    let mut value = |expr: &Expr, findings: &mut Vec<Finding>| {
        let scope = &mut scope;
        Evaluator { scope, findings }.value(expr, None)
    };
    let low = value(from, findings)?;
    let (first, unit) = match &low {
        Value::Quantity { quantity, unit } if quantity.dimension != Dimension::LENGTH => {
            (quantity.clone(), unit.clone())
        }
        // Sizes and diameters have a reader of their own.
        _ => {
            let all = sizes(expr, &mut Results { outcome }, findings)?;
            return Some(all.iter().map(check::written).collect());
        }
    };
    let high = value(to, findings)?;
    let Some(by) = by else {
        let help = "as in `40 .. 60 by 5`";
        return refuse(expr.span, "this range has no step", help, findings);
    };
    let step = value(by, findings)?;
    let number = |value: &Value| {
        let of = value
            .quantity()
            .filter(|of| of.dimension == first.dimension);
        of.and_then(|of| of.number.exact())
    };
    let (Some(low), Some(high), Some(step)) = (number(&low), number(&high), number(&step)) else {
        let help = "both ends and the step are of one kind, written as decimals";
        return refuse(
            expr.span,
            "these are no ends and step of a range",
            help,
            findings,
        );
    };
    if step <= Decimal::ZERO {
        let help = "write the smaller end first, and a step above 0";
        return refuse(expr.span, "this step leads nowhere", help, findings);
    }
    let mut all = Vec::new();
    let mut now = low;
    while now <= high && all.len() <= MOST {
        let quantity = Quantity::new(Number::Exact(now), first.dimension);
        all.push(check::shown_quantity(&quantity, unit.as_deref()));
        now = now.checked_add(step)?;
    }
    if all.is_empty() {
        let help = "write the smaller end first";
        return refuse(
            expr.span,
            "no value lies between these two ends",
            help,
            findings,
        );
    }
    Some(all)
}

fn refuse<T>(
    at: Span,
    message: &'static str,
    help: &'static str,
    findings: &mut Vec<Finding>,
) -> Option<T> {
    findings.push(ModelError::NoResult { at, message, help }.into());
    None
}
