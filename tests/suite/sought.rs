//! `solve` and `choose`: a value put back gives the target; the best is no worse than a grid's; what cannot be is said.
//!
//! Closed forms beside: the thickness of a flat pipe of a given weight, and of such pipes the lightest with a given
//! outside and width. The grids are walked by `sweep`, which tries every place and knows no optimiser.

use crate::support::{Ran, plain, run};

const PAIR: &str = "examples/market-day.annulet";
const PIPE: &str =
    "band b {\n  size 17 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy sterling\n}\n";

fn seek(word: &str, words: &[&str], more: &[&str], stdin: &str) -> Ran {
    run(&[&[word], words, more].concat(), stdin)
}

/// The value that the first line of an answer begins with: `path number unit`.
fn first_number(text: &str) -> f64 {
    text.split_whitespace().nth(1).unwrap().parse().unwrap()
}

#[test]
fn the_thickness_of_a_pipe_of_a_given_weight() {
    let ran = seek(
        "solve",
        &["thickness 1 mm .. 3 mm for weight = 6 g"],
        &["--in", "-"],
        PIPE,
    );
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    // weight = density * pi * width * ((r + t)^2 - r^2), solved for t.
    let density: f64 = plain(PIPE, "density").parse().unwrap();
    let area = 6.0 / (density / 1000.0) / std::f64::consts::PI / 5.0;
    let wanted = (8.5_f64 * 8.5 + area).sqrt() - 8.5;
    let found = first_number(&ran.stdout);
    assert!((found - wanted).abs() < 5e-6, "{found} {wanted}");
}

#[test]
fn what_is_found_gives_the_target_when_it_is_put_back() {
    let cases = [
        ("harvest", "thickness 1.3 mm .. 2 mm", "weight", "4.2", "g"),
        (
            "harvest",
            "cut 0.19 mm .. 0.4 mm",
            "wall.least",
            "0.85",
            "mm",
        ),
        (
            "harvest-light",
            "shell 0.35 mm .. 0.9 mm",
            "weight",
            "2.6",
            "g",
        ),
        ("harvest", "width 3 mm .. 6 mm", "weight", "5", "g"),
        (
            "harvest-light",
            "prices.gold 40 EUR/g .. 200 EUR/g",
            "price",
            "500",
            "EUR",
        ),
    ];
    for (band, axis, path, target, unit) in cases {
        let words = format!("{axis} for {path} = {target} {unit}");
        let more = ["--in", PAIR, "--band", band];
        let ran = seek("solve", &[words.trim_end()], &more, "");
        assert_eq!(ran.status, 0, "{words}: {}{}", ran.stdout, ran.stderr);
        let said: Vec<&str> = ran.stdout.lines().next().unwrap().split("   ").collect();
        let (name, value) = said[0].split_once(' ').unwrap();
        let set = format!("{name}={value}");
        let back = run(
            &[
                "ask", path, "--plain", "--in", PAIR, "--band", band, "--set", &set,
            ],
            "",
        );
        let back: f64 = back.stdout.trim().parse().unwrap();
        let target: f64 = target.parse().unwrap();
        assert!((back - target).abs() <= 1e-6 * target, "{words}: {back}");
    }
}

#[test]
fn what_cannot_be_is_said_with_the_nearest_and_what_stops_it() {
    let of = |words: &str| seek("solve", &[words], &["--in", PAIR, "--band", "harvest"], "");
    let bound = of("thickness 1.3 mm .. 2 mm for weight = 10 g");
    assert_eq!(bound.status, 3, "{}", bound.stderr);
    assert!(
        bound.stdout.contains("nearest: harvest.thickness 2 mm"),
        "{}",
        bound.stdout
    );
    assert!(bound.stdout.contains("the bound 2 mm"), "{}", bound.stdout);
    // Under 1.2 mm the edge is higher than the crown.
    let edge = of("thickness 0.6 mm .. 2 mm for weight = 1 g");
    assert_eq!(edge.status, 3);
    assert!(
        edge.stdout
            .contains("the edge of 1.2 mm is more than the thickness"),
        "{}",
        edge.stdout
    );
    assert!(
        edge.stdout.contains("nearest: harvest.thickness 1.2"),
        "{}",
        edge.stdout
    );
    // What it rests on is not moved.
    let still = of("width 3 mm .. 8 mm for wall.under-cut = 9 mm");
    assert_eq!(still.status, 3);
    assert!(
        still.stdout.contains("harvest.width does not move it"),
        "{}",
        still.stdout
    );
    // Steps: no ring size gives it.
    let steps = of("size ISO 50 .. ISO 58 by 1 for weight = 4.2 g");
    assert_eq!(steps.status, 3);
    assert!(
        steps.stdout.contains("nearest: harvest.size ISO 53"),
        "{}",
        steps.stdout
    );
    for wrong in [
        "thickness for weight",
        "thickness for weight >= 3 g",
        "thickness for weight = 3 mm",
        "thicknes for weight = 3 g",
        "thickness",
    ] {
        let ran = of(wrong);
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{wrong}");
    }
}

