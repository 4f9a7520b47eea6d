//! What is varied: a field or a `let`, and its values one after the other, exact.
//!
//! Input: its values, as they were read. Output: an [`Axis`], which gives each value by its place and keeps none of a
//! range. All numbers are in one unit, the first of those written into which each comes out exactly; where there is none,
//! the axis has no unit, and each value is told with its own.

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
    /// The unit of its numbers; empty where they have none, or not one alone.
    pub unit: String,
    /// Its values have not one unit alone: each is told with its own.
    mixed: bool,
    /// What it moves; none where each of its values makes another recipe.
    pub key: Option<Key>,
    /// Where its values are written.
    pub at: Span,
    /// Words among its values, each with its place.
    pub words: Vec<(Value, Span)>,
    pieces: Vec<Piece>,
    count: u64,
    free: bool,
    /// Between what numbers it goes, once that is asked.
    way: OnceLock<Option<(Decimal, Decimal, Dimension)>>,
}

/// A part of the values of an axis.
#[derive(Clone, Debug)]
pub(super) enum Piece {
    /// One value.
    One(Value),
    /// Equal steps.
    Steps(Steps),
}

/// Equal steps in a unit; it is empty where they have none.
#[derive(Clone, Debug)]
pub(super) struct Steps {
    pub from: Decimal,
    pub by: Decimal,
    pub count: u64,
    pub dimension: Dimension,
    pub unit: String,
}

impl Steps {
    /// The number so many steps behind the first.
    pub fn nth(&self, place: u64) -> Option<Decimal> {
        let way = self.by.checked_mul(Decimal::from(place))?;
        self.from.checked_add(way)
    }

    /// The same steps in a unit; none where they do not come out exactly in it.
    fn told_in(&self, unit: &str) -> Option<Self> {
        if self.unit == unit {
            return Some(self.clone());
        }
        let told = |number: Decimal| {
            let value = measured(number, self.dimension, &self.unit)?;
            exactly_in(&value, unit)
        };
        let (from, by) = (told(self.from)?, told(self.by)?);
        Some(Self {
            from,
            by,
            unit: unit.to_owned(),
            ..*self
        })
    }
}

impl Piece {
    fn count(&self) -> u64 {
        match self {
            Self::One(_) => 1,
            Self::Steps(steps) => steps.count,
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
            Piece::Steps(steps) => measured(steps.nth(place)?, steps.dimension, &steps.unit),
        }
    }

    /// The number of a value in the unit of the axis; none where it is no exact number of it.
    #[must_use]
    pub fn number_of(&self, value: &Value) -> Option<Decimal> {
        exactly_in(value, &self.unit).filter(|_| !self.mixed)
    }

    /// The number of one of its values in its unit; none where it is no number, or the axis has not one unit alone.
    #[must_use]
    pub fn decimal(&self, place: u64) -> Option<Decimal> {
        let (piece, place) = self.piece(place)?;
        match piece {
            Piece::One(value) => self.number_of(value),
            Piece::Steps(steps) => steps.nth(place).filter(|_| !self.mixed),
        }
    }

    /// One of its values as a plain number; none where it is no number.
    #[must_use]
    pub fn plain(&self, place: u64) -> Option<f64> {
        let (piece, place) = self.piece(place)?;
        match piece {
            Piece::One(value) => value.bare(),
            Piece::Steps(steps) => {
                to_base(steps.nth(place)?, steps.dimension, &steps.unit).map(to_f64)
            }
        }
    }

    /// How many of its values have what they move kept: all, unless they are too many.
    #[must_use]
    pub fn kept(&self) -> usize {
        let kept = Some(self.count).filter(|count| *count <= KEPT && self.key.is_some());
        kept.and_then(|count| usize::try_from(count).ok())
            .unwrap_or(0)
    }

