//! Checks of the pattern against closed forms and against a brute search.
use annulet::kernel::pattern::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

pub fn vol(o: &StripOutside, cuts: &[ToolCut], n: u32) -> PatternFigures {
    fine(o, cuts, n).figures
}
pub fn fine(o: &StripOutside, cuts: &[ToolCut], n: u32) -> Worked {
    work(
        o,
        cuts,
        n,
        Accuracy {
            error: 0.0005,
            lines: 4_000_000,
        },
        &mut Relief::default(),
    )
}
pub fn near(name: &str, got: f64, want: f64, share: f64) {
    let off = got / want - 1.0;
    println!("{name:40} {got:.6} {want:.6} off {off:+.2e}");
    assert!(
        off.abs() <= share,
        "{name}: {got} against {want}, off {off:+.2e}"
    );
}
pub fn simpson(a: f64, b: f64, n: usize, f: impl Fn(f64) -> f64) -> f64 {
    let h = (b - a) / n as f64;
    (0..=n)
        .map(|i| {
            f(a + h * i as f64)
                * if i == 0 || i == n {
                    1.0
                } else if i % 2 == 1 {
                    4.0
                } else {
                    2.0
                }
        })
        .sum::<f64>()
        * h
        / 3.0
}

#[test]
fn rings_by_pappus() {
    let (r, d) = (10.0, 0.3);
    let o = StripOutside::flat(r, 6.0).unwrap();
    let ring = |c| {
        ToolCut::new(
            CutShape::Ring {
                place: RingPlace::At(0.7),
                both: true,
            },
            c,
            d,
        )
    };
    let f = vol(&o, &[ring(CutterForm::vee(FRAC_PI_2, 0.0))], 18);
    near(
        "ring vee",
        f.volume,
        2.0 * TAU * (r - d / 3.0) * d * d,
        5e-4,
    );
    near("length", f.groove_length, 2.0 * TAU * r, 1e-12);
    assert_eq!(f.plunges, 2);
    near("cover", f.cover, 4.0 * d / 6.0, 0.01);
    near("deepest", f.deepest, d, 1e-6);
    let worked = fine(&o, &[ring(CutterForm::Flat { half: 0.4 })], 18);
    let section = worked.section(12.0);
    let f = worked.figures;
    near(
        "ring flat",
        f.volume,
        2.0 * PI * (r * r - (r - d) * (r - d)) * 0.8,
        1e-6,
    );
    near("mean depth flat", f.mean_depth, d, 1e-6);
    near("section", section.harmonic, 12.0 - 2.0 * 0.8 * d, 1e-9);
    let rho: f64 = 0.5; // ball: d < radius
    let half = (rho * rho - (rho - d) * (rho - d)).sqrt();
    let e = simpson(-half, half, 20000, |y| {
        let b = r - d + rho - (rho * rho - y * y).sqrt();
        PI * (r * r - b * b)
    });
    let f = vol(&o, &[ring(CutterForm::Ball { radius: rho })], 18);
    near("ring ball", f.volume, 2.0 * e, 5e-4);
}

