//! Machine output: JSON and CSV promises, and that answers read back to the same value.
//!
//! Held against the acceptance list's points 20, 21, 28, 29 and 32. CSV is read back by the `csv` crate.

use std::fs;

use serde_json::Value;
use tempfile::TempDir;

use crate::support::{ask, band_with, number, plain, read, results, run, run_in};

fn json_of(recipe: &str) -> Value {
    serde_json::from_str(&run(&["eval", "--json", "-"], recipe).stdout).unwrap()
}

fn keys(value: &Value) -> Vec<String> {
    value.as_object().unwrap().keys().cloned().collect()
}

#[test]
fn keys_stand_in_a_fixed_order() {
    let whole = json_of(&band_with(&["thickness 0.15 mm"]));
    let top = [
        "annulet", "version", "edition", "on", "recipes", "lists", "findings", "status",
    ];
    assert_eq!(keys(&whole), top);
    assert_eq!(
        (&whole["version"], &whole["edition"]),
        (&2.into(), &1.into())
    );
    let quantity = ["value", "unit", "display"];
    for (path, one) in whole["recipes"][0]["results"].as_object().unwrap() {
        if one.get("unit").is_some() {
            assert_eq!(keys(one)[..quantity.len()], quantity, "{path}");
        } else {
            assert_eq!(keys(one)[0], "value", "{path}");
        }
    }
    let finding = [
        "code", "severity", "message", "file", "line", "column", "end", "span", "label", "related",
        "help", "repair", "band", "field", "wall",
    ];
    assert_eq!(keys(&whole["findings"][0]), finding);
}

#[test]
fn results_stand_in_one_order_whatever_the_recipe_writes_first() {
    let lines = [
        "alloy silver-925",
        "profile flat",
        "thickness 2 mm",
        "width 5 mm",
        "size 17 mm",
    ];
    let turned: String = lines.iter().map(|line| format!("  {line}\n")).collect();
    let turned = format!("band b {{\n{turned}}}\n");
    assert_eq!(json_of(&turned), json_of(&band_with(&[])));
    assert_eq!(
        keys(&json_of(&turned)["recipes"][0]["results"]),
        keys(&json_of(&band_with(&[]))["recipes"][0]["results"])
    );
}

#[test]
fn written_quantities_are_exact_strings_and_computed_ones_numbers() {
    let recipe = band_with(&["width 0.1 mm + 4.9 mm", "thickness 0.200 cm"]);
    let found = results(&recipe);
    for (path, value, unit) in [
        ("b.width", "5", "mm"),
        ("b.thickness", "0.2", "cm"),
        ("b.size", "17", "mm"),
        ("b.outside", "21", "mm"),
        ("b.bore", "17", "mm"),
        ("b.strip.height", "5", "mm"),
        ("b.density", "10.36", "g/cm3"),
    ] {
        assert_eq!(found[path]["value"], value, "{path}");
        assert_eq!(found[path]["unit"], unit, "{path}");
    }
    for path in ["b.weight", "b.volume", "b.strip.length"] {
        assert!(found[path]["value"].is_f64(), "{path}");
    }
    assert!(found["b.width"].get("default").is_none());
    assert_eq!(found["b.comfort"]["default"], true);
}

#[test]
fn core_results_are_there() {
    let found = results(&read("examples/harvest.annulet"));
    for path in [
        "weight",
        "weight.uncut",
        "weight.cut",
        "volume",
        "volume.uncut",
        "wall.least",
        "bore",
        "outside",
        "strip.length",
        "strip.height",
        "density",
        "size.circumference",
    ] {
        assert!(number(&found, &format!("harvest.{path}")) > 0.0, "{path}");
    }
    let listed = run(&["list", "results"], "").stdout;
    let words: Vec<&str> = listed.split_whitespace().collect();
    let is_field = |path: &str| {
        let path = path.split_once('.').unwrap().1;
        annulet::schema::find(path).is_some()
    };
    for path in found.keys().filter(|path| !is_field(path)) {
        let listed = path.replacen("harvest", "BAND", 1);
        assert!(words.contains(&listed.as_str()), "{path}");
    }
}

