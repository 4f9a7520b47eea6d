//! A pattern in other sizes: its repeats stay, or the length of one, or the outside.
//!
//! Held against circumferences and volumes of revolution in closed form.

use std::f64::consts::PI;

use serde_json::Value;

use crate::support::{agree, number_of, run, run_in};

const SIZES: &str = "[16 mm, 17 mm, 18.4 mm, 20 mm]";

fn recipe(repeats: &str, hollow: &str) -> String {
    format!(
        "cutter sharp vee {{ angle 90 deg }}\nband b {{\n  size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925\n  pattern {{ {repeats}, cutter sharp, depth 0.2 mm, flutes {{ count 2 }} }}\n  {hollow}\n}}\n"
    )
}

fn rows(recipe: &str, call: &[&str]) -> Vec<Value> {
    let mut arguments = vec!["run", "b", "--json", "--sizes", SIZES, "--in", "-"];
    arguments.extend(call);
    let ran = run(&arguments, recipe);
    assert!(ran.status < 2, "{}", ran.stderr);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["runs"][0]["sizes"]
        .as_array()
        .unwrap()
        .clone()
}

fn result(row: &Value, path: &str) -> f64 {
    number_of(&row["results"][path])
}

#[test]
fn three_ways_side_by_side() {
    let motif = "motif 3.6 mm, multiple 3";
    for (stated, hollow) in [
        (motif, ""),
        ("repeats 18", ""),
        (
            motif,
            "hollow { shell 0.6 mm, sleeve 0.8 mm, ridge 0.12 mm { wide 0.4 mm }, stage turning { play 0.06 mm } }",
        ),
    ] {
        let found = rows(
            &recipe(stated, hollow),
            &["--keep", "repeats,motif,outside"],
        );
        assert_eq!(found.len(), 12);
        // In its own size 2 pi 10.5 mm: 65.97 / 3.6 / 3 is 6.1, six times three repeats.
        let own = PI * 21.0 / 18.0;
        for (place, row) in found.iter().enumerate() {
            let bore = [16.0, 17.0, 18.4, 20.0][place / 3];
            let kept = &row["pattern"];
            if kept["thickness"].is_null() {
                // No sleeve is left there.
                assert!(
                    place % 3 == 2 && !hollow.is_empty() && bore >= 17.0 + 2.0 * 0.8,
                    "{row}"
                );
                continue;
            }
            let (count, stretch, thickness) = (
                kept["repeats"].as_u64().unwrap(),
                kept["stretch"].as_f64().unwrap(),
                kept["thickness"].as_f64().unwrap(),
            );
            let (outside, wanted): (f64, f64) = match place % 3 {
                0 => (bore + 4.0, 18.0),
                1 if stated == motif => {
                    let long = PI * (bore + 4.0);
                    (bore + 4.0, 3.0 * (long / 10.8).round())
                }
                1 => (bore + 4.0, (PI * (bore + 4.0) / own).round()),
                _ => (21.0, 18.0),
            };
            assert_eq!(kept["keep"], ["repeats", "motif", "outside"][place % 3]);
            assert_eq!(count as f64, wanted, "{row}");
            let pitch = PI * outside / wanted;
            assert!((stretch - (pitch / own - 1.0)).abs() < 1e-9, "{row}");
            assert!((thickness - (outside - bore) / 2.0).abs() < 1e-9, "{row}");
            assert!(agree(result(row, "outside"), outside, 1e-9), "{row}");
            // What the cut takes off the same outside is the same.
            match hollow {
                "" => assert!(kept["sleeve"].is_null()),
                _ => {
                    let taken = if place % 3 == 2 {
                        (bore - 17.0) / 2.0
                    } else {
                        0.0
                    };
                    assert!((kept["sleeve"].as_f64().unwrap() - (0.8 - taken)).abs() < 1e-9);
                }
            }
        }
        // The metal: a ring of revolution less what is cut of the same outside.
        if hollow.is_empty() {
            let weight = |place: usize| result(&found[place], "weight");
            let ring = |bore: f64| PI / 4.0 * (21.0 * 21.0 - bore * bore) * 5.0 * 0.01036;
            let cut = ring(17.0) - weight(5);
            for (place, bore) in [(2, 16.0), (8, 18.4), (11, 20.0)] {
                assert!(agree(ring(bore) - weight(place), cut, 1e-6), "{bore}");
            }
        }
    }
}

