//! The values of an axis as they are written.
//!
//! Input: an expression such as `0.30 mm .. 0.60 mm by 0.05 mm`, `[5 mm, 6 mm .. 7 mm by 0.5 mm]` or
//! `[yellow-750, silver-925]`. Output: an [`Axis`].

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::finding::Finding;
use crate::model::{Evaluator, Key, ModelError, ModelNote, Scope, Value, check};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{FieldId, Takes};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

use super::axis::{Axis, Piece, Steps, exactly_in};
use super::size_run::{MOST, is_of_sizes, sizes};

/// Reads an axis.
///
/// # Range
/// The end of a range is in it when it fits exactly; where it does not, that is told.
///
/// # Errors
/// None after a finding: a range without a step, a step of zero or of the wrong sign, a value that its field does not
/// take.
pub fn axis(
    named: (String, Option<String>),
    key: Option<Key>,
    takes: Takes,
    expr: &Expr,
    free: bool,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Axis> {
    let mut reader = Reader {
        takes,
        // What alloys state has checks of its own, where it is moved.
        field: key
            .filter(|key| !matches!(key, Key::Alloy(..)))
            .and_then(Key::field),
        free,
        is_free: false,
        words: Vec::new(),
        scope,
        findings,
    };
    let pieces = reader.pieces(expr)?;
    let mut axis = Axis::of(named, key, expr.span, pieces);
    axis.words = std::mem::take(&mut reader.words);
    if !reader.is_free {
        return Some(axis);
    }
    axis.freed().or_else(|| {
        let help = "write both ends in one unit";
        reader.refuse(
            expr.span,
            "these two ends do not come out in one unit",
            help,
        )
    })
}

/// The values of a range, of sizes or of numbers, whatever takes them: one more than [`MOST`] where there are more.
///
/// # Errors
/// None after a finding, as for an [`axis`].
pub fn ranged(
    expr: &Expr,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Value>> {
    if is_of_sizes(expr) {
        return sizes(expr, scope, findings);
    }
    let named = (String::new(), None);
    let all = axis(named, None, Takes::Anything, expr, false, scope, findings)?;
    let wanted = all.count().min(MOST as u64 + 1);
    Some((0..wanted).filter_map(|place| all.value(place)).collect())
}

struct Reader<'a> {
    takes: Takes,
    field: Option<FieldId>,
    /// A range without a step stands for all numbers in it.
    free: bool,
    /// One did.
    is_free: bool,
    words: Vec<(Value, Span)>,
    scope: &'a mut dyn Scope,
    findings: &'a mut Vec<Finding>,
}

impl Reader<'_> {
    fn pieces(&mut self, expr: &Expr) -> Option<Vec<Piece>> {
        if matches!(self.takes, Takes::Size | Takes::Start) && is_of_sizes(expr) {
            return self.sizes(expr);
        }
        match &expr.kind {
            ExprKind::List { items, .. } => {
                let mut all = Vec::new();
                for item in items {
                    if let ListItem::Value(value) = item {
                        all.extend(self.pieces(value)?);
                    }
                }
                if all.is_empty() {
                    let help = "as in `[5 mm, 6 mm]`";
                    return self.refuse(expr.span, "this list has no values", help);
                }
                Some(all)
            }
            ExprKind::Range { from, to, by: None } if self.free && self.takes != Takes::Count => {
                let (low, high) = (self.value(from), self.value(to));
                let (low, high) = (low?, high?);
                let number = |value: &Value| Some(value.quantity()?.number.to_f64());
                if number(&low)
                    .zip(number(&high))
                    .is_none_or(|(low, high)| low >= high)
                {
                    let help = "write the smaller end first";
                    return self.refuse(expr.span, "nothing lies between these two ends", help);
                }
                self.is_free = true;
                Some(vec![Piece::One(low), Piece::One(high)])
            }
            ExprKind::Range { from, to, by } => Some(vec![self.range(from, to, by.as_deref())?]),
            // A word where a word is due; it is looked up where the recipe is resolved with it.
            ExprKind::Path(path) if !self.takes.is_measured() && self.takes != Takes::Anything => {
                let word = Value::Word(path.0.clone());
                self.words.push((word.clone(), expr.span));
                Some(vec![Piece::One(word)])
            }
            _ => Some(vec![Piece::One(self.value(expr)?)]),
        }
    }

    /// Sizes, and inside diameters among them.
    fn sizes(&mut self, expr: &Expr) -> Option<Vec<Piece>> {
        let all = sizes(expr, self.scope, self.findings)?;
        Some(all.into_iter().map(Piece::One).collect())
    }

    fn value(&mut self, expr: &Expr) -> Option<Value> {
        let due = check::due(self.takes).1;
        let mut evaluator = Evaluator {
            scope: self.scope,
            findings: self.findings,
        };
        let mut value = evaluator.value(expr, due)?;
        if let Some(field) = self.field {
            value = evaluator.taken(field.row(), expr, value)?;
        }
        Some(value)
    }

    fn range(&mut self, from: &Expr, to: &Expr, by: Option<&Expr>) -> Option<Piece> {
        let at = from.span.to(by.unwrap_or(to).span);
        let (low, high) = (self.value(from), self.value(to));
        let (low, high) = (low?, high?);
        let step = match by {
            Some(by) => self.step(by)?,
            None if self.takes == Takes::Count => {
                Quantity::new(Number::Exact(Decimal::ONE), Dimension::NONE)
            }
            None => {
                let help = "say it after `by`, as in `0.30 mm .. 0.60 mm by 0.05 mm`";
                return self.refuse(at, "this range has no step", help);
            }
        };
        let (Some(first), Some(last)) = (low.quantity(), high.quantity()) else {
            let help = "a range is of numbers, as in `0.30 mm .. 0.60 mm by 0.05 mm`";
            return self.refuse(at, "these are no two ends of a range", help);
        };
        let dimension = first.dimension;
        if last.dimension != dimension || step.dimension != dimension {
            let help = "both ends and the step are of one kind";
            return self.refuse(at, "the ends and the step are of different kinds", help);
        }
        let units = [&low, &high].map(|end| match end {
            Value::Quantity { quantity, unit } => check::in_unit(quantity, unit.as_deref()).1,
            _ => String::new(),
        });
        let step = Value::of(step);
        let all = units.into_iter().find_map(|unit| {
            let [from, last, by] = [&low, &high, &step].map(|one| exactly_in(one, &unit));
            Some((from?, last?, by?, unit))
        });
        let Some((from, last, by, unit)) = all else {
            let help = "write them as plain decimals of one unit";
            return self.refuse(at, "the ends and the step must come out exactly", help);
        };
        if by.is_zero() {
            let help = "take a step that leads to the other end";
            return self.refuse(at, "a step of zero leads nowhere", help);
        }
        let steps = (last - from).checked_div(by).map(|steps| steps.floor());
        let Some(steps) = steps.filter(|steps| !steps.is_sign_negative() || steps.is_zero()) else {
            let help = "turn the ends round, or the sign of the step";
            return self.refuse(at, "the step leads away from the other end", help);
        };
        let Some(count) = steps.to_u64().and_then(|steps| steps.checked_add(1)) else {
            return self.refuse(at, "this range has too many steps", "take a longer step");
        };
        let steps = Steps {
            from,
            by,
            count,
            dimension,
            unit,
        };
        let reached = steps.nth(count - 1)?;
        if reached != last {
            let shown = |number: Decimal| {
                let text = format!("{} {}", number.normalize(), steps.unit);
                text.trim_end().to_owned()
            };
            let (end, last) = (shown(last), shown(reached));
            let at = to.span;
            self.findings
                .push(ModelNote::EndNotReached { at, end, last }.into());
        }
        Some(Piece::Steps(steps))
    }

    /// The step of a range: of the kind of its ends, and of either sign.
    fn step(&mut self, by: &Expr) -> Option<Quantity> {
        let due = check::due(self.takes).1;
        let value = Evaluator {
            scope: self.scope,
            findings: self.findings,
        }
        .value(by, due)?;
        match value.quantity() {
            Some(quantity) => Some(quantity.clone()),
            None => self.refuse(by.span, "this is not a step", "as in `by 0.05 mm`"),
        }
    }

    fn refuse<T>(&mut self, at: Span, message: &'static str, help: &'static str) -> Option<T> {
        let problem = ModelError::NoResult { at, message, help };
        self.findings.push(problem.into());
        None
    }
}
