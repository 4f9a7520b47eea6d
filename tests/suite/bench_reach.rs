//! What a what-if reaches: bands, `let`s, alloys, profiles, prices, the workshop, files that are used.
//!
//! Held against the language page: an override is an edit not yet written, so what is tried, what is kept and what
//! is laid over on the command line come to what the same text comes to when it is edited by hand.

use crate::bench::{bench_on, refused, typed};
use crate::support::{run, run_in};

const ALL: &str = "\
annulet 1
profile soft domed { edge 1.2 mm } # soft
alloy mine {
  silver 935, copper 65 # ours
  density 10.3 g/cm3 # weighed
  temper hard { yield 300 MPa, elongation 8 %, modulus 75 GPa } # as rolled
}
prices {
  dated 2026-11-20
  gold 98.40 EUR/g
  silver 1.1 EUR/g # a kilo
  rate 1 USD = 0.92 EUR
}
shop {
  labour 40 EUR/h
  operation turning { run 4 min } # one pass
  operation polish { run 6 min }
  fee hallmark { article 1.10 EUR } # each
}
band b {
  size ISO 54 \u{B1} 1
  width 5 mm \u{B1} 0.02 mm
  thickness 1.5 mm
  profile soft
  alloy mine, temper hard
  sale piece { markup 100 % }
}
";

/// A path, its new value, and the text before and after.
const REACHED: &[(&str, &str, &str, &str)] = &[
    (
        "mine.density",
        "10.4 g/cm3",
        "density 10.3 g/cm3 #",
        "density 10.4 g/cm3 #",
    ),
    (
        "mine.temper.hard.yield",
        "310 MPa",
        "yield 300 MPa",
        "yield 310 MPa",
    ),
    ("soft.edge", "1.1 mm", "edge 1.2 mm", "edge 1.1 mm"),
    (
        "shop.operation.turning.run",
        "6 min",
        "turning { run 4 min }",
        "turning { run 6 min }",
    ),
    (
        "shop.fee.hallmark.article",
        "1.30 EUR",
        "article 1.10 EUR",
        "article 1.30 EUR",
    ),
    (
        "shop.labour",
        "45 EUR/h",
        "labour 40 EUR/h",
        "labour 45 EUR/h",
    ),
    (
        "prices.silver",
        "1.2 EUR/g",
        "silver 1.1 EUR/g #",
        "silver 1.2 EUR/g #",
    ),
    ("b.width", "6 mm \u{B1} 0.02 mm", "width 5 mm", "width 6 mm"),
];

/// The figures of a report in machine form, without the places that are different by design.
fn figures(text: &str, sets: &[String]) -> String {
    let mut arguments = vec!["eval", "--csv", "-", "--name", "r.annulet"];
    for set in sets {
        arguments.extend(["--set", set]);
    }
    let ran = run(&arguments, text);
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    ran.stdout
}

#[test]
fn what_is_tried_laid_over_or_edited_comes_to_the_same() {
    let plain = figures(ALL, &[]);
    let mut edited = ALL.to_owned();
    for (path, value, before, after) in REACHED {
        let by_hand = ALL.replacen(before, after, 1);
        assert_ne!(by_hand, ALL, "{path}");
        let wanted = figures(&by_hand, &[]);
        // A yield moves no figure of a table that holds no strength.
        assert!(wanted != plain || path.ends_with("yield"), "{path}");
        assert_eq!(figures(ALL, &[format!("{path}={value}")]), wanted, "{path}");
        let (mut bench, _) = bench_on(ALL);
        let line = format!("try {path} {value}");
        typed(&mut bench, &[&line]);
        assert_eq!(typed(&mut bench, &["eval csv"]), wanted, "{path}");
        typed(&mut bench, &["keep"]);
        assert_eq!(bench.text(), by_hand, "{path}");
        assert_eq!(typed(&mut bench, &["eval csv"]), wanted, "{path}");
        typed(&mut bench, &["undo", "undo"]);
        assert_eq!((bench.text(), bench.tries()), (ALL, 0), "{path}");
        // As a recipe line.
        typed(&mut bench, &[&format!("{path} {value}")]);
        assert_eq!(bench.text(), by_hand, "{path}");
        edited = edited.replacen(before, after, 1);
    }
    // All of them at once, on the command line and one after the other.
    let sets: Vec<String> = REACHED
        .iter()
        .map(|(path, value, ..)| format!("{path}={value}"))
        .collect();
    assert_eq!(figures(ALL, &sets), figures(&edited, &[]));
    let (mut bench, _) = bench_on(ALL);
    for (path, value, ..) in REACHED {
        typed(&mut bench, &[&format!("try {path} {value}")]);
    }
    typed(&mut bench, &["keep"]);
    assert_eq!(bench.text(), edited);
}

