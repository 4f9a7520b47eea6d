//! What is varied: a field or a `let`, and its values one after the other, exact.
//!
//! Input: an expression such as `0.30 mm .. 0.60 mm by 0.05 mm`, `[5 mm, 6 mm .. 7 mm by 0.5 mm]` or
//! `[yellow-750, silver-925]`. Output: an [`Axis`], which gives each value by its place and keeps none of a range.

use std::sync::OnceLock;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::finding::Finding;
use crate::model::{Evaluator, Key, ModelError, ModelNote, Move, Scope, Value, check};
use crate::quantity::{Dimension, Number, Quantity, from_f64, to_f64, unit};
use crate::schema::{FieldId, Takes};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

use super::size_run::{MOST, is_of_sizes, sizes};

/// How many values of an axis have what they move kept.
const KEPT: u64 = 200_000;

/// What is varied, and its values.
#[derive(Clone, Debug)]
pub struct Axis {
    /// What it is called: `harvest.width`, `cut`.
    pub path: String,
    /// The band that its path is of, where it is of one.
    pub band: Option<String>,
    /// The unit of its numbers; empty where they have none.
    pub unit: String,
    /// What it moves; none where each of its values makes another recipe.
    pub key: Option<Key>,
    /// Where its values are written.
    pub at: Span,
    pieces: Vec<Piece>,
    count: u64,
    free: bool,
    /// Between what numbers it goes, once that is asked.
    way: OnceLock<Option<(Decimal, Decimal, Dimension)>>,
}

/// A part of the values of an axis.
#[derive(Clone, Debug)]
enum Piece {
    /// One value.
    One(Value),
    /// Equal steps, in the unit of the axis.
    Steps {
        from: Decimal,
        by: Decimal,
        count: u64,
        dimension: Dimension,
    },
}

impl Piece {
    fn count(&self) -> u64 {
        match self {
            Self::One(_) => 1,
            Self::Steps { count, .. } => *count,
        }
    }
}

impl Axis {
    /// How many values it has.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.count
    }

    /// One of its values; none behind the last.
    #[must_use]
    pub fn value(&self, place: u64) -> Option<Value> {
        let (piece, place) = self.piece(place)?;
        match piece {
            Piece::One(value) => Some(value.clone()),
            Piece::Steps {
                from,
                by,
                dimension,
                ..
            } => self.measured(nth(*from, *by, place)?, *dimension),
        }
    }

    /// The number of a value in its unit; none where it is no exact number.
    #[must_use]
    pub fn number_of(&self, value: &Value) -> Option<Decimal> {
        let unit = Some(self.unit.as_str()).filter(|unit| !unit.is_empty());
        check::in_unit(value.quantity()?, unit).0.exact()
    }

    /// The number of one of its values in its unit; none where it is no number.
    #[must_use]
    pub fn decimal(&self, place: u64) -> Option<Decimal> {
        let (piece, place) = self.piece(place)?;
        match piece {
            Piece::One(value) => self.number_of(value),
            Piece::Steps { from, by, .. } => nth(*from, *by, place),
        }
    }

    /// One of its values as a plain number; none where it is no number.
    #[must_use]
    pub fn plain(&self, place: u64) -> Option<f64> {
        let (piece, place) = self.piece(place)?;
        match piece {
            Piece::One(value) => value.bare(),
            Piece::Steps {
                from,
                by,
                dimension,
                ..
            } => self
                .to_base(nth(*from, *by, place)?, *dimension)
                .map(to_f64),
        }
    }

    /// How many of its values have what they move kept: all, unless they are too many.
    #[must_use]
    pub fn kept(&self) -> usize {
        let kept = Some(self.count).filter(|count| *count <= KEPT && self.key.is_some());
        kept.and_then(|count| usize::try_from(count).ok())
            .unwrap_or(0)
    }

    fn to_base(&self, number: Decimal, dimension: Dimension) -> Option<Decimal> {
        match self.unit.as_str() {
            "" => Some(number),
            word => unit::scale_in(word, dimension).ok()?.to_base(number),
        }
    }

    /// A number of its unit as a value.
    #[must_use]
    pub fn measured(&self, number: Decimal, dimension: Dimension) -> Option<Value> {
        let base = self.to_base(number, dimension)?;
        Some(Value::Quantity {
            quantity: Quantity::new(Number::Exact(base), dimension),
            unit: (!self.unit.is_empty()).then(|| self.unit.clone()),
        })
    }

    /// What a value comes to as a moved number; none where it is more than that.
    #[must_use]
    pub fn moved(&self, value: Value) -> Option<Move> {
        let is_number = matches!(value, Value::Quantity { .. } | Value::Size { .. });
        let key = self.key.filter(|_| is_number)?;
        Some(Move {
            key,
            value,
            at: self.at,
            said: self.at,
        })
    }

    /// The recipe line that says one of its values.
    #[must_use]
    pub fn line(&self, value: &Value) -> String {
        format!("{} {}", self.path, check::written(value))
    }

    /// The least and the greatest of its numbers, in its unit; none where it has words or sizes.
    #[must_use]
    pub fn ends(&self) -> Option<(Decimal, Decimal)> {
        let last = self.count.checked_sub(1)?;
        let (first, last) = (self.decimal(0)?, self.decimal(last)?);
        Some((first.min(last), first.max(last)))
    }

    /// The dimension of its numbers; none where it has words or sizes.
    #[must_use]
    pub fn dimension(&self) -> Option<Dimension> {
        match self.value(0)? {
            Value::Quantity { quantity, .. } => Some(quantity.dimension),
            _ => None,
        }
    }

    /// Whether any number between its two values may be taken.
    #[must_use]
    pub fn free(&self) -> bool {
        self.free
    }

    /// A number between its two values, at a part of the way, to a thousand-millionth of its unit.
    #[must_use]
    pub fn between(&self, part: f64) -> Option<Value> {
        let way = || {
            let ((from, to), dimension) = self.ends().zip(self.dimension())?;
            Some((from, to, dimension))
        };
        let (from, to, dimension) = (*self.way.get_or_init(way))?;
        let (low, high) = (to_f64(from), to_f64(to));
        let billionths = ((low + (high - low) * part) * 1e9).round_ties_even();
        let number = match billionths.abs() < 1e15 {
            true => Decimal::new(billionths as i64, 9),
            false => from_f64(low + (high - low) * part)?,
        };
        self.measured(number.clamp(from, to).normalize(), dimension)
    }

    /// A value with so many digits behind the point, rounded to either side, the nearer first; between its ends.
    #[must_use]
    pub fn rounded(&self, value: &Value, places: u32) -> Vec<Value> {
        let Value::Quantity { quantity, .. } = value else {
            return Vec::new();
        };
        let unit = Some(self.unit.as_str()).filter(|unit| !unit.is_empty());
        let Some((number, (from, to))) = check::in_unit(quantity, unit).0.exact().zip(self.ends())
        else {
            return Vec::new();
        };
        let step = Decimal::new(1, places);
        let near = number.round_dp(places);
        let other = if near > number {
            near - step
        } else {
            near + step
        };
        let both = [near, other].into_iter();
        both.filter(|number| (from..=to).contains(number))
            .filter_map(|number| self.measured(number.normalize(), quantity.dimension))
            .collect()
    }

    /// An axis on which any number between two values may be taken.
    #[must_use]
    pub fn over(
        named: (String, Option<String>),
        key: Option<Key>,
        at: Span,
        unit: String,
        ends: [Value; 2],
    ) -> Self {
        let (path, band) = named;
        Self {
            path,
            band,
            unit,
            key,
            at,
            pieces: ends.into_iter().map(Piece::One).collect(),
            count: 2,
            free: true,
            way: OnceLock::new(),
        }
    }

    fn piece(&self, mut place: u64) -> Option<(&Piece, u64)> {
        for piece in &self.pieces {
            let count = piece.count();
            if place < count {
                return Some((piece, place));
            }
            place -= count;
        }
        None
    }
}

