//! What a ring bears between two opposed forces, and the torque that a grip holds against, from outside the project.
//!
//! Stiffness and load of solid bands: `tests/stretch/bears.py`, the strain energy of curved beams integrated with scipy;
//! its record stands in `bears.json`, with the script's checksum. Hollow ones are held against three-dimensional
//! elasticity in `stretch_pages.rs`. Torque: `T = 2 pi mu F r` by hand, with
//! the hoop force that `tests/stretch/join.py` recorded.

use std::f64::consts::PI;

use serde_json::Value as Json;
use sha2::{Digest, Sha256};

use crate::stretch::recipe;
use crate::support::{agree, number, read, results, run};

/// A record and whether it is of its script as it stands.
fn record(name: &str) -> Json {
    let record: Json = serde_json::from_str(&read(&format!("tests/stretch/{name}.json"))).unwrap();
    let script = read(&format!("tests/stretch/{name}.py"));
    let digest: String = Sha256::digest(script.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect();
    assert_eq!(record["script_sha256"], digest, "run {name}.py anew");
    record
}

#[test]
fn rings_bear_what_their_strain_energy_says() {
    let record = record("bears");
    let cases = record["cases"].as_array().unwrap();
    let mut wrong = Vec::new();
    for case in cases.iter().filter(|case| case["first"] == "solid") {
        let recipe = case["recipe"].as_str().unwrap();
        let found = results(recipe);
        for (path, wanted) in case["found"].as_object().unwrap() {
            let wanted = wanted.as_f64().unwrap();
            let value = number(&found, &format!("b.{path}"));
            if !agree(value, wanted, 1e-6) {
                wrong.push(format!("{path} {value}, by the script {wanted}\n{recipe}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let first = |part: &str| cases.iter().filter(|case| case["first"] == part).count();
    assert!(first("solid") >= 10);
}

#[test]
fn the_part_that_yields_first_decides_and_the_other_does_not() {
    // Both parts shorten alike, so that each yields at its own shortening; on either side of where both do it at
    // once, the load follows the yield of one part alone, and in proportion.
    let record = record("bears");
    let load = |recipe: &str| number(&results(recipe), "b.strength.load");
    let mut compared = 0;
    let cases = record["cases"].as_array().unwrap();
    for case in cases.iter().filter(|case| case["first"] != "solid") {
        let recipe = case["recipe"].as_str().unwrap();
        let with_yield = |alloy: &str, factor: f64| {
            let line = recipe
                .lines()
                .find(|line| line.starts_with(&format!("alloy {alloy} ")));
            let (before, rest) = line.unwrap().split_once("yield ").unwrap();
            let (value, after) = rest.split_once(' ').unwrap();
            let value = value.parse::<f64>().unwrap() * factor;
            recipe.replacen(line.unwrap(), &format!("{before}yield {value} {after}"), 1)
        };
        let now = load(recipe);
        let (weak, strong) = if load(&with_yield("outer", 0.99)) < now {
            ("outer", "inner")
        } else {
            ("inner", "outer")
        };
        assert!(
            agree(load(&with_yield(weak, 0.9)), 0.9 * now, 1e-9),
            "{recipe}"
        );
        assert!(
            agree(load(&with_yield(strong, 1.5)), now, 1e-12),
            "{recipe}"
        );
        // A part that is left far weaker yields first instead, and takes the load with it.
        assert!(load(&with_yield(strong, 0.05)) < 0.9 * now, "{recipe}");
        compared += 1;
    }
    assert!(compared > 40);
}

#[test]
fn torque_is_friction_on_the_hoop_force_at_the_contact() {
    let record = record("join");
    let mut compared = 0;
    for case in record["cases"].as_array().unwrap() {
        let given = &case["given"];
        let recipe = recipe(given);
        let Some(past) = given["past"].as_f64() else {
            continue;
        };
        let of = |path: &str| case["found"][path].as_f64().unwrap();
        let contact = of("machined.shell.bore") / 2.0 + past / 2.0;
        // The script's force is by pressure, contact and width; none where the parts spring apart.
        let force = of("grip.pressure").max(0.0) * contact * given["width"].as_f64().unwrap();
        assert!(agree(of("grip.force"), force, 1e-9) || force == 0.0);
        for friction in [0.15, 0.22] {
            let text = match friction {
                0.15 => recipe.clone(),
                _ => recipe.replacen("hollow {", &format!("hollow {{ friction {friction}\n"), 1),
            };
            let found = results(&text);
            let torque = number(&found, "b.grip.torque");
            let wanted = 2.0 * PI * friction * force * contact;
            assert!(
                (torque - wanted).abs() <= 1e-6 * wanted + 1e-9,
                "{torque} {wanted}\n{text}"
            );
        }
        compared += 1;
    }
    assert!(compared >= 30, "{compared}");
}

#[test]
fn a_ring_that_springs_free_is_held_by_nothing() {
    // A soft shell over a hard sleeve: the sleeve springs back further, no pressure is left.
    let recipe = "alloy soft { silver 1000, temper annealed { yield 150 MPa, modulus 90 GPa } }\nalloy hard { silver 1000, temper annealed { yield 500 MPa, modulus 90 GPa } }\nband b { size 17.3 mm, width 5 mm, thickness 1.8 mm, profile flat, alloy soft\nhollow { shell 0.5 mm, sleeve 0.4 mm { alloy hard }, ridge 0.2 mm { wide 0.3 mm, count 1 }, stage fixed { past 0.05 mm } } }";
    let found = results(recipe);
    assert!(number(&found, "b.grip.pressure") < 0.0);
    assert_eq!(number(&found, "b.grip.force"), 0.0);
    assert_eq!(number(&found, "b.grip.torque"), 0.0);
}

#[test]
fn a_ring_that_turns_has_no_torque_to_tell() {
    let recipe = "band b { size 17.3 mm, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925\nhollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.2 mm { wide 0.3 mm, count 1 }, stage turning { play 0.08 mm } } }";
    let ran = run(&["ask", "grip.torque", "--in", "-"], recipe);
    assert!(
        ran.status == 2 && ran.stdout == "\u{2014}\n",
        "{}",
        ran.stdout
    );
}
