//! Bands side by side on the command line: the figures are those that `ask` gives, the tables read back.
//!
//! Held against the acceptance list's points 24, 27 and 29; CSV is read by the `csv` crate.

use serde_json::Value;

use crate::support::{band_with, plain, read, run};

const PAIR: &str = "examples/workshop-pair.annulet";

fn table(arguments: &[&str]) -> Vec<Vec<String>> {
    let mut call = vec!["compare", "--csv", "--in", PAIR];
    call.extend(arguments);
    let ran = run(&call, "");
    assert_eq!((ran.status, ran.stderr.as_str()), (0, ""));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(ran.stdout.as_bytes());
    let rows = reader
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect());
    rows.collect()
}

#[test]
fn every_figure_is_the_one_that_is_asked_for() {
    let rows = table(&["millstone", "millstone-light"]);
    assert_eq!(
        rows[0],
        ["file", "path", "differs", "band", "value", "unit"]
    );
    let recipe = read(PAIR);
    let mut asked = 0;
    for row in rows.iter().skip(1).filter(|row| row[2] == "yes") {
        let [file, path, _, band, value, unit] = row.as_slice() else {
            panic!("{row:?}");
        };
        assert_eq!(file, PAIR);
        if value.is_empty() || unit.is_empty() {
            continue;
        }
        let path = format!("{band}.{path}");
        assert_eq!(*value, plain(&recipe, &path), "{path}");
        asked += 1;
    }
    assert!(asked > 15, "{asked}");
}

#[test]
fn the_solid_of_the_same_look_is_the_band_without_its_hollow() {
    let rows = table(&["millstone-light", "solid"]);
    let of_solid = |row: &&Vec<String>| row[1] == "weight" && row[3].ends_with(" as solid");
    let weight = rows.iter().find(of_solid).unwrap();
    // The pair is one look made twice, so the solid of the one is the other.
    assert_eq!(weight[4], plain(&read(PAIR), "millstone.weight"));
}

#[test]
fn differences_come_first_and_the_rest_is_named() {
    let ran = run(
        &[
            "compare",
            "all",
            "millstone",
            "millstone-light",
            "--in",
            PAIR,
        ],
        "",
    );
    let (different, same) = ran.stdout.split_once("the same in all").unwrap();
    let (both, only) = different.split_once("only in millstone-light").unwrap();
    assert!(both.contains("weight") && !both.contains("strip.pitch") && !both.contains('\u{2013}'));
    assert!(only.contains("hollow.shell 0.6 mm"), "{only}");
    assert!(same.contains("strip.pitch"), "{same}");
    let json = run(
        &[
            "compare",
            "millstone",
            "millstone-light",
            "--json",
            "--in",
            PAIR,
        ],
        "",
    );
    let json: Value = serde_json::from_str(&json.stdout).unwrap();
    let rows = json["recipes"][0]["comparisons"][0]["rows"]
        .as_array()
        .unwrap();
    let differs: Vec<bool> = rows
        .iter()
        .map(|row| row["differs"].as_bool().unwrap())
        .collect();
    assert!(differs.is_sorted_by(|before, after| before >= after));
}

#[test]
fn overrides_reach_both_sides() {
    let ran = run(
        &[
            "compare",
            "millstone-light",
            "solid",
            "--band",
            "millstone-light",
            "--set",
            "width + 0.5 mm",
            "--in",
            PAIR,
        ],
        "",
    );
    assert!(
        ran.stdout.contains("width 5.7 mm"),
        "{}{}",
        ran.stdout,
        ran.stderr
    );
}

#[test]
fn wrong_calls_say_what_would_be_right() {
    let cases: [(&[&str], &str); 5] = [
        (&["milstone", "solid"], "did you mean `millstone`?"),
        (&["millstone", "millstone"], "named twice"),
        (&["millstone"], "beside what?"),
        (&[], "compare which? bands are millstone or millstone-light"),
        (
            &["millstone", "solid", "--json", "--csv"],
            "cannot be used with",
        ),
    ];
    for (arguments, said) in cases {
        let mut call = vec!["compare", "--in", PAIR];
        call.extend(arguments);
        let ran = run(&call, "");
        assert_eq!(ran.status, 2, "{arguments:?}");
        assert!(
            ran.stderr.contains(said) && (ran.stdout.is_empty() || arguments.contains(&"--json")),
            "{arguments:?}: {}",
            ran.stderr
        );
    }
    let ran = run(&["compare", "--in", "-"], &band_with(&[]));
    assert!(
        ran.status == 2 && ran.stderr.contains("is solid; beside what?"),
        "{}",
        ran.stderr
    );
    let ran = run(
        &["compare", "b", "solid", "--in", "-"],
        &band_with(&["width 5 g"]),
    );
    assert!(ran.status == 2 && ran.stdout.is_empty(), "{}", ran.stderr);
}