/// A price is told in cents: what gives one is a range, at both ends of which it still does, and beyond which it does not.
#[test]
fn a_price_is_met_over_a_range() {
    let more = ["--in", PAIR, "--band", "harvest-light"];
    let ran = seek(
        "solve",
        &["shell 0.4 mm .. 0.6 mm for cost = 300 EUR"],
        &more,
        "",
    );
    let (_, ends) = ran.stdout.split_once("the same from ").unwrap();
    let ends: Vec<f64> = ends
        .split_whitespace()
        .filter_map(|word| word.parse().ok())
        .collect();
    let [from, to] = ends[..] else {
        panic!("{}", ran.stdout)
    };
    let cost = |shell: f64| {
        let set = format!("harvest-light.shell={shell:.6} mm");
        let asked = run(
            &[&["ask", "cost", "--plain", "--set", &set][..], &more].concat(),
            "",
        );
        asked.stdout.trim().parse::<f64>().unwrap()
    };
    // The ends are shown to a nanometre.
    let (inside, beyond) = (2e-6, 4e-6);
    assert_eq!([from + inside, to - inside].map(cost), [300.0, 300.0]);
    assert!(cost(from - beyond) < 300.0 && cost(to + beyond) > 300.0);
}

#[test]
fn the_best_is_no_worse_than_that_of_a_grid() {
    let cases = [
        (
            "harvest",
            &["thickness 1.3 mm .. 2 mm", "width 3 mm .. 6 mm"][..],
            "least weight",
            "wall.least >= 0.8 mm, width * thickness >= 7 mm2",
        ),
        (
            "harvest-light",
            &["shell 0.4 mm .. 0.8 mm", "sleeve 0.25 mm .. 0.5 mm"][..],
            "least weight",
            "wall.least >= 0.22 mm",
        ),
        (
            "harvest-light",
            &["shell 0.45 mm .. 0.8 mm", "width 3.5 mm .. 5 mm"][..],
            "most saving",
            "weight >= 2.4 g, wall.under-cut >= 0.25 mm",
        ),
    ];
    for (band, axes, aim, limits) in cases {
        let more = ["--in", PAIR, "--band", band];
        let clause = format!("{aim} where {limits}");
        let words: Vec<&str> = axes.iter().copied().chain([clause.as_str()]).collect();
        let ran = seek("choose", &words, &[&more[..], &["--json"]].concat(), "");
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
        let best = json["recipes"][0]["choices"][0]["best"].clone();
        let ours = best["aim"]["value"].as_f64().unwrap();
        // The same limits on a grid of 31 by 31.
        let stepped: Vec<String> = axes
            .iter()
            .map(|axis| {
                let (_, range) = axis.split_once(' ').unwrap();
                let ends: Vec<f64> = range
                    .split(" .. ")
                    .map(|end| end.trim_end_matches(" mm").parse().unwrap())
                    .collect();
                format!("{axis} by {:.6} mm", (ends[1] - ends[0]) / 30.0)
            })
            .collect();
        let path = aim.split_once(' ').unwrap().1;
        let clause = format!("show {path} where {limits} {aim} best 1");
        let words: Vec<&str> = stepped
            .iter()
            .map(String::as_str)
            .chain([clause.as_str()])
            .collect();
        let grid = seek("sweep", &words, &[&more[..], &["--csv"]].concat(), "");
        let grid: f64 = grid
            .stdout
            .lines()
            .nth(1)
            .unwrap()
            .rsplit(',')
            .next()
            .unwrap()
            .parse()
            .unwrap();
        let sign = if aim.starts_with("most") { -1.0 } else { 1.0 };
        assert!(
            sign * ours <= sign * grid + 1e-6,
            "{band} {aim}: {ours} {grid}"
        );
        // It is kept to, and the same each time.
        let sets: Vec<String> = best["values"]
            .as_object()
            .unwrap()
            .iter()
            .map(|(path, value)| format!("{path}={}", value.as_str().unwrap()))
            .collect();
        for limit in limits.split(", ") {
            let mut call = vec!["ask", limit, "--in", PAIR, "--band", band];
            for set in &sets {
                call.extend(["--set", set]);
            }
            assert_eq!(run(&call, "").stdout, "holds\n", "{limit} {sets:?}");
        }
        let again: Vec<&str> = axes
            .iter()
            .copied()
            .chain([words_of(aim, limits).leak() as &str])
            .collect();
        assert_eq!(
            seek("choose", &again, &[&more[..], &["--json"]].concat(), "").stdout,
            ran.stdout
        );
    }
}

