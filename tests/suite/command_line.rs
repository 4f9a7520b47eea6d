//! The program as a shell sees it: exit statuses, what is read, what is said of a wrong call.
//!
//! Held against the language page's section on the command line, and the acceptance list's points 14, 24
//! and 27: every status by itself, the same for a file, standard input and a batch.

use std::fs;
use std::path::Path;

use tempfile::TempDir;

use crate::support::{Ran, band_with, read, run, run_in};

const HARVEST: &str = "examples/harvest.annulet";

/// Recipes of each status.
fn good() -> String {
    band_with(&[])
}

fn thin() -> String {
    band_with(&["thickness 0.15 mm"])
}

fn bad() -> String {
    band_with(&["width 5 mmm"])
}

/// A folder with the three recipes.
fn folder() -> TempDir {
    let folder = TempDir::new().unwrap();
    for (name, text) in [("good", good()), ("thin", thin()), ("bad", bad())] {
        fs::write(folder.path().join(format!("{name}.annulet")), text).unwrap();
    }
    folder
}

fn in_folder(folder: &Path, arguments: &[&str]) -> Ran {
    run_in(folder, arguments, b"")
}

#[test]
fn statuses_are_the_same_for_file_and_standard_input() {
    let folder = folder();
    for (name, text, status) in [("good", good(), 0), ("thin", thin(), 1), ("bad", bad(), 2)] {
        let file = format!("{name}.annulet");
        for command in ["eval", "check"] {
            assert_eq!(
                in_folder(folder.path(), &[command, &file]).status,
                status,
                "{command} {name}"
            );
            let piped = run(&[command, "-"], &text);
            assert_eq!(piped.status, status, "{command} {name}");
            assert_eq!(
                run(&[command], &text).stdout,
                piped.stdout,
                "{command} {name}"
            );
        }
        let ask = in_folder(folder.path(), &["ask", "width", "--in", &file]);
        assert_eq!(ask.status, status, "ask {name}");
    }
}

#[test]
fn a_batch_returns_its_highest_status_and_all_its_results() {
    let folder = folder();
    let batches: &[(&[&str], i32)] = &[
        (&["good", "good"], 0),
        (&["good", "thin"], 1),
        (&["thin", "good"], 1),
        (&["bad", "thin", "good"], 2),
        (&["good", "missing"], 2),
    ];
    for (names, status) in batches {
        let files: Vec<String> = names.iter().map(|name| format!("{name}.annulet")).collect();
        let mut arguments = vec!["eval"];
        arguments.extend(files.iter().map(String::as_str));
        let ran = in_folder(folder.path(), &arguments);
        assert_eq!(ran.status, *status, "{names:?}");
        let sound = names
            .iter()
            .filter(|name| ["good", "thin"].contains(name))
            .count();
        let reports = ran.stdout.lines().filter(|line| *line == "b").count();
        assert_eq!(reports, sound, "{names:?}: {}", ran.stdout);
        if names.contains(&"bad") {
            assert!(ran.stderr.contains("bad.annulet:3:") || ran.stderr.contains("bad.annulet:6:"));
        }
    }
}

#[test]
fn a_hundred_recipes_of_which_three_are_bad() {
    let folder = TempDir::new().unwrap();
    let files: Vec<String> = (0..100)
        .map(|place| format!("r{place:02}.annulet"))
        .collect();
    for (place, file) in files.iter().enumerate() {
        let text = if place % 40 == 7 { bad() } else { good() };
        let text = text.replace("band b", &format!("band r{place:02}"));
        fs::write(folder.path().join(file), text).unwrap();
    }
    let mut arguments = vec!["eval", "--csv"];
    arguments.extend(files.iter().map(String::as_str));
    let ran = in_folder(folder.path(), &arguments);
    assert_eq!(ran.status, 2);
    let rows: Vec<&str> = ran.stdout.lines().skip(1).map(|line| &line[..3]).collect();
    assert_eq!(rows.len(), 97);
    assert!(rows.is_sorted());
    for file in ["r07", "r47", "r87"] {
        assert_eq!(
            ran.stderr.matches(&format!("{file}.annulet:")).count(),
            1,
            "{file}"
        );
    }
}

#[test]
fn check_prints_nothing_where_all_holds() {
    let ran = run(&["check", HARVEST], "");
    assert_eq!(
        (ran.status, ran.stdout.as_str(), ran.stderr.as_str()),
        (0, "", "")
    );
}

#[test]
fn results_and_findings_go_to_their_own_streams() {
    for recipe in [thin(), bad() + &good().replace("band b", "band c")] {
        for format in ["--json", "--csv"] {
            let ran = run(&["eval", format, "-"], &recipe);
            assert!(ran.stderr.contains(" --> "), "{}", ran.stderr);
            assert!(!ran.stdout.contains(" --> "), "{}", ran.stdout);
            if format == "--json" {
                serde_json::from_str::<serde_json::Value>(&ran.stdout).unwrap();
            }
        }
    }
}