#[test]
fn plain_answers_read_back_to_the_same_value() {
    let recipe = read("examples/harvest.annulet");
    for (path, result) in results(&recipe) {
        let path = path.strip_prefix("harvest.").unwrap();
        let Some(unit) = result["unit"].as_str() else {
            continue;
        };
        let answer = plain(&recipe, &format!("{path} in {unit}"));
        match &result["value"] {
            Value::Number(number) => {
                let (read, wanted): (f64, f64) =
                    (answer.parse().unwrap(), number.as_f64().unwrap());
                // Through a density's base unit and back a last digit may turn.
                assert!(
                    (read - wanted).abs() <= 2e-16 * wanted.abs(),
                    "{path}: {answer} {number}"
                );
            }
            value => assert_eq!(*value, Value::from(answer), "{path}"),
        }
    }
}

#[test]
fn what_an_answer_prints_is_read_back_by_the_language() {
    let recipe = read("examples/harvest.annulet");
    for path in [
        "width",
        "size",
        "thickness",
        "pattern.cover",
        "pattern.depth",
        "weight",
        "strip.length",
    ] {
        let shown = run(&["ask", path, "--digits", "all", "--in", "-"], &recipe).stdout;
        let again = ask(&recipe, shown.trim_end());
        let rounded = ask(&recipe, path);
        assert_eq!(
            again.trim_start_matches("\u{2248} "),
            rounded.trim_start_matches("\u{2248} "),
            "{path}"
        );
    }
}

#[test]
fn a_shortened_number_is_marked() {
    let recipe = band_with(&["size ISO 54", "width 4.56789 mm"]);
    assert!(
        ask(&recipe, "bore").starts_with("\u{2248} 17.189"),
        "{}",
        ask(&recipe, "bore")
    );
    assert_eq!(ask(&recipe, "size.circumference"), "54 mm");
    assert!(ask(&recipe, "width").starts_with('\u{2248}'));
    let all = run(&["ask", "width", "--digits", "all", "--in", "-"], &recipe).stdout;
    assert_eq!(all, "4.56789 mm\n");
    let report = run(&["eval", "--full", "-"], &recipe).stdout;
    assert!(report.contains("rounded for reading"), "{report}");
    let whole = run(&["eval", "--full", "--digits", "all", "-"], &recipe).stdout;
    assert!(!whole.contains('\u{2248}'), "{whole}");
}

#[test]
fn several_questions_are_answered_one_a_line() {
    let ran = run(
        &[
            "ask",
            "width",
            "thickness",
            "width * 2",
            "size",
            "--in",
            "-",
        ],
        &band_with(&[]),
    );
    assert_eq!(ran.stdout, "5 mm\n2 mm\n10 mm\n17 mm\n");
    // A wrong one among them costs only itself.
    let ran = run(
        &["ask", "width", "widht", "thickness", "--in", "-"],
        &band_with(&[]),
    );
    assert_eq!(
        (ran.status, ran.stdout.as_str()),
        (2, "5 mm\n\u{2014}\n2 mm\n")
    );
}

#[test]
fn the_same_bytes_from_another_folder() {
    let recipe = read("examples/harvest.annulet");
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("examples")).unwrap();
    fs::write(folder.path().join("examples/harvest.annulet"), &recipe).unwrap();
    for format in ["--json", "--csv", "--digits=all"] {
        let arguments = ["eval", format, "examples/harvest.annulet"];
        let here = run(&arguments, "");
        let there = run_in(folder.path(), &arguments, b"");
        assert_eq!(here.stdout, there.stdout, "{format}");
        assert_eq!(run(&arguments, "").stdout, here.stdout, "{format}");
        let name = "examples/harvest.annulet";
        assert_eq!(
            run(&["eval", format, "-", "--name", name], &recipe).stdout,
            here.stdout,
            "{format}"
        );
    }
}

#[test]
fn crlf_and_spacing_change_no_value() {
    let recipe = read("examples/harvest.annulet");
    let wanted = json_of(&recipe);
    for other in [
        recipe.replace('\n', "\r\n"),
        format!("\u{FEFF}{recipe}"),
        recipe.replace("  ", "\t"),
        recipe.replace("4.5 mm", "4.5mm").replace("mm, ", "mm , "),
        recipe.replace("4.5 mm", "4.500 mm"),
    ] {
        assert_eq!(json_of(&other), wanted);
    }
}

