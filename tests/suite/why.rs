//! Why a value is what it is: every place that set a field, in order; formula and inputs of a result.
//!
//! Held against the language page's seventh principle and order of strength, and the acceptance list's point 16.

use std::fs;

use serde_json::Value;

use crate::bench::bench_on;
use crate::support::{Ran, band_with, run, run_in};

fn why(recipe: &str, arguments: &[&str]) -> Ran {
    let mut all = vec!["why", "--in", "-"];
    all.extend(arguments);
    run(&all, recipe)
}

/// The tree as text; there must be one, and nothing else to say.
fn tree(recipe: &str, arguments: &[&str]) -> String {
    let ran = why(recipe, arguments);
    assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{arguments:?}");
    ran.stdout
}

/// The tree as JSON.
fn json(recipe: &str, arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.push("--json");
    serde_json::from_str(&tree(recipe, &all)).unwrap()
}

fn cut() -> String {
    format!(
        "let cut = 0.30 mm\n{}",
        band_with(&["pattern { repeats 18, depth cut, cover 90 % }"])
    )
}

const WEIGHT: &str = "\
b.weight = ≈ 5.274 g
    finished weight
    by volume * density + solder
  b.volume = ≈ 509.11 mm3
      finished volume of the metal
      by volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx along the outside as it is when cut
    b.volume.uncut = ≈ 596.90 mm3
        volume of the metal before the pattern is cut
        by 2 pi * integral of r dA over the section (Pappus and Guldinus)
    b.pattern.depth = 0.3 mm
        greatest depth, radial, to the tool tip
        <stdin>:8:25: depth cut
    b.pattern.cover = 90 %
        part of the outside that is cut
        <stdin>:8:36: cover 90 %
  b.density = 10.36 g/cm3
      density of the band's alloy
      by stated, or 1 / sum of (part / density of the element)
    b.alloy = silver-925
        the metal
        <stdin>:6:3: alloy silver-925
    silver-925.density = 10.36 g/cm3
        density of silver-925 (silver 925, copper 75)
        built-in alloy: technical data, sterling silver (labels of solidus and liquidus stand interchanged) (read)
";

const WIDTH: &str = "\
b.width = 6 mm
    axial width
    <stdin>:4:3: width 5 mm
    --set: width 6 mm  <- holds
";

#[test]
fn the_trees_of_a_result_and_of_a_field() {
    // The order of fields in the text is that of the words that are there to be read.
    let recipe = "let cut = 0.30 mm\nband b {\n  size 17 mm\n  width 5 mm\n  thickness 2 mm\n  alloy silver-925\n  \
                  profile flat\n  pattern { repeats 18, depth cut, cover 90 % }\n}\n";
    assert_eq!(tree(recipe, &["weight", "--depth", "2"]), WEIGHT);
    assert_eq!(tree(recipe, &["width", "--set", "width=6 mm"]), WIDTH);
    assert_eq!(
        tree(recipe, &["comfort"]),
        "b.comfort = 0 mm\n    radial opening of the bore at its edges; 0 is a cylinder\n    default (definition): 0 mm\n"
    );
}

#[test]
fn a_depth_bounds_the_tree() {
    let deepest = |node: &Value| {
        fn deep(node: &Value) -> usize {
            let inputs = node["inputs"].as_array().unwrap();
            inputs.iter().map(|one| 1 + deep(one)).max().unwrap_or(0)
        }
        deep(node)
    };
    let whole = tree(&cut(), &["weight"]);
    for (depth, wanted) in [("0", 0), ("1", 1)] {
        let found = json(&cut(), &["weight", "--depth", depth]);
        assert_eq!(
            deepest(&found["recipes"][0]["reasons"][0]),
            wanted,
            "{depth}"
        );
    }
    let mut before = 0;
    for depth in ["0", "1", "2", "3", "4"] {
        let lines = tree(&cut(), &["weight", "--depth", depth]).lines().count();
        assert!(lines > before || depth == "4", "{depth}");
        before = lines;
    }
    assert_eq!(tree(&cut(), &["weight", "--depth", "1000000"]), whole);
    // A field has its places at any depth.
    assert_eq!(
        tree(&cut(), &["width", "--depth", "0"]),
        tree(&cut(), &["width"])
    );
}

