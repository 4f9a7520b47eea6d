//! Calls as a shell makes them: folders, names, what may be opened, how findings are told, help to a full disk.
//!
//! Held against the language page's section on the command line and the acceptance list's points 24 to 33.

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;
use tempfile::TempDir;

use crate::support::{Ran, band_with, run, run_in};

fn written(folder: &TempDir, files: &[(&str, &str)]) {
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
}

fn ran(folder: &TempDir, arguments: &[&str]) -> Ran {
    run_in(folder.path(), arguments, b"")
}

#[test]
fn folders_are_walked_whole_and_what_is_left_out_is_said() {
    let folder = TempDir::new().unwrap();
    let outside = TempDir::new().unwrap();
    let (good, bad) = (band_with(&[]), band_with(&["width 5 mmm"]));
    written(&outside, &[("far.annulet", &bad)]);
    let files = [
        ("d/a.annulet", &*good),
        ("d/sub/deep/b.annulet", &good),
        ("d/.hidden.annulet", &bad),
        ("d/.git/objects/c.annulet", &bad),
        ("d/.empty/notes.txt", "x"),
        ("d/notes.txt", "x"),
    ];
    written(&folder, &files);
    symlink(outside.path(), folder.path().join("d/far")).unwrap();
    symlink(
        outside.path().join("far.annulet"),
        folder.path().join("d/z.annulet"),
    )
    .unwrap();
    let found = ran(&folder, &["eval", "--csv", "d"]);
    assert_eq!(found.status, 0, "{}", found.stderr);
    let rows: Vec<&str> = found
        .stdout
        .lines()
        .skip(1)
        .map(|line| line.split(',').next().unwrap())
        .collect();
    assert_eq!(rows, ["d/a.annulet", "d/sub/deep/b.annulet"]);
    assert_eq!(
        found.stderr,
        "annulet: left out: `d/.git`, `d/.hidden.annulet` (hidden)\n\
         annulet: left out: `d/far`, `d/z.annulet` (links are not followed)\n"
    );
    assert_eq!(ran(&folder, &["check", "-q", "d"]).stderr, "");
    // One that is wrong deep down is found.
    written(&folder, &[("d/sub/deep/b.annulet", &bad)]);
    let found = ran(&folder, &["check", "d"]);
    assert_eq!(found.status, 2);
    assert!(
        found.stderr.contains("d/sub/deep/b.annulet:6:11"),
        "{}",
        found.stderr
    );
    // A folder that holds none is no success.
    assert_eq!(ran(&folder, &["check", "d/.empty"]).status, 2);
}

#[test]
fn a_used_file_is_judged_once_and_named_from_where_the_call_stands() {
    let folder = TempDir::new().unwrap();
    let uses = format!("use \"house/h.annulet\"\n{}", band_with(&[]));
    let files = [
        ("d/r.annulet", &*uses),
        ("d/s.annulet", &uses),
        (
            "d/house/h.annulet",
            "alloy hh { silver 925, copper 75, densty 10.3 g/cm3 }\n",
        ),
    ];
    written(&folder, &files);
    for how in [&["check", "d"][..], &["check", "--jobs", "1", "d"]] {
        let found = ran(&folder, how);
        assert_eq!(found.status, 2);
        assert_eq!(
            found.stderr.matches("d/house/h.annulet:1:").count(),
            1,
            "{}",
            found.stderr
        );
    }
    let found = ran(&folder, &["check", "--findings", "line", "d/r.annulet"]);
    assert!(
        found
            .stderr
            .starts_with("d/house/h.annulet:1:35: error model::unknown_field: "),
        "{}",
        found.stderr
    );
}

#[test]
fn root_opens_all_below_it_and_nothing_else() {
    let folder = TempDir::new().unwrap();
    let uses = format!("use \"../house/h.annulet\"\n{}", band_with(&["alloy hh"]));
    let files = [
        ("shop/r.annulet", &*uses),
        (
            "house/h.annulet",
            "alloy hh { silver 925, copper 75, density 10.3 g/cm3 }\n",
        ),
    ];
    written(&folder, &files);
    let refused = ran(&folder, &["check", "shop/r.annulet"]);
    assert_eq!(refused.status, 2);
    assert!(
        refused.stderr.contains("`--root DIR`"),
        "{}",
        refused.stderr
    );
    let found = ran(
        &folder,
        &["check", "--files", "--root", ".", "shop/r.annulet"],
    );
    assert_eq!(
        (found.status, found.stdout.as_str(), found.stderr.as_str()),
        (0, "shop/r.annulet\n./house/h.annulet\n", "")
    );
    let found = ran(
        &folder,
        &["ask", "density", "--root", ".", "--in", "shop/r.annulet"],
    );
    assert_eq!((found.status, found.stdout.as_str()), (0, "10.3 g/cm3\n"));
    let above = ran(&folder, &["check", "--root", "shop", "shop/r.annulet"]);
    assert_eq!(above.status, 2);
    assert!(
        above.stderr.contains("lies outside the recipe's folder"),
        "{}",
        above.stderr
    );
}

