//! Custom outlines drawn by chance: refused where they cannot be, and else the volumes of numeric integration.
//!
//! No outside source: the circle through three points, the integral along it, the roof of a cavity and the
//! shortest way from the cut to it are all worked out here again, by trying, from the definitions of the
//! physical model alone.

use std::f64::consts::PI;

use annulet::evaluate::Evaluation;
use annulet::finding::Weight;
use annulet::session::{Outcome, Request, Session};
use proptest::prelude::*;

use crate::hollow::chance;
use crate::support::agree;

/// What volumes must agree to, relative to the solid.
const CLOSE: f64 = 1e-6;

/// Figures of an outline nearer to a bound than this, in mm, may be judged either way here.
const MARGIN: f64 = 1e-6;

/// A point in hundredths of a millimetre.
type At = (i32, i32);

/// A run of an outline to its end, by way of another point where it is an arc.
#[derive(Clone, Debug)]
struct Run {
    via: Option<At>,
    end: At,
}

/// An outline on a band, and the parts that it is made of.
#[derive(Clone, Debug)]
struct Drawn {
    start: At,
    runs: Vec<Run>,
    comfort: i32,
    /// Wall, sleeve and depth of cut.
    parts: (i32, i32, i32),
}

/// Half the inside diameter in mm.
const BORE: f64 = 8.5;

fn mm(hundredths: i32) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    format!(
        "{sign}{}.{:02} mm",
        hundredths.abs() / 100,
        hundredths.abs() % 100
    )
}

impl Drawn {
    fn width(&self) -> i32 {
        self.runs.last().unwrap().end.0 - self.start.0
    }

    /// The band's recipe, solid or in two parts.
    fn recipe(&self, hollow: bool) -> String {
        let point = |(x, y): At| format!("{} {}", mm(x), mm(y));
        let runs: Vec<String> = self
            .runs
            .iter()
            .map(|run| match run.via {
                Some(via) => format!("    arc {} to {}\n", point(via), point(run.end)),
                None => format!("    to {}\n", point(run.end)),
            })
            .collect();
        let (wall, sleeve, depth) = self.parts;
        let parts = if hollow {
            format!(
                "  pattern {{ depth {}, cover 40 % }}\n  hollow {{ shell {}, sleeve {} }}\n",
                mm(depth),
                mm(wall),
                mm(sleeve)
            )
        } else {
            String::new()
        };
        format!(
            "band b {{\n  size {} mm\n  width {}\n  comfort {}\n  alloy silver-925\n  profile custom {{\n    from {}\n{}  }}\n{parts}}}\n",
            2.0 * BORE,
            mm(self.width()),
            mm(self.comfort),
            point(self.start),
            runs.concat(),
        )
    }

    /// Its runs, worked out again; none where one of them steps back or leans over. `None` inside: too near to
    /// tell.
    fn curves(&self) -> Result<Vec<Curve>, Unsure> {
        let mut curves = Vec::new();
        let mut from = self.start;
        for run in &self.runs {
            curves.push(Curve::new(from, run)?);
            from = run.end;
        }
        Ok(curves)
    }
}

/// Why there is no curve to compare with.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Unsure {
    /// It must be refused.
    Broken,
    /// It is so near to what must be refused that either is right.
    Near,
}

/// A line or an arc, in mm: the arc's centre and radius, upwards (1) or towards the finger (-1).
#[derive(Clone, Copy, Debug)]
struct Curve {
    from: (f64, f64),
    to: (f64, f64),
    arc: Option<((f64, f64), f64, f64)>,
}

impl Curve {
    fn new(from: At, run: &Run) -> Result<Self, Unsure> {
        let float = |(x, y): At| (f64::from(x) / 100.0, f64::from(y) / 100.0);
        let (a, c) = (float(from), float(run.end));
        let line = Self {
            from: a,
            to: c,
            arc: None,
        };
        if run.end.0 <= from.0 {
            return Err(Unsure::Broken);
        }
        let Some(via) = run.via else { return Ok(line) };
        if via.0 <= from.0 || via.0 >= run.end.0 {
            return Err(Unsure::Broken);
        }
        let b = float(via);
        // The centre is as far from all three points: two equations of the first degree.
        let (bx, by) = (b.0 - a.0, b.1 - a.1);
        let (cx, cy) = (c.0 - a.0, c.1 - a.1);
        let turn = 2.0 * (bx * cy - by * cx);
        if turn == 0.0 || turn.abs() < 1e-9 {
            return Ok(line);
        }
        let (bb, cc) = (bx * bx + by * by, cx * cx + cy * cy);
        let centre = (
            a.0 + (cy * bb - by * cc) / turn,
            a.1 + (bx * cc - cx * bb) / turn,
        );
        let radius = ((a.0 - centre.0).powi(2) + (a.1 - centre.1).powi(2)).sqrt();
        // Turning right on the way from left to right is bulging away from the finger.
        let up = if turn < 0.0 { 1.0 } else { -1.0 };
        // Both ends must lie on the half that faces away from the centre's level.
        let least = [a, b, c].map(|point| (point.1 - centre.1) * up);
        let least = least.into_iter().fold(f64::INFINITY, f64::min);
        match least {
            least if least < -MARGIN => Err(Unsure::Broken),
            // Nearer, it can only be upright at an end, but for the last bits.
            least if least < -1e-9 => Err(Unsure::Near),
            _ => Ok(Self {
                arc: Some((centre, radius, up)),
                ..line
            }),
        }
    }

