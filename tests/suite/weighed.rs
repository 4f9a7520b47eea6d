//! A ring on the scale: readings beside the recipe, steps, missing metal, what a reading says, one number settled.
//!
//! Outside things: a maker's bench weighings (a blank of about 5 g that is 4.34 g when cut, the same look in two parts
//! 2.80 to 2.81 g: common practice, no source); closed forms of a pipe beside each row.

use std::f64::consts::PI;

use serde_json::Value;

use crate::support::{agree, ask, findings, read, run};

/// A pipe of sterling: inside 16 mm, 2 mm thick, 5 mm wide, 10.36 g/cm3 stated.
const PIPE: &str = "alloy mine { silver 925, copper 75, density 10.36 g/cm3 }
band b { size 16 mm, width 5 mm, thickness 2 mm, profile flat, alloy mine }
";

fn weight() -> f64 {
    PI * (10.0 * 10.0 - 8.0 * 8.0) * 5.0 * 10.36 / 1000.0
}

fn weighed(recipe: &str) -> Value {
    let ran = run(&["eval", "--json", "-"], recipe);
    assert!(ran.status < 2, "{}\n{recipe}", ran.stderr);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["bands"][0]["weighed"].clone()
}

fn settled(recipe: &str, words: &[&str]) -> Value {
    let arguments = [&["settle"], words, &["--json", "--in", "-"]].concat();
    let ran = run(&arguments, recipe);
    assert_eq!(ran.status, 0, "{}\n{recipe}", ran.stderr);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["settled"][0].clone()
}

#[test]
fn a_makers_weighings_are_reconciled_within_their_resolution() {
    let pair = read("tests/workshop/pair.annulet");
    let recipe = format!(
        "{pair}\nweighed millstone {{ turned 5 g \u{B1} 0.1 g, finished 4.34 g }}\nweighed millstone-light {{ finished 2.805 g \u{B1} 0.005 g }}\n"
    );
    assert!(findings(&recipe).is_empty(), "{:?}", findings(&recipe));
    let found = weighed(&recipe);
    for reading in found["readings"].as_array().unwrap() {
        assert_eq!(reading["agrees"], true, "{reading}");
    }
    // What the cut took off: 5 g less 4.34 g, about 0.66 g.
    let step = &found["steps"][0];
    assert!((step["off"].as_f64().unwrap() - 0.66).abs() < 1e-9);
    assert!(
        (step["expected"].as_f64().unwrap() - 0.66).abs() < 0.105,
        "{step}"
    );
    // A hundredth beside it does not agree.
    let off = recipe.replace("finished 4.34 g", "finished 4.36 g");
    assert_eq!(findings(&off)[0].code, "weighed::apart");
}

#[test]
fn a_ring_that_grew_heavier_under_the_cutter_is_told_as_that() {
    let pattern = "flat, pattern { repeats 18, depth 0.2 mm, mean-depth 0.1 mm, cover 50 % }";
    let band = PIPE.replace("flat", pattern);
    // Both readings are far from the recipe; that the second is more than the first no number of it explains.
    let recipe = format!("{band}weighed b {{ turned 5.2 g, cut 5.4 g }}\n");
    let codes: Vec<String> = findings(&recipe).into_iter().map(|one| one.code).collect();
    assert_eq!(codes, ["weighed::apart", "weighed::heavier"]);
}

