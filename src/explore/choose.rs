//! Several numbers at once for an aim under limits: the best that keeps them, or what would have to give.
//!
//! Input: a function of numbers between bounds, each scaled to 0 to 1, with what is aimed at and by how much each
//! limit is kept. It may be undefined in parts, and step. Output: the best place found, always the same for the same
//! input.
//!
//! The bounds are strewn evenly first (an additive recurrence, Roberts' generalised golden ratio; the corners and the
//! middle beside it); the best of these are followed down by linear approximation (COBYLA, M. J. D. Powell 1994, in the
//! crate `cobyla`), and what comes of it by a search along the axes and between pairs of them, which no step of a
//! result misleads.

use std::cell::RefCell;

use cobyla::{RhoBeg, StopTols, minimize};

/// What a place comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Merit {
    /// What is aimed at; the less, the better.
    pub aim: f64,
    /// By how much each limit is kept, as a part of what it asks; negative: broken.
    pub spare: Vec<f64>,
}

impl Merit {
    /// By how much all broken limits are broken, summed.
    #[must_use]
    pub fn broken(&self) -> f64 {
        let broken = self.spare.iter().filter(|spare| **spare < -KEPT);
        broken.map(|spare| -spare).sum()
    }

    /// Whether it is better than another: breaks less or, where neither breaks any, comes nearer to the aim.
    #[must_use]
    pub fn beats(&self, other: &Self) -> bool {
        let (own, others) = (self.broken(), other.broken());
        match own == others {
            true => self.aim < other.aim,
            false => own < others,
        }
    }
}

/// A limit broken by less than this part of what it asks is kept: the rounding of computed values.
const KEPT: f64 = 1e-9;

/// How many places are strewn for each number, and how many of the best are followed.
const STREWN: usize = 48;
const FOLLOWED: usize = 4;

/// How often a place that is alone is followed again.
const AGAIN: usize = 3;

/// How often a place may be judged while it is followed.
const JUDGED: usize = 160;

/// How often all ways from a place are gone.
const ROUNDS: usize = 60;

/// A place and what it comes to.
#[derive(Clone, Debug)]
pub struct Seat {
    /// The numbers, scaled.
    pub at: Vec<f64>,
    /// What they come to.
    pub judged: Merit,
}

/// The best of all places between 0 and 1, or of those that lead down `from` some alone; none where none could be judged.
pub fn best(
    count: usize,
    judge: &mut dyn FnMut(&[f64]) -> Option<Merit>,
    from: &[Vec<f64>],
    alone: bool,
) -> Option<Seat> {
    let mut places: Vec<Seat> = Vec::new();
    let mut take = |at: Vec<f64>, judge: &mut dyn FnMut(&[f64]) -> Option<Merit>| {
        if let Some(judged) = judge(&at) {
            places.push(Seat { at, judged });
        }
    };
    for at in from {
        take(at.clone(), judge);
    }
    if !alone {
        for at in strewn(count) {
            take(at, judge);
        }
    }
    places.sort_by(|one, other| {
        let broken = one.judged.broken().total_cmp(&other.judged.broken());
        broken.then(one.judged.aim.total_cmp(&other.judged.aim))
    });
    places.truncate(FOLLOWED);
    let mut best: Option<Seat> = None;
    for place in places {
        let mut found = walked(followed(place, judge), judge);
        // Alone it is not chosen among others, so that it goes on as long as that leads anywhere.
        for _ in 0..if alone { AGAIN } else { 0 } {
            let again = walked(followed(found.clone(), judge), judge);
            if !again.judged.beats(&found.judged) {
                break;
            }
            found = again;
        }
        if best
            .as_ref()
            .is_none_or(|best| found.judged.beats(&best.judged))
        {
            best = Some(found);
        }
    }
    best
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

/// By how much a limit is kept at a place.
type Spare<'a> = dyn Fn(&[f64], &mut ()) -> f64 + 'a;

/// Follows a place down by linear approximation.
fn followed(place: Seat, judge: &mut dyn FnMut(&[f64]) -> Option<Merit>) -> Seat {
    let count = place.at.len();
    if count == 0 {
        return place;
    }
    let limits = place.judged.spare.len();
    // Aim and limits are asked one by one; each place is judged once.
    let last: RefCell<(Vec<f64>, Merit)> = RefCell::new((place.at.clone(), place.judged.clone()));
    let best = RefCell::new(place.clone());
    let judge = RefCell::new(judge);
    let scale = place.judged.aim.abs().max(1e-9);
    let at = |x: &[f64]| {
        if last.borrow().0 != x {
            let judged = (judge.borrow_mut())(x).unwrap_or_else(|| Merit {
                // Where nothing can be made, all is worse than where it began.
                aim: place.judged.aim + scale,
                spare: vec![-10.0; limits],
            });
            if judged.beats(&best.borrow().judged) {
                *best.borrow_mut() = Seat {
                    at: x.to_vec(),
                    judged: judged.clone(),
                };
            }
            *last.borrow_mut() = (x.to_vec(), judged);
        }
    };
    let aim = |x: &[f64], _: &mut ()| {
        at(x);
        last.borrow().1.aim / scale
    };
    let spares: Vec<Box<Spare<'_>>> = (0..limits)
        .map(|limit| {
            let (at, last) = (&at, &last);
            let spare = move |x: &[f64], _: &mut ()| {
                at(x);
                last.borrow().1.spare.get(limit).copied().unwrap_or(0.0)
            };
            Box::new(spare) as Box<Spare<'_>>
        })
        .collect();
    let spares: Vec<&Spare<'_>> = spares.iter().map(|one| &**one).collect();
    let tolerances = StopTols {
        xtol_rel: 1e-9,
        ..StopTols::default()
    };
    // Whatever it says of itself, the best place that it came by is taken.
    let _ = minimize(
        aim,
        &place.at,
        &vec![(0.0, 1.0); count],
        &spares,
        (),
        JUDGED,
        RhoBeg::All(0.05),
        Some(tolerances),
    );
    best.borrow().clone()
}

/// Walks on from a place along the axes and between pairs of them, with ever shorter steps.
fn walked(place: Seat, judge: &mut dyn FnMut(&[f64]) -> Option<Merit>) -> Seat {
    let mut best = place;
    let count = best.at.len();
    let mut ways: Vec<Vec<f64>> = Vec::new();
    for one in 0..count {
        for other in one..count {
            let signs: &[(f64, f64)] = match one == other {
                true => &[(1.0, 0.0), (-1.0, 0.0)],
                false => &[(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)],
            };
            for (first, second) in signs {
                let mut way = vec![0.0; count];
                if let Some(place) = way.get_mut(other) {
                    *place = *second;
                }
                if let Some(place) = way.get_mut(one) {
                    *place = *first;
                }
                ways.push(way);
            }
        }
    }
    let (mut step, mut rounds) = (0.02, 0);
    while step > 1e-7 && rounds < ROUNDS {
        rounds += 1;
        let mut moved = false;
        for way in &ways {
            let at = best.at.iter().zip(way);
            let at: Vec<f64> = at
                .map(|(at, way)| (at + way * step).clamp(0.0, 1.0))
                .collect();
            if at == best.at {
                continue;
            }
            if let Some(judged) = judge(&at)
                && judged.beats(&best.judged)
            {
                best = Seat { at, judged };
                moved = true;
            }
        }
        if !moved {
            step /= 4.0;
        }
    }
    best
}
