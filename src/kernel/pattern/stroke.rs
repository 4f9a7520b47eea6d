//! Along which lines does a cutter go on the unrolled strip, and how long are they?
//!
//! In: nodes joined by lines, arcs or waves. Out: stops as near together as wanted, lengths, and lengths clipped at the
//! side faces. Coordinates as in `pattern.md`: `u` along the band on the largest outside, `v` along the axis, mm.

/// A place on the strip: along it, measured on the largest outside, and across it from mid width, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StripPlace {
    /// Along.
    pub u: f64,
    /// Across.
    pub v: f64,
}

/// A place and how deep the tip is there.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stop {
    /// Where.
    pub at: StripPlace,
    /// Depth of the tip under the outside there, mm.
    pub depth: f64,
}

impl StripPlace {
    /// Distance to another on the strip, mm.
    #[must_use]
    pub fn to(self, other: Self) -> f64 {
        let (u, v) = (other.u - self.u, other.v - self.v);
        (u * u + v * v).sqrt()
    }
}

/// A curve of a stroke between two stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StrokeRun {
    /// A straight line.
    Line,
    /// An arc of a circle through a place.
    Arc(StripPlace),
    /// A wave along the strip: `v = at + half sin(turn (u - from))`.
    Wave {
        /// Its middle, mm.
        at: f64,
        /// Half its rise, mm.
        half: f64,
        /// Radians a millimetre along the strip.
        turn: f64,
        /// Where along the strip it begins, mm.
        from: f64,
    },
}

/// One line that a cutter goes along without being lifted.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// The cut it belongs to, by its place among them.
    pub cut: usize,
    /// Where it begins.
    pub from: Stop,
    /// How it goes on; none for a dot.
    pub runs: Vec<(StrokeRun, Stop)>,
    /// Whether it meets itself, right round the band.
    pub round: bool,
}

impl Stroke {
    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Stop {
        self.runs.last().map_or(self.from, |(_, stop)| *stop)
    }

    /// Its stops, from which the straight lines between depart no more than `sag` mm.
    #[must_use]
    pub fn stops(&self, sag: f64) -> Vec<Stop> {
        let mut all = vec![self.from];
        let mut from = self.from;
        for (run, to) in &self.runs {
            stops(from, *run, *to, sag, |stop| all.push(stop));
            from = *to;
        }
        all
    }

    /// Its length between two axial places in the `(u, v)` plane, mm; curves to some 1e-6 of it.
    #[must_use]
    pub fn length(&self, left: f64, right: f64) -> f64 {
        let mut sum = 0.0;
        let mut from = self.from;
        for (run, to) in &self.runs {
            let (mut coarse, mut fine) = (0.0, 0.0);
            for (sag, length) in [(2e-4, &mut coarse), (5e-5, &mut fine)] {
                let mut last = from.at;
                stops(from, *run, *to, sag, |stop| {
                    *length += clipped(last, stop.at, left, right);
                    last = stop.at;
                });
            }
            // Chords fall short by the square of their length, which is the sag's first power.
            sum += if *run == StrokeRun::Line {
                fine
            } else {
                fine + (fine - coarse) / 3.0
            };
            from = *to;
        }
        sum
    }
}

/// Length of a straight line between two axial places, mm.
fn clipped(from: StripPlace, to: StripPlace, left: f64, right: f64) -> f64 {
    let (low, high) = (from.v.min(to.v), from.v.max(to.v));
    let inside = high.min(right) - low.max(left);
    let whole = from.to(to);
    if low >= left && high <= right {
        whole
    } else if inside <= 0.0 || high <= low {
        0.0
    } else {
        whole * inside / (high - low)
    }
}

/// Stops along a run; the straight lines between depart no more than `sag` mm from it; the first is left out.
pub fn stops(from: Stop, run: StrokeRun, to: Stop, sag: f64, mut each: impl FnMut(Stop)) {
    let arc = match run {
        StrokeRun::Arc(through) => StrokeArc::through(from.at, through, to.at),
        _ => None,
    };
    let (length, bend) = match (run, &arc) {
        (StrokeRun::Wave { half, turn, .. }, _) => {
            ((to.at.u - from.at.u).abs(), (half * turn * turn).abs())
        }
        (_, Some(arc)) => (arc.radius * arc.sweep.abs(), 1.0 / arc.radius),
        _ => (from.at.to(to.at), 0.0),
    };
    let step = (8.0 * sag / bend.max(1e-9)).sqrt();
    // Some stops at least on a curve, and a number that no drawing should need at most.
    let least = if bend > 0.0 { 4.0 } else { 1.0 };
    let count = (length / step).ceil().clamp(least, 20_000.0) as usize;
    for place in 1..=count {
        let part = place as f64 / count as f64;
        let u = from.at.u + (to.at.u - from.at.u) * part;
        let at = match (run, &arc) {
            _ if place == count => to.at,
            (
                StrokeRun::Wave {
                    at,
                    half,
                    turn,
                    from,
                },
                _,
            ) => StripPlace {
                u,
                v: at + half * libm::sin(turn * (u - from)),
            },
            (_, Some(arc)) => arc.at(part),
            _ => StripPlace {
                u,
                v: from.at.v + (to.at.v - from.at.v) * part,
            },
        };
        each(Stop {
            at,
            depth: from.depth + (to.depth - from.depth) * part,
        });
    }
}

/// An arc by its centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrokeArc {
    /// Its centre.
    pub centre: StripPlace,
    /// Its radius, mm.
    pub radius: f64,
    /// Angle at which it begins, radians from `u` towards `v`.
    pub start: f64,
    /// How far it turns, radians; negative from `v` towards `u`.
    pub sweep: f64,
}

impl StrokeArc {
    /// The arc through three places; none where they lie on a line.
    #[must_use]
    pub fn through(from: StripPlace, by: StripPlace, to: StripPlace) -> Option<Self> {
        let (bu, bv) = (by.u - from.u, by.v - from.v);
        let (cu, cv) = (to.u - from.u, to.v - from.v);
        let twice = 2.0 * (bu * cv - bv * cu);
        if twice.abs() < 1e-12 {
            return None;
        }
        let (b, c) = (bu * bu + bv * bv, cu * cu + cv * cv);
        let centre = StripPlace {
            u: from.u + (cv * b - bv * c) / twice,
            v: from.v + (bu * c - cu * b) / twice,
        };
        let angle = |at: StripPlace| libm::atan2(at.v - centre.v, at.u - centre.u);
        let start = angle(from);
        let turn = |to: f64| {
            let turn = to - start;
            turn - (turn / std::f64::consts::TAU).floor() * std::f64::consts::TAU
        };
        let (middle, end) = (turn(angle(by)), turn(angle(to)));
        let sweep = if middle <= end {
            end
        } else {
            end - std::f64::consts::TAU
        };
        Some(Self {
            centre,
            radius: centre.to(from),
            start,
            sweep,
        })
    }

    /// The place a share of the way along it.
    #[must_use]
    pub fn at(&self, part: f64) -> StripPlace {
        let angle = self.start + self.sweep * part;
        StripPlace {
            u: self.centre.u + self.radius * libm::cos(angle),
            v: self.centre.v + self.radius * libm::sin(angle),
        }
    }
}
