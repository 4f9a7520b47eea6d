//! How far results may be off: the widest range of each that is found over all that may be off, and its standard
//! deviation.
//!
//! Each written `±` is one variable, and so is each length that a tolerance of the shop stands for. First every
//! variable goes to either end of its range by itself. Where a result is the sum of what each does, and each does the
//! same to either side, the range is that sum. Where it bends, the range is searched: every corner of up to five
//! variables, and from some places inside, then one variable after the other moved to wherever the result is lowest
//! (highest), inside its range too, until none helps any more. With more variables not every corner is seen: what is
//! found lies within the true range, and is told as found ([`RangeBy::Search`]). So is what drawn cuts have part in, which
//! takes long: it is looked at where each variable by itself points to.
//!
//! # Source
//! Bounds are taken for rectangular distributions, a half width for 3^(1/2) standard deviations: JCGM 100:2008 (Guide to
//! the Expression of Uncertainty in Measurement), 4.3.7; variances of independent variables add up (5.1.2).

use std::sync::PoisonError;

use crate::quantity::{Deviation, Number};
use crate::schema::ResultRow;
use crate::source::Span;

use super::draws::Draws;
use super::evaluation::Evaluation;
use super::range::{Range, RangeBy, Single, Spread};
use super::results::number;

/// How far a result may be off; nothing where nothing that it rests on may be.
#[must_use]
pub fn spread_of(evaluation: &Evaluation, entry: &ResultRow) -> Option<Spread> {
    range_of(evaluation, entry).map(|range| range.spread())
}

/// The range of a result; nothing where nothing that it rests on may be off.
#[must_use]
pub fn range_of(evaluation: &Evaluation, entry: &ResultRow) -> Option<Range> {
    let points = evaluation.points();
    if points.variables.is_empty() {
        return None;
    }
    let lock = || points.ranges.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = lock().get(&entry.id) {
        return known.clone();
    }
    let found = range(evaluation, &|of| Some(number(entry.id, of)?.to_f64()));
    lock().insert(entry.id, found.clone());
    found
}

/// How far one figure of an evaluation may be off; nothing where nothing may be.
#[must_use]
pub fn spread(
    evaluation: &Evaluation,
    read: &dyn Fn(&Evaluation) -> Option<f64>,
) -> Option<Spread> {
    range(evaluation, read).map(|range| range.spread())
}

/// What each variable does to a result, as deviations that add up to its range at least: where it bends, they are
/// larger in proportion.
#[must_use]
pub fn shares_of(evaluation: &Evaluation, entry: &ResultRow) -> Vec<Deviation> {
    range_of(evaluation, entry).map_or_else(Vec::new, |range| shares(&range))
}

/// What each variable does to a figure of a range, as deviations that add up to the range at least.
pub(super) fn shares(range: &Range) -> Vec<Deviation> {
    let sum: f64 = range.singles.iter().map(Single::most).sum();
    let spread = range.spread();
    let times = match spread.high.max(-spread.low) / sum {
        more if more > 1.0 + ALIKE => more,
        _ => 1.0,
    };
    let moving = range.singles.iter().filter(|one| one.moves());
    let share = |one: &Single| {
        let half = if one.high < one.low {
            -one.most()
        } else {
            one.most()
        };
        Deviation {
            variable: one.variable,
            amount: Number::Computed(half * times),
        }
    };
    moving.map(share).collect()
}

/// What a solver leaves in the last digits, of a figure or of one.
const NOISE: f64 = 1e-12;

/// What of a range is no bend.
const ALIKE: f64 = 1e-9;

/// The most variables whose corners are all tried.
const ALL_CORNERS: usize = 5;

/// How many places inside are looked at to see whether a figure is a sum.
const PROBES: usize = 6;

/// Where along one variable a better place is looked for, and where then, unless the figure only rises or only falls there.
const STOPS: [f64; 3] = [-1.0, 0.0, 1.0];
const HALFWAY: [f64; 2] = [-0.5, 0.5];

/// How closely a place inside is found, as a part of a half range: about a lowest or highest place a figure is off by the
/// square of that. Where not every corner is seen, a finer place would tell nothing more.
const CLOSE: f64 = 1e-4;
const ROUGH: f64 = 0.01;

/// What the two sides of a variable may differ by, as a part of both, where it is taken to only rise or only fall.
const STRAIGHT: f64 = 0.1;

/// The golden section, by which a place inside is closed in on: one place of two is used again.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// How often all variables are gone through at most.
const ROUNDS: usize = 3;