#[test]
fn quiet_keeps_the_results_and_the_mistakes() {
    let loud = run(&["eval", "-"], &thin());
    let quiet = run(&["eval", "--quiet", "-"], &thin());
    assert!(!loud.stderr.is_empty());
    assert_eq!((quiet.status, quiet.stderr.as_str()), (1, ""));
    assert_eq!(quiet.stdout, loud.stdout);
    let wrong = run(&["check", "-q", "-"], &bad());
    assert_eq!(wrong.status, 2);
    assert!(wrong.stderr.contains("mmm"), "{}", wrong.stderr);
}

#[test]
fn wrong_calls_say_what_was_meant() {
    // Arguments, and a part of what standard error says; all end with status 2 and no result.
    let cases: &[(&[&str], &str)] = &[
        (&["evl", HARVEST], "did you mean `eval`?"),
        (&["evaluate", HARVEST], "did you mean `eval`?"),
        (
            &["weight", "--in", HARVEST],
            "`annulet ask weight` answers it",
        ),
        (
            &[HARVEST],
            "`annulet eval examples/harvest.annulet` reports",
        ),
        (&["help", "weight"], "`annulet ask weight` answers it"),
        (&["eval", "--jobs", "0", HARVEST], "--jobs"),
        (
            &["eval", HARVEST, "--set", "x.width=5 mm"],
            "bands are harvest",
        ),
        (
            &["eval", HARVEST, "--set", "without hollow"],
            "`--set without=hollow`",
        ),
        (
            &["eval", HARVEST, "--name", "x"],
            "`--name` names standard input",
        ),
        (
            &["eval", HARVEST, "--root", "tests"],
            "lies outside `--root tests`",
        ),
        (
            &["eval", HARVEST, "--root", "nowhere"],
            "`--root nowhere` is no folder",
        ),
        (
            &[
                "run",
                "--sizes",
                "ISO 54",
                "--set",
                "size=ISO 50",
                "--in",
                HARVEST,
            ],
            "both say the size",
        ),
        (&["eval", "--jsn", HARVEST], "'--json'"),
        (
            &["eval", "examples/harvst.annulet"],
            "did you mean `examples/harvest.annulet`?",
        ),
        (
            &["eval", "examples/harvest"],
            "did you mean `examples/harvest.annulet`?",
        ),
        (
            &["ask", "weight", "--in", "examples"],
            "`examples` is a folder; name one of its recipes",
        ),
        (
            &["eval", "nowhere/x.annulet"],
            "there is no file `nowhere/x.annulet`",
        ),
        (
            &["ask", "wieght", "--in", HARVEST],
            "did you mean `weight`?",
        ),
        (
            &["ask", "weight.uncutt", "--in", HARVEST],
            "did you mean `weight.uncut`?",
        ),
        (
            &["ask", "harvst.weight", "--in", HARVEST],
            "did you mean `harvest`?",
        ),
        (
            &["ask", "2 * 0.375 in cm", "--in", HARVEST],
            "right behind a number `in` is the inch",
        ),
        (
            &["ask", "weight", "--in", HARVEST, "--band", "harvst"],
            "did you mean `harvest`?",
        ),
        (
            &["eval", HARVEST, "--band", "harvst"],
            "did you mean `harvest`?",
        ),
        (
            &["eval", HARVEST, "--set", "widht=5 mm"],
            "did you mean `width`?",
        ),
        (
            &["eval", HARVEST, "--set", "width"],
            "`--set` takes one field and its value",
        ),
        (&["eval", HARVEST, "--set", "width=5"], "no unit"),
        (&["eval", HARVEST, "--set", "width=1,5 mm"], "two ways"),
        (
            &["eval", HARVEST, "--set", "width=5 mm 6 mm"],
            "one too many",
        ),
        (&["eval", HARVEST, "--set", "=5 mm"], "--set"),
        (&["eval", "--on", "2026-02-30", HARVEST], "is no day"),
        (
            &["eval", "--on", "today", HARVEST],
            "as in `--on 2026-11-25`",
        ),
        (&["list", "aloys"], "did you mean `alloys`?"),
        (&["list", "alloys", "sterlng"], "did you mean `sterling`?"),
        (&["list", "sizes", "IOS"], "did you mean `ISO`?"),
        (&["eval", "--json", "--csv", HARVEST], "cannot be used with"),
        (&["ask"], "PATH"),
    ];
    for (arguments, wanted) in cases {
        let ran = run(arguments, "");
        assert_eq!(ran.status, 2, "{arguments:?}: {}", ran.stderr);
        assert!(ran.stderr.contains(wanted), "{arguments:?}: {}", ran.stderr);
        // A question keeps its line.
        let lines = usize::from(arguments.len() > 1 && arguments[0] == "ask");
        if arguments.contains(&"--csv") {
            continue;
        }
        assert_eq!(ran.stdout, "\u{2014}\n".repeat(lines), "{arguments:?}");
    }
}

