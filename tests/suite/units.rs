//! Units of weight against published definitions, exactly, and conversions through questions.
//!
//! `outside/weight_units.toml` holds grams a unit from the data files of unit converters, which trace to
//! the pound of 1959 (453.59237 g) and the troy grain (1/7000 of it). Lengths: the inch of 1959.

use annulet::quantity::{Dimension, Number, unit};
use proptest::prelude::*;
use rust_decimal::{Decimal, dec};
use serde::Deserialize;

use crate::support::{agree, ask, band_with, findings, plain, read};

#[derive(Deserialize)]
struct Outside {
    weight: Vec<Weight>,
}

#[derive(Deserialize)]
struct Weight {
    unit: String,
    grams: Decimal,
}

/// The word that the language has for a published unit; the carat is a stone's weight and refused.
fn word(published: &str) -> Option<&'static str> {
    match published {
        "avoirdupois ounce" => Some("ozav"),
        "grain" => Some("grain"),
        "pennyweight" => Some("dwt"),
        "tola" => Some("tola"),
        "troy ounce" => Some("ozt"),
        "carat" => None,
        other => panic!("no word for {other}"),
    }
}

#[test]
fn weights_are_defined_exactly_as_published() {
    let table: Outside = toml::from_str(&read("tests/suite/outside/weight_units.toml")).unwrap();
    assert!(table.weight.len() >= 6);
    for row in table.weight {
        let Some(word) = word(&row.unit) else {
            assert_eq!(unit::scale("ct").unwrap_err().0, unit::Refused::Carat);
            continue;
        };
        let scale = unit::scale(word).unwrap();
        assert_eq!(scale.dimension, Dimension::MASS, "{word}");
        assert_eq!(scale.to_base(dec!(1)), Some(row.grams), "{word}");
    }
}

#[test]
fn every_word_of_a_unit_means_one_thing() {
    let mut words: Vec<&str> = Vec::new();
    for unit in unit::all() {
        for word in unit.also.iter().copied().chain([unit.word]) {
            let scale = unit::scale(word).unwrap_or_else(|_| panic!("{word}"));
            assert_eq!(scale.dimension, unit.dimension, "{word}");
            assert_eq!(
                scale.to_base(dec!(1)),
                Some((unit.factor / unit.per).normalize()),
                "{word}"
            );
            assert!(!words.contains(&word), "{word} is given twice");
            words.push(word);
        }
        assert!(
            !unit.source.is_empty() && unit.factor > Decimal::ZERO,
            "{}",
            unit.word
        );
        let known = ["read", "common practice", "from memory", "computed"];
        assert!(known.contains(&unit.status), "{}", unit.word);
    }
}

#[test]
fn questions_convert_exactly() {
    // `let`s keep what is written, so these answers have no rounding in them at all.
    let recipe = format!(
        "let piece = 31.1034768 g\nlet long = 1 in\nlet push = 250 MPa\nlet rate = 60 mm/min\n\
         let heap = 13.3 g/cm3\nlet fine = 18 karat\nlet wait = 90 s\n{}",
        band_with(&[])
    );
    let cases = [
        ("piece in ozt", "1"),
        ("piece in dwt", "20"),
        ("piece in grain", "480"),
        ("piece in kg", "0.0311034768"),
        ("piece in mg", "31103.4768"),
        ("long in mm", "25.4"),
        ("long in cm", "2.54"),
        ("long in \u{B5}m", "25400"),
        ("long in \u{3BC}m", "25400"),
        ("long in um", "25400"),
        ("push in GPa", "0.25"),
        ("push in N/mm2", "250"),
        ("rate in mm/s", "1"),
        ("rate in m/min", "0.06"),
        ("heap in kg/m3", "13300"),
        ("wait in min", "1.5"),
        ("fine in karat", "18"),
    ];
    for (question, wanted) in cases {
        assert_eq!(plain(&recipe, question), wanted, "{question}");
    }
    // 3/8 troy ounce is a tola, and 2.5 tola are 450 grains.
    assert_eq!(plain(&recipe, "(piece * 0.375) in tola"), "1");
    assert_eq!(plain(&recipe, "(piece * 0.9375) in grain"), "450");
    assert_eq!(ask(&recipe, "piece in dwt"), "20 dwt");
}

#[test]
fn computed_weights_convert_by_the_same_factors() {
    let recipe = band_with(&[]);
    let grams: f64 = plain(&recipe, "weight").parse().unwrap();
    for (unit, factor) in [
        ("dwt", 1.55517384),
        ("ozt", 31.1034768),
        ("ozav", 28.349523125),
        ("grain", 0.06479891),
        ("tola", 11.6638038),
        ("kg", 1000.0),
    ] {
        let converted: f64 = plain(&recipe, &format!("weight in {unit}"))
            .parse()
            .unwrap();
        assert!(
            agree(converted * factor, grams, 1e-14),
            "{unit}: {converted}"
        );
    }
    let inches: f64 = plain(&recipe, "strip.length in in").parse().unwrap();
    let mm: f64 = plain(&recipe, "strip.length").parse().unwrap();
    assert!(agree(inches * 25.4, mm, 1e-14));
}

