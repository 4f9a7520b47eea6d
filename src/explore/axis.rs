//! What is varied: a field or a `let`, and its values one after the other, exact.
//!
//! An [`Axis`] gives each value by its place and keeps none of a range.

use std::sync::OnceLock;

use rust_decimal::Decimal;

use crate::model::{Key, Move, Value, check};
use crate::quantity::{Dimension, Number, Quantity, from_f64, to_f64, unit};
use crate::source::Span;

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
    /// Words among its values, each with its place.
    pub words: Vec<(Value, Span)>,
    pub(super) pieces: Vec<Piece>,
    pub(super) count: u64,
    pub(super) free: bool,
    /// Between what numbers it goes, once that is asked.
    pub(super) way: OnceLock<Option<(Decimal, Decimal, Dimension)>>,
}

/// A part of the values of an axis.
#[derive(Clone, Debug)]
pub(super) enum Piece {
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
    pub fn count(&self) -> u64 {
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
        let mut ends: Option<(Decimal, Decimal)> = None;
        for piece in &self.pieces {
            let (first, last) = match piece {
                Piece::One(value) => (self.number_of(value)?, self.number_of(value)?),
                Piece::Steps {
                    from, by, count, ..
                } => (*from, nth(*from, *by, count.checked_sub(1)?)?),
            };
            let (least, most) = (first.min(last), first.max(last));
            ends = Some(ends.map_or((least, most), |known| {
                (known.0.min(least), known.1.max(most))
            }));
        }
        ends
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
            words: Vec::new(),
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
pub(super) fn nth(from: Decimal, by: Decimal, place: u64) -> Option<Decimal> {
    from.checked_add(by.checked_mul(Decimal::from(place))?)
}