#[test]
fn steps_reach_as_far() {
    for (line, after) in [
        ("mine.density + 0.1 g/cm3", "density 10.4 g/cm3 #"),
        ("soft.edge - 0.1 mm", "edge 1.1 mm"),
        ("shop.operation.turning.run + 2 min", "run 6 min"),
        ("prices.silver + 0.1 EUR/g", "silver 1.2 EUR/g #"),
        // A deviation stays as it is written, in steps or in millimetres.
        ("size + 1", "size ISO 55 \u{B1} 1\n"),
        ("width + 0.5 mm", "width 5.5 mm \u{B1} 0.02 mm\n"),
    ] {
        let (mut bench, _) = bench_on(ALL);
        typed(&mut bench, &[&format!("try {line}"), "keep"]);
        assert!(bench.text().contains(after), "{line}: {}", bench.text());
    }
}

#[test]
fn how_far_a_result_may_be_off_is_shown_and_moves() {
    let (mut bench, _) = bench_on(ALL);
    bench.set_width(110);
    let said = typed(&mut bench, &["try thickness 1.5 mm \u{B1} 0.02 mm"]);
    let row = |path: &str| {
        said.lines()
            .find(|line| line.trim_start().starts_with(path))
    };
    assert!(
        row("thickness")
            .unwrap()
            .ends_with("\u{2192} 1.5 mm \u{B1} 0.02 mm"),
        "{said}"
    );
    let weight = row("weight ").unwrap();
    assert!(
        weight.matches('\u{B1}').count() == 2 && !weight.contains('%'),
        "{said}"
    );
    // A note is told once, with the line that brought it.
    let first = bench.step("try width 6 mm");
    let second = bench.step("try thickness 1.6 mm \u{B1} 0.02 mm");
    assert_eq!(
        (first.findings.len(), second.findings.len()),
        (1, 0),
        "{second:?}"
    );
    // Where the shares have no room, the figures still stand side by side.
    let (mut bench, _) = bench_on(ALL);
    bench.set_width(80);
    let narrow = typed(&mut bench, &["try soft.edge 1.1 mm"]);
    assert!(
        narrow
            .lines()
            .all(|line| line.chars().count() <= 80 && line.contains("  ")),
        "{narrow}"
    );
    assert!(
        narrow.lines().any(|line| line.contains("\u{2192} 1.1 mm")),
        "{narrow}"
    );
}

#[test]
fn what_lies_elsewhere_is_tried_and_the_rest_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let house = "band base {\n  size ISO 54, width 4 mm, thickness 1.5 mm\n  profile flat, alloy rose\n}\n\
                 alloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n";
    let own = "use \"house.annulet\"\nvariant v of base { width 4.5 mm }\n";
    std::fs::write(folder.path().join("house.annulet"), house).unwrap();
    std::fs::write(folder.path().join("r.annulet"), own).unwrap();
    let lines = "on v\ntry base.thickness 1.6 mm\ntry width 5 mm\ntry rose.density 13.1 g/cm3\nkeep\ntry\nsave\n";
    let ran = run_in(folder.path(), &["bench", "r.annulet"], lines.as_bytes());
    assert_eq!(ran.status, 0, "{}{}", ran.stdout, ran.stderr);
    assert!(
        ran.stdout.contains("`base` is in house.annulet"),
        "{}",
        ran.stdout
    );
    assert!(ran.stdout.contains("kept 1 of 3"), "{}", ran.stdout);
    assert!(
        ran.stdout.matches("still tried: ").count() == 2,
        "{}",
        ran.stdout
    );
    let saved = std::fs::read_to_string(folder.path().join("r.annulet")).unwrap();
    assert_eq!(saved, own.replace("4.5 mm", "5 mm"));
    let used = std::fs::read_to_string(folder.path().join("house.annulet")).unwrap();
    assert_eq!(used, house);
    // Where nothing can be kept, that is a mistake.
    let ran = run_in(
        folder.path(),
        &["bench", "r.annulet"],
        b"try base.width 5 mm\nkeep\n",
    );
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("session::written_elsewhere"),
        "{}",
        ran.stderr
    );
}

