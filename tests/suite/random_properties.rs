//! What must hold of every recipe that [`crate::random_bands`] draws: it is sound, and an override of any of its
//! numbers is the edited text.
//!
//! Held against the language page's semantics of change and its rule that every field is reached every way; no
//! figures are expected.

use std::collections::{BTreeMap, BTreeSet};

use annulet::finding::Weight;
use annulet::schema::{Takes, of_band};
use annulet::session::Outcome;
use proptest::prelude::*;
use serde_json::Value as Json;

use crate::hollow::chance;
use crate::overrides_equal_edits::outcome;
use crate::random_bands::{Drawn, SEEDS, evaluated, of_seed, recipes};
use crate::random_recipe::Recipe;
use crate::support::agree;

fn is_wrong(outcome: &Outcome) -> bool {
    outcome.weight() >= Some(Weight::Wrong)
}

#[test]
fn random_recipes_are_sound_and_of_every_kind() {
    let mut kinds: BTreeMap<&str, (u32, u32)> = BTreeMap::new();
    let mut paths: BTreeSet<String> = BTreeSet::new();
    let (mut wrong, mut first) = (0, Vec::new());
    let mut texts: BTreeSet<String> = BTreeSet::new();
    for (seed, (drawn, outcome)) in evaluated().iter().enumerate() {
        let text = drawn.recipe.text();
        assert_eq!(text, of_seed(seed as u64).recipe.text());
        texts.insert(text);
        let failed = is_wrong(outcome);
        wrong += u32::from(failed);
        for kind in &drawn.kinds {
            let counts = kinds.entry(kind).or_default();
            counts.0 += 1;
            counts.1 += u32::from(failed);
        }
        if failed && first.len() < 5 {
            let found = outcome.findings.iter();
            let said: Vec<String> = found
                .filter(|one| one.weight() == Weight::Wrong)
                .map(|one| format!("{}: {}", one.code(), one.message()))
                .collect();
            first.push(format!(
                "{seed}: {}\n{}",
                said.join("; "),
                drawn.recipe.text()
            ));
        }
        paths.extend(drawn.recipe.paths());
    }
    let share = f64::from(wrong) / SEEDS as f64;
    assert!(
        share <= 0.05,
        "{wrong} wrong\n{kinds:?}\n{}",
        first.join("\n")
    );
    for (kind, (drawn, failed)) in &kinds {
        let most = (drawn / 8).max(2);
        assert!(
            *drawn >= 20 && *failed <= most,
            "{kind}: {failed} of {drawn} wrong"
        );
    }
    for kind in KINDS {
        assert!(kinds.contains_key(kind), "{kind} is never drawn");
    }
    // Every measured field of a band is written somewhere, so that properties over the corpus reach it.
    let written = |path: &str| paths.iter().any(|known| *known == format!("b.{path}"));
    let missing: Vec<&str> = of_band()
        .iter()
        .filter(|field| field.takes.is_measured() && field.takes != Takes::Fineness)
        .map(|field| field.path)
        // A drawing lies in a file of its own.
        .filter(|path| !path.starts_with("made.") && !path.starts_with("pattern.drawing."))
        // How thick a plating is moves no figure, only a verdict.
        .filter(|path| *path != "plating.thickness" && !written(path))
        .collect();
    assert_eq!(missing, Vec::<&str>::new());
    // Not all alike, either.
    assert_eq!(texts.len() as u64, SEEDS);
}

/// Kinds that the corpus must hold.
const KINDS: &[&str] = &[
    "flat",
    "weighed",
    "domed",
    "bevelled",
    "knife-edge",
    "concave",
    "custom",
    "named profile",
    "cylinder",
    "comfort",
    "size",
    "diameter",
    "solid",
    "uniform",
    "straight",
    "full",
    "plain",
    "lip",
    "one ridge",
    "two ridges",
    "relief",
    "fixed",
    "past",
    "turning",
    "patterned",
    "drawn",
    "cut before",
    "cut after",
    "start",
    "finish",
    "made",
    "own alloy",
    "prices",
    "order",
    "stock",
    "variant",
    "require",
    "meets",
    "mark",
    "solder",
    "assay",
];

/// What two outcomes differ in; none where they are the same. A standard deviation is a sum in the order of the text,
/// where an override stands behind it: its last digit may differ.
fn difference(found: &(String, Vec<String>), wanted: &(String, Vec<String>)) -> Option<String> {
    let mut parts = Vec::new();
    if found.1 != wanted.1 {
        parts.push(format!("{:?}\n{:?}", found.1, wanted.1));
    }
    if found.0 != wanted.0 {
        let json = |text: &str| serde_json::from_str(text).unwrap();
        differing("", &json(&found.0), &json(&wanted.0), &mut parts);
    }
    (!parts.is_empty()).then(|| parts.join("\n"))
}

