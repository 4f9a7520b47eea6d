//! Drawn cuts from the recipe on: to weight, wall and strip.
//!
//! Held against Pappus and Guldinus for grooves right round (a closed form), against distances by hand, and against each
//! other: what is said in two ways comes to the same, to the last digit.

use std::f64::consts::PI;

use crate::support::{agree, ask, findings, number, plain, results, run};

const CUTTERS: &str = "cutter sharp vee { angle 90 deg }\ncutter ball-3 ball { radius 0.3 mm }\ncutter flat-8 flat { width 0.8 mm }\ncutter face facet\n";

/// A flat band of 17 mm, 5 mm wide and 2 mm thick, with a pattern.
fn cut(pattern: &str) -> String {
    band("profile flat", pattern)
}

fn band(more: &str, pattern: &str) -> String {
    format!(
        "{CUTTERS}band b {{\n  size 17 mm\n  width 5 mm\n  thickness 2 mm\n  alloy silver-925\n  {more}\n  pattern {{ {pattern} }}\n}}\n"
    )
}

fn of(recipe: &str, path: &str) -> f64 {
    number(&results(recipe), &format!("b.{path}"))
}

#[test]
fn a_ring_takes_what_pappus_says() {
    let recipe = cut("cutter sharp, depth 0.3 mm, ring { at 0.5 mm }");
    // A triangle 0.6 mm wide and 0.3 mm deep, its centroid 0.1 mm under the outside of 10.5 mm.
    let taken = 2.0 * PI * (10.5 - 0.1) * 0.3 * 0.3;
    let uncut = PI * 5.0 * (10.5 * 10.5 - 8.5 * 8.5);
    assert!(agree(
        of(&recipe, "volume"),
        uncut - taken,
        0.002 * taken / uncut
    ));
    assert!(agree(of(&recipe, "weight.cut"), taken * 0.01036, 0.002));
    assert!(agree(of(&recipe, "pattern.cover"), 0.6 / 5.0, 0.01));
    assert!(agree(of(&recipe, "pattern.deepest"), 0.3, 1e-6));
    assert!(agree(
        of(&recipe, "pattern.groove-length"),
        2.0 * PI * 10.5,
        1e-9
    ));
    assert!(agree(of(&recipe, "section.cut.least"), 10.0 - 0.09, 1e-4));
    assert!(agree(
        of(&recipe, "section.cut.harmonic"),
        10.0 - 0.09,
        1e-4
    ));
    assert!(agree(of(&recipe, "wall.under-cut"), 1.7, 1e-6));
    assert!(agree(of(&recipe, "wall.under-cut.v"), 0.5, 1e-3));
    assert!(of(&recipe, "pattern.error") <= 0.002);
    assert_eq!(plain(&recipe, "pattern.plunges"), "1");
}

#[test]
fn the_wall_is_sought_where_the_cut_is() {
    // Under a dome a groove at mid width has all of the crown below it, one beside the edge what the dome leaves there.
    let dome = |at: &str| {
        band(
            "profile domed { edge 1 mm }",
            &format!("cutter sharp, depth 0.3 mm, ring {{ at {at} }}"),
        )
    };
    assert!(agree(of(&dome("0 mm"), "wall.under-cut"), 1.7, 1e-6));
    let beside = of(&dome("2.2 mm"), "wall.under-cut");
    // The arc of 3.625 mm through (0, 2) and (2.5, 1), less 0.3 mm at 2.2 mm, is met a little beside the tip.
    let tip = 2.0 - 3.625 + (3.625_f64 * 3.625 - 2.2 * 2.2).sqrt() - 0.3;
    assert!((beside - tip).abs() < 0.01, "{beside} {tip}");
    // The band itself is thinner at its edges than under a groove at mid width, and that is its least wall.
    assert!(agree(of(&dome("0 mm"), "wall.least"), 1.0, 1e-9));
}

#[test]
fn a_shell_has_its_roof_under_the_cut() {
    let recipe = band(
        "profile flat\n  hollow { shell 0.6 mm, sleeve 0.5 mm, lock stake { count 3 } }",
        "repeats 12, cutter ball-3, depth 0.2 mm, dots { count 2 }",
    );
    assert!(agree(of(&recipe, "wall.under-cut"), 0.4, 1e-5));
    assert_eq!(plain(&recipe, "pattern.plunges"), "24");
    // A ball that goes in 0.2 mm takes a cap of pi h^2 (3 r - h) / 3, but for the bend of the band.
    let cap = PI * 0.04 * (0.9 - 0.2) / 3.0;
    let taken = of(&recipe, "volume.uncut") - of(&recipe, "volume");
    assert!(agree(taken, 24.0 * cap, 0.02), "{taken}");
}

