//! Limits at their worst: what holds as written, and falls short somewhere in the ranges of what may be off.
//!
//! Walls are judged by their own ranges. All other limits are judged at the corners of the ranges: at every one where
//! few variables count, else with each variable at either end by itself, and where a result of stretch and join is
//! lowest and highest by what each variable does to it. What a ring earns is judged where it is least.

use std::sync::Arc;

use crate::fineness;
use crate::kernel;
use crate::kernel::section::Curves;
use crate::schema::{RESULTS, ResultId, Room};

use super::evaluation::Evaluation;
use super::results::number;
use super::shortfall::{Shortfall, Worst, impossible, is_stretched, short};
use super::spread::range_of;

/// What of a figure is no difference.
const ALIKE: f64 = 1e-9;

/// The most variables whose corners are all tried.
const ALL_CORNERS: usize = 5;

impl Evaluation {
    /// What holds as written, and falls short somewhere in the ranges of what may be off: each kind once, where it falls
    /// short by most. It is looked for when it is first read.
    #[must_use]
    pub fn worst(&self) -> &[Worst] {
        self.worst.get_or_init(|| worst(self))
    }

    /// What falls short where its variables stand but walls, which are judged by their ranges, and whether it cannot be
    /// made so; without what would just fit, which is sought of the worst alone.
    pub(super) fn falls(&self) -> &[(Shortfall, bool)] {
        self.falls.get_or_init(|| falls_of(self, false))
    }
}

fn worst(evaluation: &Evaluation) -> Vec<Worst> {
    let count = evaluation.points().variables.len();
    if count == 0 {
        return Vec::new();
    }
    let mut found: Vec<(Vec<f64>, Shortfall)> = Vec::new();
    for place in places(evaluation, count) {
        let Some(there) = evaluation.at(&place) else {
            continue;
        };
        for (shortfall, _) in there.falls() {
            let mut as_written = evaluation.falls().iter().map(|(one, _)| one);
            if as_written.any(|one| same(one, shortfall))
                || evaluation.shortfalls.iter().any(|one| same(one, shortfall))
            {
                continue;
            }
            match found.iter_mut().find(|(_, one)| same(one, shortfall)) {
                Some(known) if missing(shortfall) > missing(&known.1) => {
                    *known = (place.clone(), *shortfall);
                }
                Some(_) => {}
                None => found.push((place.clone(), *shortfall)),
            }
        }
    }
    let found = found.into_iter();
    found
        .filter_map(|(place, shortfall)| {
            let least = missing(&shortfall) * (1.0 - ALIKE);
            let is_it = |of: &Shortfall| same(of, &shortfall) && missing(of) >= least;
            at(evaluation, &needed(evaluation, place, &is_it), &is_it)
        })
        .collect()
}

/// Whether two say the same of a band, be it by other figures.
fn same(one: &Shortfall, other: &Shortfall) -> bool {
    one.code() == other.code() && one.field() == other.field()
}

/// How much is missing, in the unit of what is judged; nothing where no figures say it.
fn missing(shortfall: &Shortfall) -> f64 {
    let both = shortfall.found().zip(shortfall.wanted());
    both.map_or(0.0, |(found, wanted)| {
        (found.to_f64() - wanted.to_f64()).abs()
    })
}

/// What falls short at a place, like some shortfall.
fn at(evaluation: &Evaluation, place: &[f64], is_it: &dyn Fn(&Shortfall) -> bool) -> Option<Worst> {
    let there = evaluation.at(place)?;
    let which = there.falls().iter().position(|(one, _)| is_it(one))?;
    // The same list, each with what would just fit.
    let (shortfall, bars) = *falls_of(&there, true).get(which)?;
    let variables = evaluation.points().variables.iter().copied();
    let point = variables.zip(place.iter().copied());
    Some(Worst {
        shortfall,
        point: point.filter(|(_, t)| *t != 0.0).collect(),
        band: Arc::clone(&there.band),
        bars,
    })
}

