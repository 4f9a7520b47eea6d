//! Where may the tool's axis be inside a pocket's outline, and how long is the way that clears it?
//!
//! In: an outline on the strip, the tool's half width at the pocket's depth. Out: loops round the places allowed, with
//! corners as the tool leaves them. Lengths are true at the local diameter (`pattern.md`, Places). Offsets of the
//! outline are those of the crate `cavalier_contours`.

use cavalier_contours::polyline::{PlineSource, PlineSourceMut, PlineVertex, Polyline};

use super::cuts::PathPoint;
use super::outside::StripOutside;
use super::stroke::{Stop, StripPlace, stops};

/// How far the chords that stand for curves depart from them, mm.
const SAG: f64 = 3e-4;
/// Longest side of an outline on a sloping outside, mm: the unrolled strip is shorter there than on the largest.
const SIDE: f64 = 0.1;
/// Most passes of a clearing.
const PASSES: usize = 10_000;
/// Outlines are offset so many times as large as they are: the offsets take places within 1e-5 of each other for one.
const LARGER: f64 = 64.0;

/// A pocket as it is cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pocket {
    /// The cut it belongs to, by its place among them.
    pub cut: usize,
    /// Depth of the tip, mm.
    pub depth: f64,
    /// The outline as drawn, on the strip.
    pub outline: Vec<StripPlace>,
    /// Loops round the places that the tool's axis may take; none where the tool does not fit in.
    pub loops: Vec<Vec<StripPlace>>,
    /// Way of the tool that clears it at the step-over, true length, mm; none where no step-over is stated.
    pub clearing: Option<f64>,
}

/// The strip about a place along it, laid out in true lengths.
struct Local<'a> {
    outside: &'a StripOutside,
    middle: f64,
}

impl Local<'_> {
    fn scale(&self, v: f64) -> f64 {
        self.outside.radius(v) / self.outside.largest()
    }

    fn lay(&self, at: StripPlace) -> (f64, f64) {
        ((at.u - self.middle) * self.scale(at.v), at.v)
    }

    fn back(&self, x: f64, y: f64) -> StripPlace {
        StripPlace {
            u: x / self.scale(y) + self.middle,
            v: y,
        }
    }
}

impl Pocket {
    /// A pocket inside an outline, for a tool of a half width at its depth.
    #[must_use]
    pub fn of(
        outside: &StripOutside,
        cut: usize,
        depth: f64,
        nodes: &[PathPoint],
        half: f64,
        step_over: Option<f64>,
    ) -> Self {
        let outline = flatten(nodes);
        let none = Self {
            cut,
            depth,
            clearing: step_over.map(|_| 0.0),
            outline: outline.clone(),
            loops: Vec::new(),
        };
        let (low, high) = outline
            .iter()
            .fold((f64::MAX, f64::MIN), |(low, high), at| {
                (low.min(at.u), high.max(at.u))
            });
        if outline.len() < 3 {
            return none;
        }
        let local = Local {
            outside,
            middle: (low + high) / 2.0,
        };
        let mut drawn = Polyline::new_closed();
        for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            let parts = (from.to(*to) / SIDE).ceil().clamp(1.0, 1000.0) as u32;
            let parts = if (local.scale(from.v) - local.scale(to.v)).abs() < 1e-9 {
                1
            } else {
                parts
            };
            for part in 0..parts {
                let share = f64::from(part) / f64::from(parts);
                let at = StripPlace {
                    u: from.u + (to.u - from.u) * share,
                    v: from.v + (to.v - from.v) * share,
                };
                let (x, y) = local.lay(at);
                drawn.add_vertex(PlineVertex::new(LARGER * x, LARGER * y, 0.0));
            }
        }
        // Offsets go to the left of the way round, so inwards where it turns to the left.
        let inwards = if drawn.area() >= 0.0 { 1.0 } else { -1.0 };
        let drawn = drawn.remove_repeat_pos(1e-5).unwrap_or(drawn);
        let at = |distance: f64| -> Vec<Polyline<f64>> {
            let found = drawn.parallel_offset(inwards * LARGER * distance.max(1e-9));
            found
                .into_iter()
                .filter(|round| round.area() * inwards > 0.0)
                .collect()
        };
        let first = at(half);
        let loops = first.iter().map(|round| {
            around(round)
                .into_iter()
                .map(|(x, y)| local.back(x / LARGER, y / LARGER))
                .collect()
        });
        let loops: Vec<Vec<StripPlace>> = loops.collect();
        let clearing = step_over.map(|step| {
            let long = |rounds: &[Polyline<f64>]| -> f64 {
                let lengths = rounds.iter().map(PlineSource::path_length);
                lengths.sum::<f64>() / LARGER
            };
            let mut sum = long(&first);
            for pass in 1..PASSES {
                let inner = at(half + step.max(1e-3) * pass as f64);
                if inner.is_empty() {
                    break;
                }
                sum += long(&inner);
            }
            sum
        });
        Self {
            loops,
            clearing,
            ..none
        }
    }

    /// Stretches of a row, at an axial place, in which the tool's axis may be: from and to along the strip, mm.
    #[must_use]
    pub fn row(&self, v: f64) -> Vec<(f64, f64)> {
        let mut places: Vec<f64> = Vec::new();
        for round in &self.loops {
            for (from, to) in round.iter().zip(round.iter().cycle().skip(1)) {
                if (from.v <= v) != (to.v <= v) {
                    places.push(from.u + (to.u - from.u) * (v - from.v) / (to.v - from.v));
                }
            }
        }
        places.sort_by(f64::total_cmp);
        places
            .chunks_exact(2)
            .filter_map(|pair| Some((*pair.first()?, *pair.last()?)))
            .collect()
    }

    /// Lowest and highest axial place of the tool's axis, mm; none where it does not fit in.
    #[must_use]
    pub fn span(&self) -> Option<(f64, f64)> {
        let mut all = self.loops.iter().flatten().map(|at| at.v);
        let first = all.next()?;
        Some(all.fold((first, first), |(low, high), v| (low.min(v), high.max(v))))
    }
}

/// The corners of an outline with its curves as chords.
pub(super) fn flatten(nodes: &[PathPoint]) -> Vec<StripPlace> {
    let Some(first) = nodes.first() else {
        return Vec::new();
    };
    let mut all = vec![first.at];
    let mut last = Stop {
        at: first.at,
        depth: 0.0,
    };
    for node in nodes.iter().skip(1) {
        let to = Stop {
            at: node.at,
            depth: 0.0,
        };
        stops(last, node.run, to, SAG, |stop| all.push(stop.at));
        last = to;
    }
    if all.len() > 1 && last.at.to(first.at) < 1e-6 {
        all.pop();
    }
    all
}

/// Corners of a loop with its arcs as chords.
fn around(round: &Polyline<f64>) -> Vec<(f64, f64)> {
    let chords = round.arcs_to_approx_lines(SAG * LARGER);
    let round = chords.as_ref().unwrap_or(round);
    round
        .iter_vertexes()
        .map(|vertex| (vertex.x, vertex.y))
        .collect()
}