#[test]
fn what_is_said_in_two_ways_comes_to_the_same() {
    let inside = cut("repeats 18, cutter sharp, flutes { count 3, depth 0.2 mm }");
    let dotted = cut("repeats 18, cutter sharp, flutes.count 3, flutes.depth 0.2 mm");
    let named = cut("repeats 18, cutter sharp, depth 0.2 mm, flutes across { count 3 }");
    let other = cut("repeats 18, cutter sharp, flutes { count 2, depth 0.3 mm }");
    let weight = plain(&inside, "weight");
    assert_eq!(plain(&dotted, "weight"), weight);
    assert_eq!(plain(&named, "weight"), weight);
    let set = |recipe: &str, sets: &[&str]| {
        let mut call = vec!["ask", "--plain", "weight", "--in", "-"];
        for one in sets {
            call.extend(["--set", one]);
        }
        let ran = run(&call, recipe);
        assert_eq!(ran.status, 0, "{sets:?}: {}", ran.stderr);
        ran.stdout.trim_end().to_owned()
    };
    let sets = ["b.pattern.flutes.count=3", "b.pattern.flutes.depth=0.2 mm"];
    assert_eq!(set(&other, &sets), weight);
    let deeper = plain(
        &cut("repeats 18, cutter sharp, depth 0.2 mm, flutes across { count 3, depth 0.25 mm }"),
        "weight",
    );
    assert_eq!(
        set(&named, &["b.pattern.flutes.across.depth=0.25 mm"]),
        deeper
    );
    let wider = named.replace("90 deg", "60 deg");
    assert_eq!(
        set(&named, &["sharp.angle=60 deg"]),
        plain(&wider, "weight")
    );
    // A variant lays over the cuts that it names, and keeps the others.
    let variant =
        format!("{inside}variant v of b {{ pattern {{ flutes {{ depth 0.3 mm, count 2 }} }} }}\n");
    assert_eq!(plain(&variant, "v.weight"), plain(&other, "weight"));
}

#[test]
fn repeats_follow_from_the_motif() {
    let recipe = cut("motif 3.5 mm, multiple 4, cutter sharp, depth 0.1 mm, flutes { count 1 }");
    // 2 pi 10.5 mm / 14 mm is 4.7: five times four.
    assert!(agree(of(&recipe, "pattern.angle"), 18.0, 1e-12));
    assert!(agree(
        of(&recipe, "pattern.pitch"),
        2.0 * PI * 10.5 / 20.0,
        1e-12
    ));
    assert!(agree(
        of(&recipe, "pattern.stretch"),
        2.0 * PI * 10.5 / 70.0 - 1.0,
        1e-9
    ));
}

#[test]
fn time_is_computed_from_feed_and_plunge() {
    let speeds =
        "cutter fast vee { angle 90 deg, feed 600 mm/min, plunge 120 mm/min, pass 0.15 mm }\n";
    let recipe = |depth: &str, more: &str| {
        speeds.to_owned()
            + &cut(&format!(
                "repeats 10, cutter fast, depth {depth}, flutes {{ count 2 }}, {more}"
            ))
    };
    // Twice over twenty grooves of 5 mm, and twenty plunges of 0.3 mm and the lift of 0.5 mm.
    let minutes = 2.0 * 100.0 / 600.0 + 20.0 * 0.8 / 120.0;
    let twice = recipe("0.30 mm", "");
    assert!(agree(of(&twice, "pattern.time"), minutes, 1e-9));
    let thrice = 3.0 * 100.0 / 600.0 + 20.0 * 0.81 / 120.0;
    assert!(agree(
        of(&recipe("0.31 mm", ""), "pattern.time"),
        thrice,
        1e-9
    ));
    let stated = recipe("0.30 mm", "minutes 4 min");
    assert_eq!(plain(&stated, "pattern.time"), "4");
    assert!(agree(of(&stated, "pattern.time.computed"), minutes, 1e-9));
    let slow = run(
        &["eval", "--full", "-"],
        &cut("repeats 10, cutter sharp, depth 0.1 mm, flutes { }"),
    )
    .stdout;
    assert!(
        slow.contains("not known: `sharp` states no `feed`"),
        "{slow}"
    );
}

