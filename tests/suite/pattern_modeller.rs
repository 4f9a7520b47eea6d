//! Volumes against those recorded by an independent solid modeller (`modeller/`).
use annulet::kernel::pattern::*;

fn f(v: &toml::Value, k: &str) -> f64 {
    v.get(k).and_then(|v| v.as_float()).unwrap_or(0.0)
}
fn n(v: &toml::Value, k: &str) -> u32 {
    v.get(k).and_then(|v| v.as_integer()).unwrap_or(1) as u32
}

#[test]
fn volumes_as_recorded() {
    let cases: toml::Table = include_str!("../modeller/patterns/cases.toml")
        .parse()
        .unwrap();
    let known: toml::Table = include_str!("../modeller/patterns/volumes.toml")
        .parse()
        .unwrap();
    let mut worst: f64 = 0.0;
    for case in cases["case"].as_array().unwrap() {
        let name = case["name"].as_str().unwrap();
        let dome = f(case, "dome");
        let o = if dome > 0.0 {
            StripOutside::dome(f(case, "radius"), 6.0, dome)
        } else {
            StripOutside::flat(f(case, "radius"), 6.0)
        }
        .unwrap();
        let cuts: Vec<ToolCut> = case["cuts"]
            .as_array()
            .unwrap()
            .iter()
            .map(|c| {
                let tool = c["cutter"].as_array().unwrap();
                let num = |i: usize| tool[i].as_float().unwrap();
                let cutter = match tool[0].as_str().unwrap() {
                    "vee" => CutterForm::vee(num(1).to_radians(), num(2)),
                    "ball" => CutterForm::Ball { radius: num(1) },
                    "flat" => CutterForm::Flat { half: num(1) / 2.0 },
                    _ => CutterForm::Plane,
                };
                let node = |u, v| PathPoint {
                    at: StripPlace { u, v },
                    run: StrokeRun::Line,
                };
                let shape = match c["kind"].as_str().unwrap() {
                    "lines" => CutShape::Lines {
                        count: n(c, "count"),
                        slant: f(c, "slant").to_radians(),
                        both: c["both"].as_bool().unwrap(),
                    },
                    "flutes" => CutShape::Flutes {
                        count: n(c, "count"),
                    },
                    "ring" => CutShape::Ring {
                        place: RingPlace::At(f(c, "at")),
                        both: false,
                    },
                    "dots" => CutShape::Dots {
                        row: f(c, "row"),
                        count: n(c, "count"),
                    },
                    "facets" => CutShape::Facets {
                        row: f(c, "row"),
                        tilt: f(c, "tilt").to_radians(),
                        count: n(c, "count"),
                    },
                    "path" => CutShape::Path(
                        c["nodes"]
                            .as_array()
                            .unwrap()
                            .iter()
                            .map(|p| node(p[0].as_float().unwrap(), p[1].as_float().unwrap()))
                            .collect(),
                    ),
                    _ => {
                        let r: Vec<f64> = c["rectangle"]
                            .as_array()
                            .unwrap()
                            .iter()
                            .map(|x| x.as_float().unwrap())
                            .collect();
                        CutShape::Pocket {
                            outline: vec![
                                node(r[0], r[1]),
                                node(r[2], r[1]),
                                node(r[2], r[3]),
                                node(r[0], r[3]),
                            ],
                            step_over: None,
                        }
                    }
                };
                ToolCut::new(shape, cutter, f(c, "depth"))
            })
            .collect();
        let repeats = n(case, "repeats");
        let time = std::time::Instant::now();
        let figures = work(
            &o,
            &cuts,
            repeats,
            Accuracy::default(),
            &mut Relief::default(),
        )
        .figures;
        let time = time.elapsed();
        let want = known[name].as_float().unwrap();
        let off = figures.volume / f64::from(repeats) / want - 1.0;
        println!(
            "{name:32} {want:.6} off {:+.4} % said {:.4} % step {:.4} {time:?}",
            off * 100.0,
            figures.error * 100.0,
            figures.step
        );
        assert!(
            off.abs() <= figures.error + 3e-4,
            "{name}: what is said of the error is too little"
        );
        worst = worst.max(off.abs());
    }
    println!("worst {:.4} %", worst * 100.0);
    assert!(worst < 0.002);
}