#[test]
fn flutes_and_dots() {
    let (r, d) = (10.0_f64, 0.3);
    let o = StripOutside::flat(r, 6.0).unwrap();
    for (name, c) in [
        ("flat", CutterForm::Flat { half: 0.4 }),
        ("vee", CutterForm::vee(FRAC_PI_2, 0.0)),
        ("vee tip", CutterForm::vee(FRAC_PI_2, 0.05)),
        ("ball", CutterForm::Ball { radius: 0.5 }),
        ("ball deep", CutterForm::Ball { radius: 0.25 }),
    ] {
        let h = |y: f64, rho: f64| {
            c.profile(rho.abs())
                .map_or(0.0, |f| ((r * r - y * y).sqrt() - (r - d) - f).max(0.0))
        };
        let reach = match c {
            CutterForm::Flat { half } => half,
            CutterForm::Ball { radius } => radius.min(if d < radius {
                (2.0 * radius * d).sqrt()
            } else {
                radius
            }),
            _ => 0.35,
        };
        let e = 18.0 * 3.0 * 6.0 * 2.0 * simpson(0.0, reach, 200_000, |y| h(y, y));
        near(
            &format!("flutes {name}"),
            vol(&o, &[ToolCut::new(CutShape::Flutes { count: 3 }, c, d)], 18).volume,
            e,
            1e-3,
        );
        let e = 18.0
            * 2.0
            * simpson(0.0, reach, 4000, |rho| {
                rho * simpson(0.0, TAU, 64, |phi| h(rho * phi.cos(), rho))
            });
        near(
            &format!("dots {name}"),
            vol(
                &o,
                &[ToolCut::new(CutShape::Dots { row: 0.3, count: 2 }, c, d)],
                18,
            )
            .volume,
            e,
            1e-3,
        );
    }
    // A facet: a segment of the cylinder.
    let h = r - 0.15;
    let segment = r * r * (h / r).acos() - h * (r * r - h * h).sqrt();
    near(
        "facets",
        vol(
            &o,
            &[ToolCut::new(
                CutShape::Facets {
                    row: 0.0,
                    tilt: 0.0,
                    count: 1,
                },
                CutterForm::Plane,
                0.15,
            )],
            12,
        )
        .volume,
        12.0 * 6.0 * segment,
        5e-4,
    );
}

/// The floor of each line against a dense search over the tool's places.
#[test]
fn swept_like_a_dense_search() {
    let vee = CutterForm::vee(FRAC_PI_2, 0.05);
    let outlines = [
        ("dome", StripOutside::dome(10.0, 6.0, 6.0).unwrap()),
        (
            "knife",
            StripOutside::of(&[
                StripPiece {
                    from: (-3.0, 9.0),
                    to: (0.0, 10.0),
                    radius: 0.0,
                },
                StripPiece {
                    from: (0.0, 10.0),
                    to: (3.0, 9.0),
                    radius: 0.0,
                },
            ])
            .unwrap(),
        ),
        (
            "dip, unlike",
            StripOutside::of(&[
                StripPiece {
                    from: (-3.0, 9.9),
                    to: (0.5, 9.6),
                    radius: -7.0,
                },
                StripPiece {
                    from: (0.5, 9.6),
                    to: (3.0, 9.9),
                    radius: 0.0,
                },
            ])
            .unwrap(),
        ),
    ];
    for (name, o) in &outlines {
        for cutter in [
            vee,
            CutterForm::Ball { radius: 0.4 },
            CutterForm::Flat { half: 0.3 },
        ] {
            for tan in [0.0, 0.6] {
                let (d0, d1) = (0.2, 0.3);
                let at = |p: f64| (tan * (-3.6 + 7.2 * p), -3.6 + 7.2 * p, d0 + (d1 - d0) * p);
                let stop = |p: f64| {
                    let (u, v, depth) = at(p);
                    Stop {
                        at: StripPlace { u: u + 3.0, v },
                        depth,
                    }
                };
                let mut relief = Relief::default();
                relief.begin(o, 6, 0.09, &[]);
                relief.groove(o, &cutter, &[stop(0.0), stop(1.0)]);
                let mut worst: f64 = 0.0;
                let mut missed = 0;
                for (x, angle, outside, floor, under) in relief.lines_for_tests() {
                    if under {
                        continue;
                    }
                    let beside = angle - 3.0 / o.largest();
                    if (beside * 10.0 - tan * x).abs() > 2.0 {
                        continue;
                    }
                    let mut best = outside;
                    let guess = (x + 3.6) / 7.2;
                    for i in 0..=1600 {
                        let p = guess + (i as f64 / 800.0 - 1.0) * 0.09;
                        if !(0.0..=1.0).contains(&p) {
                            continue;
                        }
                        let (u, v, depth) = at(p);
                        let tool = cutter::Tool {
                            angle: u / o.largest(),
                            x: v,
                            tip: o.radius(v) - depth,
                        };
                        if let Some(t) = cutter.takes(&tool, beside, x)
                            && t.to >= outside
                            && t.from < best
                        {
                            best = t.from;
                        }
                    }
                    let off = floor - best;
                    if off.abs() > 0.02 {
                        missed += 1;
                    } else {
                        worst = worst.max(off.abs());
                    }
                }
                println!(
                    "{name:12} {cutter:?} tan {tan}: worst {:.2} um, missed {missed}",
                    worst * 1000.0
                );
                assert!(worst < 0.008 && missed == 0);
            }
        }
    }
}