#[test]
fn the_machine_is_paid_for_the_time_of_the_pattern() {
    let recipe = |shop: &str, pattern: &str| {
        format!(
            "cutter fast vee {{ angle 90 deg, feed 600 mm/min, plunge 120 mm/min }}\nprices {{ dated 2026-11-20, silver 1 EUR/g }}\nshop {{ {shop} }}\n"
        ) + &cut(&format!(
            "repeats 10, cutter fast, depth 0.3 mm, flutes {{ count 2 }} {pattern}"
        ))
    };
    // Twenty grooves of 5 mm, and twenty plunges of 0.3 mm and the lift of 0.5 mm; 60 EUR/h is 1 EUR a minute.
    let minutes = 100.0 / 600.0 + 20.0 * 0.8 / 120.0;
    let computed = recipe("machine 60 EUR/h", "");
    assert!(agree(of(&computed, "time.machine"), minutes, 1e-4));
    assert_eq!(plain(&computed, "cost.machine"), "0.3");
    // What is measured wins, and what else the machine does is paid beside it.
    let stated = recipe(
        "machine 60 EUR/h, operation turning { run 2 min, at machine }",
        ", minutes 4 min",
    );
    assert_eq!(plain(&stated, "time.machine"), "6");
    assert_eq!(plain(&stated, "cost.machine"), "6");
    // Time at no rate is never counted as nothing.
    let unpaid = findings(&recipe("labour 40 EUR/h", ""));
    assert_eq!(unpaid[0].code, "evaluate::unpaid_time", "{unpaid:?}");
    let cost = run(
        &["ask", "cost", "--in", "-"],
        &recipe("labour 40 EUR/h", ""),
    );
    assert_eq!((cost.status, cost.stdout.as_str()), (2, "\u{2014}\n"));
    // A stated cover has a time where it is measured.
    let cover = format!(
        "prices {{ dated 2026-11-20, silver 1 EUR/g }}\nshop {{ machine 60 EUR/h }}\n{}",
        cut("depth 0.2 mm, cover 40 %, minutes 3 min")
    );
    assert_eq!(plain(&cover, "cost.machine"), "3");
}

#[test]
fn a_cut_with_a_name_is_reached_every_way() {
    let recipe = |depth: &str| {
        cut(&format!(
            "repeats 12, cutter sharp, depth 0.1 mm, flutes {{ }}, ring border {{ from-edge 0.8 mm, depth {depth} }}"
        ))
    };
    let (now, wanted) = (recipe("0.15 mm"), plain(&recipe("0.2 mm"), "weight"));
    let dotted = now.replace(", depth 0.15 mm }", " }, ring.border.depth 0.2 mm");
    assert_eq!(plain(&dotted, "weight"), wanted);
    let top = now.replace(", depth 0.15 mm }", " }") + "b.pattern.ring.border.depth 0.2 mm\n";
    assert_eq!(plain(&top, "weight"), wanted);
    for set in [
        "pattern.ring.border.depth=0.2 mm",
        "b.pattern.border.depth=0.2 mm",
        "pattern.border.depth + 0.05 mm",
        "ring.border.depth - -0.05 mm",
    ] {
        let ran = run(
            &["ask", "--plain", "weight", "--in", "-", "--set", set],
            &now,
        );
        assert_eq!(
            (ran.status, ran.stdout.trim_end()),
            (0, &*wanted),
            "{set}: {}",
            ran.stderr
        );
    }
    let variant = now.clone() + "variant v of b { pattern { ring border { depth 0.2 mm } } }\n";
    assert_eq!(plain(&variant, "v.weight"), wanted);
    // One that states no depth steps from that of the pattern.
    let general = recipe("0.1 mm").replace(", depth 0.1 mm }", " }");
    let ran = run(
        &[
            "ask",
            "--plain",
            "weight",
            "--in",
            "-",
            "--set",
            "pattern.border.depth + 0.1 mm",
        ],
        &general,
    );
    assert_eq!(
        (ran.status, ran.stdout.trim_end()),
        (0, &*wanted),
        "{}",
        ran.stderr
    );
    for (question, answer) in [
        ("pattern.border.depth", "0.15 mm"),
        ("b.pattern.ring.border.from-edge", "0.8 mm"),
        ("sharp.angle", "90 deg"),
    ] {
        assert_eq!(ask(&now, question), answer, "{question}");
        let why = run(&["why", question, "--in", "-"], &now);
        assert_eq!(why.status, 0, "{question}: {}", why.stderr);
        assert!(why.stdout.contains(answer), "{}", why.stdout);
    }
    // At the prompt: tried, dropped, tried as a step, kept and saved.
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::write(folder.path().join("r.annulet"), &now).unwrap();
    let lines =
        "try pattern.border.depth 0.3 mm\ndrop\ntry pattern.border.depth + 0.05 mm\nkeep\nsave\n";
    let ran = crate::support::run_in(folder.path(), &["bench", "r.annulet"], lines.as_bytes());
    assert_eq!(ran.status, 0, "{}{}", ran.stdout, ran.stderr);
    let saved = std::fs::read_to_string(folder.path().join("r.annulet")).unwrap();
    assert_eq!(saved, recipe("0.2 mm"));
}

