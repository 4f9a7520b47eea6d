//! Patterns against a brute search over all places of the tool, and a half-round outside against its closed form.
use annulet::kernel::pattern::*;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Waves, arcs and pockets, cut part by part, against a dense search over all places of the tool.
#[test]
fn bent_lines_like_a_dense_search() {
    let o = StripOutside::dome(10.0, 6.0, 7.0).unwrap();
    let line = |u, v| PathPoint {
        at: StripPlace { u, v },
        run: StrokeRun::Line,
    };
    let shapes = [
        (
            "wave",
            CutShape::Wave {
                rise: 3.6,
                at: 0.3,
                periods: 1.0,
            },
        ),
        (
            "corner",
            CutShape::Path(vec![
                line(1.0, -1.5),
                line(2.5, 1.5),
                line(3.5, -0.5),
                line(4.0, -0.6),
            ]),
        ),
        (
            "pocket",
            CutShape::Pocket {
                outline: vec![
                    line(2.0, 0.9),
                    line(4.0, 0.9),
                    line(4.0, 2.2),
                    line(2.0, 2.2),
                ],
                step_over: None,
            },
        ),
        (
            "pocket L",
            CutShape::Pocket {
                outline: vec![
                    line(1.0, -1.0),
                    line(4.0, -1.0),
                    line(4.0, 0.0),
                    line(2.2, 0.0),
                    line(2.2, 2.2),
                    line(1.0, 2.2),
                ],
                step_over: None,
            },
        ),
    ];
    for (name, shape) in shapes {
        for cutter in [
            CutterForm::vee(FRAC_PI_2, 0.05),
            CutterForm::Ball { radius: 0.4 },
            CutterForm::Flat { half: 0.3 },
        ] {
            let cuts = [ToolCut::new(shape.clone(), cutter, 0.2)];
            let l = lay(&o, &cuts, 12);
            let mut relief = Relief::default();
            cut(&mut relief, &o, &cuts, &l, 0.05, &[]);
            let mut tools = Vec::new();
            let mut add = |at: StripPlace| {
                tools.push(cutter::Tool {
                    angle: at.u / o.largest(),
                    x: at.v,
                    tip: o.radius(at.v) - 0.2,
                })
            };
            for s in &l.strokes {
                let stops = s.stops(1e-5);
                for w in stops.windows(2) {
                    let n = (w[0].at.to(w[1].at) / 0.002).ceil() as usize;
                    for i in 0..=n {
                        let p = i as f64 / n as f64;
                        add(StripPlace {
                            u: w[0].at.u + (w[1].at.u - w[0].at.u) * p,
                            v: w[0].at.v + (w[1].at.v - w[0].at.v) * p,
                        });
                    }
                }
            }
            for p in &l.pockets {
                for round in &p.loops {
                    for (a, b) in round.iter().zip(round.iter().cycle().skip(1)) {
                        let n = (a.to(*b) / 0.002).ceil().max(1.0) as usize;
                        for i in 0..=n {
                            let q = i as f64 / n as f64;
                            add(StripPlace {
                                u: a.u + (b.u - a.u) * q,
                                v: a.v + (b.v - a.v) * q,
                            });
                        }
                    }
                }
                let (low, high) = p.span().unwrap();
                for i in 0..=120 {
                    let v = low + 1e-9 + (high - low - 2e-9) * i as f64 / 120.0;
                    for (a, b) in p.row(v) {
                        for k in 0..=160 {
                            add(StripPlace {
                                u: a + (b - a) * k as f64 / 160.0,
                                v,
                            });
                        }
                    }
                }
            }
            let turn = TAU / 12.0;
            let copies: Vec<cutter::Tool> = tools
                .iter()
                .flat_map(|t| {
                    [-1.0, 0.0, 1.0].map(|k| cutter::Tool {
                        angle: t.angle + k * turn,
                        ..*t
                    })
                })
                .collect();
            let mut by: std::collections::BTreeMap<(i64, i64), Vec<cutter::Tool>> =
                Default::default();
            for t in copies {
                by.entry((
                    (t.angle * 10.0 * 2.0).floor() as i64,
                    (t.x * 2.0).floor() as i64,
                ))
                .or_default()
                .push(t);
            }
            let (mut worst, mut missed, mut deeper, mut count) = (0.0_f64, 0, 0.0_f64, 0);
            for (x, angle, outside, floor, under) in relief.lines_for_tests() {
                if under {
                    continue;
                }
                let mut best = outside;
                let (a, b) = ((angle * 20.0).floor() as i64, (x * 2.0).floor() as i64);
                for i in a - 1..=a + 1 {
                    for j in b - 1..=b + 1 {
                        for t in by.get(&(i, j)).into_iter().flatten() {
                            if let Some(k) = cutter.takes(t, angle, x)
                                && k.to >= outside
                                && k.from < best
                            {
                                best = k.from;
                            }
                        }
                    }
                }
                count += 1;
                let off = floor - best;
                if off > 0.02 {
                    missed += 1;
                    if missed < 3 {
                        println!(
                            "   missed at x {x:.3} u {:.3} by {off:.3} of {:.3}",
                            angle * 10.0,
                            outside - best
                        );
                    }
                } else {
                    worst = worst.max(off);
                    deeper = deeper.max(-off);
                }
            }
            println!(
                "bent {name:9} {cutter:?}: higher {:.2} um, deeper {:.2} um, missed {missed} of {count}",
                worst * 1e3,
                deeper * 1e3
            );
            assert!(missed <= 8 && worst < 0.021 && deeper < 0.01);
        }
    }
}

