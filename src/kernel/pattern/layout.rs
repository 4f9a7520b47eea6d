//! Where on the strip does each cut go, what of it leaves the strip, and does it meet itself across the seam?
//!
//! In: cuts, the outside, the number of repeats. Out: strokes, facets and pockets of one span (a repeat, or the whole
//! strip where a cut is drawn once for all of it), and what is to be told of each cut, as numbers.

use super::cuts::{CutShape, PathPoint, RingPlace, ToolCut};
use super::laid::{Facet, Layout, Told};
use super::outside::StripOutside;
use super::pocket::Pocket;
use super::stroke::{Stop, StripPlace, Stroke, StrokeRun};

/// Sets cuts out on the strip.
#[must_use]
pub fn lay(outside: &StripOutside, cuts: &[ToolCut], repeats: u32) -> Layout {
    let repeats = repeats.max(1);
    let whole = cuts.iter().any(|cut| cut.whole);
    let spans = if whole { 1 } else { repeats };
    let length = outside.length() / f64::from(spans);
    let mut layout = Layout {
        spans,
        length,
        told: vec![Told::default(); cuts.len()],
        ..Layout::default()
    };
    let pitch = outside.length() / f64::from(repeats);
    for (place, cut) in cuts.iter().enumerate() {
        let copies = if whole && !cut.whole { repeats } else { 1 };
        let unit = if cut.whole { outside.length() } else { pitch };
        let mut one = One {
            outside,
            cut,
            place,
            unit,
            span: length,
            layout: &mut layout,
        };
        for copy in 0..copies {
            one.set(unit * f64::from(copy), copy == 0);
        }
    }
    layout
}

/// One cut being set out.
struct One<'a> {
    outside: &'a StripOutside,
    cut: &'a ToolCut,
    place: usize,
    /// Length of what is repeated.
    unit: f64,
    span: f64,
    layout: &'a mut Layout,
}

