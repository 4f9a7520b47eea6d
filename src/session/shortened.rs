//! The best of a choice as it is shown: numbers with as few digits as cost nothing, and still keep every limit.

use crate::explore::{Axis, Cell, Choice, Merit, RowReader};
use crate::model::Value;

use super::choosing::Asked;

/// What of the aim may be lost for the sake of shorter numbers, as a part of it.
const LOST: f64 = 1e-5;

/// How many digits behind the point a number is shown with at least and, unless it takes more, at most.
const FEW: u32 = 3;
const SHOWN: u32 = 6;

/// The most numbers that are rounded together, each to either side.
const TOGETHER: u32 = 6;

impl Asked {
    pub(super) fn choice(
        &self,
        reader: &mut RowReader<'_, '_>,
        set: &[u64],
        at: &[f64],
    ) -> Option<Choice> {
        let exact = self.values(set, at)?;
        let values = self.shortened(reader, exact);
        let (_, cells) = self.judged(reader, &values, Some(self.aim), None, None)?;
        let number = |place: usize| cells.get(place).and_then(Cell::number);
        Some(Choice {
            aim: number(self.aim.0)?,
            second: self.second.and_then(|(place, _)| number(place)),
            values,
        })
    }

    /// The values with as few digits as still keep every limit that they kept, and come as near to the aim.
    fn shortened(&self, reader: &mut RowReader<'_, '_>, exact: Vec<Value>) -> Vec<Value> {
        let mut judged = |values: &[Value]| {
            let judged = self.judged(reader, values, Some(self.aim), None, None);
            judged.map(|(judged, _)| judged)
        };
        let Some(known) = judged(&exact) else {
            return exact;
        };
        let most = known.aim + LOST * known.aim.abs();
        let serves = |judged: &Merit| judged.broken() <= known.broken() && judged.aim <= most;
        let mut best = exact.clone();
        let mut long = 0;
        for place in 0..best.len() {
            let Some((axis, value)) = self.free(place).zip(best.get(place).cloned()) else {
                continue;
            };
            // The way that keeps the limits is not known before: both are tried, the nearer first.
            let mut tried = (FEW..=SHOWN).flat_map(|places| axis.rounded(&value, places));
            let short = tried.find_map(|near| {
                let values = with(&best, place, near);
                judged(&values)
                    .is_some_and(|found| serves(&found))
                    .then_some(values)
            });
            match short {
                Some(values) => best = values,
                None => long += 1,
            }
        }
        if long == 0 {
            return best;
        }
        // Where limits cross, no number may move by itself: all at once, each to either side, and the best of these.
        self.together(&exact, &mut judged)
            .filter(|(_, found)| found.broken() <= known.broken())
            .map_or(best, |(values, _)| values)
    }

    /// All numbers rounded at once, each to the side that serves best.
    fn together(
        &self,
        exact: &[Value],
        judged: &mut dyn FnMut(&[Value]) -> Option<Merit>,
    ) -> Option<(Vec<Value>, Merit)> {
        let mut all = vec![exact.to_vec()];
        for place in 0..exact.len() {
            let Some((axis, value)) = self.free(place).zip(exact.get(place)) else {
                continue;
            };
            let sides = axis.rounded(value, SHOWN);
            if sides.is_empty() || all.len() >= 1 << TOGETHER {
                return None;
            }
            let put = |values: &Vec<Value>| -> Vec<Vec<Value>> {
                let sides = sides.iter().cloned();
                sides.map(|side| with(values, place, side)).collect()
            };
            all = all.iter().flat_map(put).collect();
        }
        let judged = all.into_iter().filter_map(|values| {
            let found = judged(&values)?;
            Some((values, found))
        });
        judged.min_by(|(_, one), (_, other)| one.order(other))
    }

    /// An axis on which any number may be taken.
    fn free(&self, place: usize) -> Option<&Axis> {
        self.axes.get(place).filter(|axis| axis.free())
    }
}

fn with(values: &[Value], place: usize, value: Value) -> Vec<Value> {
    let mut values = values.to_vec();
    if let Some(slot) = values.get_mut(place) {
        *slot = value;
    }
    values
}
