//! What stops a choice: the limits that bind and what a little of each is worth, or those that would have to give.

use crate::explore::{Binding, Cell, Engine, RowReader, Seat, best};

use super::choosing::Asked;
use super::limit::Limit;

/// A limit that is kept by less than this part of what it asks may bind.
const TIGHT: f64 = 1e-4;

/// How much of a limit is given to see what that is worth, as a part of what it asks.
const GIVEN: f64 = 0.01;

/// What of the aim is no gain by that, as a part of it.
const NO_GAIN: f64 = 3e-5;

/// How far a field is moved to see whether a limit rests on it, as a part of its way.
const MOVED: f64 = 1e-3;

impl Asked {
    /// The limits that bind at the best, each with what one unit of it is worth.
    ///
    /// What no field moves does not bind, nor does what gains nothing when it gives, unless nothing else is in the way.
    pub(super) fn binding(
        &self,
        engine: &Engine<'_>,
        reader: &mut RowReader<'_, '_>,
        set: &[u64],
        place: &Seat,
    ) -> Vec<Binding> {
        let Some(cells) = self.cells(reader, set, &place.at) else {
            return Vec::new();
        };
        let mut found = Vec::new();
        let mut beside = Vec::new();
        for (at, limit) in self.limits.iter().enumerate() {
            let spare = place.judged.spare.get(at).copied().unwrap_or(1.0);
            if spare > TIGHT || !self.rests(reader, set, place, limit, &cells) {
                continue;
            }
            let scale = limit
                .asked(&cells)
                .map_or(1.0, |asked| asked.abs().max(1e-3));
            let by = scale * GIVEN;
            let mut judge = |near: &[f64]| {
                let values = self.values(set, near)?;
                let judged = self.judged(reader, &values, Some(self.aim), None, Some((at, by)))?;
                Some(judged.0)
            };
            // What a little is worth is asked where the best is.
            let from = std::slice::from_ref(&place.at);
            let Some(eased) = best(place.at.len(), &mut judge, from, true) else {
                continue;
            };
            let gain = place.judged.aim - eased.judged.aim;
            let mut one = self.bound(limit, &cells);
            one.inside = self.inside(engine, limit, set, &eased.at);
            if limit.right.is_none() && one.inside.is_none() {
                continue;
            }
            match gain > NO_GAIN * place.judged.aim.abs() {
                true => {
                    one.worth = limit.right.map(|_| gain / by);
                    found.push(one);
                }
                false => beside.push(one),
            }
        }
        let at_bound = |at: &f64| *at <= 0.0 || *at >= 1.0;
        if found.is_empty() && !place.at.iter().any(at_bound) {
            return beside;
        }
        found
    }

    /// Whether what a limit compares moves with any field.
    fn rests(
        &self,
        reader: &mut RowReader<'_, '_>,
        set: &[u64],
        place: &Seat,
        limit: &Limit,
        cells: &[Cell],
    ) -> bool {
        // Whether all holds rests on all.
        let Some(right) = limit.right else {
            return true;
        };
        let number = |cells: &[Cell], at: usize| cells.get(at).and_then(Cell::number);
        let both = |cells: &[Cell]| [limit.left, right].map(|at| number(cells, at));
        let known = both(cells);
        (0..place.at.len()).any(|axis| {
            [MOVED, -MOVED].into_iter().any(|by| {
                let mut at = place.at.clone();
                if let Some(number) = at.get_mut(axis) {
                    *number = (*number + by).clamp(0.0, 1.0);
                }
                let found = self.cells(reader, set, &at);
                found.is_some_and(|cells| both(&cells) != known)
            })
        }) || self.axes.iter().any(|axis| !axis.free())
    }

    fn cells(&self, reader: &mut RowReader<'_, '_>, set: &[u64], at: &[f64]) -> Option<Vec<Cell>> {
        let values = self.values(set, at)?;
        let judged = self.judged(reader, &values, Some(self.aim), None, None)?;
        Some(judged.1)
    }

    fn bound(&self, limit: &Limit, cells: &[Cell]) -> Binding {
        let of = limit.right.and_then(|_| self.readings.get(limit.left));
        let found = cells.get(limit.left).and_then(Cell::number);
        Binding {
            text: limit.text.clone(),
            worth: None,
            found: found.filter(|_| of.is_some()),
            of: of.cloned(),
            inside: None,
        }
    }

    /// What falls short first at a place, where all that holds is a limit.
    fn inside(
        &self,
        engine: &Engine<'_>,
        limit: &Limit,
        set: &[u64],
        at: &[f64],
    ) -> Option<String> {
        if limit.right.is_some() {
            return None;
        }
        engine.short_with(&self.values(set, at)?)
    }

    /// Each limit that would have to give alone, and to what.
    pub(super) fn gives(
        &self,
        engine: &Engine<'_>,
        reader: &mut RowReader<'_, '_>,
        set: &[u64],
        place: &Seat,
    ) -> Vec<Binding> {
        let near = [(set.to_vec(), place.at.clone())];
        let mut found = Vec::new();
        for (at, limit) in self.limits.iter().enumerate() {
            let Some((set, eased)) =
                self.best(reader, None, Some(at), None, &near, &mut Vec::new())
            else {
                continue;
            };
            if eased.judged.broken() > 0.0 {
                continue;
            }
            let Some(cells) = self.cells(reader, &set, &eased.at) else {
                continue;
            };
            let mut one = self.bound(limit, &cells);
            one.inside = self.inside(engine, limit, &set, &eased.at);
            found.push(one);
        }
        found
    }
}
