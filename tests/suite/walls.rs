//! Walls of hollow bands against a dense search by their definition.
//!
//! Source: section 2 of the physical model alone. The cavity is where a disc of the nose's radius finds room within
//! the wall's distance of outside and side faces; the wall under the cut is the least of very many distances tried.

use annulet::evaluate::Evaluation;
use annulet::finding::Weight;
use annulet::kernel::section::curve::{Piece, Point};
use annulet::kernel::section::{Hollow, Roof, Shape, impossible};
use annulet::kernel::{Input, figures};
use annulet::session::{Request, Session};
use proptest::prelude::*;

use crate::hollow::{chance, drawn};

/// Points to each line and arc, and places across the width.
const POINTS: usize = 300;
const PLACES: usize = 600;
/// What points so close leave between the least distance tried and the true one, mm.
const CLOSE: f64 = 3e-3;

/// The only band of a recipe; none where it cannot be.
fn evaluated(recipe: &str) -> Option<Evaluation> {
    let mut outcome = Session::default().run("r", recipe, &Request::default());
    let sound = outcome
        .findings
        .iter()
        .all(|one| one.weight() < Weight::Wrong);
    (sound && !outcome.evaluations.is_empty()).then(|| outcome.evaluations.remove(0))
}

/// Points along a curve, evenly by length of each piece.
fn along(curve: &[Piece]) -> Vec<Point> {
    let mut points = Vec::new();
    for piece in curve {
        for part in 0..=POINTS {
            let share = part as f64 / POINTS as f64;
            points.push(if piece.radius == 0.0 {
                Point {
                    x: piece.from.x + share * (piece.to.x - piece.from.x),
                    y: piece.from.y + share * (piece.to.y - piece.from.y),
                }
            } else {
                let centre = piece.centre();
                let angle = |end: Point| {
                    (end.x - centre.x).atan2((end.y - centre.y) * piece.radius.signum())
                };
                let angle = angle(piece.from) + share * (angle(piece.to) - angle(piece.from));
                Point {
                    x: centre.x + piece.radius.abs() * angle.sin(),
                    y: centre.y + piece.radius * angle.cos(),
                }
            });
        }
    }
    points
}

/// The highest place at `x` that is `away` from every point of the outside.
fn under(outside: &[Point], x: f64, away: f64) -> f64 {
    outside
        .iter()
        .filter(|point| (point.x - x).abs() <= away)
        .map(|point| point.y - (away * away - (point.x - x) * (point.x - x)).sqrt())
        .fold(f64::INFINITY, f64::min)
}

/// Where the centre of a disc of the nose's radius comes to under the roof, points from left to right.
fn centres(shape: &Shape, hollow: &Hollow, outside: &[Point]) -> Vec<Point> {
    let room = shape.half() - hollow.wall;
    let across =
        |most: f64| (0..=PLACES).map(move |part| most * (2.0 * part as f64 / PLACES as f64 - 1.0));
    let level = across(room)
        .map(|x| under(outside, x, hollow.wall))
        .fold(f64::INFINITY, f64::min);
    across(room - hollow.nose)
        .map(|x| Point {
            x,
            y: match hollow.roof {
                Roof::Straight => level - hollow.nose,
                _ => under(outside, x, hollow.wall + hollow.nose),
            },
        })
        .collect()
}

/// The part of a disc that lies over the foot: how near it comes to a point, and how far it reaches to left and right.
fn disc(centre: Point, radius: f64, foot: f64, from: Point) -> Option<(f64, f64)> {
    let reach = if centre.y >= foot {
        radius
    } else {
        (radius * radius - (foot - centre.y) * (foot - centre.y)).sqrt()
    };
    let (dx, dy) = (from.x - centre.x, from.y - centre.y);
    let away = dx.hypot(dy);
    let over = centre.y + radius * dy / away >= foot;
    let corner = (dx.abs() - reach).hypot(from.y - foot);
    (reach >= 0.0).then_some((if over { away - radius } else { corner }, reach))
}

/// The thinnest metal under the outside lowered by `depth`, the least of all distances tried.
fn tried(shape: &Shape, depth: f64) -> f64 {
    let hollow = shape.hollow.unwrap();
    let outside = along(&shape.outside_curve());
    let (foot, nose) = (hollow.foot(), hollow.nose);
    let centres = centres(shape, &hollow, &outside);
    let ends = centres.iter().filter_map(|centre| {
        let (_, reach) = disc(*centre, nose, foot, Point { x: 0.0, y: 100.0 })?;
        Some((centre.x - reach, centre.x + reach))
    });
    let (left, right) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| {
        (all.0.min(one.0), all.1.max(one.1))
    });
    let mut least = f64::INFINITY;
    for point in &outside {
        let lowered = Point {
            y: point.y - depth,
            ..*point
        };
        if point.x < left || point.x > right {
            least = least.min(lowered.y - foot);
        }
        for centre in &centres {
            if let Some((away, _)) = disc(*centre, nose, foot, lowered) {
                least = least.min(away);
            }
        }
    }
    least
}