/// The number so many steps behind the first.
fn nth(from: Decimal, by: Decimal, place: u64) -> Option<Decimal> {
    from.checked_add(by.checked_mul(Decimal::from(place))?)
}

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
        unit: None,
        free,
        is_free: false,
        scope,
        findings,
    };
    let pieces = reader.pieces(expr)?;
    let free = reader.is_free && pieces.len() == 2;
    let count = pieces.iter().map(Piece::count).sum();
    let (path, band) = named;
    let unit = reader.unit.flatten().unwrap_or_default();
    Some(Axis {
        path,
        band,
        unit,
        key,
        at: expr.span,
        pieces,
        count,
        free,
        way: OnceLock::new(),
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
    /// The unit of the first number; its word is none where it has none.
    unit: Option<Option<String>>,
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
                Some(vec![Piece::One(Value::Word(path.0.clone()))])
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
        if let Value::Quantity { unit, .. } = &value {
            self.unit.get_or_insert_with(|| unit.clone());
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
        let unit = self.unit.clone().flatten();
        let in_unit = |quantity: &Quantity| check::in_unit(quantity, unit.as_deref()).0.exact();
        let (Some(first), Some(last)) = (low.quantity(), high.quantity()) else {
            let help = "a range is of numbers, as in `0.30 mm .. 0.60 mm by 0.05 mm`";
            return self.refuse(at, "these are no two ends of a range", help);
        };
        let dimension = first.dimension;
        if last.dimension != dimension || step.dimension != dimension {
            let help = "both ends and the step are of one kind";
            return self.refuse(at, "the ends and the step are of different kinds", help);
        }
        let (Some(from), Some(last), Some(by)) = (in_unit(first), in_unit(last), in_unit(&step))
        else {
            let help = "write them as plain decimals";
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
        let reached = nth(from, by, count - 1)?;
        if reached != last {
            let shown = |number: Decimal| {
                let unit = unit.as_deref().unwrap_or("");
                format!("{} {unit}", number.normalize())
                    .trim_end()
                    .to_owned()
            };
            let (end, last) = (shown(last), shown(reached));
            self.findings.push(
                ModelNote::EndNotReached {
                    at: to.span,
                    end,
                    last,
                }
                .into(),
            );
        }
        Some(Piece::Steps {
            from,
            by,
            count,
            dimension,
        })
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
