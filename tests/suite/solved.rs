//! `solve`: every place at which a target is met, none of them told twice, and each shown so that it is met when it is put back.
//!
//! Closed forms beside: the weight of a flat pipe, and products and distances whose zeros are known.

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

/// The values that an answer's lines begin with.
fn numbers(ran: &Ran) -> Vec<f64> {
    assert_eq!(ran.status, 0, "{}{}", ran.stdout, ran.stderr);
    ran.stdout.lines().map(first_number).collect()
}

/// A pipe's weight is `density * pi * width * ((r + t)^2 - r^2)`: where it lies near a target, and where it is just met.
#[test]
fn both_sides_of_a_narrow_dip_are_solutions() {
    let density: f64 = plain(PIPE, "density").parse().unwrap();
    let thickness = |weight: f64| {
        let area = weight / (density / 1000.0) / std::f64::consts::PI / 5.0;
        (8.5_f64 * 8.5 + area).sqrt() - 8.5
    };
    let of = |words: &str| seek("solve", &[words], &["--in", "-"], PIPE);
    for gap in [0.1, 0.01, 0.002, 0.000_1, 0.0] {
        let words = format!("thickness 1 mm .. 3 mm for abs(weight - 6 g) = {gap} g");
        let found = numbers(&of(&words));
        let mut wanted = vec![thickness(6.0 - gap), thickness(6.0 + gap)];
        wanted.dedup();
        assert_eq!(found.len(), wanted.len(), "{words}: {found:?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 2e-6, "{words}: {found} {wanted}");
        }
    }
    let flat = of("width 3 mm .. 20 mm for abs(width - 7.003 mm) = 0.02 mm");
    assert_eq!(numbers(&flat), [6.983, 7.023]);
    // Beside a bound, and where it touches without passing.
    let near = of("width 3 mm .. 20 mm for abs(width - 3.01 mm) = 0.004 mm");
    assert_eq!(numbers(&near), [3.006, 3.014]);
    let touched = of("width 3 mm .. 20 mm for (width - 7.01 mm) * (width - 7.01 mm) = 0 mm2");
    assert_eq!(numbers(&touched), [7.01]);
    let never = of("width 3 mm .. 20 mm for abs(width - 7.003 mm) = -0.02 mm");
    assert_eq!(never.status, 3);
    assert!(
        never.stdout.contains("nearest: width 7.003 mm") && never.stdout.contains("turns back"),
        "{}",
        never.stdout
    );
}

/// The wall of the sleeve is what is least, then that under the cut, which does not move.
#[test]
fn a_level_run_is_one_solution_and_its_ends_are_shown_from_inside() {
    let cases = [
        (
            "sleeve 0.1 mm .. 0.8 mm",
            "wall.least = 0.25 mm",
            [0.25, 0.65],
        ),
        ("cut 0.18 mm .. 0.5 mm", "wall.least = 0.3 mm", [0.18, 0.25]),
    ];
    let more = ["--in", PAIR, "--band", "harvest-light"];
    for (axis, target, ends) in cases {
        let ran = seek("solve", &[axis, "for", target], &more, "");
        assert_eq!(numbers(&ran).len(), 1, "{}", ran.stdout);
        assert_eq!(ends_of(&ran), ends, "{}", ran.stdout);
        // The same of a grid.
        let range = format!("{axis} by 0.01 mm");
        let clause = format!("show weight where {target}");
        let grid = seek(
            "sweep",
            &[&range, &clause],
            &[&more[..], &["--csv"]].concat(),
            "",
        );
        let rows: Vec<f64> = grid
            .stdout
            .lines()
            .skip(1)
            .map(|row| row.split(',').nth(1).unwrap().parse().unwrap())
            .collect();
        assert_eq!([rows[0], rows[rows.len() - 1]], ends, "{}", grid.stdout);
    }
    // Both ends of a range in which a price stays the same have that price when they are put back.
    let cases = [
        (
            "harvest",
            "harvest.thickness",
            "1.3 mm .. 2 mm",
            "cost",
            "340",
            "mm",
        ),
        (
            "harvest-light",
            "prices.gold",
            "24 EUR/g .. 300 EUR/g",
            "cost",
            "310",
            "EUR/g",
        ),
    ];
    for (band, path, range, result, price, unit) in cases {
        let words = format!("{path} {range} for {result} = {price} EUR");
        let ran = seek("solve", &[&words], &["--in", PAIR, "--band", band], "");
        for end in ends_of(&ran) {
            let set = format!("{path}={end} {unit}");
            let call = [
                "ask", result, "--plain", "--in", PAIR, "--band", band, "--set", &set,
            ];
            assert_eq!(run(&call, "").stdout.trim(), price, "{set}");
        }
    }
}

