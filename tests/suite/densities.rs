//! Densities against collections published outside the project.
//!
//! Elements: `outside/element_densities.toml`, a second collection that the catalogue's figures were not
//! taken from. Alloys: `outside/alloy_densities.toml`, published densities whose source states the
//! composition too; ideal mixing must come within the band that every report states, 2.5 %.

use annulet::catalogue;
use annulet::model::{MIXING_ERROR, mixed_density};
use rust_decimal::{Decimal, prelude::ToPrimitive};
use serde::Deserialize;
use std::collections::BTreeMap;

use crate::support::{agree, band_with, number, read, results};

#[derive(Deserialize)]
struct Elements {
    element: Vec<Element>,
}

#[derive(Deserialize)]
struct Element {
    name: String,
    symbol: String,
    density: Decimal,
}

#[derive(Deserialize)]
struct Alloys {
    alloy: Vec<Alloy>,
}

#[derive(Deserialize)]
struct Alloy {
    parts: BTreeMap<String, Decimal>,
    density: Decimal,
    kind: String,
    source: String,
}

impl Alloy {
    fn published(&self) -> f64 {
        self.density.to_f64().unwrap()
    }

    /// How far ideal mixing is off, as a part of the published figure.
    fn off(&self) -> f64 {
        let parts: Vec<_> = self.parts.clone().into_iter().collect();
        mixed_density(&parts).unwrap() / self.published() - 1.0
    }
}

fn alloys() -> Vec<Alloy> {
    let table: Alloys = toml::from_str(&read("tests/suite/outside/alloy_densities.toml")).unwrap();
    assert!(table.alloy.len() >= 20);
    table.alloy
}

#[test]
fn elements_agree_with_a_second_collection() {
    let table: Elements =
        toml::from_str(&read("tests/suite/outside/element_densities.toml")).unwrap();
    assert!(table.element.len() >= 15);
    for outside in table.element {
        let own = catalogue::element(&outside.name).unwrap_or_else(|| panic!("{}", outside.name));
        assert_eq!(own.symbol, outside.symbol);
        let (a, b) = (
            own.density.to_f64().unwrap(),
            outside.density.to_f64().unwrap(),
        );
        // Handbooks differ by up to a per cent for the rarer metals; a wrong row would be off by far more.
        assert!(agree(a, b, 0.011), "{}: {a} against {b}", outside.name);
    }
    for name in ["gold", "silver", "copper"] {
        let own = catalogue::element(name).unwrap();
        let close = own.also.iter().filter_map(|reading| reading.density);
        for other in close {
            assert!(
                (other / own.density - Decimal::ONE).abs() < Decimal::new(5, 3),
                "{name}"
            );
        }
    }
}

#[test]
fn ideal_mixing_stays_within_its_stated_band() {
    for alloy in alloys() {
        let off = alloy.off();
        let (parts, source) = (&alloy.parts, &alloy.source);
        assert!(
            off.abs() <= MIXING_ERROR,
            "{parts:?} is off by {off} ({source})"
        );
    }
}

#[test]
fn the_stated_band_is_no_wider_than_it_must_be() {
    let measured = |alloy: &Alloy| alloy.kind == "stated composition";
    let worst = alloys()
        .iter()
        .filter(|alloy| measured(alloy))
        .map(|alloy| alloy.off().abs())
        .fold(0.0, f64::max);
    assert!(worst > MIXING_ERROR * 0.8, "the worst is {worst}");
    // Tables that follow ideal mixing themselves prove the arithmetic, to their last printed digit.
    for alloy in alloys().iter().filter(|alloy| !measured(alloy)) {
        assert!(
            alloy.off().abs() < 0.003,
            "{:?}: {}",
            alloy.parts,
            alloy.off()
        );
    }
}

#[test]
fn a_density_is_derived_where_none_is_stated() {
    // 1 / (0.585 / 19.3 + 0.325 / 8.96 + 0.090 / 10.5), by hand: see the elements' table.
    let mix = "alloy rose { gold 585, copper 325, silver 90 }\n";
    let found = results(&format!("{mix}{}", band_with(&["alloy rose"])));
    let density = |name: &str| catalogue::element(name).unwrap().density.to_f64().unwrap();
    let wanted =
        1.0 / (0.585 / density("gold") + 0.325 / density("copper") + 0.090 / density("silver"));
    assert!(agree(number(&found, "b.density"), wanted, 1e-12));
    assert_eq!(found["b.density"]["rests"][0], "derived density");
    let weight = number(&found, "b.volume") * wanted / 1000.0;
    assert!(agree(number(&found, "b.weight"), weight, 1e-12));
}

#[test]
fn a_stated_density_is_kept_as_written() {
    let mix = "alloy rose { gold 585, copper 325, silver 90, density 13.30 g/cm3 }\n";
    let found = results(&format!("{mix}{}", band_with(&["alloy rose"])));
    assert_eq!(found["b.density"]["value"], "13.3");
    assert_eq!(found["b.density"]["rests"][0], "stated density");
    let alike = ["13300 kg/m3", "0.0133 g/mm3", "13.3 g/cm\u{B3}"];
    for written in alike {
        let mix = format!("alloy rose {{ gold 585, copper 325, silver 90, density {written} }}\n");
        let other = results(&format!("{mix}{}", band_with(&["alloy rose"])));
        assert_eq!(other["b.density"]["value"], "13.3", "{written}");
        assert_eq!(other["b.weight"], found["b.weight"], "{written}");
    }
}

#[test]
fn parts_are_read_per_thousand_per_cent_and_by_karat() {
    let forms = [
        "gold 750, silver 125, copper 125",
        "gold 75 %, silver 12.5 %, copper 12.5 %",
        "gold 18 karat, silver 3 kt, copper 3 K",
        "gold 750, silver 1000 / 8, copper 12.5 %",
    ];
    let weights: Vec<f64> = forms
        .iter()
        .map(|parts| {
            let recipe = format!("alloy y {{ {parts} }}\n{}", band_with(&["alloy y"]));
            number(&results(&recipe), "b.weight")
        })
        .collect();
    assert!(
        weights
            .iter()
            .all(|weight| agree(*weight, weights[0], 1e-12)),
        "{weights:?}"
    );
}
