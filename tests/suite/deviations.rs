//! A `±` in per cent is the amount that it comes to, and what it does to a result is the figure worked out by hand.
//!
//! Outside things: per cent of an amount, in fractions beside each row; results that are linear in one written value,
//! whose worst case is that value's share of them, and one that is not, worked out at both ends.

use serde_json::{Map, Value};

use crate::support::{agree, findings, number, results};

type Results = Map<String, Value>;

/// Figures that rest on a width, a price and a yield; 18 mm over 17 mm is within the metal's 9 % of one pull.
fn recipe(width: &str, gold: &str, yields: &str) -> String {
    format!(
        "prices {{ dated 2026-11-20, gold {gold}, silver 1.25 EUR/g, rate 1 USD = 0.92 EUR }}
shop {{ currency EUR }}
alloy green {{
  gold 600, silver 400, density 14.4 g/cm3
  temper annealed {{ yield {yields}, elongation 27 %, modulus 75 GPa }}
}}
band b {{
  size 18 mm, width {width}, thickness 2 mm, profile flat, alloy green
  start 17.5 mm
}}
"
    )
}

const PLAIN: [&str; 3] = ["5 mm", "100 EUR/g", "90 MPa"];

/// The recipe with one of its three values written otherwise.
fn with(place: usize, value: &str) -> String {
    let mut values = PLAIN;
    values[place] = value;
    recipe(values[0], values[1], values[2])
}

/// How far a result may be off: lowest and highest, as differences from it.
fn spread(results: &Results, path: &str) -> (f64, f64) {
    let spread = &results[path]["spread"];
    let end = |end: &str| spread[end].as_f64().unwrap();
    (end("low"), end("high"))
}

#[test]
fn per_cent_is_the_amount_that_it_comes_to() {
    let (length, price, stress) = (0, 1, 2);
    for (place, per_cent, amount) in [
        // 2/100 of 5 mm is 1/10 mm; of 0.5 cm the same; 1/3 of a per cent of 4.5 mm is 15 um.
        (length, "5 mm \u{B1} 2 %", "5 mm \u{B1} 0.1 mm"),
        (length, "0.5 cm \u{B1} 2 %", "5 mm \u{B1} 0.01 cm"),
        (length, "4.5 mm \u{B1} 0.4 %", "4.5 mm \u{B1} 0.018 mm"),
        // 2/100 of 98.40 are 1.968; of 3100 a troy ounce 62, in whatever currency they are counted then.
        (
            price,
            "98.40 EUR/g \u{B1} 2 %",
            "98.40 EUR/g \u{B1} 1.968 EUR/g",
        ),
        (
            price,
            "3100 USD/ozt \u{B1} 2 %",
            "3100 USD/ozt \u{B1} 62 USD/ozt",
        ),
        // 2/100 of 90 MPa are 9/5 MPa.
        (stress, "90 MPa \u{B1} 2 %", "90 MPa \u{B1} 1.8 MPa"),
        (stress, "0.09 GPa \u{B1} 2 %", "90 MPa \u{B1} 0.0018 GPa"),
    ] {
        let one = results(&with(place, per_cent));
        let other = results(&with(place, amount));
        let mut deviate = 0;
        // What is written may be so in another unit.
        let is_result =
            |path: &str| annulet::schema::find(path.split_once('.').unwrap().1).is_none();
        for (path, found) in one.iter().filter(|(path, _)| is_result(path)) {
            // Solvers end within their last digits of one another.
            let near = |one: f64, other: f64| (one - other).abs() <= 1e-9 * one.abs().max(1.0);
            let wanted = &other[path];
            let same = match (found["value"].as_f64(), wanted["value"].as_f64()) {
                (Some(one), Some(other)) => near(one, other),
                _ => found["value"] == wanted["value"],
            };
            assert!(same, "{per_cent}: {path} {found} {wanted}");
            if found["spread"].is_null() {
                assert!(wanted["spread"].is_null(), "{per_cent}: {path}");
                continue;
            }
            deviate += 1;
            let ends = [spread(&one, path), spread(&other, path)];
            assert!(
                near(ends[0].0, ends[1].0) && near(ends[0].1, ends[1].1),
                "{per_cent}: {path} {ends:?}"
            );
        }
        assert!(deviate > 0, "{per_cent} deviates nowhere");
    }
}

