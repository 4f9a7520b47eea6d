//! The published schema (JSON Schema, draft 2020-12) against every machine output the tests can make.
//!
//! Judged by a validator from outside the project (`boon`). Held against the acceptance list, point 28: the
//! schema accepts every output, and refuses one with a missing key, or with one that this release does not print.

use boon::{Compiler, SchemaIndex, Schemas};
use serde_json::{Value, json};

use crate::support::{band_with, files_under, read, run, run_in};

/// The schema, as the program publishes it.
pub struct Schema {
    schemas: Schemas,
    index: SchemaIndex,
}

impl Schema {
    pub fn published() -> Self {
        Self::published_at("")
    }

    /// One of its definitions, by its JSON pointer.
    pub fn published_at(pointer: &str) -> Self {
        let text = run(&["list", "schema"], "").stdout;
        assert_eq!(text, read("src/report/document.schema.json"));
        let schema: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.add_resource("urn:annulet", schema).unwrap();
        let place = format!("urn:annulet#{pointer}");
        let index = compiler.compile(&place, &mut schemas).unwrap();
        Self { schemas, index }
    }

    pub fn accepts(&self, output: &Value) -> Result<(), String> {
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
    assert_eq!(found["recipes"][0]["answers"].as_array().unwrap().len(), 2);
    let sizes = "[US 6, US 7, 3 mm]";
    let found = output(&["run", "--json", "--sizes", sizes, "--in", "-"], &recipe);
    assert_eq!(schema.accepts(&found), Ok(()), "{found:#}");
    let mut lacking = found.clone();
    lacking["recipes"][0]["runs"][0]["sizes"][0]
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
    lacking["recipes"][0]["contours"][0]["paths"][0]
        .as_object_mut()
        .unwrap()
        .remove("chord");
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
        let rows = output["recipes"][0]["comparisons"][0]["rows"].as_array();
        let rows = rows.unwrap();
        assert!(rows[0]["differs"] == true && rows.last().unwrap()["differs"] == false);
        refused_without_any_key(&schema, &output);
    }
}

/// Rows, solutions and choices: met, not met, of money, traded, with what was left out.
#[test]
fn what_goes_over_many_numbers_is_accepted_and_a_missing_key_is_refused() {
    let schema = Schema::published();
    let pair = [
        "--band",
        "harvest-light",
        "--in",
        "examples/market-day.annulet",
    ];
    let calls: &[(&[&str], i32)] = &[
        (
            &[
                "sweep",
                "prices.silver [36 USD/ozt, 1 EUR/g]",
                "show weight, cost, holds, size",
            ],
            0,
        ),
        (
            &[
                "sweep",
                "width [1 mm, 4 mm]",
                "show saving, wall.least",
                "where holds",
            ],
            0,
        ),
        (&["sweep", "width [1 mm]", "show saving, wall.least"], 1),
        (&["solve", "shell", "for cost = 300 EUR"], 0),
        (&["solve", "shell", "for saving = 1/3"], 0),
        (
            &["solve", "shell 0.5 mm .. 0.6 mm", "for cost = 900 EUR"],
            3,
        ),
        (
            &["solve", "size ISO 50 .. ISO 60 by 1", "for weight = 2.7 g"],
            3,
        ),
        (
            &[
                "choose",
                "shell 0.4 mm .. 0.8 mm",
                "alloy [rose-585, silver-925]",
                "least cost",
                "where wall.least >= 0.2 mm, break-even.gold >= 1 EUR/g",
                "against most wall.least",
            ],
            0,
        ),
        (
            &[
                "choose",
                "shell 0.5 mm .. 0.6 mm",
                "least weight",
                "where cost <= 1 EUR",
            ],
            3,
        ),
        (&["choose", "width [1 mm]", "least weight"], 3),
    ];
    for (call, status) in calls {
        let ran = run(&[call, &pair[..], &["--json"]].concat(), "");
        assert_eq!(ran.status, *status, "{call:?}: {}", ran.stderr);
        let found: Value = serde_json::from_str(&ran.stdout).unwrap();
        assert_eq!(schema.accepts(&found), Ok(()), "{call:?} {found:#}");
        refused_without_any_key(&schema, &found);
    }
    let told = |call: &[&str], pointer: &str| {
        let found = output(&[call, &pair[..], &["--json"]].concat(), "");
        found.pointer(pointer).unwrap().clone()
    };
    assert_eq!(
        told(calls[3].0, "/recipes/0/solutions/0/found/0/result"),
        json!({ "value": "300", "unit": "EUR", "display": "300.00 EUR" })
    );
}

