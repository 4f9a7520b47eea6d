//! What a line at the bench costs in a long recipe, counted in bands evaluated; and that what is put behind a recipe by
//! itself comes to what the whole text comes to.
//!
//! Held against a new session for the same text, which knows nothing of what was typed before.

use annulet::assist::Opening;
use annulet::bench::Bench;
use annulet::evaluate::bands_judged;
use annulet::session::{NoLibrary, Request, Session};

use crate::bench::{bench_on, typed};

fn band(name: &str) -> String {
    format!(
        "band {name} {{ size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925 }}\n"
    )
}

/// How many bands something evaluates.
fn judged<T>(what: impl FnOnce() -> T) -> u64 {
    let before = bands_judged();
    what();
    bands_judged() - before
}

/// All that a recipe comes to, as far as a person sees it.
fn come_to(bench: &Bench, findings: &[annulet::finding::Finding], afresh: bool) -> Vec<String> {
    let mut session = Session::default();
    let chosen = bench.outcome().chosen.clone();
    let request = Request {
        band: chosen,
        ..Request::default()
    };
    let fresh = afresh.then(|| session.run("r.annulet", bench.text(), &request));
    let outcome = fresh.as_ref().unwrap_or(bench.outcome());
    let findings = fresh.as_ref().map_or(findings, |fresh| &fresh.findings);
    let mut said: Vec<String> = findings
        .iter()
        .map(|one| format!("{:?} {} {}", one.span(), one.code(), one.message()))
        .collect();
    said.extend(
        outcome
            .recipe
            .names
            .iter()
            .map(|one| format!("{} {:?}", one.name, one.at)),
    );
    said.extend(outcome.recipe.bands.iter().map(|one| one.name.clone()));
    said.extend(outcome.evaluations.iter().map(|one| {
        let name = &one.band.name;
        let found = outcome.evaluation(name).map(|one| one.figures.weight);
        assert!(outcome.recipe.is_band(name));
        format!("{name} {:?} {:?}", one.figures.weight, found)
    }));
    said
}

/// Lines that bands can be typed between, in any order; some are refused.
const LINES: &[&str] = &[
    "band a { size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925 }",
    "band c { size ISO 56, width gap, thickness 1.8 mm, profile flat, alloy mine }",
    "band d { size ISO 54 }",
    "band e { size ISO 54, width 5 mm, thickness 0.3 mm, profile flat, alloy silver-925, hollow { shell 0.2 mm, sleeve 0.2 mm, ridge 0.05 mm } }",
    "band f { size a.size, width c.width, thickness 1.8 mm, profile flat, alloy silver-925 }",
    "variant g of a { width 6 mm }",
    "variant h of g { thickness 1.9 mm }",
    "variant later of c { thickness 1.9 mm }",
    "band \u{e0} { size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925 }",
    "band a {\n  size ISO 52 # other\n  width 4 mm\n  thickness 1.8 mm\n  profile flat\n  alloy silver-925\n}",
    "# above",
    "width 5.5 mm",
    "thickness 1.7 mm",
    "profile domed { edge 1.2 mm }",
    "alloy silver-999",
    "wydth 5 mm",
    "a.width 4.5 mm",
    "without hollow",
    "let gap = 4 mm",
    "let twice = 2 * a.width",
    "alloy mine { silver 935, copper 65, density 10.3 g/cm3 }",
    "require a.weight < 4 g",
    "require later.weight < 9 g",
    "made a { blank-outside 20.7 mm, blank-bore 16.9 mm, blank-width 5.1 mm }",
    "order fair { dated 2026-11-20, a { 2 of ISO 54 } }",
    "prices { dated 2026-11-20, silver 1.1 EUR/g }",
    "on a",
    "try width 4.8 mm",
    "keep",
    "drop",
    "undo",
    "undo",
    "redo",
    "a.weight",
];

#[test]
fn what_is_put_behind_comes_to_what_the_whole_comes_to() {
    // The same lines in other orders, by a plain generator.
    let mut state = 77_u64;
    let mut next = |most: usize| {
        state = state
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (state >> 33) as usize % most
    };
    for start in [
        "annulet 1\n",
        "annulet 1\n\n# All.\nband z {\n  size ISO 54 # here\n}",
    ] {
        for _ in 0..TIMES {
            let (mut bench, _) = bench_on(start);
            let mut lines = Vec::new();
            for _ in 0..14 {
                // Bands more often than what stands between them.
                let most = if next(3) == 0 { LINES.len() } else { 18 };
                let line = LINES[next(most)];
                lines.push(line);
                bench.step(line);
                if bench.tries() > 0 {
                    continue;
                }
                let held = bench.outcome().findings.clone();
                assert_eq!(
                    come_to(&bench, &held, false),
                    come_to(&bench, &held, true),
                    "{lines:#?}\n{}",
                    bench.text()
                );
            }
        }
    }
}

/// How often.
const TIMES: usize = 6;

#[test]
fn a_changed_line_costs_one_evaluation() {
    const MANY: u64 = 40;
    let text: String = (0..MANY).map(|one| band(&format!("b{one}"))).collect();
    let (mut bench, _) = bench_on(&text);
    for (line, most) in [
        // The last bands by themselves.
        ("band new { size ISO 54 }", 1),
        ("new.width 5 mm", 1),
        ("undo", 1),
        ("redo", 1),
        ("on b39", 0),
        ("b39.width 4 mm", 2),
        // Elsewhere all that stands behind the line moves in the text.
        ("b0.width 4 mm", MANY + 1),
        ("undo", MANY + 1),
        // What is tried is worked out of the bands that it reaches.
        ("on b0", 0),
        ("try width 4.5 mm", 1),
        ("try b3.width 4.5 mm", 1),
        ("drop", MANY + 1),
        ("watch weight", 0),
        ("b0.weight", 0),
        ("thickness 1.9 mm", MANY + 1),
    ] {
        let count = judged(|| typed(&mut bench, &[line]));
        assert!(
            count <= most,
            "{line}: {count} bands evaluated, {most} at most"
        );
    }
    // An editor's change.
    let mut open = None;
    let count = judged(|| open = Some(Opening::read("r.annulet", &text, &mut NoLibrary, None)));
    assert_eq!(count, MANY);
    let other = text.replacen("width 5 mm", "width 6 mm", 1);
    let count = judged(|| Opening::read("r.annulet", &other, &mut NoLibrary, open));
    assert_eq!(count, MANY);
}