#[test]
fn help_and_version_are_results() {
    for arguments in [
        &["--help"][..],
        &["eval", "--help"],
        &["ask", "-h"],
        &["--version"],
    ] {
        let ran = run(arguments, "");
        assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{arguments:?}");
        assert!(ran.stdout.contains("annulet"), "{arguments:?}");
        assert!(!ran.stdout.contains('\u{1B}'), "{arguments:?}");
    }
    let version = run(&["--version"], "").stdout;
    assert_eq!(version, format!("annulet {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn the_examples_in_help_run() {
    let mut seen = 0;
    for arguments in [
        &["--help"][..],
        &["eval", "--help"],
        &["ask", "--help"],
        &["check", "--help"],
        &["sweep", "--help"],
        &["solve", "--help"],
        &["choose", "--help"],
    ] {
        let help = run(arguments, "").stdout;
        let examples = help
            .lines()
            .filter_map(|line| line.strip_prefix("  annulet "));
        for example in examples.filter(|line| line.contains("examples/")) {
            let call = format!("{} {example}", env!("CARGO_BIN_EXE_annulet"));
            let shell = std::process::Command::new("sh")
                .args(["-c", &call])
                .current_dir(crate::support::root())
                .output()
                .unwrap();
            assert!(shell.status.success(), "{example}");
            seen += 1;
        }
    }
    assert!(seen >= 4, "{seen}");
}

#[test]
fn the_only_recipe_of_the_folder_is_taken() {
    let folder = TempDir::new().unwrap();
    let none = in_folder(folder.path(), &["ask", "width"]);
    assert_eq!(none.status, 2);
    fs::write(folder.path().join("one.annulet"), good()).unwrap();
    fs::write(folder.path().join("notes.txt"), "no recipe").unwrap();
    for command in [&["ask", "width"][..], &["eval"], &["check"]] {
        let ran = in_folder(folder.path(), command);
        assert_eq!(ran.status, 0, "{command:?}: {}", ran.stderr);
    }
    assert_eq!(in_folder(folder.path(), &["ask", "width"]).stdout, "5 mm\n");
    // Piped input goes before it.
    let piped = band_with(&["width 6 mm"]);
    let ran = run_in(folder.path(), &["ask", "width"], piped.as_bytes());
    assert_eq!(ran.stdout, "6 mm\n");
    fs::write(folder.path().join("two.annulet"), good()).unwrap();
    let ran = in_folder(folder.path(), &["ask", "width", "--in", "two.annulet"]);
    assert_eq!(ran.stdout, "5 mm\n");
}

#[test]
fn text_that_is_not_text_is_refused_with_its_place() {
    let folder = TempDir::new().unwrap();
    let mut bytes = good().into_bytes();
    bytes.extend(b"# caf\xE9\n");
    fs::write(folder.path().join("latin.annulet"), &bytes).unwrap();
    let ran = in_folder(folder.path(), &["eval", "latin.annulet"]);
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr
            .contains("latin.annulet:8: byte 0xE9 is not text"),
        "{}",
        ran.stderr
    );
    assert!(ran.stderr.contains("UTF-8"), "{}", ran.stderr);
    let ran = run_in(folder.path(), &["eval", "-"], &bytes);
    assert!(
        ran.stderr.contains("<stdin>:8: byte 0xE9"),
        "{}",
        ran.stderr
    );
}

#[test]
fn lists_name_their_sources() {
    for what in ["alloys", "fields", "results", "schema", "sizes", "units"] {
        let ran = run(&["list", what], "");
        assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{what}");
        assert!(ran.stdout.len() > 200, "{what}");
    }
    let sterling = run(&["list", "alloys", "sterling"], "").stdout;
    for wanted in ["silver-925", "silver 925, copper 75", "10.36"] {
        assert!(sterling.contains(wanted), "{sterling}");
    }
    let us = run(&["list", "sizes", "US"], "").stdout;
    assert!(us.contains("common practice"), "{us}");
    for path in [
        "weight.uncut",
        "wall.least",
        "strip.length",
        "size.circumference",
    ] {
        assert!(
            run(&["list", "results"], "").stdout.contains(path),
            "{path}"
        );
    }
}

#[test]
fn a_day_is_only_ever_the_one_given() {
    let on = |arguments: &[&str]| {
        let json: serde_json::Value = serde_json::from_str(&run(arguments, "").stdout).unwrap();
        json["on"].clone()
    };
    assert_eq!(on(&["eval", "--json", HARVEST]), serde_json::Value::Null);
    assert_eq!(
        on(&["eval", "--json", HARVEST, "--on", "2026-11-25"]),
        "2026-11-25"
    );
    assert!(read(HARVEST).len() > 100);
}