#[test]
fn what_a_reading_says_is_the_closed_form() {
    let grams = 5.92;
    let recipe = format!("{PIPE}weighed b {{ finished {grams} g }}\n");
    let found = findings(&recipe);
    assert_eq!(found[0].code, "weighed::apart");
    let more = grams / weight();
    // Weight goes with the width and with the density, and with t (16 + t) of the thickness t: t = sqrt(64 + 36 m) - 8.
    let thick = (64.0 + 36.0 * more).sqrt() - 8.0;
    for (path, unit, written, wanted) in [
        ("width", 1.0, 5.0, 5.0 * more),
        ("thickness", 1.0, 2.0, thick),
        ("mine.density", 1000.0, 10.36, 10.36 * more),
    ] {
        let one = settled(&recipe, &[path]);
        let real = |key: &str| one[key].as_f64().unwrap() * unit;
        assert!(agree(real("written"), written, 1e-12), "{one}");
        assert!(agree(real("value"), wanted, 1e-9), "{one} {wanted}");
    }
    // A scale of 0.01 g is off by 0.005 g at most: 0.005 / 5.858 of the width.
    let one = settled(&recipe, &["width"]);
    let by_scale = one["by-scale"].as_f64().unwrap();
    assert!(agree(by_scale, 0.005 / weight() * 5.0, 1e-6), "{by_scale}");
    assert_eq!(one["by-scale"], one["at-worst"]);
    // With a density of 1 % either way the width is as much less sure: w / 0.99 at worst.
    let off = recipe.replace("density 10.36 g/cm3", "density 10.36 \u{B1} 0.1036 g/cm3");
    let one = settled(&off, &["width"]);
    let others = one["at-worst"].as_f64().unwrap() - one["by-scale"].as_f64().unwrap();
    assert!(
        agree(others, 5.0 * more * (1.0 / 0.99 - 1.0), 1e-6),
        "{one}"
    );
    // And the finding says so in words: 0.061 g are 0.0525 mm of width, 0.11 g/cm3.
    let ran = run(&["check", "-"], &recipe);
    for said in [
        "0.062 g over is",
        "0.0525 mm more of `width`",
        "0.109 g/cm3 more of `mine.density`",
    ] {
        let flat = ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(said), "{said}\n{flat}");
    }
}

#[test]
fn one_reading_settles_one_number() {
    let recipe = format!("{PIPE}weighed b {{ turned 5.9 g, finished 5.92 g \u{B1} 0.03 g }}\n");
    let refused = |words: &[&str], said: &str| {
        let ran = run(&[&["settle"], words, &["--in", "-"]].concat(), &recipe);
        assert_eq!(ran.status, 2, "{}", ran.stdout);
        assert!(ran.stderr.contains(said), "{}", ran.stderr);
    };
    refused(
        &["width", "thickness"],
        "one reading settles one number, and 2 are named",
    );
    refused(&["width"], "by which reading?");
    refused(&["width", "--by", "issued"], "no reading `issued`");
    refused(&["hollow.friction", "--by", "turned"], "no value of");
    let one = settled(&recipe, &["width", "--by", "turned"]);
    assert_eq!(one["remark"], "settled by 5.9 g turned");
    // The line is one of the recipe, and with it the reading agrees.
    let line = one["line"].as_str().unwrap();
    assert!(line.starts_with("b.width 5.035"), "{line}");
    let with = format!(
        "{}{line}  # {}\n",
        recipe.replace("width 5 mm, ", ""),
        one["remark"].as_str().unwrap()
    );
    let found = weighed(&with);
    assert!(
        found["readings"]
            .as_array()
            .unwrap()
            .iter()
            .all(|one| one["agrees"] == true),
        "{found}"
    );
    // At the bench it is a try, and `keep` writes the remark too.
    let typed = "settle width by turned\nkeep\nshow\n";
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("ring.annulet");
    std::fs::write(&file, &recipe).unwrap();
    let ran = run(&["bench", file.to_str().unwrap()], typed);
    assert!(
        ran.stdout.contains("settled by 5.9 g turned"),
        "{}{}",
        ran.stdout,
        ran.stderr
    );
}

#[test]
fn readings_are_reached_by_every_way() {
    for recipe in [
        format!("{PIPE}weighed b {{ finished 5.86 g }}\n"),
        format!("{PIPE}b.weighed.finished 5.86 g\n"),
        format!("{PIPE}weighed.b.finished 5.86 g\n"),
    ] {
        assert_eq!(
            ask(&recipe, "b.weighed.finished").trim(),
            "5.86 g",
            "{recipe}"
        );
        assert_eq!(weighed(&recipe)["readings"][0]["agrees"], true, "{recipe}");
    }
    let ran = run(&["check", "-", "--set", "b.weighed.finished=6 g"], PIPE);
    assert_eq!(ran.status, 1, "{}", ran.stderr);
    // Another ring of the same look was not weighed.
    let variant =
        format!("{PIPE}variant c of b {{ width 4 mm }}\nweighed b {{ finished 5.86 g }}\n");
    assert!(findings(&variant).is_empty(), "{:?}", findings(&variant));
    let ran = run(&["ask", "c.weighed.finished", "--in", "-"], &variant);
    assert_eq!(ran.status, 2);
    // And what is written of no ring, or with no mass, is told.
    let codes = |text: &str| findings(&format!("{PIPE}{text}\n"))[0].code.clone();
    assert_eq!(codes("weighed x { finished 5 g }"), "model::unknown_name");
    assert_eq!(codes("weighed b { finished 5 mm }"), "model::wrong_kind");
    assert_eq!(codes("weighed b { finnished 5 g }"), "model::unknown_field");
    assert_eq!(
        codes("weighed b { finished 5.86 g, finished 5.87 g }"),
        "model::given_twice"
    );
}

