//! Whether the kernel computes without asking for memory: figures, walls and limits of metal in space.
//!
//! Every computation runs once before it is counted. Outlines of more than three runs are the one thing that may
//! allocate, and are left out.

use std::hint::black_box;

use annulet::kernel::LeastWalls;
use annulet::kernel::section::curve::{Piece, Point};
use annulet::kernel::section::{Catch, Curves, Cut, Hollow, Outside, Roof, Shape, impossible};
use annulet::kernel::{Input, SaidTwice, check, figures, possible, thin_walls, walls};
use annulet::schema::FieldId;
use annulet::session::{Request, Session};

use crate::asked;

/// How often something asks for memory when it runs a second time.
fn allocations<T>(run: impl Fn() -> T) -> usize {
    drop(black_box(run()));
    let before = asked().times;
    let value = black_box(run());
    let asked = asked().times - before;
    drop(value);
    asked
}

const OUTSIDES: [(&str, Outside); 6] = [
    ("flat", Outside::Flat),
    ("domed", Outside::Domed { edge: 1.2 }),
    (
        "bevelled",
        Outside::Bevelled {
            across: 1.0,
            down: 0.4,
        },
    ),
    (
        "sharp",
        Outside::KnifeEdge {
            edge: 1.1,
            crown: 0.0,
        },
    ),
    (
        "knife-edge",
        Outside::KnifeEdge {
            edge: 1.1,
            crown: 0.6,
        },
    ),
    ("concave", Outside::Concave { dip: 0.2 }),
];

/// An outline of three straight runs.
fn outline() -> Outside {
    let at = |run: i32| Point {
        x: -2.5 + 5.0 / 3.0 * f64::from(run),
        y: 1.7 + 0.1 * f64::from(run % 2),
    };
    Outside::Custom(
        (0..3)
            .map(|run| Piece::line(at(run), at(run + 1)))
            .collect(),
    )
}

/// Everything that a solid band can have beside its outside.
fn solid(outside: Outside) -> Shape {
    Shape {
        radius: 8.6,
        width: 5.0,
        thickness: 1.8,
        comfort: 0.2,
        outside,
        ease_outer: 0.1,
        ease_bore: 0.05,
        cut: Some(Cut {
            depth: 0.25,
            mean_depth: 0.15,
            even: false,
            cover: 0.8,
            drawn: false,
        }),
        hollow: None,
    }
}

fn hollows() -> Vec<Hollow> {
    let ridge = |two| Catch::Ridge {
        height: 0.1,
        wide: 0.3,
        two,
        play: 0.05,
    };
    let lip = Catch::Lip {
        height: 0.1,
        wide: 0.2,
        play: 0.05,
    };
    let mut hollows = Vec::new();
    for catch in [Catch::None, ridge(false), ridge(true), lip] {
        for roof in [Roof::Uniform, Roof::Straight, Roof::Full] {
            for (nose, relief) in [(0.0, None), (0.1, Some(0.3))] {
                hollows.push(Hollow {
                    wall: 0.35,
                    roof,
                    nose,
                    sleeve: 0.4,
                    relief,
                    catch,
                    play: 0.0,
                });
            }
        }
    }
    hollows
}

/// A band that is stretched, with everything that a recipe can say of its pattern and marks.
fn stretched() -> Input {
    let recipe = "band b {
      size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925, start 16 mm
      pattern { depth 0.25 mm, cover 80 %, repeats 18, cut before }
      mark { on both, deep 0.05 mm }
    }";
    let outcome = Session::default().run("b.annulet", recipe, &Request::default());
    assert_eq!(outcome.evaluations.len(), 1, "{:?}", outcome.findings);
    outcome.evaluations.first().unwrap().input.clone()
}

/// What of an input asks for memory, with how often.
fn asking(input: &Input) -> Vec<(&'static str, usize)> {
    let shape = &input.shape;
    let computed = figures(input);
    let none = SaidTwice::default();
    let mut asking = vec![
        ("impossible", allocations(|| impossible(shape))),
        (
            "possible",
            allocations(|| possible(&Curves::of(shape), &none)),
        ),
        ("check", allocations(|| check(shape, &none, 0.6))),
        ("figures", allocations(|| figures(input))),
        ("walls", allocations(|| walls(input, &computed))),
    ];
    asking.retain(|(_, count)| *count > 0);
    asking
}

