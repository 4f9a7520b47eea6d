//! A ring in the hand: what one number of a band would have to be for a weight, over all readings of it at once.

use std::sync::Arc;

use crate::model::{Band, Value, times_as_large};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::FieldId;
use crate::source::Span;

use super::evaluation::{Evaluation, sound};
use super::points::by_name;
use super::range::Range;
use super::spread::{range, range_over};

/// What a scale showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grams {
    /// The reading, g.
    pub grams: f64,
    /// By how much it may be off to either side, g.
    pub off: f64,
    /// Where it is written.
    pub at: Span,
}

/// Places between the bounds of an unknown at which it is first looked for.
const LOOKS: usize = 48;

/// Steps of a root that is closed in on; each halves what is left at least.
const STEPS: usize = 80;

impl Evaluation {
    /// The volume of its metal over all that may be off, mm3.
    #[must_use]
    pub fn volume_range(&self) -> Range {
        let nominal = self.figures.volume;
        let none = || Range {
            nominal,
            low: nominal,
            high: nominal,
            lowest: Vec::new(),
            highest: Vec::new(),
            way: super::RangeBy::Sum,
            singles: Vec::new(),
            gaps: false,
        };
        range(self, &|of| Some(of.figures.volume)).unwrap_or_else(none)
    }

    /// The least and the most of a field of the band, mm or as a part, for which it weighs so much somewhere in the
    /// ranges of all else, the scale's own among them; none where no value between the bounds does as read.
    #[must_use]
    pub fn sought(&self, id: FieldId, bounds: (f64, f64), on_scale: Grams) -> Option<Range> {
        let plain = Band {
            settled: true,
            ..(*self.band).clone()
        };
        let nominal = first_root(&plain, id, bounds, on_scale.grams)?;
        // The field's own `±` says nothing of what it would have to be.
        let own = self.band.field(id).map(|field| self.band.off(field));
        let is_own = |variable: &Span| {
            let own = own.as_deref().unwrap_or_default();
            own.iter().any(|one| one.variable == *variable)
        };
        let ranged = self.band.ranged().into_iter();
        // What the scale showed is the weight itself, not a part of the ring.
        let ranged = ranged.filter(|one| one.field != Some(FieldId::WeighedFinished));
        let named = ranged.map(|one| (one.path, one.variable));
        let scale = ("weight".to_owned(), on_scale.at);
        let named = named.filter(|(_, variable)| !is_own(variable));
        let variables = by_name(named.chain([scale]));
        let mut read = |place: &[f64]| {
            let stands = |variable: Span| {
                let mut both = variables.iter().zip(place);
                both.find(|(known, _)| **known == variable)
                    .map_or(0.0, |(_, t)| *t)
            };
            let grams = on_scale.grams + stands(on_scale.at) * on_scale.off;
            near_root(&self.band.at(&stands)?, id, (nominal, bounds), grams)
        };
        Some(range_over(&variables, nominal, true, &mut read))
    }

    /// The value of a field, mm or as a part, for which the band weighs so much where some variables stand; none where
    /// none between the bounds does.
    #[must_use]
    pub fn sought_at(
        &self,
        id: FieldId,
        bounds: (f64, f64),
        grams: f64,
        point: &[(Span, f64)],
    ) -> Option<f64> {
        let stands = |variable: Span| {
            let found = point.iter().find(|(known, _)| *known == variable);
            found.map_or(0.0, |(_, t)| *t)
        };
        first_root(&self.band.at(&stands)?, id, bounds, grams)
    }

    /// What the band weighs as written with another value of a field, mm or as a part; none where it cannot be made so.
    #[must_use]
    pub fn grams_with(&self, id: FieldId, value: f64) -> Option<f64> {
        grams(&self.band, id, value)
    }
}

/// What a band weighs with another value of a field, g.
fn grams(band: &Band, id: FieldId, value: f64) -> Option<f64> {
    let number = Number::Computed(value);
    let (dimension, unit) = match &band.field(id)?.value {
        Value::Quantity { quantity, unit } => (quantity.dimension, unit.clone()),
        other => {
            times_as_large(other, 1.0, 1.0, false)?;
            (Dimension::LENGTH, None)
        }
    };
    let quantity = Quantity::new(number, dimension);
    let moved = band.nudged(id, Value::Quantity { quantity, unit })?;
    Some(sound(&Arc::new(moved))?.figures.weight)
}

/// The first value between bounds, from the lower one on, for which a band weighs so much.
fn first_root(band: &Band, id: FieldId, bounds: (f64, f64), wanted: f64) -> Option<f64> {
    let step = (bounds.1 - bounds.0) / LOOKS as f64;
    let by = |value: f64| Some(grams(band, id, value)? - wanted);
    let mut before: Option<(f64, f64)> = None;
    for look in 0..=LOOKS {
        let at = bounds.0 + step * look as f64;
        let Some(here) = by(at) else {
            continue;
        };
        match before {
            _ if here == 0.0 => return Some(at),
            Some((from, there)) if (there < 0.0) != (here < 0.0) => {
                return closed(&by, (from, there), (at, here));
            }
            _ => before = Some((at, here)),
        }
    }
    None
}

/// The same next to a value that is known for another place of the ranges.
fn near_root(
    band: &Band,
    id: FieldId,
    (known, bounds): (f64, (f64, f64)),
    wanted: f64,
) -> Option<f64> {
    let by = |value: f64| Some(grams(band, id, value)? - wanted);
    let first = by(known)?;
    let mut reach = (bounds.1 - bounds.0) / LOOKS as f64 / 4.0;
    while reach <= bounds.1 - bounds.0 {
        for at in [known - reach, known + reach] {
            let at = at.clamp(bounds.0, bounds.1);
            if let Some(there) = by(at).filter(|there| (*there < 0.0) != (first < 0.0)) {
                return closed(&by, (known, first), (at, there));
            }
        }
        reach *= 2.0;
    }
    None
}

/// Where a figure is nothing between two places of other signs, by the rule known as that of the false position, the end
/// that stays halved (Illinois).
fn closed(by: &dyn Fn(f64) -> Option<f64>, one: (f64, f64), other: (f64, f64)) -> Option<f64> {
    let ((mut a, mut fa), (mut b, mut fb)) = (one, other);
    for _ in 0..STEPS {
        if fa == fb {
            break;
        }
        let at = (a * fb - b * fa) / (fb - fa);
        let here = by(at)?;
        if (here < 0.0) == (fb < 0.0) {
            fa /= 2.0;
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (at, here);
        if fb.abs() < 1e-11 || (a - b).abs() < 1e-12 {
            break;
        }
    }
    Some(b)
}