/// Least wall against a dense search over the whole surface of all tools.
#[test]
fn walls_like_a_dense_search() {
    let dome = StripOutside::dome(10.0, 6.0, 7.0).unwrap();
    let unlike = StripOutside::of(&[
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
    .unwrap();
    // A cavity with upright walls and a bore: the distance to a box 7.9..8.9 high between -1.4 and 1.7, and to r = 8.3.
    let box_ = |x: f64, r: f64| {
        let (dx, dr) = ((-1.4 - x).max(x - 1.7).max(0.0), (r - 8.9).max(0.0));
        (dx * dx + dr * dr).sqrt()
    };
    let distance = |x: f64, r: f64| box_(x, r).min(r - 8.3);
    let line = |u, v| PathPoint {
        at: StripPlace { u, v },
        run: StrokeRun::Line,
    };
    let mut ramp = ToolCut::new(
        CutShape::Path(vec![line(1.0, -2.5), line(2.5, 2.5)]),
        CutterForm::vee(1.2, 0.05),
        0.1,
    );
    ramp.ramp_to = Some(0.4);
    let vee = CutterForm::vee(FRAC_PI_2, 0.05);
    let cuts = [
        (
            "lines",
            ToolCut::new(
                CutShape::Lines {
                    count: 1,
                    slant: 0.4,
                    both: true,
                },
                vee,
                0.3,
            ),
        ),
        (
            "wave",
            ToolCut::new(
                CutShape::Wave {
                    rise: 3.0,
                    at: 0.4,
                    periods: 1.0,
                },
                CutterForm::Ball { radius: 0.5 },
                0.3,
            ),
        ),
        (
            "ring",
            ToolCut::new(
                CutShape::Ring {
                    place: RingPlace::FromEdge(1.1),
                    both: true,
                },
                CutterForm::Flat { half: 0.3 },
                0.3,
            ),
        ),
        (
            "dots",
            ToolCut::new(
                CutShape::Dots {
                    row: -1.6,
                    count: 2,
                },
                CutterForm::Ball { radius: 0.5 },
                0.3,
            ),
        ),
        ("ramp", ramp),
        (
            "facets",
            ToolCut::new(
                CutShape::Facets {
                    row: -1.5,
                    tilt: 0.3,
                    count: 1,
                },
                CutterForm::Plane,
                0.5,
            ),
        ),
    ];
    for (outline, o) in [("dome", &dome), ("unlike", &unlike)] {
        for (name, c) in &cuts {
            let all = [c.clone()];
            let l = lay(o, &all, 12);
            let found = least_wall(o, &all, &l, distance);
            let mut best = (f64::INFINITY, 0.0);
            for s in &l.strokes {
                for w in s
                    .stops(1e-5)
                    .windows(2)
                    .chain(std::iter::once(&[s.from, s.from][..]))
                {
                    let n = (w[0].at.to(w[1].at) / 0.002).ceil().max(1.0) as usize;
                    for i in 0..=n {
                        let p = i as f64 / n as f64;
                        let mix = |a: f64, b: f64| a + (b - a) * p;
                        let (v, d) = (mix(w[0].at.v, w[1].at.v), mix(w[0].depth, w[1].depth));
                        for k in -300..=300 {
                            let dx = k as f64 * 0.002;
                            let x = v + dx;
                            if !(-3.0..=3.0).contains(&x) {
                                continue;
                            }
                            let Some(h) = c.cutter.profile(dx.abs()) else {
                                continue;
                            };
                            let r = o.radius(v) - d + h;
                            if r < o.radius(x) {
                                let q = distance(x, r);
                                if q < best.0 {
                                    best = (q, x);
                                }
                            }
                        }
                    }
                }
            }
            for f in &l.facets {
                for i in 0..=60000 {
                    let x = -3.0 + i as f64 * 1e-4;
                    let r = f.radius - (x - f.row) * f.falls;
                    if r < o.radius(x) {
                        let q = distance(x, r);
                        if q < best.0 {
                            best = (q, x);
                        }
                    }
                }
            }
            match found {
                Some(w) => {
                    println!(
                        "wall {outline} {name}: {:.6} at u {:.3} v {:.4}, dense {:.6} at {:.4}, off {:+.3} um",
                        w.value,
                        w.u,
                        w.v,
                        best.0,
                        best.1,
                        (w.value - best.0) * 1e3
                    );
                    assert!((w.value - best.0).abs() < 1e-3);
                }
                None => assert!(!best.0.is_finite()),
            }
        }
    }
}

/// A half-round outside ends upright at the faces: nothing runs away there.
#[test]
fn half_round() {
    for (w, arc) in [(6.0, 3.0), (4.0, 2.05), (2.0, 1.0)] {
        let o = StripOutside::dome(10.5, w, arc).unwrap();
        let t = std::time::Instant::now();
        let cuts = [
            ToolCut::new(
                CutShape::Flutes { count: 2 },
                CutterForm::vee(FRAC_PI_2, 0.05),
                0.2,
            ),
            ToolCut::new(
                CutShape::Lines {
                    count: 1,
                    slant: 0.5,
                    both: true,
                },
                CutterForm::Ball { radius: 0.3 },
                0.1,
            ),
        ];
        let worked = work(&o, &cuts, 12, Accuracy::default(), &mut Relief::default());
        let harmonic = worked.section(12.0).harmonic;
        let f = worked.figures;
        println!(
            "half round {w}: {:?} V {} error {} step {} deepest {} harmonic {}",
            t.elapsed(),
            f.volume,
            f.error,
            f.step,
            f.deepest,
            harmonic
        );
        assert!(f.volume.is_finite() && f.deepest.is_finite());
    }
}