/// How often the search for what would keep every wall of an input asks for memory.
fn mending(input: &Input) -> usize {
    let judged: Vec<_> = walls(input, &figures(input))
        .into_iter()
        .map(|wall| (wall, 0.0))
        .collect();
    let stated = |field: FieldId| field != FieldId::Outside;
    allocations(|| thin_walls(input, &judged, &stated).count())
}

#[test]
fn the_allocator_counts() {
    assert_eq!(allocations(|| Box::new(black_box(1))), 1);
    assert_eq!(allocations(|| black_box(1)), 0);
}

#[test]
fn nothing_of_a_band_is_computed_with_the_heap() {
    let mut wrong = Vec::new();
    let base = stretched();
    let outsides = OUTSIDES.into_iter().chain([("outline", outline())]);
    let mut seen = 0;
    for (name, outside) in outsides {
        let plain = solid(outside);
        let mut shapes = vec![plain.clone()];
        shapes.extend(hollows().into_iter().map(|hollow| Shape {
            hollow: Some(hollow),
            ..plain.clone()
        }));
        for shape in shapes
            .into_iter()
            .filter(|shape| impossible(shape).is_empty())
        {
            for cut_before in [false, true] {
                seen += 1;
                let mut input = Input {
                    shape: shape.clone(),
                    ..base.clone()
                };
                input.stretch.cut_before = cut_before;
                let asking = asking(&input);
                if !asking.is_empty() {
                    wrong.push(format!(
                        "{name}, {cut_before}: {asking:?} {:?}",
                        shape.hollow
                    ));
                }
            }
        }
    }
    assert!(seen > 150, "{seen} bands only");
    assert_eq!(wrong, Vec::<String>::new(), "of {seen}");
}

#[test]
fn what_cannot_be_is_found_without_the_heap() {
    let mut wrong = Vec::new();
    for (name, outside) in OUTSIDES {
        for field in [
            FieldId::Comfort,
            FieldId::Thickness,
            FieldId::PatternDepth,
            FieldId::EaseOuter,
        ] {
            let shape = solid(outside.clone()).with(field, 0.01).with(field, 3.0);
            let none = SaidTwice::default();
            let count =
                allocations(|| impossible(&shape)) + allocations(|| check(&shape, &none, 0.6));
            if count > 0 {
                wrong.push((name, field, count));
            }
        }
    }
    assert_eq!(wrong, []);
}

#[test]
fn the_examples_are_computed_without_the_heap() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for entry in std::fs::read_dir("examples").unwrap() {
        let path = entry.unwrap().path();
        let Ok(text) = std::fs::read_to_string(&path) else {
            continue;
        };
        let mut session = Session::default();
        let outcome = session.run("example.annulet", &text, &Request::default());
        for evaluation in &outcome.evaluations {
            let shape = &evaluation.input.shape;
            if matches!(&shape.outside, Outside::Custom(runs) if runs.len() > 3) {
                continue;
            }
            // Drawn cuts are set out one by one, in room of their own.
            if evaluation.input.drawn.is_some() {
                continue;
            }
            seen += 1;
            let mut input = evaluation.input.clone();
            // More than any wall has, so that what would keep it is sought.
            input.stretch.walls = LeastWalls {
                anywhere: 0.6,
                under_cut: 0.6,
                roof: 0.6,
                side: 0.6,
                sleeve: 0.6,
                mark: 0.6,
                struck: 0.9,
            };
            let (asking, mending) = (asking(&input), mending(&input));
            if !asking.is_empty() || mending > 0 {
                wrong.push(format!("{}: {asking:?} {mending}", evaluation.band.name));
            }
        }
    }
    assert!(seen > 5, "{seen} bands only");
    assert_eq!(wrong, Vec::<String>::new());
}