#[test]
fn written_numbers_are_exact() {
    let recipe = |width: &str| band_with(&[&format!("width {width}")]);
    let cases = [
        ("0.1 mm + 0.2 mm", "0.3"),
        ("3 * 0.1 mm", "0.3"),
        ("1.1 mm * 1.1", "1.21"),
        ("20 mm + 0.95 mm", "20.95"),
        ("1 mm - 0.9 mm", "0.1"),
        ("0.1 in", "2.54"),
        ("1 cm - 0.001 mm", "9.999"),
        ("(1 mm + 2 mm) / 3", "1"),
        ("min(2 mm, 0.1 cm)", "1"),
        ("max(2 mm, 0.1 cm)", "2"),
        ("abs(-2 mm)", "2"),
        ("round(2.5 mm, 1 mm)", "2"),
        ("round(3.5 mm, 1 mm)", "4"),
        ("sqrt(2.25 mm * 1 mm)", "1.5"),
        ("50 % * 3 mm", "1.5"),
        ("thickness * 0.7", "1.4"),
        ("2 mm \u{D7} 3", "6"),
        ("0.5 in in mm", "12.7"),
    ];
    for (written, wanted) in cases {
        let recipe = recipe(written);
        assert_eq!(
            findings(&recipe).len(),
            0,
            "{written}: {:?}",
            findings(&recipe)
        );
        assert_eq!(plain(&recipe, "width in mm"), wanted, "{written}");
    }
}

#[test]
fn dimensions_are_checked() {
    // Written as a width, and the code of the one finding.
    let cases = [
        ("1 mm + 1 g", "model::mixed_kinds"),
        ("1 mm + 1", "model::mixed_kinds"),
        ("1 mm * 1 mm", "model::wrong_kind"),
        ("1 g", "model::wrong_kind"),
        ("18 karat", "model::wrong_kind"),
        ("5 EUR", "model::wrong_kind"),
        ("1 / 0 * 1 mm", "model::no_result"),
        ("sqrt(-1 mm * 1 mm)", "model::no_result"),
        ("sqrt(4 mm)", "model::no_result"),
        ("1 EUR / (1 USD) * 1 mm", "model::no_result"),
        ("min(1 mm, 1 g)", "model::no_result"),
        ("minn(1 mm, 2 mm)", "model::unknown_name"),
        ("min()", "model::value_count"),
        ("5", "model::unit_missing"),
        ("1 mm .. 2 mm", "model::no_result"),
        ("1 mm < 2 mm", "model::wrong_kind"),
        (
            "79228162514264337593543950335 mm * 10",
            "model::out_of_range",
        ),
    ];
    for (written, code) in cases {
        let found = findings(&band_with(&[&format!("width {written}")]));
        assert_eq!(found.len(), 1, "{written}: {found:?}");
        assert_eq!(found[0].code, code, "{written}: {found:?}");
    }
}

/// Whether a fraction ends as a decimal, by long division: a remainder that comes again never ends.
fn comes_out(above: i128, below: i128) -> bool {
    let mut rest = above.abs() % below.abs();
    let mut seen = std::collections::BTreeSet::new();
    while rest != 0 {
        if !seen.insert(rest) {
            return false;
        }
        rest = rest * 10 % below.abs();
    }
    true
}

proptest! {
    #[test]
    fn a_quotient_is_exact_where_long_division_ends(
        above in -9_999_i64..9_999, below in 1_i64..2_000, left in 0_u32..4, right in 0_u32..4,
    ) {
        let decimal = |value: i64, scale: u32| Decimal::new(value, scale);
        let quotient = Number::Exact(decimal(above, left))
            .over(Number::Exact(decimal(below, right)))
            .unwrap();
        prop_assert_eq!(
            quotient.exact().is_some(),
            comes_out(above.into(), below.into()),
            "{} / {}", above, below
        );
        // What is exact is so to the last digit, and what is not is the nearest float.
        match quotient.exact() {
            Some(value) => prop_assert_eq!(value * decimal(below, right), decimal(above, left)),
            None => {
                let wanted = above as f64 / 10_f64.powi(left as i32) / (below as f64 / 10_f64.powi(right as i32));
                prop_assert!((quotient.to_f64() / wanted - 1.0).abs() < 1e-14);
            }
        }
    }
}
