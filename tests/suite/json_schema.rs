//! The published schema (JSON Schema, draft 2020-12) against every machine output the tests can make.
//!
//! Judged by a validator from outside the project (`boon`). Held against the acceptance list, point 28: the
//! schema accepts every output, and refuses one with a missing key; additions pass, as the promise of the
//! language page wants.

use boon::{Compiler, SchemaIndex, Schemas};
use serde_json::{Value, json};

use crate::support::{band_with, files_under, read, run};

/// The schema, as the program publishes it.
struct Schema {
    schemas: Schemas,
    index: SchemaIndex,
}

impl Schema {
    fn published() -> Self {
        let text = run(&["list", "schema"], "").stdout;
        assert_eq!(text, read("src/report/results.schema.json"));
        let schema: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.add_resource("urn:annulet", schema).unwrap();
        let index = compiler.compile("urn:annulet", &mut schemas).unwrap();
        Self { schemas, index }
    }

    fn accepts(&self, output: &Value) -> Result<(), String> {
        let verdict = self.schemas.validate(output, self.index);
        verdict.map_err(|error| format!("{error:#}"))
    }
}

/// Machine output of a call.
fn output(arguments: &[&str], stdin: &str) -> Value {
    let ran = run(arguments, stdin);
    serde_json::from_str(&ran.stdout).unwrap_or_else(|_| panic!("{arguments:?}\n{}", ran.stderr))
}

/// Recipes of every kind: examples, cases of every finding, and some that use what those do not.
fn recipes() -> Vec<String> {
    let files = ["examples", "tests/suite/cases"]
        .iter()
        .flat_map(|folder| files_under(folder, ".annulet"));
    let mut recipes: Vec<String> = files.map(|file| read(&file)).collect();
    assert!(recipes.len() > 40);
    recipes.extend([
        String::new(),
        band_with(&[
            "width 5 mm \u{B1} 0.1 mm",
            "thickness 2 \u{B1} 0.05 mm",
            "title \"a \\\"b\\\"\"",
        ]),
        band_with(&["size UK N \u{B1} 1/2", "comfort 0.2 mm"]),
        band_with(&["alloy rose"]) + "alloy rose { gold 585, copper 325, silver 90 }",
        band_with(&["width 5 mm", "width 6 mm"]),
        format!(
            "{}require b.weight <= 1 g\nrequire b.weight >= 1 g\n",
            band_with(&[])
        ),
        "band b {".to_owned(),
    ]);
    recipes
}

#[test]
fn every_output_is_accepted() {
    let schema = Schema::published();
    for recipe in recipes() {
        for arguments in [&["eval", "--json", "-"][..], &["check", "--json", "-"]] {
            let found = output(arguments, &recipe);
            assert_eq!(schema.accepts(&found), Ok(()), "{arguments:?}\n{recipe}");
        }
    }
}

#[test]
fn answers_and_reasons_are_accepted() {
    let schema = Schema::published();
    let recipe = format!(
        "let day = 2026-11-25\nlet some = [1 mm, 2 mm]\n{}",
        band_with(&["width 5 mm \u{B1} 0.1 mm", "title \"x\"", "size US 7"])
    );
    let questions = [
        "weight",
        "weight in dwt",
        "size",
        "size in UK",
        "title",
        "width",
        "day",
        "some",
        "1 / 3",
        "weight > 1 g",
        "1/2",
        "alloy",
        "profile",
    ];
    for question in questions {
        let found = output(&["ask", "--json", question, "--in", "-"], &recipe);
        assert_eq!(schema.accepts(&found), Ok(()), "{question}: {found:#}");
    }
    let found = output(&["ask", "--json", "weight", "size", "--in", "-"], &recipe);
    assert_eq!(found["answers"].as_array().unwrap().len(), 2);
    let sizes = "[US 6, US 7, 3 mm]";
    let found = output(&["run", "--json", "--sizes", sizes, "--in", "-"], &recipe);
    assert_eq!(schema.accepts(&found), Ok(()), "{found:#}");
    let mut lacking = found.clone();
    lacking["sizes"][0]
        .as_object_mut()
        .unwrap()
        .remove("results");
    assert!(schema.accepts(&lacking).is_err());
    let found = output(
        &["contour", "--json", "--nose", "0.2 mm", "--in", "-"],
        &recipe,
    );
    assert_eq!(schema.accepts(&found), Ok(()), "{found:#}");
    let mut lacking = found.clone();
    lacking["paths"][0].as_object_mut().unwrap().remove("chord");
    assert!(schema.accepts(&lacking).is_err());
    for path in ["weight", "width", "size", "density"] {
        let found = output(&["why", "--json", path, "--in", "-"], &recipe);
        assert_eq!(schema.accepts(&found), Ok(()), "{path}: {found:#}");
    }
}