impl One<'_> {
    fn set(&mut self, start: f64, first: bool) {
        match &self.cut.shape {
            CutShape::Flutes { count } => self.across(start, *count, 0.0),
            CutShape::Lines { count, slant, both } => {
                let tangent = libm::tan(*slant);
                self.across(start, *count, tangent);
                if *both && tangent != 0.0 {
                    self.across(start, *count, -tangent);
                }
            }
            CutShape::Ring { place, both } if first => self.ring(*place, *both),
            CutShape::Wave { rise, at, periods } if first => self.wave(*rise, *at, *periods),
            CutShape::Ring { .. } | CutShape::Wave { .. } => {}
            CutShape::Dots { row, count } => {
                for u in self.places(start, *count) {
                    self.stroke(StripPlace { u, v: *row }, Vec::new(), false);
                }
                self.told_beyond(*row, *row);
            }
            CutShape::Facets { row, tilt, count } => {
                let sign = if *row < 0.0 { -1.0 } else { 1.0 };
                let falls = sign * libm::tan(*tilt);
                for u in self.places(start, *count) {
                    let radius = self.outside.largest() - self.cut.depth;
                    self.layout.facets.push(Facet {
                        cut: self.place,
                        u,
                        row: *row,
                        radius,
                        falls,
                    });
                }
                self.told_beyond(*row, *row);
            }
            CutShape::Path(nodes) => self.path(start, nodes),
            CutShape::Pocket { outline, step_over } => self.pocket(start, outline, *step_over),
            CutShape::Drawing {
                lines,
                outlines,
                wide,
                step_over,
            } => {
                let along = wide.map_or(1.0, |wide| self.unit / wide);
                let stretched = |nodes: &[PathPoint]| -> Vec<PathPoint> {
                    let place = |at: StripPlace| StripPlace {
                        u: at.u * along,
                        v: at.v,
                    };
                    let nodes = nodes.iter().map(|node| PathPoint {
                        at: place(node.at),
                        run: node.run,
                    });
                    nodes.collect()
                };
                for line in lines {
                    self.path(start, &stretched(line));
                }
                for outline in outlines {
                    self.pocket(start, &stretched(outline), *step_over);
                }
            }
        }
    }

    /// Places of `count` cuts in what is repeated.
    fn places(&self, start: f64, count: u32) -> impl Iterator<Item = f64> + use<> {
        let each = self.unit / f64::from(count.max(1));
        (0..count).map(move |place| start + (f64::from(place) + 0.5) * each)
    }

    /// Straight lines over both faces.
    fn across(&mut self, start: f64, count: u32, tangent: f64) {
        // Beyond this the tool no longer reaches the band.
        let out = self.cut.half_width() * 1.1 + 0.05;
        let (left, right) = (self.outside.left() - out, self.outside.right() + out);
        for u in self.places(start, count) {
            let at = |v: f64| StripPlace {
                u: u + tangent * v,
                v,
            };
            self.stroke(at(left), vec![(StrokeRun::Line, at(right))], false);
        }
    }

    fn ring(&mut self, place: RingPlace, both: bool) {
        let (v, other) = match place {
            RingPlace::At(v) => (v, -v),
            RingPlace::FromEdge(edge) => (self.outside.right() - edge, self.outside.left() + edge),
        };
        let second = Some(other).filter(|other| both && *other != v);
        for v in std::iter::once(v).chain(second) {
            self.stroke(
                StripPlace { u: 0.0, v },
                vec![(StrokeRun::Line, StripPlace { u: self.span, v })],
                true,
            );
            self.told_beyond(v, v);
        }
    }

    fn wave(&mut self, rise: f64, at: f64, periods: f64) {
        let (half, turn) = (rise / 2.0, std::f64::consts::TAU * periods / self.unit);
        // Whole periods meet; what a fraction leaves open is told, and each repeat is a line of its own.
        let meets = libm::round(periods) == periods;
        let end = if meets {
            at
        } else {
            at + half * libm::sin(turn * self.unit)
        };
        let length = if meets { self.span } else { self.unit };
        let lines = libm::round(self.span / length).max(1.0) as u32;
        for line in 0..lines {
            let from = length * f64::from(line);
            let run = StrokeRun::Wave {
                at,
                half,
                turn,
                from,
            };
            self.stroke(
                StripPlace { u: from, v: at },
                vec![(
                    run,
                    StripPlace {
                        u: from + length,
                        v: end,
                    },
                )],
                meets,
            );
        }
        self.tell(|told| told.gap = told.gap.max((end - at).abs()));
        self.told_beyond(at - half.abs(), at + half.abs());
    }

    fn path(&mut self, start: f64, nodes: &[PathPoint]) {
        let moved = |at: StripPlace| StripPlace {
            u: at.u + start,
            v: at.v,
        };
        let Some(first) = nodes.first() else { return };
        let runs: Vec<(StrokeRun, StripPlace)> = nodes
            .iter()
            .skip(1)
            .map(|node| (shifted(node.run, start), moved(node.at)))
            .collect();
        let (from, to) = (first.at, nodes.last().map_or(first.at, |node| node.at));
        // Does it go from seam to seam?
        let near = self.cut.half_width().min(self.unit / 8.0);
        let (low, high) = (from.u.min(to.u), from.u.max(to.u));
        let across = low.abs() <= near && (high - self.unit).abs() <= near;
        let apart = StripPlace {
            u: low + self.unit - high,
            v: from.v - to.v,
        }
        .to(StripPlace::default());
        let round =
            across && apart < 1e-6 && self.cut.ramp_to.is_none_or(|to| to == self.cut.depth);
        self.stroke(moved(from), runs, round);
        self.tell(|told| {
            told.gap = told
                .gap
                .max(if across && apart >= 1e-6 { apart } else { 0.0 })
        });
        let places = super::pocket::flatten(nodes);
        self.told_places(&places);
    }

    fn pocket(&mut self, start: f64, outline: &[PathPoint], step_over: Option<f64>) {
        let nodes: Vec<PathPoint> = outline
            .iter()
            .map(|node| PathPoint {
                at: StripPlace {
                    u: node.at.u + start,
                    v: node.at.v,
                },
                run: shifted(node.run, start),
            })
            .collect();
        let half = self.cut.half_width();
        let pocket = Pocket::of(
            self.outside,
            self.place,
            self.cut.depth,
            &nodes,
            half,
            step_over,
        );
        let (low, high) = spread(&pocket.outline);
        let beyond = (self.outside.left() - low)
            .max(high - self.outside.right())
            .max(0.0);
        let no_room = pocket.loops.is_empty();
        self.tell(|told| {
            told.beyond = told.beyond.max(beyond);
            told.over = told.over.max(beyond);
            told.no_room |= no_room;
        });
        self.layout.pockets.push(pocket);
    }

    /// Adds a stroke, its depth linear along it.
    fn stroke(&mut self, from: StripPlace, runs: Vec<(StrokeRun, StripPlace)>, round: bool) {
        let (first, last) = (self.cut.depth, self.cut.ramp_to.unwrap_or(self.cut.depth));
        let plain = |at: StripPlace, depth: f64| Stop { at, depth };
        let mut lengths = Vec::with_capacity(runs.len());
        let (mut sum, mut at) = (0.0, from);
        for (run, to) in &runs {
            let one = Stroke {
                cut: 0,
                from: plain(at, 0.0),
                runs: vec![(*run, plain(*to, 0.0))],
                round: false,
            };
            sum += one.length(f64::NEG_INFINITY, f64::INFINITY);
            lengths.push(sum);
            at = *to;
        }
        let deep = |so_far: f64| {
            if sum > 0.0 {
                first + (last - first) * so_far / sum
            } else {
                first
            }
        };
        let runs = runs
            .into_iter()
            .zip(&lengths)
            .map(|((run, to), so_far)| (run, plain(to, deep(*so_far))))
            .collect();
        self.layout.strokes.push(Stroke {
            cut: self.place,
            from: plain(from, first),
            runs,
            round,
        });
    }

    fn told_places(&mut self, places: &[StripPlace]) {
        let (low, high) = spread(places);
        self.told_beyond(low, high);
    }

    fn told_beyond(&mut self, low: f64, high: f64) {
        let beyond = (self.outside.left() - low).max(high - self.outside.right());
        let half = self.cut.half_width();
        self.tell(|told| {
            told.beyond = told.beyond.max(beyond);
            told.over = told.over.max(beyond + half);
        });
    }

    fn tell(&mut self, change: impl FnOnce(&mut Told)) {
        if let Some(told) = self.layout.told.get_mut(self.place) {
            change(told);
        }
    }
}

/// Lowest and highest axial place.
fn spread(places: &[StripPlace]) -> (f64, f64) {
    places.iter().fold((f64::MAX, f64::MIN), |(low, high), at| {
        (low.min(at.v), high.max(at.v))
    })
}

/// A run moved along the strip.
fn shifted(run: StrokeRun, by: f64) -> StrokeRun {
    match run {
        StrokeRun::Arc(via) => StrokeRun::Arc(StripPlace {
            u: via.u + by,
            v: via.v,
        }),
        StrokeRun::Wave {
            at,
            half,
            turn,
            from,
        } => StrokeRun::Wave {
            at,
            half,
            turn,
            from: from + by,
        },
        StrokeRun::Line => StrokeRun::Line,
    }
}