#[test]
fn names_that_begin_with_a_minus_or_hold_odd_characters() {
    let folder = TempDir::new().unwrap();
    let odd = "my, \"ring\".annulet";
    written(
        &folder,
        &[("-x.annulet", &band_with(&[])), (odd, &band_with(&[]))],
    );
    assert_eq!(ran(&folder, &["check", "--", "-x.annulet"]).status, 0);
    let found = ran(
        &folder,
        &["ask", "-b.width", "width", "-width * 2", "--in=-x.annulet"],
    );
    assert_eq!(
        (found.status, found.stdout.as_str()),
        (0, "-5 mm\n5 mm\n-10 mm\n")
    );
    assert_eq!(
        ran(&folder, &["ask", "-q", "width", "--in", odd]).stdout,
        "5 mm\n"
    );
    let found = ran(&folder, &["ask", "--in", odd, "--", "-width"]);
    assert_eq!(found.stdout, "-5 mm\n");
    let table = ran(&folder, &["eval", "--csv", odd]).stdout;
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    assert_eq!(&reader.records().next().unwrap().unwrap()[0], odd);
}

#[test]
fn standard_input_bears_the_name_that_it_is_given() {
    let bad = band_with(&["width 5 mmm"]);
    let found = run(
        &[
            "check",
            "-",
            "--findings",
            "line",
            "--name",
            "shop/r.annulet",
        ],
        &bad,
    );
    assert!(
        found
            .stderr
            .starts_with("shop/r.annulet:6:11: error model::unknown_unit: "),
        "{}",
        found.stderr
    );
    let found = run(&["eval", "--json", "--name", "r.annulet"], &band_with(&[])).stdout;
    let found: Value = serde_json::from_str(&found).unwrap();
    assert_eq!(found["recipes"][0]["file"], "r.annulet");
}

#[test]
fn findings_by_line_have_one_form() {
    let thin = band_with(&["thickness 0.15 mm"]);
    let calls: &[(&[&str], &str)] = &[
        (
            &["check", "-"],
            "<stdin>:6:13: warning evaluate::thin_wall: ",
        ),
        (
            &["eval", "-"],
            "<stdin>:6:13: warning evaluate::thin_wall: ",
        ),
        (
            &["check", "nowhere.annulet"],
            "nowhere.annulet:1:1: error call::unread: ",
        ),
        (
            &["check", "-", "--band", "x"],
            "<call>:1:1: error call::refused: ",
        ),
        (
            &["check", "-", "--jsn"],
            "<call>:1:1: error call::misused: ",
        ),
        (
            &["check", "-", "--set", "widht=5 mm"],
            "--set:1:1: error model::unknown_name: ",
        ),
    ];
    for (call, begins) in calls {
        let ran = run(&[*call, &["--findings", "line"]].concat(), &thin);
        assert!(
            ran.stderr.lines().any(|line| line.starts_with(begins)),
            "{call:?}: {}",
            ran.stderr
        );
        for line in ran.stderr.lines() {
            let mut parts = line.splitn(4, ':');
            let (_, row, column) = (parts.next(), parts.next().unwrap(), parts.next().unwrap());
            assert!(
                row.parse::<u32>().is_ok() && column.parse::<u32>().is_ok(),
                "{line}"
            );
        }
    }
}

#[test]
fn lenient_leaves_limits_out_of_the_status() {
    let thin = band_with(&["thickness 0.15 mm"]);
    for (text, strict, lenient) in [
        (band_with(&[]), 0, 0),
        (thin, 1, 0),
        (band_with(&["width 5 mmm"]), 2, 2),
    ] {
        for command in [&["check", "-"][..], &["ask", "width", "--in", "-"]] {
            assert_eq!(run(command, &text).status, strict);
            let found = run(&[command, &["--lenient"]].concat(), &text);
            assert_eq!(found.status, lenient, "{command:?}");
            assert_eq!(found.stderr.is_empty(), strict == 0);
        }
    }
}

