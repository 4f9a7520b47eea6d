//! Several numbers at once for an aim under limits: the best that keeps them, or what would have to give.
//!
//! Input: a function of numbers between bounds, each scaled to 0 to 1, with what is aimed at and by how much each
//! limit is kept. It may be undefined in parts, and step. Output: the best place found, always the same for the same
//! input.
//!
//! The bounds are strewn evenly first (an additive recurrence, Roberts' generalised golden ratio; the corners and the
//! middle beside it); from the best of these it goes on along the limits, from the best that this leads to once more in
//! short steps, and at last along the axes and between pairs of them, which no step of a result misleads.

use super::merit::Seat;
use super::slide::{Judge, slid};

/// How many places are strewn for each number, and how many of the best are followed.
const STREWN: usize = 48;
const FOLLOWED: usize = 3;

/// The first step from a place that was strewn, from the best that these led to, and from a known one.
const FIRST: f64 = 0.1;
const AGAIN: f64 = 0.02;
const BESIDE: f64 = 0.01;

/// How many places may be judged from one that was strewn, and from the best.
const EACH: usize = 100;
const LAST: usize = 250;

/// The steps along the axes, and between pairs of them.
const CREPT: [f64; 3] = [1e-3, 1e-4, 1e-5];

/// How many such steps are gone on one way at most.
const FAR: usize = 9;

/// The best of all places between 0 and 1, or of those that lead down `from` some alone; none where none could be judged.
pub fn best(count: usize, judge: &mut Judge<'_>, from: &[Vec<f64>], alone: bool) -> Option<Seat> {
    let strewn = if alone { Vec::new() } else { strewn(count) };
    let all = from.iter().cloned().chain(strewn);
    let places = all.filter_map(|at| {
        let judged = judge(&at)?;
        Some(Seat { at, judged })
    });
    let mut places: Vec<Seat> = places.collect();
    places.sort_by(|one, other| one.judged.order(&other.judged));
    places.truncate(FOLLOWED);
    let wide = if alone { BESIDE } else { FIRST };
    let led = places
        .into_iter()
        .map(|place| slid(place, wide, EACH, judge));
    let best = led.min_by(|one, other| one.judged.order(&other.judged))?;
    Some(crept(slid(best, AGAIN, LAST, judge), judge))
}

/// Places strewn evenly: the middle, the corners where they are few, and an additive recurrence.
fn strewn(count: usize) -> Vec<Vec<f64>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut all = vec![vec![0.5; count]];
    if count <= 4 {
        for corner in 0..1_usize << count {
            let at = (0..count).map(|axis| if corner >> axis & 1 == 1 { 1.0 } else { 0.0 });
            all.push(at.collect());
        }
    }
    let mut ratio = 2.0_f64;
    for _ in 0..40 {
        ratio = libm::pow(1.0 + ratio, 1.0 / (index(count) + 1.0));
    }
    let mut steps = Vec::new();
    let mut step = 1.0;
    for _ in 0..count {
        step /= ratio;
        steps.push(step);
    }
    for place in 1..=STREWN * count {
        all.push(
            steps
                .iter()
                .map(|step| (0.5 + index(place) * step).fract())
                .collect(),
        );
    }
    all
}

#[allow(
    clippy::cast_precision_loss,
    reason = "counts of a few thousand at most"
)]
fn index(count: usize) -> f64 {
    count as f64
}

/// Goes on from a place along the axes and between pairs of them, with ever shorter steps.
fn crept(place: Seat, judge: &mut Judge<'_>) -> Seat {
    let mut best = place;
    for step in CREPT {
        for way in ways(best.at.len()) {
            // A way that leads on is gone on.
            for _ in 0..FAR {
                let moved = best.at.iter().zip(&way);
                let at: Vec<f64> = moved
                    .map(|(at, way)| (at + way * step).clamp(0.0, 1.0))
                    .collect();
                match judge(&at).filter(|judged| judged.beats(&best.judged)) {
                    Some(judged) => best = Seat { at, judged },
                    None => break,
                }
            }
        }
    }
    best
}

/// Along each axis to either side, and between each pair of them.
fn ways(count: usize) -> Vec<Vec<f64>> {
    let mut ways = Vec::new();
    for one in 0..count {
        for other in one..count {
            for (first, second) in [(1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)] {
                if one == other && first != second {
                    continue;
                }
                let on = |axis| {
                    if axis == one {
                        first
                    } else if axis == other {
                        second
                    } else {
                        0.0
                    }
                };
                ways.push((0..count).map(on).collect());
            }
        }
    }
    ways
}