#[test]
fn what_cannot_be_set_says_what_can() {
    for (line, meant) in [
        ("weight 3 g", "`width`, `thickness`"),
        ("gold 90 USD/ozt", "`prices.gold`"),
        ("shop.operation.turnin.run 5 min", "`turning`"),
        ("mine.denstiy 10 g/cm3", "`density`"),
        ("mien.density 10 g/cm3", "`mine.density`"),
        ("shpo.labour 40 EUR/h", "`shop.labour`"),
        ("mine.temper.hrad.yield 300 MPa", "`hard`"),
        ("mine.silver 900", "35 parts"),
        ("sterling.density 10 g/cm3", "of your own"),
        ("size ISO", "`ISO 54`"),
        ("b 5 mm", "`b.width"),
    ] {
        for line in [format!("try {line}"), line.to_owned()] {
            let (mut bench, _) = bench_on(ALL);
            let reply = refused(&mut bench, &line);
            assert_eq!(reply.findings.len(), 1, "{line}: {reply:?}");
            let help = reply.findings[0].help().unwrap();
            assert!(help.contains(meant), "{line}: {help}");
            assert_eq!(bench.tries(), 0);
        }
    }
}

#[test]
fn parts_as_made_are_those_of_one_ring() {
    let recipe = crate::support::read("examples/cartwheel.annulet");
    // What is required of the parts in hand cannot do without them.
    let (mut bench, _) = bench_on(&recipe);
    typed(&mut bench, &["on cartwheel"]);
    refused(&mut bench, "try without made");
    let required = "require cartwheel.made.deepest-cut >= 0.2 mm\n";
    assert!(recipe.contains(required));
    let recipe = recipe.replace(required, "");
    let (mut bench, _) = bench_on(&recipe);
    let planned = typed(&mut bench, &["on cartwheel", "try without made", "weight"]);
    let weight = planned.lines().last().unwrap().to_owned();
    // In another size the ring is that of the recipe, not that of the parts in hand.
    let arguments = [
        "run",
        "cartwheel",
        "--sizes",
        "US 6 .. US 9 by 1",
        "--in",
        "-",
    ];
    let ran = run(&arguments, &recipe);
    assert!(
        !ran.stdout.contains("as made") && !ran.stdout.contains("cannot"),
        "{}",
        ran.stdout
    );
    let own = ran
        .stdout
        .lines()
        .find(|line| line.starts_with("US 8"))
        .unwrap();
    assert!(
        own.contains(weight.trim_end_matches(" g")),
        "{weight}: {own}"
    );
    // Kept, the block is gone from the text.
    typed(&mut bench, &["keep"]);
    assert!(
        !bench.text().contains("made cartwheel {") && bench.text().contains("made cartwheel-two {")
    );
    assert!(bench.text().contains("# Measured with pin gauges"));
    let reply = refused(&mut bench, "try without made");
    assert!(
        reply.findings[0]
            .message()
            .contains("no `made` to leave out"),
        "{reply:?}"
    );
}

#[test]
fn stocks_are_asked_of_like_others() {
    let (mut bench, _) = bench_on(&format!(
        "stock rod rod {{ outside 22 mm, length 300 mm }}\n{}",
        ALL.replace("sale piece", "stock rod, sale piece")
    ));
    assert_eq!(
        typed(&mut bench, &["rod.outside", "stock.rod.outside"]),
        "22 mm\n22 mm\n"
    );
    typed(&mut bench, &["try rod.outside + 1 mm"]);
    assert_eq!(typed(&mut bench, &["rod.outside"]), "23 mm\n");
    let why = typed(&mut bench, &["why rod.outside"]);
    assert!(
        why.contains("r.annulet:1:17: outside 22 mm") && why.contains("<- holds"),
        "{why}"
    );
}

#[test]
fn what_a_tried_line_mentions_is_followed() {
    let text = "annulet 1
let face = 4 mm
band b { size ISO 54, width 5 mm, thickness 1.5 mm, profile flat, alloy silver-925 }
";
    let (mut bench, _) = bench_on(text);
    typed(&mut bench, &["try width face + 1 mm"]);
    assert_eq!(typed(&mut bench, &["b.width"]), "5 mm\n");
    typed(&mut bench, &["try face 6 mm"]);
    assert_eq!(typed(&mut bench, &["b.width"]), "7 mm\n");
    typed(
        &mut bench,
        &["try thickness width / 5", "try alloy yellow-750"],
    );
    typed(&mut bench, &["try face 5 mm"]);
    assert_eq!(typed(&mut bench, &["b.thickness"]), "1.2 mm\n");
}

/// As on the command line: the status tells that what was sought cannot be met, though the recipe is sound.
#[test]
fn what_cannot_be_met_through_a_pipe_is_the_status() {
    let recipe =
        "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925 }\n";
    for (line, status) in [
        ("solve width 3 mm .. 6 mm for weight = 5 g", 0),
        ("solve width 3 mm .. 6 mm for weight = 50 g", 3),
        (
            "choose width 3 mm .. 6 mm least weight where weight >= 50 g",
            3,
        ),
    ] {
        let ran = run(&["bench"], &format!("{recipe}{line}\n"));
        assert_eq!(ran.status, status, "{line}: {}{}", ran.stdout, ran.stderr);
    }
}