#[test]
fn a_finding_tells_what_it_is_of() {
    let of = |text: &str| {
        let found: Value =
            serde_json::from_str(&run(&["check", "--json", "-"], text).stdout).unwrap();
        let one = &found["findings"][0];
        let word = |key: &str| one[key].as_str().unwrap_or("-").to_owned();
        format!(
            "{} {} {} {}",
            word("code"),
            word("band"),
            word("field"),
            word("wall")
        )
    };
    // The same mistake with other figures is the same.
    for thickness in ["0.15 mm", "0.12 mm"] {
        assert_eq!(
            of(&band_with(&[&format!("thickness {thickness}")])),
            "evaluate::thin_wall b thickness band"
        );
    }
    assert_eq!(
        of(&band_with(&["width 5 mmm"])),
        "model::unknown_unit b - -"
    );
}

#[test]
fn results_say_what_they_rest_on() {
    let market = run(&["eval", "--json", "examples/market-day.annulet"], "").stdout;
    let market: Value = serde_json::from_str(&market).unwrap();
    let results = &market["recipes"][0]["results"];
    let rests = |path: &str| results[path]["rests"].to_string();
    assert!(
        rests("harvest-light.cost").contains("rounded"),
        "{}",
        rests("harvest-light.cost")
    );
    assert!(rests("harvest-light.weight").contains("density"));
    assert_eq!(rests("harvest-light.volume"), "null");
}

fn full(arguments: &[&str]) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(fs::File::create("/dev/full").unwrap())
        .output()
        .unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

#[test]
fn help_and_version_to_a_full_disk_fail_with_one_line() {
    if !Path::new("/dev/full").exists() {
        return;
    }
    for call in [
        &["--help"][..],
        &["--version"],
        &["check", "--help"],
        &["help", "eval"],
    ] {
        let (status, said) = full(call);
        assert_eq!(status, 2, "{call:?}");
        assert_eq!(said.lines().count(), 1, "{call:?}: {said}");
        assert!(
            said.starts_with("annulet: cannot write the results"),
            "{said}"
        );
    }
}

#[test]
fn a_wrong_call_is_coloured_by_the_same_rules() {
    let cases = [("always", true), ("never", false), ("auto", false)];
    for (when, is_colored) in cases {
        let ran = run(&["--color", when, "evl"], "");
        assert_eq!(ran.stderr.contains('\u{1B}'), is_colored, "{when}");
        let ran = run(&["help", "--color", when], "");
        assert!(!ran.stdout.contains('\u{1B}'), "{when}: {}", ran.stderr);
    }
}

#[test]
fn help_tells_of_each_command() {
    for command in [
        "eval", "check", "ask", "list", "run", "offer", "why", "tidy", "compare", "bench",
    ] {
        let help = run(&["help", command], "");
        assert_eq!((help.status, help.stderr.as_str()), (0, ""), "{command}");
        assert_eq!(help.stdout, run(&[command, "--help"], "").stdout);
    }
    assert_eq!(run(&["help"], "").stdout, run(&["--help"], "").stdout);
}

#[test]
fn lists_take_the_beginning_of_a_name() {
    let all = run(&["list", "alloys", "yel"], "").stdout;
    assert!(all.contains("yellow-585") && all.contains("yellow-750") && !all.contains("rose-"));
    assert!(run(&["list", "units", "m"], "").stdout.contains("metre"));
    assert!(
        run(&["list", "results", "weight"], "")
            .stdout
            .contains("BAND.weight")
    );
    assert!(
        run(&["list", "alloys", "sterl"], "")
            .stdout
            .contains("silver 925, copper 75")
    );
    assert_eq!(run(&["list", "alloys", "xyz"], "").status, 2);
}

#[test]
fn an_open_try_at_the_end_of_a_pipe_is_told() {
    let folder = TempDir::new().unwrap();
    written(&folder, &[("r.annulet", &band_with(&[]))]);
    let found = run_in(folder.path(), &["bench", "r.annulet"], b"try width 6 mm\n");
    assert!(
        found.stderr.contains("what is tried is not kept"),
        "{}",
        found.stderr
    );
    let found = run_in(
        folder.path(),
        &["bench", "r.annulet"],
        b"try width 6 mm\ndrop\n",
    );
    assert_eq!(found.stderr, "");
}