/// A place with every variable put back that makes it no worse.
fn needed(
    evaluation: &Evaluation,
    mut place: Vec<f64>,
    is_it: &dyn Fn(&Shortfall) -> bool,
) -> Vec<f64> {
    for at in 0..place.len() {
        let mut less = place.clone();
        if let Some(one) = less.get_mut(at).filter(|one| **one != 0.0) {
            *one = 0.0;
            let there = evaluation.at(&less);
            if there.is_some_and(|there| there.falls().iter().any(|(one, _)| is_it(one))) {
                place = less;
            }
        }
    }
    place
}

/// The places that are looked at.
fn places(evaluation: &Evaluation, count: usize) -> Vec<Vec<f64>> {
    let mut singles = Vec::new();
    for at in 0..count {
        for end in [-1.0, 1.0] {
            let place = (0..count).map(|one| if one == at { end } else { 0.0 });
            singles.push(place.collect::<Vec<f64>>());
        }
    }
    let mut joint: Vec<Vec<f64>> = Vec::new();
    // What drawn cuts come to takes a thousand times as long as all else: the ends of each variable, and where a result
    // of stretch and join points to.
    if count <= ALL_CORNERS && !evaluation.band.is_drawn() {
        let corners = (0..1_u32 << count).map(|signs| {
            let ends = (0..count).map(|bit| if (signs >> bit) & 1 == 1 { 1.0 } else { -1.0 });
            ends.collect::<Vec<f64>>()
        });
        joint.extend(corners);
    } else {
        let ends: Vec<Option<Arc<Evaluation>>> =
            singles.iter().map(|place| evaluation.at(place)).collect();
        let judged = RESULTS.iter().filter(|row| row.room == Room::Stretch);
        for row in judged.filter(|_| is_stretched(&evaluation.input)) {
            let read = |of: &Evaluation| Some(number(row.id, of)?.to_f64());
            let by = |of: &Option<Arc<Evaluation>>| of.as_deref().and_then(read);
            let signs = ends.chunks(2).map(|both| match both {
                [low, high] => by(high).zip(by(low)).map_or(0.0, |(high, low)| {
                    if (high - low).abs() > 1e-12 {
                        (high - low).signum()
                    } else {
                        0.0
                    }
                }),
                _ => 0.0,
            });
            let up: Vec<f64> = signs.collect();
            let down: Vec<f64> = up.iter().map(|sign| -sign).collect();
            for corner in [down, up] {
                if !joint.contains(&corner) {
                    joint.push(corner);
                }
            }
        }
    }
    singles.extend(joint);
    singles.extend(least_earned(evaluation));
    singles
}

/// Where a ring that is sold earns least.
fn least_earned(evaluation: &Evaluation) -> Option<Vec<f64>> {
    evaluation.band.terms.as_ref()?.sale.as_ref()?;
    let range = range_of(evaluation, ResultId::Earning.row())?;
    let variables = evaluation.points().variables.iter();
    let stands = |variable| {
        let mut known = range.lowest.iter();
        known
            .find(|(one, _)| one == variable)
            .map_or(0.0, |(_, t)| *t)
    };
    Some(variables.map(stands).collect())
}

fn falls_of(of: &Evaluation, advised: bool) -> Vec<(Shortfall, bool)> {
    // Two lengths that say one thing are off each by itself, and contradict nothing.
    let stated = kernel::SaidTwice::default();
    if !kernel::possible(&Curves::of(&of.input.shape), &stated) {
        let misfits = kernel::check(&of.input.shape, &stated, 0.0).into_iter();
        return misfits.map(|one| (Shortfall::Metal(one), true)).collect();
    }
    let mut input = of.input.clone();
    input.stretch.unadvised = !advised;
    let (input, figures) = (&input, &of.figures);
    if let Some(clash) = impossible(input, figures, || of.stretch()) {
        return vec![(clash, true)];
    }
    let mut all = of.of_money();
    all.extend(fineness::restricted(&of.band).map(Shortfall::Fineness));
    all.extend(short(input, figures, || of.stretch()));
    all.into_iter().map(|one| (one, false)).collect()
}