#[test]
fn comparisons_are_accepted_and_a_missing_key_is_refused() {
    let schema = Schema::published();
    let pair = "examples/workshop-pair.annulet";
    let calls: [&[&str]; 2] = [
        &["millstone", "millstone-light"],
        &["millstone-light", "solid"],
    ];
    for bands in calls {
        let mut call = vec!["compare", "--json", "--on", "2026-11-25", "--in", pair];
        call.extend(bands);
        let output = output(&call, "");
        schema.accepts(&output).unwrap();
        let rows = output["rows"].as_array().unwrap();
        assert!(rows[0]["differs"] == true && rows.last().unwrap()["differs"] == false);
        for (path, less) in without_one_key(&output) {
            // Which columns there are depends on the call.
            let is_column = path.starts_with("rows/0/values/") && path.matches('/').count() == 3;
            let free = is_column || path.ends_with("spread") || path.ends_with("within");
            assert_eq!(schema.accepts(&less).is_ok(), free, "{path}");
        }
    }
}

#[test]
fn several_recipes_of_one_call_are_accepted() {
    let schema = Schema::published();
    let two = [
        "eval",
        "--json",
        "examples/harvest.annulet",
        "examples/harvest.annulet",
    ];
    let found = output(&two, "");
    assert_eq!(found.as_array().unwrap().len(), 2);
    assert_eq!(schema.accepts(&found), Ok(()));
}

#[test]
fn additions_pass() {
    let schema = Schema::published();
    let mut found = output(&["eval", "--json", "-"], &band_with(&[]));
    found["later"] = json!(1);
    found["bands"][0]["later"] = json!({});
    found["results"]["b.weight"]["later"] = json!([]);
    assert_eq!(schema.accepts(&found), Ok(()));
}

/// Every way to take one key out of an object somewhere in a value; paths name what was taken.
fn without_one_key(value: &Value) -> Vec<(String, Value)> {
    let mut all = Vec::new();
    match value {
        Value::Object(object) => {
            for (key, inner) in object {
                let mut less = object.clone();
                less.shift_remove(key);
                all.push((key.clone(), Value::Object(less)));
                for (path, changed) in without_one_key(inner) {
                    let mut other = object.clone();
                    other[key] = changed;
                    all.push((format!("{key}/{path}"), Value::Object(other)));
                }
            }
        }
        Value::Array(items) => {
            // One item stands for all.
            for (path, changed) in items.first().map(without_one_key).into_iter().flatten() {
                let mut other = items.clone();
                other[0] = changed;
                all.push((format!("0/{path}"), Value::Array(other)));
            }
        }
        _ => {}
    }
    all
}

#[test]
fn a_missing_key_is_refused() {
    let schema = Schema::published();
    let recipe = format!(
        "{}require b.weight <= 1 g\n",
        band_with(&[
            "widht 5 mm",
            "width 5 mm",
            "pattern { depth 0.2 mm, cover 50 % }"
        ])
    ) + &band_with(&["alloy silver-925", "pattern { depth 0.2 mm, cover 50 % }"])
        .replace("band b", "band c");
    let outputs = [
        output(&["eval", "--json", "-"], &recipe),
        output(&["check", "--json", "-"], &recipe),
        output(&["ask", "--json", "c.weight", "--in", "-"], &recipe),
        output(&["why", "--json", "c.weight", "--in", "-"], &recipe),
        output(
            &[
                "eval",
                "--json",
                "examples/harvest.annulet",
                "examples/harvest.annulet",
            ],
            "",
        ),
    ];
    let mut refused = 0;
    for whole in outputs {
        assert_eq!(schema.accepts(&whole), Ok(()));
        for (path, less) in without_one_key(&whole) {
            // Which paths a flat map holds depends on the recipe.
            let of_map = path.rsplit('/').nth(1) == Some("results")
                || path.starts_with("results/") && path.matches('/').count() == 1;
            let free = of_map || path.ends_with("spread") || path.ends_with("within");
            assert_eq!(schema.accepts(&less).is_ok(), free, "{path}");
            refused += usize::from(!free);
        }
    }
    assert!(refused > 100, "{refused}");
}

#[test]
fn a_wrong_type_is_refused() {
    let schema = Schema::published();
    let whole = output(&["eval", "--json", "-"], &band_with(&[]));
    let changes = [
        ("/version", json!(2)),
        ("/annulet", json!("other")),
        ("/results/b.weight/value", json!("6.2")),
        ("/results/b.width/value", json!(5.0)),
        ("/results/b.weight/unit", json!(3)),
        ("/bands/0/holds", json!("yes")),
        ("/on", json!("today")),
    ];
    for (path, value) in changes {
        let mut changed = whole.clone();
        *changed.pointer_mut(path).unwrap() = value;
        assert!(schema.accepts(&changed).is_err(), "{path}");
    }
}