proptest! {
    #![proptest_config(chance(120))]

    #[test]
    fn the_wall_under_the_cut_is_the_least_distance_there_is(drawn in drawn(), nose in 0..60_u32, depth in 0..8_u32) {
        let mut drawn = drawn;
        drawn.nose = nose;
        let plain = drawn.recipe();
        let pattern = format!("pattern {{ depth 0.{depth:02} mm, cover 50 %, cut after }}\n  hollow {{");
        let recipe = match depth {
            0 => plain,
            _ => plain.replacen("hollow {", &pattern, 1),
        };
        let found = evaluated(&recipe);
        prop_assume!(found.is_some());
        let found = found.unwrap();
        let is = found.figures.bodies.parts.unwrap().walls.under_cut.thickness;
        let wanted = tried(&found.input.shape, f64::from(depth) / 100.0);
        prop_assert!((is - wanted).abs() < CLOSE, "{is} {wanted}\n{recipe}");
    }
}

/// What a wall of these bands may rest on, and the ways that it can only grow thicker on.
const FIELDS: &[(&str, &[f64])] = &[
    ("pattern.depth", &[-1.0]),
    ("hollow.shell", &[1.0]),
    ("hollow.sleeve", &[-1.0, 1.0]),
    ("hollow.sleeve.relief", &[1.0]),
    ("profile.edge", &[1.0]),
    ("profile.down", &[-1.0]),
    ("profile.dip", &[-1.0]),
    ("thickness", &[1.0]),
    ("comfort", &[-1.0]),
];

/// Whether a shape can be made with every wall as thick as wanted.
fn holds(input: &Input, shape: Shape) -> bool {
    let changed = Input {
        shape,
        ..input.clone()
    };
    impossible(&changed.shape).is_empty()
        && figures(&changed).bodies.least_wall() >= input.stretch.walls.anywhere - 1e-9
}

/// A band some wall of which may be too thin, and its pattern where it has one.
fn thin() -> impl Strategy<Value = String> {
    let pattern = prop::option::of((1..40_u32, prop::option::of(1..20_u32)));
    let walls = (10..60_u32, 5..40_u32, prop::option::of(5..30_u32));
    (drawn(), walls, pattern, any::<bool>()).prop_map(|(mut drawn, walls, pattern, solid)| {
        (drawn.shell, drawn.sleeve, drawn.relief) = (walls.0, drawn.comfort + walls.1, walls.2);
        let recipe = drawn.recipe();
        let pattern = pattern.map_or(String::new(), |(depth, mean)| {
            let mean = mean.map_or(String::new(), |mean| {
                format!(", mean-depth 0.{:02} mm", mean.min(depth))
            });
            format!("  pattern {{ depth 0.{depth:02} mm{mean}, cover 50 % }}\n")
        });
        let (head, hollow) = recipe.split_once("  hollow {").unwrap();
        match solid {
            true => format!("{head}{pattern}}}\n"),
            false => format!("{head}{pattern}  hollow {{{hollow}"),
        }
    })
}

proptest! {
    #![proptest_config(chance(200))]

    #[test]
    fn every_field_that_would_keep_a_wall_is_offered_and_passes(recipe in thin()) {
        let mut session = Session::default();
        let outcome = session.run("r", &recipe, &Request::default());
        for finding in &outcome.findings {
            if finding.code() != "evaluate::thin_wall" {
                continue;
            }
            let help = finding.help().unwrap_or_default();
            let offers: Vec<(&str, &str)> = help
                .split('`')
                .skip(1)
                .step_by(2)
                .map(|offer| offer.split_once(' ').unwrap())
                .collect();
            // Put back, each passes, and a micrometre less of a change does not.
            for (word, value) in &offers {
                let with = |value: &str| {
                    let request = Request { sets: vec![format!("{word}={value}")], ..Request::default() };
                    let again = Session::default().run("r", &recipe, &request);
                    let of_walls = |found: &annulet::finding::Finding| {
                        found.code() != "evaluate::thin_wall" && !found.code().starts_with("geometry::")
                    };
                    let sound = again.findings.iter().all(of_walls);
                    let known = again.findings.iter().all(|one| one.weight() < Weight::Wrong || one.code().starts_with("geometry::"));
                    assert!(known, "{word} {value}\n{recipe}{:?}", again.findings);
                    sound
                };
                prop_assert!(with(value), "{help}\n{recipe}");
                let number: f64 = value.strip_suffix(" mm").unwrap().parse().unwrap();
                let nearer = [number - 0.0011, number + 0.0011].map(|near| format!("{:.6} mm", near.max(0.0)));
                prop_assert!(nearer.iter().any(|near| !with(near)), "{help} is not the last\n{recipe}");
            }
            // What is not offered would not do.
            let input = &outcome.evaluations[0].input;
            for (path, ways) in FIELDS {
                let field = annulet::schema::find(path).unwrap().id;
                let word = field.word();
                let Some(now) = input.shape.field(field).filter(|_| offers.iter().all(|(known, _)| *known != word)) else {
                    continue;
                };
                // As far as the band can be made all the way there.
                let missed = ways.iter().find_map(|way| {
                    (1..1200_u32)
                        .map(|step| now + way * f64::from(step) * 0.0011)
                        .take_while(|value| *value > 0.0 && impossible(&input.shape.with(field, *value)).is_empty())
                        .find(|value| holds(input, input.shape.with(field, *value)))
                });
                prop_assert!(missed.is_none(), "{word} {missed:?} would do\n{help}\n{recipe}");
            }
        }
    }
}
