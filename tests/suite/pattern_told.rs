//! What is told of cuts, times, repeats and lengths.
use annulet::kernel::pattern::*;
use std::f64::consts::{FRAC_PI_2, TAU};
fn line(u: f64, v: f64) -> PathPoint {
    PathPoint {
        at: StripPlace { u, v },
        run: StrokeRun::Line,
    }
}
#[test]
fn told() {
    let o = StripOutside::flat(10.0, 6.0).unwrap();
    let vee = CutterForm::vee(FRAC_PI_2, 0.0);
    let pitch = o.length() / 12.0;
    let cuts = [
        ToolCut::new(
            CutShape::Path(vec![line(0.0, -1.0), line(pitch, -0.8)]),
            vee,
            0.3,
        ),
        ToolCut::new(
            CutShape::Path(vec![line(0.0, -1.0), line(2.0, 3.5), line(pitch, -1.0)]),
            vee,
            0.3,
        ),
        ToolCut::new(
            CutShape::Wave {
                rise: 1.6,
                at: 0.0,
                periods: 1.25,
            },
            vee,
            0.3,
        ),
        ToolCut::new(
            CutShape::Pocket {
                outline: vec![line(1.0, 0.0), line(1.5, 0.0), line(1.5, 1.0)],
                step_over: None,
            },
            CutterForm::Flat { half: 0.4 },
            0.2,
        ),
        ToolCut::new(
            CutShape::Wave {
                rise: 1.6,
                at: 0.0,
                periods: 2.0,
            },
            vee,
            0.3,
        ),
        ToolCut::new(
            CutShape::Path(vec![
                line(1.0, -1.0),
                PathPoint {
                    at: StripPlace { u: 1.0, v: 1.0 },
                    run: StrokeRun::Arc(StripPlace { u: 2.0, v: 0.0 }),
                },
            ]),
            vee,
            0.3,
        ),
    ];
    let w = work(&o, &cuts, 12, Accuracy::default(), &mut Relief::default());
    let t = &w.layout.told;
    assert!((t[0].gap - 0.2).abs() < 1e-9 && t[0].beyond == 0.0);
    assert!(
        t[1].gap == 0.0 && (t[1].beyond - 0.5).abs() < 1e-12 && (t[1].over - 0.8).abs() < 1e-12
    );
    assert!((t[2].gap - 0.8).abs() < 1e-9);
    assert!(t[3].no_room);
    let ways = &w.figures.ways;
    assert_eq!(
        (
            ways[0].plunges,
            ways[1].plunges,
            ways[2].plunges,
            ways[3].plunges,
            ways[4].plunges
        ),
        (12, 1, 12, 0, 1)
    );
    assert!(
        (ways[5].length / (12.0 * TAU / 2.0) - 1.0).abs() < 1e-6,
        "{}",
        ways[5].length / 12.0
    );
    // A wave's length by its integral.
    let n = 100_000;
    let k = TAU * 2.0 / pitch;
    let len: f64 = (0..n)
        .map(|i| {
            let u = (i as f64 + 0.5) * pitch / n as f64;
            (1.0 + (0.8 * k * (k * u).cos()).powi(2)).sqrt() * pitch / n as f64
        })
        .sum();
    assert!(
        (ways[4].length / (12.0 * len) - 1.0).abs() < 1e-5,
        "{} {}",
        ways[4].length,
        12.0 * len
    );
    let speeds = Speeds {
        feed: Some(600.0),
        plunge: Some(120.0),
        rapid: None,
        lift: 0.5,
        passes: 2,
    };
    assert!(
        (minutes(&ways[0], &speeds).unwrap() - (2.0 * ways[0].length / 600.0 + 12.0 * 0.8 / 120.0))
            .abs()
            < 1e-12
    );
    assert_eq!(
        minutes(
            &ways[0],
            &Speeds {
                feed: None,
                ..speeds
            }
        ),
        Err(SpeedMissing::Feed)
    );
    assert_eq!(
        minutes(
            &ways[0],
            &Speeds {
                plunge: None,
                ..speeds
            }
        ),
        Err(SpeedMissing::Plunge)
    );
    assert_eq!(minutes(&ways[3], &speeds), Err(SpeedMissing::StepOver));
}
#[test]
fn once_round_is_the_same_as_repeated() {
    let o = StripOutside::dome(10.0, 6.0, 8.0).unwrap();
    let cut = ToolCut::new(
        CutShape::Lines {
            count: 1,
            slant: 0.4,
            both: true,
        },
        CutterForm::vee(FRAC_PI_2, 0.05),
        0.3,
    );
    let mut small = ToolCut::new(
        CutShape::Path(vec![line(1.0, 1.0), line(2.0, 1.0)]),
        CutterForm::vee(FRAC_PI_2, 0.05),
        1e-6,
    );
    small.whole = true;
    let one = work(
        &o,
        std::slice::from_ref(&cut),
        12,
        Accuracy::default(),
        &mut Relief::default(),
    );
    let two = work(
        &o,
        &[cut, small],
        12,
        Accuracy::default(),
        &mut Relief::default(),
    );
    let (one_section, two_section) = (one.section(12.0), two.section(12.0));
    let (one, two) = (one.figures, two.figures);
    assert!(
        (one.volume / two.volume - 1.0).abs() < 5e-4,
        "{} {}",
        one.volume,
        two.volume
    );
    assert!((one_section.harmonic / two_section.harmonic - 1.0).abs() < 1e-4);
    println!("{:?} {:?}", one_section, two_section);
}
#[test]
fn pocket_clearing() {
    // A rectangle 4 x 3, tool 0.5 half, step 0.5: loops of 3 x 2, 2 x 1, then a line, which no loop is left of.
    let o = StripOutside::flat(1000.0, 6.0).unwrap();
    let cut = ToolCut::new(
        CutShape::Pocket {
            outline: vec![
                line(1.0, -1.5),
                line(5.0, -1.5),
                line(5.0, 1.5),
                line(1.0, 1.5),
            ],
            step_over: Some(0.5),
        },
        CutterForm::Flat { half: 0.5 },
        0.2,
    );
    let l = lay(&o, &[cut], 500);
    let clearing = l.pockets[0].clearing.unwrap();
    println!("clearing {clearing}");
    assert!(
        (clearing - 16.0).abs() < 1e-3 || (clearing - 18.0).abs() < 1e-3,
        "{clearing}"
    );
}