fn words_of(aim: &str, limits: &str) -> String {
    format!("{aim} where {limits}")
}

#[test]
fn limits_that_bind_are_named_and_those_that_would_have_to_give() {
    // Of pipes 5 mm wide the lightest with at least 1.5 mm of wall has just that; a millimetre of it is worth
    // density * pi * width * 2 * (r + t).
    let words = [
        "thickness 1 mm .. 3 mm",
        "least weight where wall.least >= 1.5 mm",
    ];
    let ran = seek("choose", &words, &["--in", "-", "--json"], PIPE);
    let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    let choice = &json["recipes"][0]["choices"][0];
    assert_eq!(choice["best"]["values"]["thickness"], "1.5 mm");
    let binding = &choice["binding"][0];
    assert_eq!(binding["limit"], "wall.least >= 1.5 mm");
    let density: f64 = plain(PIPE, "density").parse().unwrap();
    let worth = density / 1000.0 * std::f64::consts::PI * 5.0 * 2.0 * (8.5 + 1.5);
    let found = binding["worth"].as_f64().unwrap();
    assert!((found - worth).abs() < 0.01 * worth, "{found} {worth}");
    // Heavier and thinner cannot be had at once.
    let words = [
        "thickness 1 mm .. 3 mm",
        "least weight where wall.least >= 2 mm, weight <= 4 g",
    ];
    let ran = seek("choose", &words, &["--in", "-"], PIPE);
    assert_eq!(ran.status, 3, "{}", ran.stderr);
    assert!(
        ran.stdout.contains("nothing keeps all limits"),
        "{}",
        ran.stdout
    );
    assert!(
        ran.stdout.contains("weight <= 4 g") && ran.stdout.contains("wall.least >= 2 mm"),
        "{}",
        ran.stdout
    );
}

#[test]
fn one_aim_against_another_is_a_way_between_both() {
    let words = [
        "thickness 1 mm .. 3 mm",
        "least weight against most wall.least",
    ];
    let ran = seek("choose", &words, &["--in", "-", "--json"], PIPE);
    let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    let traded = json["recipes"][0]["choices"][0]["traded"]
        .as_array()
        .unwrap()
        .clone();
    assert!(traded.len() >= 5, "{}", ran.stdout);
    let column = |key: &str| -> Vec<f64> {
        traded
            .iter()
            .map(|one| one[key]["value"].as_f64().unwrap())
            .collect()
    };
    let (aims, seconds) = (column("aim"), column("second"));
    assert!(
        aims.is_sorted() && seconds.is_sorted(),
        "{aims:?} {seconds:?}"
    );
    assert!((seconds[0] - 1.0).abs() < 1e-3 && (seconds.last().unwrap() - 3.0).abs() < 1e-3);
}

#[test]
fn what_makers_ask_is_answered() {
    let page = crate::support::read("README.md");
    let (_, questions) = page.split_once("What makers ask").unwrap();
    let (_, questions) = questions.split_once("```sh\n").unwrap();
    let (questions, _) = questions.split_once("```").unwrap();
    let calls = questions
        .lines()
        .filter(|line| line.starts_with("annulet "));
    let mut answered = 0;
    for call in calls {
        let program = env!("CARGO_BIN_EXE_annulet");
        let line = format!("annulet() {{ '{program}' \"$@\"; }}; {call}");
        let output = std::process::Command::new("sh")
            .args(["-c", &line])
            .current_dir(crate::support::root())
            .output()
            .unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(0), "{call}: {said}");
        assert!(!output.stdout.is_empty(), "{call}: {said}");
        answered += 1;
    }
    assert_eq!(answered, 7);
}