#[test]
fn what_a_deviation_does_is_the_figure_by_hand() {
    // Weight and cost are linear in the width: 2 % of it are 2 % of them.
    let wide = results(&with(0, "5 mm \u{B1} 2 %"));
    let weight = number(&wide, "b.weight");
    let (low, high) = spread(&wide, "b.weight");
    assert!(agree(low, -0.02 * weight, 1e-9) && agree(high, 0.02 * weight, 1e-9));
    // A pipe of 18 and 22 mm, 5 mm wide: 14.4 * pi/4 * (484 - 324) * 5 / 1000 = 2.88 pi g = 9.047787 g. Of each
    // gram 600/1000 are gold: 2 EUR/g more are 9.047787 * 0.6 * 2 = 10.857344 EUR more, both ends to the cent.
    assert!(agree(weight, 9.047_787, 1e-7), "{weight}");
    let dear = results(&with(1, "100 EUR/g \u{B1} 2 %"));
    let (low, high) = spread(&dear, "b.cost");
    assert!(
        (low + 10.857_344).abs() < 0.01 && (high - 10.857_344).abs() < 0.01,
        "{low} {high}"
    );
    // A free ring springs back by yield over modulus: 18 mm * 1.8 MPa / 75000 MPa = 0.000432 mm, hardening unstated.
    let hard = results(&with(2, "90 MPa \u{B1} 2 %"));
    let (low, high) = spread(&hard, "b.stretch.mandrel");
    assert!(
        (low + 0.000_432).abs() < 1e-9 && (high - 0.000_432).abs() < 1e-9,
        "{low} {high}"
    );
}

#[test]
fn per_cent_of_a_share_is_points() {
    // A cover of 50 % ± 5 % lies between 45 and 55 %: a tenth of what is cut, to either side.
    let recipe = with(0, "5 mm").replace(
        "  start 17.5 mm\n",
        "  pattern { depth 0.2 mm, cover 50 % \u{B1} 5 % }\n",
    );
    let results = results(&recipe);
    let cut = number(&results, "b.weight.cut");
    let (low, high) = spread(&results, "b.weight.cut");
    assert!(
        agree(low, -cut / 10.0, 1e-9) && agree(high, cut / 10.0, 1e-9),
        "{cut} {low} {high}"
    );
}

#[test]
fn the_worst_case_of_a_curved_result_is_worked_out_at_both_ends() {
    // Flat between 16 and 20 mm: weight goes with 20^2 - D^2 = 144 mm2. D 16.5: 127.75, 16.25 less; D 15.5: 159.75,
    // 15.75 more. With the thickness stated in place of the outside, it goes with h (16 + h) = 36 mm2; h 2.5:
    // 46.25, 10.25 more; h 1.5: 26.25, 9.75 less.
    let band = |size: &str, wall: &str| {
        format!("band b {{ size {size}, width 5 mm, {wall}, profile flat, alloy silver-925 }}\n")
    };
    for (size, wall, low, high) in [
        (
            "16 mm \u{B1} 0.5 mm",
            "outside 20 mm",
            -16.25 / 144.0,
            15.75 / 144.0,
        ),
        // Outside 20.5: 420.25 - 256 = 164.25, 20.25 more; 19.5: 124.25, 19.75 less.
        (
            "16 mm",
            "outside 20 mm \u{B1} 0.5 mm",
            -19.75 / 144.0,
            20.25 / 144.0,
        ),
        (
            "16 mm",
            "thickness 2 mm \u{B1} 25 %",
            -9.75 / 36.0,
            10.25 / 36.0,
        ),
    ] {
        let results = results(&band(size, wall));
        let weight = number(&results, "b.weight");
        let found = spread(&results, "b.weight");
        assert!(
            agree(found.0, low * weight, 1e-9) && agree(found.1, high * weight, 1e-9),
            "{size} {wall}: {found:?}"
        );
    }
}

#[test]
fn mixed_kinds_are_refused_where_they_stand() {
    for (place, written, second) in [
        (0, "5 mm \u{B1} 0.1 g", "0.1 g"),
        (0, "5 mm \u{B1} 2 MPa", "2 MPa"),
        (0, "5 mm \u{B1} 2 EUR", "2 EUR"),
        (1, "100 EUR/g \u{B1} 2 EUR", "2 EUR"),
        (1, "100 EUR/g \u{B1} 2 USD/g", "2 USD/g"),
        (1, "100 EUR/g \u{B1} 2 g", "2 g"),
        (2, "90 MPa \u{B1} 2 mm", "2 mm"),
        (2, "90 MPa \u{B1} 2 N", "2 N"),
    ] {
        let recipe = with(place, written);
        let found = findings(&recipe);
        assert_eq!(found.len(), 1, "{written}: {found:?}");
        let first = written.split(" \u{B1} ").next().unwrap();
        assert_eq!(
            (found[0].code.as_str(), found[0].text.as_str()),
            ("model::mixed_kinds", first),
            "{written}"
        );
        assert!(
            found[0]
                .message
                .ends_with("do not go together with `\u{B1}`"),
            "{written}: {}",
            found[0].message
        );
        // It is the deviation that is of another kind: with the value's own unit it passes.
        let unit = first.rsplit(' ').next().unwrap();
        let own = format!(
            "{first} \u{B1} {} {unit}",
            second.split(' ').next().unwrap()
        );
        assert_eq!(findings(&with(place, &own)).len(), 0, "{own}");
    }
}
