//! A band evaluated anywhere in the ranges of what may be off, each place once.

use std::cell::Cell;
use std::sync::{Arc, Mutex, PoisonError};

use crate::kernel::figures;
use crate::source::Span;

use super::evaluation::{Evaluation, Points};
use super::of_band::input_of;
use super::standing::Standing;
use super::stop::stopped;

/// Places are told apart by this part of a half range.
const TOLD_APART: f64 = 1e-8;

/// Places kept at most; what lies beyond is computed anew.
pub(super) const KEPT: usize = 4096;

thread_local! {
    static WORKED: Cell<u64> = const { Cell::new(0) };
}

/// How many places of ranges this thread has worked out since it began: what tells what a question costs, whatever the
/// machine.
///
/// # Example
/// ```
/// use annulet::evaluate::places_worked;
/// assert_eq!(places_worked(), 0);
/// ```
#[must_use]
pub fn places_worked() -> u64 {
    WORKED.get()
}

/// Variables in the order of the names of what they are first off, so that a search goes the same way wherever a value
/// is written.
#[must_use]
pub fn by_name(named: impl IntoIterator<Item = (String, Span)>) -> Vec<Span> {
    let mut all: Vec<(String, Span)> = Vec::new();
    for (name, variable) in named {
        match all.iter_mut().find(|(_, known)| *known == variable) {
            Some((known, _)) if name < *known => *known = name,
            Some(_) => {}
            None => all.push((name, variable)),
        }
    }
    all.sort();
    all.into_iter().map(|(_, variable)| variable).collect()
}

/// What a place is known by among those that were looked at.
pub(super) fn key_of(place: &[f64]) -> Vec<i32> {
    place.iter().map(|t| (t / TOLD_APART) as i32).collect()
}

impl Evaluation {
    /// The variables that it rests on.
    pub(super) fn points(&self) -> &Points {
        self.points.get_or_init(|| {
            let ranged = self.band.ranged().into_iter();
            Arc::new(Points {
                variables: by_name(ranged.map(|one| (one.path, one.variable))),
                known: Mutex::default(),
                ranges: Mutex::default(),
            })
        })
    }

    /// The same at a place of the ranges, by where each variable stands; none where it cannot be worked out there.
    pub(super) fn at(&self, place: &[f64]) -> Option<Arc<Self>> {
        let points = self.points();
        let key = key_of(place);
        let lock = || points.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = lock().get(&key) {
            return known.clone();
        }
        let point = points.variables.iter().copied().zip(place.iter().copied());
        let point: Standing = point.filter(|(_, t)| *t != 0.0).collect();
        let found = self.at_point(&point).map(Arc::new);
        let mut known = lock();
        if known.len() < KEPT {
            known.insert(key, found.clone());
        }
        found
    }

    /// The same where some variables stand, each place once; those that are none of its own count for nothing.
    #[must_use]
    pub fn standing(&self, point: &[(Span, f64)]) -> Option<Arc<Self>> {
        let stands = |variable: &Span| {
            let found = point.iter().find(|(known, _)| known == variable);
            found.map_or(0.0, |(_, t)| *t)
        };
        let place: Vec<f64> = self.points().variables.iter().map(stands).collect();
        self.at(&place)
    }

    /// The same at a point, not kept.
    pub(super) fn at_point(&self, point: &Standing) -> Option<Self> {
        let stands = |variable: Span| {
            let found = point.iter().find(|(known, _)| *known == variable);
            found.map_or(0.0, |(_, t)| *t)
        };
        if stopped() {
            return None;
        }
        WORKED.set(WORKED.get() + 1);
        let band = self.band.at(&stands)?;
        let mut input = input_of(&band);
        input.stretch.run_out = self.band.run_out_at(&stands);
        // A price moves no metal.
        let alike = input == self.input;
        let figures = match alike {
            true => self.figures,
            false => figures(&input),
        };
        let mut there = self.with(Arc::new(band), input, figures, Arc::clone(point));
        if alike {
            there.stretch = self.stretch.clone();
        }
        Some(there)
    }
}