    /// A number of its unit as a value.
    #[must_use]
    pub fn measured(&self, number: Decimal, dimension: Dimension) -> Option<Value> {
        measured(number, dimension, &self.unit)
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

    /// The least and the greatest of its numbers, in its unit; none where it has words or sizes, or not one unit alone.
    #[must_use]
    pub fn ends(&self) -> Option<(Decimal, Decimal)> {
        if self.mixed {
            return None;
        }
        let mut ends: Option<(Decimal, Decimal)> = None;
        for piece in &self.pieces {
            let (first, last) = match piece {
                Piece::One(value) => (self.number_of(value)?, self.number_of(value)?),
                Piece::Steps(steps) => {
                    let last = steps.count.checked_sub(1)?;
                    (steps.from, steps.nth(last)?)
                }
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
        let Some((number, (from, to))) = self.number_of(value).zip(self.ends()) else {
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

    /// An axis on which any number between two values may be taken; `unit` is that of both.
    #[must_use]
    pub fn over(
        named: (String, Option<String>),
        key: Option<Key>,
        at: Span,
        unit: String,
        ends: [Value; 2],
    ) -> Self {
        let pieces = ends.into_iter().map(Piece::One).collect();
        Self {
            free: true,
            unit,
            mixed: false,
            ..Self::of(named, key, at, pieces)
        }
    }

    /// An axis with some values.
    pub(super) fn of(
        named: (String, Option<String>),
        key: Option<Key>,
        at: Span,
        pieces: Vec<Piece>,
    ) -> Self {
        let (path, band) = named;
        let told = in_one_unit(&pieces);
        let mixed = told.is_none();
        let (unit, pieces) = told.unwrap_or_else(|| (String::new(), pieces));
        Self {
            path,
            band,
            unit,
            mixed,
            key,
            at,
            words: Vec::new(),
            count: pieces.iter().map(Piece::count).sum(),
            pieces,
            free: false,
            way: OnceLock::new(),
        }
    }

    /// The same, where any number between its two values may be taken; none where these have not one unit alone.
    pub(super) fn freed(self) -> Option<Self> {
        let free = self.pieces.len() == 2;
        (!free || !self.mixed).then_some(Self { free, ..self })
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

/// A number of a unit as a value.
fn measured(number: Decimal, dimension: Dimension, unit: &str) -> Option<Value> {
    let base = to_base(number, dimension, unit)?;
    Some(Value::Quantity {
        quantity: Quantity::new(Number::Exact(base), dimension),
        unit: (!unit.is_empty()).then(|| unit.to_owned()),
    })
}

fn to_base(number: Decimal, dimension: Dimension, unit: &str) -> Option<Decimal> {
    match unit {
        "" => Some(number),
        word => unit::scale_in(word, dimension).ok()?.to_base(number),
    }
}

/// The number of a quantity in a unit, where it comes out exactly in just that; in none where it is a plain number.
pub(super) fn exactly_in(value: &Value, unit: &str) -> Option<Decimal> {
    let asked = Some(unit).filter(|unit| !unit.is_empty());
    let (number, word) = check::in_unit(value.quantity()?, asked);
    number.exact().filter(|_| word == unit)
}

/// Values with the first of their units in which all of them come out exactly; none where there is none. Words have no unit.
fn in_one_unit(pieces: &[Piece]) -> Option<(String, Vec<Piece>)> {
    let unit_of = |piece: &Piece| match piece {
        Piece::One(Value::Quantity { quantity, unit }) => {
            Some(check::in_unit(quantity, unit.as_deref()).1)
        }
        Piece::One(_) => None,
        Piece::Steps(steps) => Some(steps.unit.clone()),
    };
    let mut units: Vec<String> = pieces.iter().filter_map(unit_of).collect();
    units.dedup();
    if units.is_empty() {
        return Some((String::new(), pieces.to_vec()));
    }
    units.into_iter().find_map(|unit| {
        let told = |piece: &Piece| match piece {
            Piece::One(Value::Word(_) | Value::Text(_)) => Some(piece.clone()),
            Piece::One(value) => exactly_in(value, &unit).map(|_| piece.clone()),
            Piece::Steps(steps) => steps.told_in(&unit).map(Piece::Steps),
        };
        let pieces: Option<Vec<Piece>> = pieces.iter().map(told).collect();
        pieces.map(|pieces| (unit, pieces))
    })
}