/// Where the tip of a vee is lowest along its line, the tool stands at the bend itself for what lies on either side of it.
#[test]
fn a_groove_has_no_hole_where_its_tip_is_lowest() {
    let dome = StripOutside::dome(10.0, 6.0, 8.0).unwrap();
    let vee = CutterForm::vee(FRAC_PI_2, 0.05);
    let stop = |u: f64, v: f64| Stop {
        at: StripPlace { u, v },
        depth: 0.1,
    };
    let mut seen = 0;
    for beside in [0.004, 0.02, 0.05, 0.2] {
        // On a dome the tip is lowest farthest from the crown: at the bend, or on the stretch between two.
        let line = [
            stop(2.0, -1.95 + beside),
            stop(2.2, -1.95),
            stop(2.4, -1.95 + beside),
        ];
        let mut relief = Relief::default();
        relief.begin(&dome, 12, 0.004, &[]);
        relief.groove(&dome, &vee, &line);
        for (x, angle, outside, floor, _) in relief.lines_for_tests() {
            let (u, v) = (angle * dome.radius(x), x);
            // Within the flat of the tip, on the true outside at that place.
            let (from, at) = (2.2 / 10.0 * dome.radius(x), -1.95);
            if (u - from).hypot(v - at) < 0.02 {
                seen += 1;
                assert!(
                    outside - floor > 0.09,
                    "{beside}: {} at {u} {v}",
                    outside - floor
                );
            }
        }
    }
    assert!(seen > 200, "{seen}");
}

#[test]
fn a_pocket_shrinks_as_its_triangle_does() {
    // Inside a triangle of area A and inradius r, what is d off its sides is the triangle to the scale 1 - d/r. These
    // shrink to almost nothing at one of the distances.
    let outside = StripOutside::flat(30.0, 60.0).unwrap();
    let triangles: [[(f64, f64); 3]; 3] = [
        [(3.5, 2.0), (0.5, 1.0), (0.0, 3.0)],
        [(3.5, 6.5), (11.5, 12.5), (17.0, 7.5)],
        [(2.5, 2.0), (3.5, 0.5), (2.5, 17.0)],
    ];
    let area = |points: &[(f64, f64)]| {
        let next = points.iter().cycle().skip(1);
        let sum: f64 = points
            .iter()
            .zip(next)
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum();
        sum.abs() / 2.0
    };
    let mut seen = 0;
    for triangle in triangles {
        let next = triangle.iter().cycle().skip(1);
        let round: f64 = triangle
            .iter()
            .zip(next)
            .map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1))
            .sum();
        let inner = 2.0 * area(&triangle) / round;
        let nodes = triangle.map(|(u, v)| PathPoint {
            at: StripPlace { u, v },
            run: StrokeRun::Line,
        });
        for half in (1..60).map(|step| 0.0333 * f64::from(step)) {
            let pocket = Pocket::of(&outside, 0, 0.1, &nodes, half, None);
            let loops = pocket.loops.iter();
            let found: f64 = loops
                .map(|one| area(&one.iter().map(|at| (at.u, at.v)).collect::<Vec<_>>()))
                .sum();
            let share = (1.0 - half / inner).max(0.0);
            let wanted = area(&triangle) * share * share;
            assert!(
                (found - wanted).abs() < 1e-4,
                "{triangle:?} {half}: {found}, {wanted}"
            );
            seen += usize::from(wanted > 0.0);
        }
    }
    assert!(seen > 30, "{seen}");
}