#[test]
fn very_large_and_very_small_numbers_are_lossless() {
    let recipe = format!(
        "let big = 9007199254740993 mm\nlet small = 0.000000000123456789 mm\n{}",
        band_with(&[])
    );
    assert_eq!(plain(&recipe, "big"), "9007199254740993");
    assert_eq!(plain(&recipe, "small"), "0.000000000123456789");
    assert_eq!(
        plain(&recipe, "big + 0.000000000123 mm - big"),
        "0.000000000123"
    );
    // A sum of more digits than are kept is no exact one.
    let json = run(&["ask", "--json", "big + small", "--in", "-"], &recipe).stdout;
    assert!(json.contains("\"value\": 9007199254740992.0"), "{json}");
    let json = run(&["ask", "--json", "big", "--in", "-"], &recipe).stdout;
    assert!(json.contains("\"value\": \"9007199254740993\""), "{json}");
}

#[test]
fn csv_has_one_header_and_the_same_columns_whatever_the_values() {
    let plain = run(&["eval", "--csv", "-"], &band_with(&[])).stdout;
    let rich = run(&["eval", "--csv", "examples/harvest.annulet"], "").stdout;
    assert_eq!(plain.lines().next(), rich.lines().next());
    let header = plain.lines().next().unwrap();
    for column in [
        "band",
        "title",
        "alloy",
        "weight (g)",
        "volume (mm3)",
        "strip.length (mm)",
    ] {
        assert!(header.split(',').any(|cell| cell == column), "{header}");
    }
    let two = band_with(&[]) + &band_with(&[]).replace("band b", "band c");
    assert_eq!(run(&["eval", "--csv", "-"], &two).stdout.lines().count(), 3);
}

#[test]
fn csv_is_read_back_whole() {
    let title = "Ears, \\\"wheat\\\"; 4,5 mm \u{2013} \u{E9}t\u{E9}";
    let recipe = band_with(&[&format!("title \"{title}\"")]);
    let text = run(&["eval", "--csv", "-"], &recipe).stdout;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let headers = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 1);
    let cell = |name: &str| {
        let place = headers.iter().position(|header| header == name).unwrap();
        rows[0].get(place).unwrap()
    };
    assert_eq!(cell("title"), title.replace("\\\"", "\""));
    assert_eq!(cell("band"), "b");
    let found = results(&recipe);
    for path in ["weight", "volume", "strip.length", "bore", "density"] {
        let unit = found[&format!("b.{path}")]["unit"].as_str().unwrap();
        let read: f64 = cell(&format!("{path} ({unit})")).parse().unwrap();
        assert_eq!(read, number(&found, &format!("b.{path}")), "{path}");
    }
}

#[test]
fn a_text_is_the_same_cell_in_every_table_and_no_spreadsheet_runs_it() {
    for title in [
        "=1+2",
        "+1",
        "-1+cmd",
        "@SUM(1)",
        "=a, \"b\"",
        "plain, \"b\"",
    ] {
        let written = title.replace('"', "\\\"");
        let recipe = band_with(&[&format!("title \"{written}\"")]);
        let wanted = match title.starts_with(['=', '+', '-', '@']) && title.parse::<f64>().is_err()
        {
            true => format!("'{title}"),
            false => title.to_owned(),
        };
        for call in [
            &["eval", "--csv", "-"][..],
            &["compare", "--csv", "all", "b", "solid", "--in", "-"],
            &[
                "sweep",
                "width [4 mm, 5 mm]",
                "show",
                "title",
                "--csv",
                "--in",
                "-",
            ],
            &[
                "sweep",
                &format!("title [\"{written}\", \"x\"]"),
                "show",
                "weight",
                "--csv",
                "--in",
                "-",
            ],
        ] {
            let ran = run(call, &recipe);
            assert!(ran.status < 2, "{call:?}: {}", ran.stderr);
            let mut reader = csv::Reader::from_reader(ran.stdout.as_bytes());
            let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
            let mut cells = rows.iter().flatten();
            assert!(
                cells.any(|cell| cell == wanted),
                "{call:?} of {title}: {}",
                ran.stdout
            );
        }
    }
}

#[test]
fn lines_of_every_table_end_in_a_line_feed_alone() {
    let pair = "examples/workshop-pair.annulet";
    for call in [
        &["eval", "--csv", pair][..],
        &["compare", "--csv", "millstone", "solid", "--in", pair],
        &[
            "run",
            "--csv",
            "millstone",
            "--sizes",
            "ISO 54 .. ISO 56",
            "--in",
            pair,
        ],
    ] {
        let ran = run(call, "");
        assert!(ran.status < 2, "{call:?}: {}", ran.stderr);
        assert!(ran.stdout.ends_with('\n'), "{call:?}");
        assert!(!ran.stdout.contains('\r'), "{call:?}");
    }
}
