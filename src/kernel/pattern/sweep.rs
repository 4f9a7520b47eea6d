//! What does a rigid tool take along a straight line on the strip, what a plane, what a pocket?
//!
//! A line is cut into parts along each of which the outside follows one law and changes little. For each radial line near
//! a part the place of the tool that cuts it deepest is found from the slope there; the least over all parts is what the
//! tool leaves, both ends included.

use super::cutter::{CutterForm, Tool};
use super::laid::Facet;
use super::outside::StripOutside;
use super::part::Part;
use super::pocket::Pocket;
use super::relief::Relief;
use super::stroke::Stop;

/// How much the tip may rise or fall along one part, mm.
const FALL: f64 = 0.1;

impl Relief {
    /// Cuts along straight lines from stop to stop; a single one is a dot.
    pub fn groove(&mut self, outside: &StripOutside, cutter: &CutterForm, stops: &[Stop]) {
        if let [only] = stops {
            self.part(outside, cutter, &Part::of(outside, *only, *only), 1.0, 1.0);
            return;
        }
        let mut before = 1.0;
        for (place, pair) in stops.windows(2).enumerate() {
            let (Some(from), Some(to)) = (pair.first(), pair.last()) else {
                continue;
            };
            let after = stops
                .get(place + 2)
                .map_or(1.0, |next| bend(*from, *to, *next));
            self.line(outside, cutter, *from, *to, before, after);
            before = after;
        }
    }

    /// Cuts along one straight line; how far beyond its ends it matters, as a share of the tool's half width.
    fn line(
        &mut self,
        outside: &StripOutside,
        cutter: &CutterForm,
        from: Stop,
        to: Stop,
        before: f64,
        after: f64,
    ) {
        let (u, v, deeper) = (
            to.at.u - from.at.u,
            to.at.v - from.at.v,
            to.depth - from.depth,
        );
        let at = |part: f64| {
            let mut stop = from;
            stop.at.u += u * part;
            stop.at.v += v * part;
            stop.depth += deeper * part;
            stop
        };
        let mut parts: smallvec::SmallVec<[f64; 8]> = smallvec::smallvec![0.0];
        if v.abs() > 1e-9 {
            let inner = outside.breaks().iter().map(|x| (x - from.at.v) / v);
            parts.extend(inner.filter(|part| *part > 1e-9 && *part < 1.0 - 1e-9));
            parts.sort_by(f64::total_cmp);
        }
        parts.push(1.0);
        for (first, last) in parts.iter().zip(parts.iter().skip(1)) {
            let (a, b) = (at(*first), at(*last));
            let middle = outside.law((a.at.v + b.at.v) / 2.0);
            let rise = (middle.at(a.at.v) - a.depth) - (middle.at(b.at.v) - b.depth);
            let curved = if middle.is_level() {
                1.0
            } else {
                (rise.abs() / FALL).ceil().clamp(1.0, 500.0)
            };
            for place in 0..curved as usize {
                let share = |place: f64| first + (last - first) * place / curved;
                let (start, end) = (share(place as f64), share(place as f64 + 1.0));
                let part = Part::of(outside, at(start), at(end));
                // Between parts of one law the best place goes over; at a kink it may stay.
                let first_end = if start <= 0.0 { before } else { 1.0 };
                let last_end = if end >= 1.0 { after } else { 1.0 };
                let before = if place == 0 { first_end } else { 0.0 };
                let after = if place + 1 == curved as usize {
                    last_end
                } else {
                    0.0
                };
                self.part(outside, cutter, &part, before, after);
            }
        }
    }

    /// Cuts along one part.
    fn part(
        &mut self,
        outside: &StripOutside,
        cutter: &CutterForm,
        part: &Part,
        before: f64,
        after: f64,
    ) {
        let (low, high) = (
            part.x.min(part.x + part.advance),
            part.x.max(part.x + part.advance),
        );
        let lowest = part.lowest();
        let reach = reach(outside, cutter, low, high, lowest);
        let (first, last) = self.rows_between(low - reach, high + reach);
        for place in first..last {
            let Some(row) = self.rows.get(place).copied() else {
                continue;
            };
            // What is higher over the tip than the row's outside is not in the metal.
            let reach = (cutter.reach(row.outside - lowest) * 1.02 + 1e-3).min(reach);
            let line = part.across(cutter, &row, reach, before, after);
            let Some((from, to)) = line.angles() else {
                continue;
            };
            let turn = self.turn();
            let (from, to) = self.lines(&row, from, to);
            let mut angle = self.angle_of(&row, from);
            let Some(mut cut) = self.row_mut(place) else {
                continue;
            };
            // Neighbours are cut from nearly the same way aside.
            let mut aside = 0.0;
            for at in from..=to {
                // What a flat end leaves beside its rim it takes from over the foot.
                if line.level_end
                    && !line.even
                    && let Some(taken) = cutter.takes(&line.over(angle), angle, row.x)
                    && taken.from < row.outside
                {
                    cut.take(at, taken);
                }
                let tool = line.deepest(cutter, angle, &mut aside);
                if let Some(tool) = tool
                    && let Some(taken) = cutter.takes(&tool, angle, row.x)
                    && taken.from < row.outside
                {
                    cut.take(at, taken);
                }
                angle += turn;
            }
        }
    }