    fn height(&self, x: f64) -> f64 {
        match self.arc {
            None => {
                let part = (x - self.from.0) / (self.to.0 - self.from.0);
                self.from.1 + part * (self.to.1 - self.from.1)
            }
            Some((centre, radius, up)) => {
                centre.1 + up * (radius * radius - (x - centre.0).powi(2)).max(0.0).sqrt()
            }
        }
    }

    /// Points along it, evenly by its own length.
    fn points(&self, count: u32) -> Vec<(f64, f64)> {
        let part = |place: u32| f64::from(place) / f64::from(count);
        let (a, c) = (self.from, self.to);
        match self.arc {
            None => (0..=count)
                .map(|place| {
                    (
                        a.0 + part(place) * (c.0 - a.0),
                        a.1 + part(place) * (c.1 - a.1),
                    )
                })
                .collect(),
            Some((centre, radius, up)) => {
                let angle = |x: f64| ((x - centre.0) / radius).clamp(-1.0, 1.0).asin();
                let (low, high) = (angle(a.0), angle(c.0));
                (0..=count)
                    .map(|place| {
                        let angle = low + part(place) * (high - low);
                        (
                            centre.0 + radius * angle.sin(),
                            centre.1 + up * radius * angle.cos(),
                        )
                    })
                    .collect()
            }
        }
    }

    /// Integral of `(BORE + y)^2 dx` along it: Simpson's rule over the angle, in which an arc is smooth to its
    /// vertical ends.
    fn square(&self) -> f64 {
        const STEPS: u32 = 400;
        let (low, high) = match self.arc {
            None => (self.from.0, self.to.0),
            Some((centre, radius, _)) => (
                ((self.from.0 - centre.0) / radius).clamp(-1.0, 1.0).asin(),
                ((self.to.0 - centre.0) / radius).clamp(-1.0, 1.0).asin(),
            ),
        };
        let at = |place: u32| {
            let value = low + (high - low) * f64::from(place) / f64::from(STEPS);
            match self.arc {
                None => (BORE + self.height(value)).powi(2),
                Some((centre, radius, up)) => {
                    (BORE + centre.1 + up * radius * value.cos()).powi(2) * radius * value.cos()
                }
            }
        };
        let inner: f64 = (1..STEPS)
            .map(|place| at(place) * if place % 2 == 1 { 4.0 } else { 2.0 })
            .sum();
        (at(0) + inner + at(STEPS)) * (high - low) / f64::from(STEPS) / 3.0
    }

    /// How low a disc of radius `wall` about any of its points comes down at `x`.
    fn pressed(&self, x: f64, wall: f64) -> f64 {
        let (low, high) = ((x - wall).max(self.from.0), (x + wall).min(self.to.0));
        if low >= high {
            return f64::INFINITY;
        }
        let at = |place: f64| {
            let off = place - x;
            self.height(place) - (wall * wall - off * off).max(0.0).sqrt()
        };
        // Falls and then rises, except below an arc that bulges away: so the lowest of some places first.
        let step = (high - low) / 12.0;
        let best = (0..=12)
            .map(|place| low + step * f64::from(place))
            .min_by(|a, b| at(*a).total_cmp(&at(*b)))
            .unwrap_or(low);
        let (mut low, mut high) = ((best - step).max(low), (best + step).min(high));
        for _ in 0..36 {
            let (a, b) = (low + 0.382 * (high - low), low + 0.618 * (high - low));
            if at(a) <= at(b) {
                high = b;
            } else {
                low = a;
            }
        }
        at(low).min(at(high)).min(at(0.5 * (low + high)))
    }
}

/// Height of the bore's arc at a place.
fn inside(x: f64, half: f64, comfort: f64) -> f64 {
    if comfort == 0.0 {
        return 0.0;
    }
    let radius = (half * half + comfort * comfort) / (2.0 * comfort);
    radius - (radius * radius - x * x).sqrt()
}