#[test]
fn every_place_in_order_and_the_last_one_holds() {
    let folder = tempfile::tempdir().unwrap();
    let files = [
        (
            "house/stock.annulet",
            band_with(&["comfort 0.1 mm", "temper hard"])
                .replace("band b", "band stock")
                .replace("silver-925", "house")
                + "let cut = 0.1 mm\nalloy house { silver 925, copper 75, density 10.3 g/cm3\n temper hard { yield 300 MPa } }\n",
        ),
        (
            "r.annulet",
            "use \"house/stock.annulet\"\nlet cut = 0.2 mm\nvariant p of stock { comfort 0.2 mm }\nvariant c of p {\n  comfort cut\n}\n"
                .to_owned(),
        ),
    ];
    for (name, text) in &files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    let sets = ["--set", "c.comfort=0.25 mm", "--set", "p.comfort=0.22 mm"];
    let other = ["--set", "p.comfort=0.22 mm", "--set", "c.comfort=0.25 mm"];
    let ask = |sets: &[&str], path: &str| {
        let mut arguments = vec!["why", path, "--in", "r.annulet"];
        arguments.extend(sets);
        let ran = run_in(folder.path(), &arguments, b"");
        assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{path}");
        ran.stdout
    };
    // Default, used file, parent, what is laid over the parent, child, what is laid over the child.
    assert_eq!(
        ask(&sets, "c.comfort"),
        "c.comfort = 0.25 mm\n    radial opening of the bore at its edges; 0 is a cylinder\n\
         \x20   default (definition): 0 mm\n\
         \x20   house/stock.annulet:7:3: comfort 0.1 mm\n\
         \x20   r.annulet:3:22: comfort 0.2 mm\n\
         \x20   --set: p.comfort 0.22 mm\n\
         \x20   r.annulet:5:3: comfort cut\n\
         \x20   --set: c.comfort 0.25 mm  <- holds\n"
    );
    // The order of options is not one of strength.
    for path in ["c.comfort", "p.comfort", "stock.comfort"] {
        assert_eq!(ask(&sets, path), ask(&other, path), "{path}");
    }
    // A `let` of the used file, of this file, and laid over.
    assert_eq!(
        ask(&["--set", "cut=0.3 mm"], "cut"),
        "cut = 0.3 mm\n    a value that the recipe names\n\
         \x20   house/stock.annulet:10:1: let cut = 0.1 mm\n\
         \x20   r.annulet:2:1: let cut = 0.2 mm\n\
         \x20   --set: cut 0.3 mm  <- holds\n"
    );
    // Bands of used files can be asked of too; the alloy is told where it is defined.
    let alloy = ask(&[], "stock.alloy");
    assert!(
        alloy.contains("house/stock.annulet:6:3: alloy house\n")
            && alloy.contains("house.density = 10.3 g/cm3\n")
            && alloy.contains("house/stock.annulet:11:38: density 10.3 g/cm3"),
        "{alloy}"
    );
}

#[test]
fn what_is_tried_over_a_formula_no_longer_follows_from_it() {
    let text = format!(
        "let cut = 0.2 mm\n{}variant c of b {{ comfort cut }}\n",
        band_with(&["comfort 0.1 mm"])
    );
    let (mut bench, _) = bench_on(&text);
    let mut why = |line: &str| {
        assert!(!bench.step(line).refused, "{line}");
        bench.step("why c.comfort").text
    };
    assert!(why("try b.comfort 0.12 mm").contains("  cut = 0.2 mm\n"));
    let told = why("try c.comfort 0.25 mm");
    assert!(!told.contains("cut = 0.2 mm"), "{told}");
    // What is tried of the band that it is made of stands before what it says itself.
    let places = [
        "0.1 mm\n",
        "try: b.comfort 0.12 mm\n",
        "comfort cut\n",
        "holds\n",
    ];
    let found: Vec<Option<usize>> = places.iter().map(|place| told.find(place)).collect();
    assert!(
        found.is_sorted() && found.iter().all(Option::is_some),
        "{told}"
    );
}

