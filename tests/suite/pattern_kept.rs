//! A what-if that does not touch the pattern does not compute it again: counted, not timed.

use annulet::bench::{Bench, NoFiles};
use annulet::evaluate::patterns_worked;
use annulet::plan::Plan;
use annulet::schema::ResultId;
use annulet::session::{NoLibrary, Request, Session};

use crate::support::{lone_examples, read};

const RECIPE: &str = "
prices { dated 2026-11-20, silver 1.1 EUR/g, copper 0.01 EUR/g }
cutter sharp vee { angle 90 deg, tip 0.05 mm, feed 600 mm/min, plunge 120 mm/min }
cutter ball-3 ball { radius 0.3 mm }
let cut = 0.2 mm
band b {
  size ISO 54, width 6 mm, thickness 2 mm, profile flat, alloy silver-925
  pattern {
    motif 3 mm, cutter sharp, depth cut
    lines { slant 30 deg, both-ways yes }
    dots { cutter ball-3, depth 0.1 mm, row 1 mm }
  }
  hollow { shell 0.6 mm, sleeve 0.4 mm, ridge 0.14 mm { wide 0.4 mm }, stage turning { play 0.06 mm } }
}
";

/// How many patterns are worked out by something.
fn worked<T>(what: impl FnOnce() -> T) -> u64 {
    let before = patterns_worked();
    what();
    patterns_worked() - before
}

#[test]
fn a_try_beside_the_pattern_leaves_it() {
    let mut bench = Bench::new(Box::new(NoFiles), None);
    let (before, band) = RECIPE.split_once("band b").unwrap();
    for line in before.lines().filter(|line| !line.is_empty()) {
        assert!(!bench.step(line).refused, "{line}");
    }
    let band = format!("band b{band}");
    let reply = bench.step(band.trim());
    assert!(!reply.refused, "{:?}", reply.complaint);
    assert_eq!(bench.outcome().evaluations.len(), 1);
    for line in [
        "shell 0.55 mm",
        "sleeve 0.45 mm",
        "ridge 0.12 mm",
        "ridge.wide 0.5 mm",
        "hollow.stage.play 0.05 mm",
        "comfort 0.1 mm",
        "alloy silver-999",
        "prices.silver 1.3 EUR/g",
        "limit.wall 0.3 mm",
        "nose 0.1 mm",
        "ease.bore 0.1 mm",
        "title \"Other\"",
        "pattern.minutes 4 min",
        "sharp.feed 500 mm/min",
    ] {
        let count = worked(|| assert!(!bench.step(&format!("try {line}")).refused, "{line}"));
        assert_eq!(count, 0, "{line}");
        assert_eq!(worked(|| bench.step("drop")), 0, "{line}");
    }
    // What does touch it computes it once, and what was there before is still known.
    for line in [
        "pattern.depth 0.22 mm",
        "cut 0.21 mm",
        "pattern.lines.slant 35 deg",
        "sharp.angle 80 deg",
        "width 5.5 mm",
        "thickness 2.1 mm",
        "size ISO 56",
        "repeats 20",
    ] {
        let count = worked(|| assert!(!bench.step(&format!("try {line}")).refused, "{line}"));
        assert_eq!(count, 1, "{line}");
        assert_eq!(worked(|| bench.step("drop")), 0, "{line}");
    }
}

#[test]
fn a_plan_moves_numbers_beside_the_pattern_for_nothing() {
    let mut plan = Plan::read(RECIPE.trim()).unwrap();
    let wanted = [
        ResultId::Weight,
        ResultId::WallLeast,
        ResultId::SectionCutLeast,
    ];
    plan.evaluate(&wanted).unwrap();
    let count = worked(|| {
        for step in 0..50 {
            let mm = f64::from(step).mul_add(0.002, 0.5);
            plan.set("hollow.shell", format!("{mm:.3} mm").as_str())
                .unwrap();
            plan.evaluate(&wanted).unwrap();
        }
    });
    assert_eq!(count, 0);
}

#[test]
fn the_sections_follow_what_is_there_before_the_cut() {
    // The shell alone is thinner, and what is taken of it the same.
    let of = |shell: &str| {
        let mut plan = Plan::read(RECIPE.trim()).unwrap();
        plan.set("hollow.shell", shell).unwrap();
        let found = plan
            .evaluate(&[ResultId::SectionCutLeast, ResultId::WeightCut])
            .unwrap();
        let number = |id| found.number(id).unwrap().to_f64();
        (
            number(ResultId::SectionCutLeast),
            number(ResultId::WeightCut),
        )
    };
    let ((thin, cut), (thick, same)) = (of("0.6 mm"), of("0.7 mm"));
    assert_eq!(cut, same);
    // A channel: the roof is 0.1 mm thicker over all but the walls, each of which is 0.1 mm wider down to the sleeve.
    assert!(thick > thin + 0.1 * (6.0 - 1.4), "{thin} {thick}");
}

#[test]
fn an_example_is_worked_out_no_more_often_than_it_has_patterns() {
    for file in lone_examples() {
        let text = read(&file);
        let mut session = Session::default();
        let prepared = session.prepare(&file, &text, &mut NoLibrary);
        let first = worked(|| session.outcome(&prepared, &Request::default()));
        let drawn = text.matches("cutter ").count();
        let again = worked(|| session.outcome(&prepared, &Request::default()));
        println!("{file}: {first} then {again}");
        assert_eq!(again, 0, "{file}");
        assert!(drawn > 0 || first == 0, "{file}");
    }
}
