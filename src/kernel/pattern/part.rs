//! From where on a straight part of its line does a tool cut a radial line deepest?
//!
//! # Formula
//! The foot of the line on the part, and aside of it what `Cutter::lowest_along` says of the slope there, found by
//! iteration; distances are taken on the strip as long as it is near the cut.

use super::cutter::{CutterForm, Tool};
use super::outside::{Law, StripOutside};
use super::relief::ReliefRow;
use super::stroke::Stop;

/// A straight part of a line, along which the outside follows one law.
pub(super) struct Part {
    angle: f64,
    pub(super) x: f64,
    depth: f64,
    /// From its beginning to its end.
    turn: f64,
    pub(super) advance: f64,
    deeper: f64,
    law: Law,
}

impl Part {
    /// The part between two stops.
    pub(super) fn of(outside: &StripOutside, from: Stop, to: Stop) -> Self {
        let largest = outside.largest();
        let law = outside.law((from.at.v + to.at.v) / 2.0);
        Self {
            angle: from.at.u / largest,
            x: from.at.v,
            depth: from.depth,
            turn: (to.at.u - from.at.u) / largest,
            advance: to.at.v - from.at.v,
            deeper: to.depth - from.depth,
            law,
        }
    }

    /// The tool a share of the way along it.
    fn tool(&self, along: f64) -> Tool {
        let x = self.x + self.advance * along;
        let tip = self.law.at(x) - self.depth - self.deeper * along;
        Tool {
            angle: self.angle + self.turn * along,
            x,
            tip,
        }
    }

    /// Lowest radius of the tip on it.
    pub(super) fn lowest(&self) -> f64 {
        let ends = self.law.at(self.x).min(self.law.at(self.x + self.advance));
        ends - self.depth.max(self.depth + self.deeper)
    }

    /// What of it matters for one row.
    pub(super) fn across(
        &self,
        cutter: &CutterForm,
        row: &ReliefRow,
        reach: f64,
        before: f64,
        after: f64,
    ) -> Across<'_> {
        // Near the cut the strip is as long as the metal there is far out.
        let radius = row.outside - (self.depth + self.deeper / 2.0) / 4.0;
        let (u, v) = (self.turn * radius, self.advance);
        let square = u * u + v * v;
        let length = square.sqrt();
        // On a slope what is cut deepest from one end lies beyond it.
        let (first, last) = if length > 0.0 {
            (self.slope(0.0, length), self.slope(1.0, length))
        } else {
            (0.0, 0.0)
        };
        let aside = |slope: f64| {
            let (over, beside) = (
                cutter.lowest_along(0.0, slope),
                cutter.lowest_along(reach, slope),
            );
            (if beside.abs() > over.abs() {
                beside
            } else {
                over
            })
            .clamp(-reach, reach)
        };
        let (first_aside, last_aside) = (aside(first), aside(last));
        // The tool stands aside of the foot by this: lines whose foot is the other way beyond an end matter.
        let ahead = first_aside.max(last_aside).max(0.0);
        let behind = (-first_aside.min(last_aside)).max(0.0);
        let pad = |share: f64, aside: f64| (reach * share).max(aside) + 1e-3;
        Across {
            part: self,
            radius,
            beyond: row.x - self.x,
            u,
            v,
            length,
            per: if square > 0.0 { 1.0 / square } else { 0.0 },
            level_end: matches!(cutter, CutterForm::Flat { .. }),
            even: first.abs() < 1e-9 && last.abs() < 1e-9,
            reach,
            before: if length > 0.0 {
                pad(before, ahead)
            } else {
                reach
            },
            open: if length > 0.0 {
                (
                    (reach * (before + 0.05) + cutter.level() + 2e-3) / length,
                    (reach * (after + 0.05) + cutter.level() + 2e-3) / length,
                )
            } else {
                (1.0, 1.0)
            },
            after: pad(after, behind),
        }
    }

    /// How much the tip rises for each mm along it.
    fn slope(&self, part: f64, length: f64) -> f64 {
        let steep = self.law.with_slope(self.x + self.advance * part).1;
        (steep * self.advance - self.deeper) / length
    }
}

/// A part as one row sees it.
pub(super) struct Across<'a> {
    part: &'a Part,
    radius: f64,
    /// How far the row lies from the part's beginning.
    beyond: f64,
    u: f64,
    v: f64,
    length: f64,
    /// One over the square of its length.
    per: f64,
    /// Whether the tip stays level.
    pub(super) even: bool,
    /// Whether the cutter has a flat end and no flank.
    pub(super) level_end: bool,
    reach: f64,
    before: f64,
    after: f64,
    /// How far beyond its ends the best place of the tool may lie for the end itself to matter, as shares of it.
    open: (f64, f64),
}

impl Across<'_> {
    /// The angles between which the row can be cut; none where it cannot.
    pub(super) fn angles(&self) -> Option<(f64, f64)> {
        let y = self.beyond;
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        let mut limit = |slope: f64, at: f64, from: f64, to: f64| {
            // from <= slope u + at <= to
            if slope.abs() > 1e-12 {
                let (a, b) = ((from - at) / slope, (to - at) / slope);
                low = low.max(a.min(b));
                high = high.min(a.max(b));
            } else if at < from || at > to {
                high = f64::NEG_INFINITY;
            }
        };
        if self.length > 0.0 {
            let (cos, sin) = (self.u / self.length, self.v / self.length);
            limit(sin, -cos * y, -self.reach, self.reach);
            limit(cos, sin * y, -self.before, self.length + self.after);
        } else {
            let wide = (self.reach * self.reach - y * y).max(0.0).sqrt();
            limit(1.0, 0.0, -wide, wide);
        }
        (low <= high).then(|| {
            (
                self.part.angle + low / self.radius,
                self.part.angle + high / self.radius,
            )
        })
    }

    /// The tool over the foot of a radial line, or at the end nearest to it.
    pub(super) fn over(&self, angle: f64) -> Tool {
        let u = (angle - self.part.angle) * self.radius;
        self.part
            .tool(((u * self.u + self.beyond * self.v) * self.per).clamp(0.0, 1.0))
    }

    /// The place of the tool from which a radial line of the row is cut deepest; none where that lies on a neighbour.
    pub(super) fn deepest(&self, cutter: &CutterForm, angle: f64, aside: &mut f64) -> Option<Tool> {
        let part = self.part;
        let mut along = 0.0;
        if self.length > 0.0 {
            let u = (angle - part.angle) * self.radius;
            let foot = (u * self.u + self.beyond * self.v) * self.per;
            along = foot.clamp(0.0, 1.0);
            if !self.even {
                let beside = (u * self.v - self.beyond * self.u).abs() / self.length;
                along = (foot + *aside).clamp(0.0, 1.0);
                let mut best = foot;
                for _ in 0..if self.level_end { 1 } else { 4 } {
                    // A flat end cuts deepest with its rim: it matters only which way the part falls.
                    let slope = part.slope(if self.level_end { 0.5 } else { along }, self.length);
                    *aside = cutter.lowest_along(beside, slope) / self.length;
                    best = foot + *aside;
                    let next = best.clamp(0.0, 1.0);
                    let done = (next - along).abs() * self.length < 3e-4;
                    along = next;
                    if done {
                        break;
                    }
                }
                if best < -self.open.0 || best > 1.0 + self.open.1 {
                    return None;
                }
            }
        }
        Some(part.tool(along))
    }
}