/// A command that has no machine output of its own still says in a document what is wrong with its call.
#[test]
fn every_command_is_in_the_schema() {
    let schema = Schema::published();
    let help = run(&["--help"], "").stdout;
    let (_, commands) = help.split_once("Commands:").unwrap();
    let commands = commands
        .lines()
        .skip(1)
        .take_while(|line| line.starts_with("  "));
    // What a command does may go on in a second line, further in.
    let commands = commands.filter(|line| !line.starts_with("   "));
    let names: Vec<&str> = commands
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(names.len() > 20, "{help}");
    for name in names {
        let found = output(&[name, "--json", "--no-such-option"], "");
        assert_eq!(schema.accepts(&found), Ok(()), "{name}");
    }
}

/// How many keys of a document it cannot do without; every one but those that only some values have.
fn refused_without_any_key(schema: &Schema, whole: &Value) -> usize {
    let mut refused = 0;
    for (path, less) in without_one_key(whole) {
        let (before, key) = path.rsplit_once('/').unwrap_or(("", &path));
        // Which paths and columns a flat map holds depends on the recipe and the call.
        let of_map = before.ends_with("results")
            || before.ends_with("values")
            || before.starts_with("lists/") && before.contains("/rows/");
        let free = of_map || ["default", "spread", "within", "rests"].contains(&key);
        assert_eq!(schema.accepts(&less).is_ok(), free, "{path}");
        refused += usize::from(!free);
    }
    refused
}

#[test]
fn what_a_release_does_not_print_is_refused() {
    let schema = Schema::published();
    let found = output(&["eval", "--json", "-"], &band_with(&["thickness 0.1 mm"]));
    assert_eq!(schema.accepts(&found), Ok(()));
    for place in [
        "",
        "/recipes/0",
        "/recipes/0/bands/0",
        "/recipes/0/results/b.weight",
        "/recipes/0/results/b.alloy",
        "/findings/0",
    ] {
        let mut more = found.clone();
        more.pointer_mut(place).unwrap()["later"] = json!(1);
        assert!(schema.accepts(&more).is_err(), "{place}");
    }
}

#[test]
fn the_schema_tells_every_caution() {
    let schema: Value = serde_json::from_str(&read("src/report/document.schema.json")).unwrap();
    let told: Vec<(&str, &str)> = schema["$defs"]["caution"]["oneOf"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            (
                one["const"].as_str().unwrap(),
                one["description"].as_str().unwrap(),
            )
        })
        .collect();
    let known = annulet::evaluate::CAUTIONS.iter();
    let known: Vec<(&str, &str)> = known.map(|one| (one.name, one.text)).collect();
    assert_eq!(told, known);
}