fn differing(path: &str, found: &Json, wanted: &Json, parts: &mut Vec<String>) {
    let keys = |json: &Json| -> Vec<String> {
        let keys = json.as_object().into_iter().flatten();
        keys.map(|(key, _)| key.clone()).collect()
    };
    match (found, wanted) {
        (Json::Object(a), Json::Object(b)) if keys(found) == keys(wanted) => {
            for (key, value) in a {
                differing(&format!("{path}/{key}"), value, &b[key], parts);
            }
        }
        (Json::Array(a), Json::Array(b)) if a.len() == b.len() => {
            for (place, (one, other)) in a.iter().zip(b).enumerate() {
                differing(&format!("{path}/{place}"), one, other, parts);
            }
        }
        (Json::Number(a), Json::Number(b))
            // A speed by the minute has no exact figure by the second.
            if path.contains(".pattern.time")
                && agree(a.as_f64().unwrap(), b.as_f64().unwrap(), 1e-15) => {}
        (Json::Number(a), Json::Number(b))
            // A difference of two figures carries the last digits of both.
            if path.contains("/spread/")
                && agree(a.as_f64().unwrap(), b.as_f64().unwrap(), 1e-9) => {}
        _ if found == wanted => {}
        _ => parts.push(format!("{path}: {found} | {wanted}")),
    }
}

/// What is wrong with a number moved by `--set`, as a value and as a step.
fn moved_otherwise(recipe: &Recipe, place: usize) -> Option<String> {
    let moved = recipe.moved(place);
    let text = recipe.text();
    let set = format!("{}={}", moved.path, moved.value);
    let mut laid = outcome(&text, vec![set.clone()]);
    let mut edited = outcome(&moved.set, Vec::new());
    // That a written `±` is gone is said of the override, and there is none in the edited text.
    let dropped = "model::deviation_dropped";
    if moved.had_deviation && !laid.1.iter().any(|code| code == dropped) {
        return Some(format!("{set} drops a deviation in silence\n{text}"));
    }
    laid.1.retain(|code| code != dropped);
    edited.1.retain(|code| code != dropped);
    // A fault in an override leaves no figures beside it; in the text it leaves the bands that it does not reach, and
    // what is found in evaluating them. What is wrong with the recipe itself is the same in both.
    let faults = ["model::composition", "model::out_of_range"];
    let refused = laid.1.iter().any(|code| faults.contains(&code.as_str()));
    let of_recipe = |codes: &[String]| -> Vec<String> {
        let kept = codes.iter().filter(|code| !code.starts_with("evaluate::"));
        kept.cloned().collect()
    };
    let said = laid.1.iter().all(|code| edited.1.contains(code));
    if refused && said && of_recipe(&laid.1) == of_recipe(&edited.1) {
        return None;
    }
    if let Some(wrong) = difference(&laid, &edited) {
        return Some(format!("{set}\n{wrong}\n{text}"));
    }
    let step = format!("{} + {}", moved.path, moved.step?);
    let stepped = outcome(&text, vec![step.clone()]);
    let wrong = difference(&stepped, &outcome(&moved.stepped, Vec::new()))?;
    Some(format!("{step}\n{wrong}\n{text}"))
}

proptest! {
    #![proptest_config(chance(100))]

    #[test]
    fn a_number_moved_by_an_override_is_the_edited_text(drawn in recipes(), which in any::<prop::sample::Index>()) {
        let place = which.index(drawn.recipe.paths().len());
        let wrong = moved_otherwise(&drawn.recipe, place);
        prop_assert!(wrong.is_none(), "{}", wrong.unwrap());
    }
}

#[test]
fn every_number_of_a_recipe_can_be_moved_by_an_override() {
    every_other_moved(0);
}

/// The other half, so that both run side by side.
#[test]
fn every_other_number_of_a_recipe_can_be_moved_by_an_override() {
    every_other_moved(1);
}

/// Moves each path once, those at even or at odd places among all that are seen.
fn every_other_moved(odd: usize) {
    let mut seen = BTreeSet::new();
    let mut wrong = Vec::new();
    // Drawn cuts take longest, so that what stands in other bands too is moved there.
    let is_drawn = |one: &Drawn| one.kinds.contains(&"drawn");
    let (slow, quick): (Vec<Drawn>, Vec<Drawn>) = (0..SEEDS).map(of_seed).partition(is_drawn);
    for drawn in quick.iter().chain(&slow) {
        for (place, path) in drawn.recipe.paths().into_iter().enumerate() {
            if seen.insert(path) && seen.len() % 2 == odd {
                wrong.extend(moved_otherwise(&drawn.recipe, place));
            }
        }
    }
    assert!(seen.len() > 120, "{seen:?}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