#[test]
fn a_profile_block_is_a_place_like_others() {
    let recipe = format!(
        "profile soft domed {{ edge 1.2 mm }}\n{}variant v of b {{ profile soft {{ edge 1.1 mm }} }}\nvariant w of v {{ profile flat }}\n",
        band_with(&["profile soft"])
    );
    let places = |path: &str| -> Vec<String> {
        let found = json(&recipe, &[path]);
        let places = found["recipes"][0]["reasons"][0]["places"]
            .as_array()
            .unwrap()
            .clone();
        places
            .iter()
            .map(|one| {
                let line = one["place"]
                    .as_str()
                    .unwrap()
                    .trim_start_matches("<stdin>:");
                format!("{line} {}", one["text"].as_str().unwrap())
            })
            .collect()
    };
    assert_eq!(
        places("b.profile"),
        ["7:3 profile soft", "1:1 profile soft domed"]
    );
    assert_eq!(places("b.profile.edge"), ["1:22 edge 1.2 mm"]);
    assert_eq!(
        places("v.profile.edge"),
        ["1:22 edge 1.2 mm", "9:33 edge 1.1 mm"]
    );
    assert_eq!(
        places("w.profile"),
        [
            "7:3 profile soft",
            "9:18 profile soft",
            "10:18 profile flat"
        ]
    );
}

#[test]
fn the_machine_form_has_a_fixed_shape() {
    let found = json(&cut(), &["weight", "--depth", "1", "--on", "2026-11-25"]);
    assert_eq!(found["annulet"], "why");
    assert_eq!(found["on"], "2026-11-25");
    let node = &found["recipes"][0]["reasons"][0];
    let keys: Vec<&String> = node.as_object().unwrap().keys().collect();
    assert_eq!(
        keys,
        ["path", "value", "meaning", "formula", "places", "inputs"]
    );
    assert_eq!(node["path"], "b.weight");
    assert!(node["value"]["value"].is_f64());
    assert_eq!(node["value"]["unit"], "g");
    assert_eq!(node["formula"], "volume * density + solder");
    assert_eq!(node["inputs"][0]["path"], "b.volume");
    // What a value is: written, its default, or computed; the same as in the results.
    let results = run(&["eval", "--json", "-"], &cut());
    let results: Value = serde_json::from_str(&results.stdout).unwrap();
    for path in [
        "b.width",
        "b.comfort",
        "b.temper",
        "b.weight",
        "b.bore",
        "b.pattern.depth",
    ] {
        let found = json(&cut(), &[path, "--depth", "0"]);
        let result = &results["recipes"][0]["results"][path];
        let found = &found["recipes"][0]["reasons"][0];
        assert_eq!(found["path"], path);
        for key in ["value", "unit", "default", "display"] {
            assert_eq!(found["value"][key], result[key], "{path}: {key}");
        }
    }
}

#[test]
fn every_result_and_field_has_a_reason() {
    for recipe in ["examples/hollow-lane.annulet", "examples/harvest.annulet"] {
        let ran = run(&["eval", "--json", recipe], "");
        let results: Value = serde_json::from_str(&ran.stdout).unwrap();
        let results = results["recipes"][0]["results"]
            .as_object()
            .unwrap()
            .clone();
        // One process for each path would be slow, so the library is asked.
        let text = crate::support::read(recipe);
        let mut session = annulet::session::Session::default();
        let outcome = session.run(recipe, &text, &annulet::session::Request::default());
        for path in results.keys() {
            let (why, problems) = session.why(path, &outcome, 3);
            assert!(problems.is_empty(), "{path}: {problems:?}");
            let why = why.unwrap_or_else(|| panic!("{path}"));
            assert_eq!(&why.path, path);
            assert!(!why.meaning.is_empty(), "{path}");
            // A field has a place; a result has a formula, and inputs that can be followed.
            match &why.formula {
                Some(formula) => assert!(!formula.is_empty() && !why.inputs.is_empty(), "{path}"),
                None => assert!(!why.places.is_empty(), "{path}"),
            }
        }
    }
}

#[test]
fn what_has_no_reason_is_said() {
    let cases = [
        ("width + 1 mm", 2, "`why` takes a path, not an expression"),
        ("widht", 2, "did you mean `width`?"),
        ("c.width", 2, "not known"),
        ("shell", 2, "not known"),
        ("b.title", 2, "not known"),
        ("", 2, "question"),
    ];
    for (path, status, said) in cases {
        let ran = why(&band_with(&[]), &[path]);
        assert_eq!((ran.status, ran.stdout.as_str()), (status, ""), "{path}");
        assert!(ran.stderr.contains(said), "{path}: {}", ran.stderr);
    }
    // A recipe that falls short still answers, with its own status.
    let thin = why(&band_with(&["thickness 0.15 mm"]), &["thickness"]);
    assert_eq!(thin.status, 1);
    assert!(thin.stdout.starts_with("b.thickness = 0.15 mm\n"));
}