/// Calls of every command, and of every way to fail.
const CALLS: &[(&[&str], i32)] = &[
    (&["eval", "--json", "good.annulet"], 0),
    (&["eval", "--json", "good.annulet", "thin.annulet"], 1),
    (
        &[
            "eval",
            "--json",
            "bad.annulet",
            "good.annulet",
            "nowhere.annulet",
        ],
        2,
    ),
    (&["eval", "--json", "nowhere.annulet"], 2),
    (&["eval", "--json", "empty"], 2),
    (&["eval", "--json", "."], 2),
    (&["eval", "--json", "--on", "today", "good.annulet"], 2),
    (&["eval", "--json", "--band", "x", "good.annulet"], 2),
    (
        &["eval", "--json", "--set", "widht=5 mm", "good.annulet"],
        2,
    ),
    (&["eval", "--json", "--csv", "good.annulet"], 2),
    (&["eval", "--json", "--jsn", "good.annulet"], 2),
    (&["--json", "evl"], 2),
    (&["check", "--json", "good.annulet"], 0),
    (&["check", "--json", "thin.annulet"], 1),
    (&["check", "--json", "nowhere.annulet"], 2),
    (&["ask", "--json", "weight", "--in", "good.annulet"], 0),
    (
        &["ask", "--json", "weight", "wieght", "--in", "good.annulet"],
        2,
    ),
    (&["ask", "--json", "weight", "--in", "nowhere.annulet"], 2),
    (&["ask", "--json"], 2),
    (&["why", "--json", "weight", "--in", "good.annulet"], 0),
    (&["why", "--json", "wieght", "--in", "good.annulet"], 2),
    (
        &["run", "--json", "--sizes", "ISO 54", "--in", "good.annulet"],
        0,
    ),
    (
        &["run", "--json", "--sizes", "ISO x", "--in", "good.annulet"],
        2,
    ),
    (&["compare", "--json", "b", "c", "--in", "two.annulet"], 0),
    (&["compare", "--json", "b", "d", "--in", "two.annulet"], 2),
    (&["offer", "--json", "--in", "good.annulet"], 2),
    (
        &[
            "sweep",
            "--json",
            "width [4 mm, 5 mm]",
            "show weight, alloy",
            "where holds",
            "--in",
            "good.annulet",
        ],
        0,
    ),
    (
        &["sweep", "--json", "widht [4 mm]", "--in", "good.annulet"],
        2,
    ),
    (&["list", "--json", "units"], 0),
    (&["list", "--json", "alloys", "yel"], 0),
    (&["list", "--json", "alloys", "sterling"], 0),
    (&["list", "--json", "sizes"], 0),
    (&["list", "--json", "rules"], 0),
    (&["list", "--json", "profiles"], 0),
    (&["list", "--json", "results", "weight"], 0),
    (&["list", "--json", "alloys", "xyz"], 2),
];

#[test]
fn every_call_prints_one_document_of_one_shape() {
    let schema = Schema::published();
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("empty")).unwrap();
    let two = band_with(&[]) + &band_with(&["width 6 mm"]).replace("band b", "band c");
    for (name, text) in [
        ("good", band_with(&[])),
        ("thin", band_with(&["thickness 0.15 mm"])),
        ("bad", band_with(&["width 5 mmm"])),
        ("two", two),
    ] {
        std::fs::write(folder.path().join(format!("{name}.annulet")), text).unwrap();
    }
    let mut shapes = Vec::new();
    for (call, status) in CALLS {
        let ran = run_in(folder.path(), call, b"");
        assert_eq!(ran.status, *status, "{call:?}: {}", ran.stderr);
        let found: Value = serde_json::from_str(&ran.stdout)
            .unwrap_or_else(|error| panic!("{call:?}: {error}\n{}", ran.stdout));
        assert_eq!(schema.accepts(&found), Ok(()), "{call:?}");
        assert_eq!(found["status"], *status, "{call:?}");
        let keys: Vec<String> = found.as_object().unwrap().keys().cloned().collect();
        shapes.push(keys);
        // Whatever is not well is in it, and on standard error too.
        let findings = found["findings"].as_array().unwrap();
        assert_eq!(findings.is_empty(), *status == 0, "{call:?}");
        assert_eq!(ran.stderr.is_empty(), *status == 0, "{call:?}");
        refused_without_any_key(&schema, &found);
    }
    shapes.dedup();
    assert_eq!(shapes.len(), 1, "{shapes:?}");
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
        refused += refused_without_any_key(&schema, &whole);
    }
    assert!(refused > 100, "{refused}");
}

#[test]
fn a_wrong_type_is_refused() {
    let schema = Schema::published();
    let whole = output(&["eval", "--json", "-"], &band_with(&[]));
    let changes = [
        ("/version", json!(1)),
        ("/annulet", json!("other")),
        ("/recipes/0/results/b.weight/value", json!("6,2")),
        ("/recipes/0/results/b.weight/unit", json!(3)),
        ("/recipes/0/bands/0/holds", json!("yes")),
        ("/on", json!("today")),
    ];
    for (path, value) in changes {
        let mut changed = whole.clone();
        *changed.pointer_mut(path).unwrap() = value;
        assert!(schema.accepts(&changed).is_err(), "{path}");
    }
}