fn run(recipe: &str) -> Outcome {
    Session::default().run("r.annulet", recipe, &Request::default())
}

fn possible(outcome: &Outcome) -> Option<&Evaluation> {
    outcome
        .evaluations
        .first()
        .filter(|_| outcome.weight() < Some(Weight::Wrong))
}

/// An outline of up to seven runs, mostly sound.
fn outline() -> impl Strategy<Value = Drawn> {
    let run = (
        10..120_i32,
        30..330_i32,
        prop::option::of((10..90_i32, -60..60_i32)),
        any::<bool>(),
    );
    let parts = (20..60_i32, 20..60_i32, 4..16_i32);
    (
        30..330_i32,
        prop::collection::vec(run, 1..7),
        prop_oneof![Just(0), 1..30_i32],
        parts,
    )
        .prop_map(|(start, steps, comfort, parts)| {
            // An even width, so that the outline can start at half of it.
            let width: i32 = steps.iter().map(|step| step.0).sum();
            let odd = width % 2;
            let half = (width + odd) / 2;
            let mut from = (-half, start);
            let last = steps.len() - 1;
            let runs = steps
                .into_iter()
                .enumerate()
                .map(|(place, (step, height, via, round))| {
                    let step = step + if place == last { odd } else { 0 };
                    let mut end = (from.0 + step, height);
                    let via = via.map(|(part, bulge)| {
                        if round {
                            // A half circle, upright at both ends, or nearly so where the step is odd.
                            end.1 = from.1;
                            let bulge = if bulge < 0 { -(step / 2) } else { step / 2 };
                            return (from.0 + step / 2, from.1 + bulge);
                        }
                        let chord = from.1 + (height - from.1) * part / 100;
                        (
                            from.0 + (step * part / 100).max(1),
                            chord + bulge * step / 120,
                        )
                    });
                    from = end;
                    Run { via, end }
                })
                .collect();
            Drawn {
                start: (-half, start),
                runs,
                comfort,
                parts,
            }
        })
}

/// Words of an outline in any order, with any lengths.
fn nonsense() -> impl Strategy<Value = String> {
    let length = || {
        prop_oneof![
            (-300..300_i32).prop_map(mm),
            Just("0 mm".to_owned()),
            Just("2.5 mm".to_owned()),
            Just("-2.5 mm".to_owned()),
            Just("0.000000000000000001 mm".to_owned()),
            Just("-99999999999999999999 mm".to_owned()),
            Just("1000000 m".to_owned()),
        ]
    };
    let entry = prop_oneof![
        (length(), length()).prop_map(|(x, y)| format!("from {x} {y}")),
        (length(), length()).prop_map(|(x, y)| format!("to {x} {y}")),
        (length(), length(), length(), length())
            .prop_map(|(a, b, x, y)| format!("arc {a} {b} to {x} {y}")),
    ];
    (prop::collection::vec(entry, 0..6), length(), length(), any::<bool>()).prop_map(
        |(entries, width, comfort, hollow)| {
            let parts = if hollow { ", hollow { shell 0.3 mm, sleeve 0.4 mm }" } else { "" };
            format!(
                "band b {{\n  size 17 mm, width {width}, comfort {comfort}, alloy silver-925\n  profile custom {{ from -2.5 mm 1 mm, {} }}{parts}\n}}\n",
                entries.join(", ")
            )
        },
    )
}

