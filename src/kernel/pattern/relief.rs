//! How deep is one span of the band cut, on a grid of radial lines?
//!
//! Rows follow the laws of the outside and the upright sides that go along the band: none lies across a kink. Each row is
//! turned a little against the one before, so that a side straight across falls between its lines evenly.

use super::cutter::Taken;
use super::outside::StripOutside;

/// A row of radial lines.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct ReliefRow {
    /// Axial place, mm.
    pub x: f64,
    /// Width that it stands for, mm.
    pub wide: f64,
    /// Radius of the outside, mm.
    pub outside: f64,
    /// How far it is turned, as a share of the angle between two lines.
    pub turned: f64,
}

/// One span, sampled. Used again for another span it keeps its memory.
#[derive(Clone, Debug, Default)]
pub struct Relief {
    /// Radial lines round the span.
    round: usize,
    /// Angle of the span, radians.
    angle: f64,
    pub(super) rows: Vec<ReliefRow>,
    /// Radius down to which each line is cut, row by row, mm.
    floor: Vec<f64>,
    /// What is taken below metal that stays, by its line: beside a steep side only.
    under: Vec<(u32, Taken)>,
}

/// The golden section: places a multiple of it apart leave no gap unfilled.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

impl Relief {
    /// Makes an uncut span; lines are no further apart than `step` on the largest outside.
    ///
    /// `sides` are axial places that no row should lie across.
    pub fn begin(&mut self, outside: &StripOutside, spans: u32, step: f64, sides: &[f64]) {
        self.angle = std::f64::consts::TAU / f64::from(spans.max(1));
        self.round = (self.angle * outside.largest() / step)
            .ceil()
            .clamp(8.0, 1e7) as usize;
        let (left, right) = (outside.left(), outside.right());
        let mut breaks: Vec<f64> = outside.breaks().iter().chain(sides).copied().collect();
        breaks.retain(|place| *place >= left && *place <= right);
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|next, before| *next - *before < 1e-6);
        self.rows.clear();
        for (from, to) in breaks.iter().zip(breaks.iter().skip(1)) {
            let count = ((to - from) / step).ceil().max(1.0);
            let wide = (to - from) / count;
            for place in 0..count as usize {
                let x = from + wide * (place as f64 + 0.5);
                let turned = GOLDEN * self.rows.len() as f64;
                let turned = turned - turned.floor() - 0.5;
                self.rows.push(ReliefRow {
                    x,
                    wide,
                    outside: outside.radius(x),
                    turned,
                });
            }
        }
        self.floor.clear();
        let round = self.round;
        self.floor.extend(
            self.rows
                .iter()
                .flat_map(|row| std::iter::repeat_n(row.outside, round)),
        );
        self.under.clear();
    }

    /// Radial lines in all.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.floor.len()
    }

    /// Radial lines round the span.
    #[must_use]
    pub fn round(&self) -> usize {
        self.round
    }

    /// Angle between two radial lines of a row, radians.
    #[must_use]
    pub fn turn(&self) -> f64 {
        self.angle / self.round.max(1) as f64
    }

    /// Rows between two axial places: the first, and the one after the last.
    pub(super) fn rows_between(&self, low: f64, high: f64) -> (usize, usize) {
        let first = self.rows.partition_point(|row| row.x < low);
        (first, self.rows.partition_point(|row| row.x <= high))
    }

    /// Lines of a row between two angles, as places that may lie in other spans: the first and the last.
    pub(super) fn lines(&self, row: &ReliefRow, low: f64, high: f64) -> (i64, i64) {
        let turn = self.turn();
        let place = |angle: f64| angle / turn - 0.5 - row.turned;
        (place(low).ceil() as i64, place(high).floor() as i64)
    }

    /// Angle of a line of a row, radians.
    pub(super) fn angle_of(&self, row: &ReliefRow, line: i64) -> f64 {
        (line as f64 + 0.5 + row.turned) * self.turn()
    }

    /// A row by its place, and its lines' floors.
    pub(super) fn row_mut(&mut self, place: usize) -> Option<RowMut<'_>> {
        let row = *self.rows.get(place)?;
        let start = place * self.round;
        let floor = self.floor.get_mut(start..start + self.round)?;
        Some(RowMut {
            row,
            start,
            floor,
            under: &mut self.under,
        })
    }

    /// A row by its place, with the radii down to which its lines are cut.
    pub(super) fn row(&self, place: usize) -> Option<(ReliefRow, &[f64])> {
        let row = *self.rows.get(place)?;
        Some((
            row,
            self.floor
                .get(place * self.round..(place + 1) * self.round)?,
        ))
    }

    /// What lies under metal that stays, by line from below.
    pub(super) fn sort_under(&mut self) -> &[(u32, Taken)] {
        self.under
            .sort_by(|a, b| a.0.cmp(&b.0).then(a.1.from.total_cmp(&b.1.from)));
        &self.under
    }

    /// What lies under metal that stays; in order after `sort_under`.
    pub(super) fn under(&self) -> &[(u32, Taken)] {
        &self.under
    }

    /// Radial depth at a share of the span and of the width, mm: of the nearest line.
    #[must_use]
    pub fn depth(&self, along: f64, across: f64) -> f64 {
        let (Some(first), Some(last)) = (self.rows.first(), self.rows.last()) else {
            return 0.0;
        };
        let (left, right) = (first.x - first.wide / 2.0, last.x + last.wide / 2.0);
        let x = left + (right - left) * across;
        let place = self
            .rows
            .partition_point(|row| row.x + row.wide / 2.0 < x)
            .min(self.rows.len() - 1);
        let Some((row, floors)) = self.row(place) else {
            return 0.0;
        };
        let line = (along * self.round as f64 - row.turned).floor() as i64;
        let line = line.rem_euclid(self.round.max(1) as i64) as usize;
        floors.get(line).map_or(0.0, |floor| row.outside - floor)
    }
}

/// A row that is being cut.
pub(super) struct RowMut<'a> {
    /// The row.
    pub row: ReliefRow,
    start: usize,
    floor: &'a mut [f64],
    under: &'a mut Vec<(u32, Taken)>,
}

impl RowMut<'_> {
    /// Takes metal of a line, which may lie in another span.
    pub fn take(&mut self, line: i64, taken: Taken) {
        let round = self.floor.len() as i64;
        let line = if (0..round).contains(&line) {
            line
        } else {
            line.rem_euclid(round.max(1))
        } as usize;
        let Some(floor) = self.floor.get_mut(line) else {
            return;
        };
        if taken.from >= *floor {
            return;
        }
        if taken.to >= self.row.outside {
            *floor = taken.from;
        } else if taken.to > taken.from {
            self.under.push(((self.start + line) as u32, taken));
        }
    }
}

impl Relief {
    /// Each line: axial place, angle, outside, floor, whether metal above its floor is cut; for tests.
    #[doc(hidden)]
    pub fn lines_for_tests(&self) -> impl Iterator<Item = (f64, f64, f64, f64, bool)> + '_ {
        let under: std::collections::BTreeSet<u32> = self.under.iter().map(|(at, _)| *at).collect();
        self.floor
            .iter()
            .enumerate()
            .filter_map(move |(place, floor)| {
                let row = self.rows.get(place / self.round)?;
                let angle = self.angle_of(row, (place % self.round) as i64);
                Some((
                    row.x,
                    angle,
                    row.outside,
                    *floor,
                    under.contains(&(place as u32)),
                ))
            })
    }
}