    /// Takes off all that lies outside a plane.
    pub fn facet(&mut self, outside: &StripOutside, facet: &Facet) {
        let angle = facet.u / outside.largest();
        for place in 0..self.rows.len() {
            let Some(row) = self.rows.get(place).copied() else {
                continue;
            };
            let height = facet.radius - (row.x - facet.row) * facet.falls;
            if height >= row.outside {
                continue;
            }
            // A plane that passes the finger axis would leave no band; it takes no more than it sees.
            let aside = libm::acos((height / row.outside).max(0.02));
            let (from, to) = self.lines(&row, angle - aside, angle + aside);
            let angles = (from..=to).map(|line| (line, self.angle_of(&row, line) - angle));
            let angles: Vec<(i64, f64)> = angles.collect();
            let Some(mut cut) = self.row_mut(place) else {
                continue;
            };
            for (line, beside) in angles {
                let from = height / libm::cos(beside);
                cut.take(
                    line,
                    super::cutter::Taken {
                        from,
                        to: f64::INFINITY,
                    },
                );
            }
        }
    }

    /// Cuts a pocket: the way round its inside, and all between.
    pub fn pocket(&mut self, outside: &StripOutside, cutter: &CutterForm, pocket: &Pocket) {
        for round in &pocket.loops {
            let stop = |at: &super::stroke::StripPlace| Stop {
                at: *at,
                depth: pocket.depth,
            };
            let stops: Vec<Stop> = round.iter().chain(round.first()).map(stop).collect();
            self.groove(outside, cutter, &stops);
        }
        let Some((low, high)) = pocket.span() else {
            return;
        };
        let reach = cutter.reach(pocket.depth) + 0.1;
        let (first, last) = self.rows_between(low - reach, high + reach);
        for place in first..last {
            let Some(row) = self.rows.get(place).copied() else {
                continue;
            };
            let slope = outside.law(row.x).with_slope(row.x).1;
            let aside = cutter.lowest_along(0.0, slope);
            // From further down the tool cuts deeper, where it may go there.
            let places = [row.x, row.x + aside];
            for x in places
                .iter()
                .take(if aside == 0.0 { 1 } else { 2 })
                .copied()
            {
                let tip = outside.radius(x) - pocket.depth;
                let Some(taken) = cutter.takes(&Tool { angle: 0.0, x, tip }, 0.0, row.x) else {
                    continue;
                };
                for (from, to) in pocket.row(x) {
                    let (from, to) =
                        self.lines(&row, from / outside.largest(), to / outside.largest());
                    let Some(mut cut) = self.row_mut(place) else {
                        continue;
                    };
                    for line in from..=to {
                        cut.take(line, taken);
                    }
                }
            }
        }
    }
}

/// Tangent of half the turn of a line, as a share of the half width that its outer side lies open; 1 where sharp.
fn bend(from: Stop, at: Stop, to: Stop) -> f64 {
    let (a, b) = (
        (at.at.u - from.at.u, at.at.v - from.at.v),
        (to.at.u - at.at.u, to.at.v - at.at.v),
    );
    let (dot, cross) = (a.0 * b.0 + a.1 * b.1, a.0 * b.1 - a.1 * b.0);
    let length = (dot * dot + cross * cross).sqrt();
    if dot <= 0.0 {
        1.0
    } else {
        (1.1 * cross.abs() / (dot + length) + 0.01).min(1.0)
    }
}

/// How far from a part metal can be met: on a slope the outside beside it is higher than over it.
fn reach(outside: &StripOutside, cutter: &CutterForm, low: f64, high: f64, lowest: f64) -> f64 {
    let mut top = outside.radius(low).max(outside.radius(high));
    for _ in 0..3 {
        let wide = cutter.reach(top - lowest) * 1.02 + 1e-3;
        let (left, right) = (low - wide, high + wide);
        let between = outside
            .breaks()
            .iter()
            .filter(|x| **x > left && **x < right)
            .map(|x| outside.radius(*x));
        let ends = outside.radius(left).max(outside.radius(right));
        let higher = between.fold(top.max(ends), f64::max);
        if higher <= top + 1e-9 {
            break;
        }
        top = higher;
    }
    cutter.reach(top - lowest) * 1.02 + 1e-3
}