#[test]
fn what_came_off_and_what_is_missing() {
    let recipe = format!(
        "{PIPE}weighed b {{ dated 2026-11-25, scale 0.02 g, issued 7 g, turned 5.87 g {{ dated 2026-11-24 }}, finished 5.85 g, returned 1.1 g }}\n"
    );
    let found = weighed(&recipe);
    let readings = found["readings"].as_array().unwrap();
    let day = |name: &str| {
        let one = readings.iter().find(|one| one["reading"] == name).unwrap();
        one["dated"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        (day("turned"), day("finished")),
        ("2026-11-24".to_owned(), "2026-11-25".to_owned())
    );
    // 7 g less 5.85 g less 1.1 g are 0.05 g, each of three readings off by 0.01 g at most.
    let missing = &found["unaccounted"];
    assert!(
        (missing["grams"].as_f64().unwrap() - 0.05).abs() < 1e-9,
        "{missing}"
    );
    assert!(
        (missing["within"].as_f64().unwrap() - 0.03).abs() < 1e-9,
        "{missing}"
    );
    let offs: Vec<f64> = found["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| (step["off"].as_f64().unwrap() * 1e6).round() / 1e6)
        .collect();
    assert_eq!(offs, [1.13, 0.02]);
    // The shop's scale stands where the block says none.
    let shop =
        format!("shop {{ tolerance {{ scale 0.2 g }} }}\n{PIPE}weighed b {{ finished 5.95 g }}\n");
    assert_eq!(weighed(&shop)["readings"][0]["within"], 0.1);
    let ran = run(&["eval", "--full", "-"], &recipe);
    assert!(ran.stdout.contains("on the scale"), "{}", ran.stdout);
    assert!(ran.stdout.contains("unaccounted"), "{}", ran.stdout);
}

#[test]
fn what_came_between_two_readings_is_told_apart() {
    let pattern = "flat, pattern { repeats 18, depth 0.2 mm, mean-depth 0.1 mm, cover 50 % }";
    let band = PIPE.replace("flat", pattern);
    let help = |weighed: &str, at: usize| {
        let found = findings(&format!("{band}weighed b {{ {weighed} }}\n"));
        found[at].help.clone()
    };
    let turned = weight();
    // Cut: half of a ring 0.1 mm deep from 20 mm, 5 mm wide, less.
    let gone = PI * (10.0 * 10.0 - 9.9 * 9.9) * 5.0 * 10.36 / 1000.0 / 2.0;
    // 0.05 g over before and behind: nothing more is apart.
    let same = format!(
        "turned {:.3} g, cut {:.3} g",
        turned + 0.05,
        turned - gone + 0.05
    );
    assert!(
        help(&same, 1).contains("0.05 g over of `turned` goes on here"),
        "{}",
        help(&same, 1)
    );
    // 0.05 g more between: of the cut alone, since what else moves was on the scale before it.
    let shown = |grams: f64| (grams * 1000.0).round() / 1000.0;
    let (first, then) = (shown(turned + 0.05), shown(turned - gone + 0.1));
    let more = format!("turned {first:.3} g, cut {then:.3} g");
    let said = help(&more, 1);
    let between = then - (turned - gone) - (first - turned);
    assert!(
        said.contains(&format!("{between:.3} g more came between")),
        "{said} {between}"
    );
    // So much less was cut away: of the cover of 50 % as much as of the metal.
    let cover = 50.0 * between / gone;
    assert!(
        said.contains(&format!("{cover:.1} % less of `pattern.cover`")),
        "{said} {cover}"
    );
    assert!(
        !said.contains("`width`") && !said.contains("density"),
        "{said}"
    );
    // The card tells both in a row.
    let card = run(&["eval", "-"], &format!("{band}weighed b {{ {more} }}\n"));
    let flat = card.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains(&format!("weighed turned {first:.3} g, 0.05 g over; cut")),
        "{flat}"
    );
}