#[test]
fn a_facet_takes_a_chord_off() {
    let recipe = cut("repeats 24, facets { cutter face, depth 0.05 mm }");
    // Segment of a circle of 10.5 mm under a chord 0.05 mm below it, straight over the width.
    let half = (10.45_f64 / 10.5).acos();
    let segment = 10.5 * 10.5 * (half - half.sin() * half.cos());
    let taken = of(&recipe, "volume.uncut") - of(&recipe, "volume");
    assert!(agree(taken, 24.0 * 5.0 * segment, 0.002), "{taken}");
    assert!(agree(of(&recipe, "wall.under-cut"), 1.95, 1e-6));
}

#[test]
fn a_thin_wall_names_the_cut_and_what_would_keep_it() {
    let recipe = cut("repeats 12, cutter sharp, flutes { depth 1.9 mm }");
    let found = findings(&recipe);
    let thin: Vec<_> = found
        .iter()
        .filter(|one| one.code == "evaluate::thin_wall")
        .collect();
    assert_eq!(thin.len(), 1, "{found:?}");
    assert!(
        thin[0].help.starts_with("`depth 1.8 mm`"),
        "{}",
        thin[0].help
    );
    assert_eq!(thin[0].text, "1.9 mm");
    let mended = recipe.replace("1.9 mm", "1.8 mm");
    assert!(findings(&mended).is_empty(), "{:?}", findings(&mended));
    // A named cut is pointed at by its own depth.
    let named =
        cut("repeats 12, cutter sharp, depth 0.1 mm, flutes { }, ring deep { depth 1.9 mm }");
    assert_eq!(findings(&named)[0].text, "1.9 mm");
}

#[test]
fn a_pattern_without_drawn_cuts_answers_as_it_states() {
    let recipe = cut("depth 0.2 mm, cover 40 %");
    assert_eq!(ask(&recipe, "pattern.cover"), "40 %");
    assert_eq!(ask(&recipe, "cover"), "40 %");
    assert_eq!(ask(&recipe, "depth"), "0.2 mm");
}

#[test]
fn strips_are_drawn_in_every_form() {
    let recipe =
        cut("repeats 18, cutter sharp, depth 0.2 mm, flutes { count 3 }, ring { at 1 mm }");
    for (form, begins) in [
        ("--svg", "<svg"),
        ("--dxf", "0\nSECTION"),
        ("--text", "b: strip 65.973 mm"),
    ] {
        let ran = run(&["strip", "--in", "-", form], &recipe);
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        let text = ran.stdout.replace("\r\n", "\n").replace("  0\n", "0\n");
        assert!(
            text.trim_start().starts_with(begins),
            "{form}: {}",
            &text[..60.min(text.len())]
        );
    }
    let blank = run(
        &["strip", "--in", "-", "--svg"],
        &cut("repeats 18, depth 0.2 mm, cover 40 %"),
    );
    assert!(blank.stdout.contains("no drawn cuts") && blank.stdout.contains("18 repeats"));
    let which = run(&["strip", "c", "--in", "-"], &recipe);
    assert_eq!(which.status, 2);
    assert!(
        which.stderr.contains("there is no band `c`"),
        "{}",
        which.stderr
    );
}

#[test]
fn every_example_is_drawn() {
    for (example, band) in [
        ("wicker", "wicker"),
        ("millpond", "millpond"),
        ("trellis", "trellis"),
        ("haystack", "haystack"),
    ] {
        let file = format!("examples/{example}.annulet");
        for form in ["--svg", "--dxf", "--text"] {
            let ran = run(&["strip", band, "--in", &file, form], "");
            assert_eq!(
                (ran.status, ran.stderr.as_str()),
                (0, ""),
                "{example} {form}"
            );
        }
    }
}