/// The range of one figure; nothing where nothing may be off, or there is no such figure.
#[must_use]
pub fn range(evaluation: &Evaluation, read: &dyn Fn(&Evaluation) -> Option<f64>) -> Option<Range> {
    let variables = &evaluation.points().variables;
    if variables.is_empty() {
        return None;
    }
    let nominal = read(evaluation)?;
    let mut at = |place: &[f64]| {
        let there = evaluation.at(place)?;
        read(&there)
    };
    // What drawn cuts come to takes a thousand times as long as all else.
    let fine = !evaluation.band.is_drawn();
    Some(range_over(variables, nominal, fine, &mut at))
}

/// The range of a figure that `read` gives at a place: where each of some variables stands, from -1 to 1; none where it
/// has none there. `fine`: it is searched; else looked at where each variable by itself points to.
#[must_use]
pub fn range_over(
    variables: &[Span],
    nominal: f64,
    fine: bool,
    read: &mut dyn FnMut(&[f64]) -> Option<f64>,
) -> Range {
    let mut sought = Sought {
        read,
        nominal,
        fine,
        close: CLOSE,
        straight: Vec::new(),
        gaps: false,
    };
    let mut place = vec![0.0; variables.len()];
    let mut singles = Vec::with_capacity(variables.len());
    for (at, variable) in variables.iter().enumerate() {
        let [low, high] = [-1.0, 1.0].map(|end| {
            set(&mut place, at, end);
            sought.by(&place)
        });
        set(&mut place, at, 0.0);
        singles.push(Single {
            variable: *variable,
            low,
            high,
        });
    }
    let sum: f64 = singles.iter().map(Single::most).sum();
    let corner = |sign: f64| {
        let towards = singles.iter().map(|one| {
            let (low, high) = (one.low * sign, one.high * sign);
            match (low.max(high) > 0.0, high >= low) {
                (false, _) => 0.0,
                (true, true) => 1.0,
                (true, false) => -1.0,
            }
        });
        towards.collect::<Vec<f64>>()
    };
    let (down, up) = (corner(-1.0), corner(1.0));
    let even = singles
        .iter()
        .all(|one| (one.low + one.high).abs() <= ALIKE * sum);
    let same = |found: f64, wanted: f64| (found - wanted).abs() <= ALIKE * sum.max(found.abs());
    // Two that do nothing alone may do much together, so that some places inside are looked at too.
    let probes = match fine {
        true => probes(variables.len()),
        false => Vec::new(),
    };
    let added = |place: &[f64]| -> f64 {
        let both = singles.iter().zip(place);
        both.map(|(one, t)| t * (one.high - one.low) / 2.0).sum()
    };
    let adds = probes
        .iter()
        .all(|place| same(sought.by(place), added(place)));
    let moving: Vec<usize> = (0..singles.len())
        .filter(|at| !adds || singles.get(*at).is_some_and(Single::moves))
        .collect();
    let sums = even && adds && same(sought.by(&down), -sum) && same(sought.by(&up), sum);
    let (lowest, highest, way) = if sums {
        (down, up, RangeBy::Sum)
    } else {
        let mut starts = vec![down.clone(), up.clone()];
        starts.extend(probes);
        let few = fine && moving.len() <= ALL_CORNERS;
        if few {
            starts.extend(corners(&moving, variables.len()));
        }
        if !fine {
            starts.extend(ends(&moving, variables.len()));
        }
        sought.close = if few { CLOSE } else { ROUGH };
        let is_straight = |one: &Single| {
            let both = one.low.abs() + one.high.abs();
            one.low * one.high < 0.0 && (one.low + one.high).abs() <= STRAIGHT * both
        };
        sought.straight = singles.iter().map(|one| !few && is_straight(one)).collect();
        let lowest = sought.best(&starts, &moving, -1.0);
        let highest = sought.best(&starts, &moving, 1.0);
        (
            lowest,
            highest,
            if few {
                RangeBy::Corners
            } else {
                RangeBy::Search
            },
        )
    };
    let named = |place: &[f64]| {
        let named = variables.iter().copied().zip(place.iter().copied());
        named.filter(|(_, t)| *t != 0.0).collect::<Vec<_>>()
    };
    let (low, high) = (sought.by(&lowest), sought.by(&highest));
    Range {
        nominal,
        low: nominal + low.min(0.0),
        high: nominal + high.max(0.0),
        lowest: named(&lowest),
        highest: named(&highest),
        way,
        singles,
        gaps: sought.gaps,
    }
}

/// Some places inside the ranges, the same in every run.
fn probes(count: usize) -> Vec<Vec<f64>> {
    let mut draws = Draws::new();
    let places = (0..PROBES).map(|_| (0..count).map(|_| draws.draw()).collect());
    places.collect()
}

