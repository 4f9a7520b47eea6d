//! One band over many sizes: which sizes a text means, and the table of what each comes to.
//!
//! Input: an expression such as `ISO 48 .. ISO 62 by 2`, `[US 6, US 7 1/2]` or `16 mm .. 20 mm by 0.5 mm`, and the
//! band evaluated in each. Output: sizes as a recipe would write them, and rows of results.

use crate::schema::{self, ResultId, ResultRow};
use num_rational::Rational64;
use rust_decimal::Decimal;

use super::keep::Kept;
use crate::evaluate::Evaluation;
use crate::finding::{Finding, Weight};
use crate::model::{Evaluator, ModelError, ModelNote, Scope, Value, check};
use crate::quantity::{Dimension, Number, Quantity, RingSize};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

/// Results that a run shows, those that a band has; whatever else a table knows is asked for by name.
pub const COLUMNS: &[ResultId] = &[
    ResultId::Bore,
    ResultId::Outside,
    ResultId::StripLength,
    ResultId::Weight,
    ResultId::WeightIssued,
    ResultId::WallLeast,
    ResultId::MachinedBore,
    ResultId::MachinedOutside,
    ResultId::MachinedShellBore,
    ResultId::MachinedShellOutside,
    ResultId::MachinedSleeveBore,
    ResultId::MachinedSleeveRidgeTop,
    ResultId::Cost,
    ResultId::Price,
];

/// The most sizes of one run.
pub const MOST: usize = 1000;

/// A band in one size.
#[derive(Clone, Debug)]
pub struct SizeRow {
    /// The size as a recipe would write it.
    pub size: String,
    /// What of the pattern stays the same, where that was asked.
    pub kept: Option<Kept>,
    /// The band in it; none where it cannot be made.
    pub evaluation: Option<Evaluation>,
    /// What is wrong with it, or falls short; nothing where all holds.
    pub problems: Vec<Finding>,
}

impl SizeRow {
    /// The heaviest of its problems.
    #[must_use]
    pub fn weight(&self) -> Option<Weight> {
        self.problems.iter().map(Finding::weight).max()
    }
}

/// A run over sizes.
#[derive(Clone)]
pub struct SizeRun {
    /// The band.
    pub band: String,
    /// Its columns: those of [`COLUMNS`] that some size has.
    pub columns: Vec<&'static ResultRow>,
    /// The sizes in the order asked for.
    pub rows: Vec<SizeRow>,
}

impl SizeRun {
    /// Lays the rows into a table.
    #[must_use]
    pub fn of(band: &str, rows: Vec<SizeRow>) -> Self {
        let evaluations = || rows.iter().filter_map(|row| row.evaluation.as_ref());
        let has = |entry: &&ResultRow| evaluations().any(|one| one.number(entry.id).is_some());
        // What is machined as it is finished needs no column of its own.
        let new = |entry: &&ResultRow| {
            let finished = entry
                .path
                .strip_prefix("machined.")
                .and_then(schema::find_result);
            let Some(finished) = finished else {
                return true;
            };
            evaluations().any(|one| one.number(entry.id) != one.number(finished.id))
        };
        let named = COLUMNS.iter().map(|id| id.row());
        Self {
            band: band.to_owned(),
            columns: named.filter(has).filter(new).collect(),
            rows,
        }
    }
}