#[test]
fn a_recipe_says_what_it_keeps() {
    let keep = |word: &str| recipe(&format!("motif 3.6 mm, keep {word}"), "");
    for word in ["repeats", "motif", "outside"] {
        let said = rows(&keep(word), &[]);
        let asked = rows(&recipe("motif 3.6 mm", ""), &["--keep", word]);
        for (said, asked) in said.iter().zip(&asked) {
            assert_eq!(said["results"], asked["results"], "{word}");
            assert!(said.get("pattern").is_none());
        }
        // A call says more than the recipe.
        let both = rows(&keep("motif"), &["--keep", word]);
        assert_eq!(
            both.iter().map(|row| &row["results"]).collect::<Vec<_>>(),
            asked.iter().map(|row| &row["results"]).collect::<Vec<_>>()
        );
    }
    // Lines of an order in another size follow it too.
    let order = "prices { dated 2026-11-20, silver 1 EUR/g, copper 0.01 EUR/g }\norder o { dated 2026-11-20, b { 1 of 18.4 mm } }\n";
    let weight = |recipe: &str| {
        let ran = run(&["eval", "--json", "-"], &(order.to_owned() + recipe));
        let json: Value = serde_json::from_str(&ran.stdout).unwrap();
        json["recipes"][0]["orders"][0].clone()
    };
    let (outside, plain) = (
        weight(&keep("outside")),
        weight(&recipe("motif 3.6 mm", "")),
    );
    assert_ne!(outside, plain, "{outside}");
}

#[test]
fn the_walls_limit_what_takes_the_size_up() {
    let hollow = "hollow { shell 0.6 mm, sleeve 0.5 mm, ridge 0.12 mm { wide 0.4 mm }, stage turning { play 0.06 mm } }";
    let found = rows(&recipe("repeats 18", hollow), &["--keep", "outside"]);
    let said: Vec<&str> = found
        .iter()
        .map(|row| row["limits"].as_str().unwrap())
        .collect();
    // 0.5 mm less 0.7 mm is no sleeve; less 1.5 mm neither.
    assert_eq!(said[1], "holds", "{found:?}");
    assert!(said[2] != "holds" && said[3] != "holds", "{said:?}");
    let ran = run(
        &[
            "run", "b", "--sizes", SIZES, "--keep", "outside", "--in", "-",
        ],
        &recipe("repeats 18", hollow),
    );
    assert_eq!(ran.status, 1);
    assert!(
        ran.stdout.contains("outside") && ran.stdout.contains("repeats"),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_layer_says_repeats_in_one_way() {
    // Laid over, one does away with the other, and with what goes with it.
    let own = recipe("motif 3.6 mm, multiple 3", "");
    for (set, wanted) in [
        ("b.pattern.repeats=20", 20.0),
        ("b.pattern.motif=3 mm", 21.0),
    ] {
        let ran = run(
            &["ask", "--plain", "pattern.angle", "--in", "-", "--set", set],
            &own,
        );
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        let angle: f64 = ran
            .stdout
            .split(' ')
            .next()
            .unwrap()
            .trim()
            .parse()
            .unwrap();
        assert!(agree(angle, 360.0 / wanted, 1e-9), "{set} {angle}");
    }
    // At the prompt, in a row each.
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::write(folder.path().join("r.annulet"), own).unwrap();
    let script = "run [17 mm, 18 mm] keep motif, outside\nrun 18 mm keep all\n";
    let ran = run_in(folder.path(), &["bench", "r.annulet"], script.as_bytes());
    let said = ran.stdout + &ran.stderr;
    assert!(said.contains("motif") && said.contains("outside"), "{said}");
    assert!(said.contains("what stays the same is"), "{said}");
}