fn set(place: &mut [f64], at: usize, to: f64) {
    if let Some(one) = place.get_mut(at) {
        *one = to;
    }
}

/// Either end of each of some variables, the others as written.
fn ends(moving: &[usize], count: usize) -> impl Iterator<Item = Vec<f64>> {
    let both = moving.iter().flat_map(|at| [(*at, -1.0), (*at, 1.0)]);
    both.map(move |(at, end)| {
        let mut place = vec![0.0; count];
        set(&mut place, at, end);
        place
    })
}

/// Every corner of some variables, the others as written.
fn corners(moving: &[usize], count: usize) -> impl Iterator<Item = Vec<f64>> {
    (0..1_u32 << moving.len()).map(move |signs| {
        let mut place = vec![0.0; count];
        for (bit, at) in moving.iter().enumerate() {
            set(
                &mut place,
                *at,
                if (signs >> bit) & 1 == 1 { 1.0 } else { -1.0 },
            );
        }
        place
    })
}

/// All that may be off, and a figure that is looked for in it.
struct Sought<'a> {
    read: &'a mut dyn FnMut(&[f64]) -> Option<f64>,
    nominal: f64,
    /// It is searched, not only looked at where each variable points to.
    fine: bool,
    /// How closely a place inside is found.
    close: f64,
    /// Variables that only rise or only fall as written: of them the ends alone are looked at.
    straight: Vec<bool>,
    /// At some place there was no such figure.
    gaps: bool,
}

impl Sought<'_> {
    /// How far the figure is off at a place; nothing where there is none.
    fn by(&mut self, place: &[f64]) -> f64 {
        let found = (self.read)(place).filter(|found| found.is_finite());
        let Some(found) = found else {
            self.gaps = true;
            return 0.0;
        };
        let by = found - self.nominal;
        // What a solver leaves in the last digits is no deviation.
        if by.abs() > NOISE * self.nominal.abs().max(1.0) {
            by
        } else {
            0.0
        }
    }

    /// The place where the figure is lowest (sign -1) or highest (1), from the best of some starts.
    fn best(&mut self, starts: &[Vec<f64>], moving: &[usize], sign: f64) -> Vec<f64> {
        let mut best: Vec<f64> = Vec::new();
        let mut most = f64::NEG_INFINITY;
        for start in starts {
            let found = sign * self.by(start);
            if found > most {
                (best, most) = (start.clone(), found);
            }
        }
        // What takes long is looked at where each by itself points to, and told as the widest found.
        let rounds = if self.fine { ROUNDS } else { 0 };
        for _ in 0..rounds {
            let before = most;
            for at in moving {
                self.along(&mut best, &mut most, *at, sign);
            }
            if most - before <= ALIKE * before.abs() {
                break;
            }
        }
        best
    }

    /// Moves one variable to where the figure is best.
    fn along(&mut self, best: &mut [f64], most: &mut f64, at: usize, sign: f64) {
        let mut stop = best.get(at).copied().unwrap_or(0.0);
        let mut least = *most;
        let at_end = stop;
        let straight = self.straight.get(at).is_some_and(|straight| *straight);
        let other_end = straight && at_end.abs() == 1.0;
        let mut look = |t: f64| {
            set(best, at, t);
            let found = sign * self.by(best);
            least = least.min(found);
            if found > *most {
                (*most, stop) = (found, t);
            }
            found
        };
        if other_end {
            look(-at_end);
            return set(best, at, stop);
        }
        let [low, middle, high] = STOPS.map(&mut look);
        if (middle - low) * (high - middle) <= 0.0 && (low != middle || high != middle) {
            let _ = HALFWAY.map(&mut look);
        }
        // Where it does nothing there is nothing to look for.
        let moves = *most - least > ALIKE * most.abs().max(least.abs());
        if stop.abs() < 1.0 && moves {
            // The best lies inside: between the two stops beside it.
            let close = self.close;
            let (mut from, mut to) = ((stop - 0.5).max(-1.0), (stop + 0.5).min(1.0));
            let (mut one, mut other) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
            let mut found = |t: f64| {
                set(best, at, t);
                let found = sign * self.by(best);
                if found > *most {
                    (*most, stop) = (found, t);
                }
                found
            };
            let (mut left, mut right) = (found(one), found(other));
            while to - from > close {
                if left >= right {
                    (to, other, right) = (other, one, left);
                    one = to - GOLDEN * (to - from);
                    left = found(one);
                } else {
                    (from, one, left) = (one, other, right);
                    other = from + GOLDEN * (to - from);
                    right = found(other);
                }
            }
        }
        set(best, at, stop);
    }
}
