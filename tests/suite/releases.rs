//! Recipes of earlier versions come to the same figures, or the catalogue says which moved and why.
//!
//! The recipes and what they came to were written by the released program itself, and are never written anew: a figure
//! that moves for no stated reason fails, and so does a reason that nothing moves for.

use std::collections::{BTreeMap, BTreeSet};

use annulet::catalogue::{MovedResults, moved};
use serde_json::Value;

use crate::support::{agree, files_under, read, run};

/// Versions whose figures are stored.
const RELEASES: &[&str] = &["0.1.0"];

/// What the last digits of a sum may differ by.
const ALIKE: f64 = 1e-9;

fn number(value: &Value) -> Option<f64> {
    value.as_f64().or_else(|| value.as_str()?.parse().ok())
}

fn same(old: &Value, new: &Value) -> bool {
    let numbers = number(old).zip(number(new));
    let alike =
        numbers.is_some_and(|(old, new)| agree(new, old, ALIKE) || (old - new).abs() < 1e-12);
    old == new || alike
}

#[test]
fn what_an_older_recipe_comes_to_is_the_same_or_said_to_have_moved() {
    let rows: Vec<MovedResults> = moved().collect();
    let mut used: BTreeSet<(usize, bool)> = BTreeSet::new();
    let (mut compared, mut wrong) = (0, Vec::new());
    for release in RELEASES {
        let folder = format!("tests/suite/releases/{release}");
        let stored = read(&format!("{folder}/results.json"));
        let stored: BTreeMap<String, BTreeMap<String, Value>> =
            serde_json::from_str(&stored).unwrap();
        assert_eq!(stored.len(), files_under(&folder, ".annulet").len());
        for (name, results) in &stored {
            let found = run(&["eval", "--json", &format!("{folder}/{name}.annulet")], "");
            let found: Value = serde_json::from_str(&found.stdout).unwrap();
            let recipe = &found["recipes"][0];
            let bands = recipe["bands"].as_array().unwrap();
            let bands: Vec<&str> = bands
                .iter()
                .map(|band| band["name"].as_str().unwrap())
                .collect();
            for (full, old) in results {
                compared += 1;
                let new = recipe["results"].get(full).map(|of| &of["value"]);
                if new.is_some_and(|new| same(old, new)) {
                    continue;
                }
                let of_band = bands
                    .iter()
                    .filter_map(|band| full.strip_prefix(band)?.strip_prefix('.'));
                let path = of_band.min_by_key(|path| path.len()).unwrap_or(full);
                let lost = new.is_none();
                let mut reasons = rows.iter().enumerate();
                match reasons
                    .find(|(_, row)| row.version.as_str() > *release && row.tells(path, lost))
                {
                    Some((row, _)) => {
                        used.insert((row, lost));
                    }
                    None => wrong.push(format!("{release} {name}: {full} {old} now {new:?}")),
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(compared > 2000, "{compared}");
    for (place, row) in rows.iter().enumerate() {
        assert!(used.contains(&(place, false)), "nothing moved for {row:?}");
        assert!(
            used.contains(&(place, true)) != row.lost.is_empty(),
            "{row:?}"
        );
    }
}

#[test]
fn the_list_of_what_moved_tells_version_and_reason() {
    let shown = run(&["list", "moved", "--json"], "").stdout;
    let shown: Value = serde_json::from_str(&shown).unwrap();
    let told: usize = moved().map(|row| row.results.len()).sum();
    let text = shown.to_string();
    assert!(told > 10 && text.matches("0.2.0").count() >= told, "{text}");
}