/// The ends of the only range of an answer.
fn ends_of(ran: &Ran) -> [f64; 2] {
    let (_, ends) = ran.stdout.split_once("the same from ").unwrap();
    let numbers = ends.split_whitespace().filter_map(|word| word.parse().ok());
    numbers.collect::<Vec<f64>>().try_into().unwrap()
}

#[test]
fn the_nearest_can_be_made_and_is_told_apart_from_what_was_wanted() {
    // A sleeve that is thinner has no edge left beside its chamfer.
    let mill = "examples/windmill.annulet";
    let words = ["sleeve 0.2 mm .. 1 mm for stretch.window = 0.1 mm"];
    let ran = seek("solve", &words, &["--in", mill], "");
    assert_eq!(ran.status, 3);
    let (_, near) = ran.stdout.split_once("nearest: hollow.sleeve ").unwrap();
    let set = format!("sleeve={} mm", near.split_whitespace().next().unwrap());
    let back = run(&["ask", "stretch.window", "--in", mill, "--set", &set], "");
    assert!(back.status < 2, "{set}: {}", back.stderr);
    assert!(
        near.contains(back.stdout.trim()),
        "{} {}",
        back.stdout,
        ran.stdout
    );
    // The outside would rise more than half the width: the edge that stops it, by its rule.
    let more = [
        "--in",
        PAIR,
        "--band",
        "harvest",
        "--set",
        "harvest.width=3 mm",
        "--set",
        "harvest.profile.edge=0.5 mm",
    ];
    let ran = seek(
        "solve",
        &["thickness 1.3 mm .. 2.5 mm for weight = 4 g"],
        &more,
        "",
    );
    assert!(
        ran.stdout.contains("harvest.thickness 2 mm")
            && ran.stdout.contains("more than half the width"),
        "{}",
        ran.stdout
    );
    let ran = seek(
        "solve",
        &["thickness 1.3 mm .. 1.6646 mm for weight = 2.781 g"],
        &more,
        "",
    );
    assert!(
        ran.stdout
            .contains("\u{2248} 2.78098 g, which was to be 2.781 g"),
        "{}",
        ran.stdout
    );
}

#[test]
fn all_solutions_are_found() {
    // A knife edge of a deeper comfort is lighter, a wider one heavier: a saving that turns has two places.
    let ran = seek(
        "solve",
        &["k 0 .. 4 for (k - 1) * (k - 3) = 0"],
        &["--in", "-"],
        &format!("let k = 2\n{PIPE}"),
    );
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    assert_eq!(numbers(&ran), [1.0, 3.0], "{}", ran.stdout);
    // Two that stand at places next to each other of those that are walked: nothing between is one.
    let ran = seek(
        "solve",
        &["k 0 .. 96 for (k - 1) * (k - 2) * (k - 40) = 0"],
        &["--in", "-"],
        &format!("let k = 2\n{PIPE}"),
    );
    assert_eq!(numbers(&ran), [1.0, 2.0, 40.0], "{}", ran.stdout);
}