/// The sizes that an expression means.
///
/// # Range
/// At most [`MOST`] sizes. The end of a range is in it when it fits exactly; where it does not, that is told. A
/// range of sizes without a step takes the coarsest of 1, 1/2 and 1/4 that reaches its end.
///
/// # Errors
/// None after a finding that says what is wrong.
pub fn sizes(
    expr: &Expr,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Value>> {
    let mut all = Vec::new();
    match &expr.kind {
        ExprKind::List { items, .. } => {
            for item in items {
                if let ListItem::Value(value) = item {
                    all.extend(sizes(value, scope, findings)?);
                }
            }
        }
        ExprKind::Range { from, to, by } => {
            all = range(from, to, by.as_deref(), scope, findings)?;
        }
        _ => {
            let value = Evaluator { scope, findings }.value(expr, Some(Dimension::LENGTH))?;
            all.push(one(&value, expr.span, findings)?);
        }
    }
    if all.is_empty() {
        let help = "write the smaller end first";
        return refuse(
            expr.span,
            "no size lies between these two ends",
            help,
            findings,
        );
    }
    if all.len() > MOST {
        let help = "take a longer step";
        return refuse(expr.span, "a run has at most 1000 sizes", help, findings);
    }
    Some(all)
}

/// A size or an inside diameter.
fn one(value: &Value, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
    match value {
        Value::Size { .. } => Some(value.clone()),
        Value::Quantity { quantity, .. } if quantity.dimension == Dimension::LENGTH => {
            Some(value.clone())
        }
        other => {
            findings.push(check::not_a_size(other, at).into());
            None
        }
    }
}

fn range(
    from: &Expr,
    to: &Expr,
    by: Option<&Expr>,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Value>> {
    let mut value = |expr: &Expr, findings: &mut Vec<Finding>| {
        Evaluator {
            scope: &mut *scope,
            findings,
        }
        .value(expr, Some(Dimension::LENGTH))
    };
    let (low, high) = (value(from, findings)?, value(to, findings)?);
    let step = match by {
        Some(by) => Some((value(by, findings)?, by.span)),
        None => None,
    };
    let at = from.span.to(by.unwrap_or(to).span);
    match (&low, &high) {
        (Value::Size { size: low, .. }, Value::Size { size: high, .. }) => {
            if low.system.word != high.system.word {
                let help = "write both ends in one system";
                return refuse(at, "a range of sizes is of one system", help, findings);
            }
            let step = match step {
                None => Some(coarsest(low, high)),
                Some((value, _)) => value.steps(),
            };
            let step = step.filter(|step| *step > Rational64::from_integer(0));
            let all = steps(low, high, step, at, findings)?;
            let last = all.last().map(check::written);
            tell_end(last.as_ref(), &high.to_string(), to.span, findings);
            Some(all)
        }
        (
            Value::Quantity {
                quantity: low,
                unit,
            },
            Value::Quantity { quantity: high, .. },
        ) if low.dimension == Dimension::LENGTH && high.dimension == Dimension::LENGTH => {
            let step = step.and_then(|(value, _)| value.quantity().cloned());
            let step = step
                .filter(|step| step.dimension == Dimension::LENGTH)
                .and_then(|step| step.number.exact())
                .filter(|step| *step > Decimal::ZERO);
            let (Some(low), Some(high), Some(step)) =
                (low.number.exact(), high.number.exact(), step)
            else {
                let help = "as in `16 mm .. 20 mm by 0.5 mm`";
                return refuse(at, "this range has no step that leads on", help, findings);
            };
            let mut all = Vec::new();
            let mut now = low;
            while now <= high && all.len() <= MOST {
                let quantity = Quantity::new(Number::Exact(now), Dimension::LENGTH);
                let unit = unit.clone();
                all.push(Value::Quantity { quantity, unit });
                now = now.checked_add(step)?;
            }
            let end = Quantity::new(Number::Exact(high), Dimension::LENGTH);
            let end = check::shown_quantity(&end, unit.as_deref());
            let last = all.last().map(check::written);
            tell_end(last.as_ref(), &end, to.span, findings);
            Some(all)
        }
        _ => {
            one(&low, from.span, findings)?;
            one(&high, to.span, findings)?;
            let help = "write both ends as sizes, or both as diameters";
            refuse(
                at,
                "a size and a diameter are no two ends of a range",
                help,
                findings,
            )
        }
    }
}

/// The step of a range that states none: the coarsest of a whole, a half and a quarter that reaches its end.
fn coarsest(low: &RingSize, high: &RingSize) -> Rational64 {
    let whole = Rational64::from_integer(1);
    let parts = [whole, whole / 2, whole / 4];
    let reaches = |step: &Rational64| {
        let in_use = (step / low.system.grain).is_integer();
        in_use && ((high.at - low.at) / step).is_integer()
    };
    parts.into_iter().find(reaches).unwrap_or(whole)
}

/// Says that a range does not reach the end that is stated.
fn tell_end(last: Option<&String>, end: &str, at: Span, findings: &mut Vec<Finding>) {
    if let Some(last) = last.filter(|last| *last != end) {
        findings.push(
            ModelNote::EndNotReached {
                at,
                end: end.to_owned(),
                last: last.clone(),
            }
            .into(),
        );
    }
}

fn steps(
    low: &RingSize,
    high: &RingSize,
    step: Option<Rational64>,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Value>> {
    let Some(step) = step else {
        let help = "as in `ISO 48 .. ISO 62 by 2`";
        return refuse(at, "this range has no step that leads on", help, findings);
    };
    let mut all = Vec::new();
    let mut now = *low;
    while now.at <= high.at && all.len() <= MOST {
        all.push(Value::Size {
            size: now,
            deviations: Vec::new(),
            steps: None,
            off: None,
        });
        match now.stepped(step) {
            Ok(next) => now = next,
            Err(_) if now.at + step > high.at => break,
            Err(_) => {
                let help = "take a step that this system has";
                return refuse(
                    at,
                    "the steps of this range lead between two sizes",
                    help,
                    findings,
                );
            }
        }
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

/// Whether an expression names ring sizes.
pub(super) fn is_of_sizes(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Size { .. } => true,
        ExprKind::Range { from, .. } => is_of_sizes(from),
        ExprKind::List { items, .. } => items.iter().any(|item| match item {
            ListItem::Value(value) => is_of_sizes(value),
            ListItem::Comment(_) => false,
        }),
        ExprKind::Binary { left, .. } => is_of_sizes(left),
        _ => false,
    }
}