proptest! {
    #![proptest_config(chance(600))]

    #[test]
    fn a_solid_of_any_outline_has_its_volume(drawn in outline()) {
        let recipe = drawn.recipe(false);
        let outcome = run(&recipe);
        let found = possible(&outcome);
        let half = f64::from(drawn.width()) / 200.0;
        let comfort = f64::from(drawn.comfort) / 100.0;
        let curves = match drawn.curves() {
            Err(Unsure::Broken) => {
                prop_assert!(found.is_none(), "accepted\n{recipe}");
                return Ok(());
            }
            Err(Unsure::Near) => return Ok(()),
            Ok(curves) => curves,
        };
        let gap = |(x, y): &(f64, f64)| y - inside(*x, half, comfort);
        let gaps = curves.iter().flat_map(|curve| curve.points(200));
        let least = gaps.map(|point| gap(&point)).fold(f64::INFINITY, f64::min);
        // Between two points tried, the gap can be a little less.
        let sure = least > 2e-3 && comfort <= half;
        if least < 0.0 {
            prop_assert!(found.is_none(), "crosses the bore by {least}\n{recipe}");
        }
        let Some(found) = found else {
            prop_assert!(!sure, "{:?}\n{recipe}", outcome.findings);
            return Ok(());
        };
        let bore = if drawn.comfort == 0 {
            2.0 * half * BORE * BORE
        } else {
            let (x, y) = (drawn.width() / 2, drawn.comfort);
            Curve::new((-x, y), &Run { via: Some((0, 0)), end: (x, y) }).unwrap().square()
        };
        let wanted = PI * (curves.iter().map(Curve::square).sum::<f64>() - bore);
        let volume = found.figures.bodies.solid;
        prop_assert!(agree(volume, wanted, CLOSE), "{volume} {wanted}\n{recipe}");
        let crown = curves.iter().flat_map(|curve| curve.points(200)).map(|point| point.1).fold(0.0, f64::max);
        let thickness = found.input.shape.thickness;
        prop_assert!(thickness > crown - 1e-9 && thickness < crown + 2e-3, "{thickness} {crown}\n{recipe}");
    }

    #[test]
    fn nothing_that_is_written_as_an_outline_stops_the_program(recipe in nonsense()) {
        let outcome = run(&recipe);
        match possible(&outcome) {
            Some(found) => prop_assert!(found.figures.weight > 0.0 && found.figures.weight.is_finite(), "{recipe}"),
            None => prop_assert!(!outcome.findings.is_empty(), "{recipe}"),
        }
    }
}

proptest! {
    #![proptest_config(chance(50))]

    #[test]
    fn a_cavity_under_any_outline_keeps_its_wall(drawn in outline()) {
        let recipe = drawn.recipe(true);
        let outcome = run(&recipe);
        let found = possible(&outcome);
        prop_assume!(found.is_some());
        let found = found.unwrap();
        let parts = found.figures.bodies.parts.unwrap();
        let solid = found.figures.bodies.solid;
        let (wall, sleeve, depth) = drawn.parts;
        let (wall, sleeve, depth) = (f64::from(wall) / 100.0, f64::from(sleeve) / 100.0, f64::from(depth) / 100.0);
        let half = f64::from(drawn.width()) / 200.0;
        let curves = drawn.curves().unwrap();

        // The roof over the room between the side walls, at the middles of many short stretches.
        const STRETCHES: u32 = 6000;
        let room = half - wall;
        let stretch = 2.0 * room / f64::from(STRETCHES);
        let roof: Vec<(f64, f64)> = (0..STRETCHES)
            .map(|place| {
                let x = -room + (f64::from(place) + 0.5) * stretch;
                let lowest = curves.iter().map(|curve| curve.pressed(x, wall)).fold(f64::INFINITY, f64::min);
                (x, lowest)
            })
            .collect();
        let open = |point: &&(f64, f64)| point.1 > sleeve;
        let square = |height: f64| (BORE + height).powi(2);
        let cavity: f64 = roof.iter().filter(open).map(|point| PI * stretch * (square(point.1) - square(sleeve))).sum();
        prop_assert!((parts.cavity - cavity).abs() < CLOSE * solid, "cavity {} {cavity}\n{recipe}", parts.cavity);
        let changes = roof.windows(2).filter(|pair| (pair[0].1 > sleeve) != (pair[1].1 > sleeve)).count();
        prop_assert!(changes <= 2, "split\n{recipe}");

        let first = roof.iter().find(open).unwrap().0;
        let last = roof.iter().rfind(open).unwrap().0;
        prop_assert!((parts.foot_left - half - first).abs() < stretch, "{} {first}\n{recipe}", parts.foot_left);
        prop_assert!((half - parts.foot_right - last).abs() < stretch, "{} {last}\n{recipe}", parts.foot_right);

        // From every place of the cut down to the roof, or to the sleeve over the feet. What is tried is never
        // nearer than what is nearest, and not much further, even by a steep roof.
        let ceiling: Vec<&(f64, f64)> = roof.iter().filter(open).step_by(4).collect();
        let mut nearest = f64::INFINITY;
        for (x, y) in curves.iter().flat_map(|curve| curve.points(120)) {
            let y = y - depth;
            if x < first || x > last {
                nearest = nearest.min(y - sleeve);
            }
            let from = ceiling.partition_point(|point| point.0 < x - wall);
            for point in ceiling.iter().skip(from).take_while(|point| point.0 < x + wall) {
                nearest = nearest.min(((point.0 - x).powi(2) + (point.1 - y).powi(2)).sqrt());
            }
        }
        let thickness = parts.walls.under_cut.thickness;
        prop_assert!(thickness < nearest + 1e-7 && thickness > nearest - 0.02, "wall {thickness} {nearest}\n{recipe}");
    }
}
