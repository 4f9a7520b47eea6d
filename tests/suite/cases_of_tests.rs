//! Requirements, limits and mistakes as cases for the runners of tests, and the scripts that are shipped.
//!
//! JUnit XML is read back by an XML reader from outside the project (`roxmltree`); TAP is held against the
//! specification, version 14 (testanything.org): a version line, numbered points, a plan.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

use crate::support::{band_with, root, run, run_in};

const SHORT: &str = "band b {\n  size 17 mm, width 5 mm, thickness 0.15 mm\n  profile flat, alloy sterling\n}\n\
    require \"light & <cheap>\" b.weight <= 0.1 g\nrequire b.width = 5 mm\n";

#[test]
fn junit_has_a_case_for_everything_that_must_hold() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("short.annulet"), SHORT).unwrap();
    fs::write(
        folder.path().join("wrong.annulet"),
        "band b {\n  widht 5 mm\n}\n",
    )
    .unwrap();
    fs::write(folder.path().join("well.annulet"), band_with(&[])).unwrap();
    let call = [
        "check",
        "--junit",
        "short.annulet",
        "wrong.annulet",
        "well.annulet",
        "gone.annulet",
    ];
    let ran = run_in(folder.path(), &call, b"");
    assert_eq!(ran.status, 2);
    let document = roxmltree::Document::parse(&ran.stdout).unwrap();
    let suites: Vec<_> = document
        .root_element()
        .children()
        .filter(|one| one.is_element())
        .collect();
    let names: Vec<&str> = suites
        .iter()
        .map(|one| one.attribute("name").unwrap())
        .collect();
    assert_eq!(
        names,
        [
            "short.annulet",
            "wrong.annulet",
            "well.annulet",
            "gone.annulet"
        ]
    );
    for suite in &suites {
        // The counts are those of the elements.
        for (count, word) in [
            ("tests", "testcase"),
            ("failures", "failure"),
            ("errors", "error"),
        ] {
            let found = suite
                .descendants()
                .filter(|one| one.has_tag_name(word))
                .count();
            assert_eq!(
                suite.attribute(count).unwrap(),
                found.to_string(),
                "{count}: {}",
                ran.stdout
            );
        }
    }
    let outcome = |suite: usize, name: &str| {
        let mut cases = suites[suite].descendants();
        let case = cases.find(|one| one.attribute("name") == Some(name));
        let case = case.unwrap_or_else(|| panic!("{name}:\n{}", ran.stdout));
        let child = case.children().find(roxmltree::Node::is_element);
        child.map(|one| one.tag_name().name().to_owned())
    };
    assert_eq!(outcome(0, "is sound"), None);
    assert_eq!(outcome(0, "b keeps its limits").as_deref(), Some("failure"));
    assert_eq!(
        outcome(0, "requires “light & <cheap>”").as_deref(),
        Some("failure")
    );
    assert_eq!(outcome(0, "requires `b.width = 5 mm`"), None);
    assert_eq!(outcome(1, "is sound").as_deref(), Some("error"));
    assert_eq!(outcome(2, "b keeps its limits"), None);
    assert_eq!(outcome(3, "can be read").as_deref(), Some("error"));
    // The worst of all cases is what `check` ends with.
    for (text, status) in [(SHORT.to_owned(), 1), (band_with(&[]), 0)] {
        let ran = run(&["check", "--junit", "-"], &text);
        assert_eq!(ran.status, status);
        roxmltree::Document::parse(&ran.stdout).unwrap();
    }
}

#[test]
fn tap_counts_its_points_through_all_recipes() {
    let ran = run(&["check", "--tap", "examples"], "");
    assert_eq!((ran.status, ran.stderr.as_str()), (0, ""));
    let mut lines = ran.stdout.lines();
    assert_eq!(lines.next(), Some("TAP version 14"));
    let points: Vec<&str> = lines
        .clone()
        .filter(|line| line.starts_with("ok "))
        .collect();
    for (place, point) in points.iter().enumerate() {
        assert!(
            point.starts_with(&format!("ok {} - examples/", place + 1)),
            "{point}"
        );
    }
    assert_eq!(lines.next_back().unwrap(), format!("1..{}", points.len()));
    let ran = run(&["check", "--tap", "-"], SHORT);
    assert_eq!(ran.status, 1);
    insta::assert_snapshot!(ran.stdout);
}

/// Runs a program in a folder, with this `annulet` on its path and no settings of git but its own.
fn shell(folder: &Path, program: &str, arguments: &[&str]) -> Output {
    let own = Path::new(env!("CARGO_BIN_EXE_annulet")).parent().unwrap();
    let path = format!("{}:{}", own.display(), std::env::var("PATH").unwrap());
    Command::new(program)
        .args(arguments)
        .current_dir(folder)
        .env("PATH", path)
        .env("HOME", folder)
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .env("GIT_AUTHOR_NAME", "Bench")
        .env("GIT_AUTHOR_EMAIL", "bench@example.org")
        .env("GIT_COMMITTER_NAME", "Bench")
        .env("GIT_COMMITTER_EMAIL", "bench@example.org")
        .output()
        .unwrap()
}

fn said(output: &Output) -> String {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    text(&output.stdout) + &text(&output.stderr)
}

#[test]
fn the_hook_lets_only_sound_and_tidy_recipes_in() {
    let repository = TempDir::new().unwrap();
    let at = repository.path();
    let git = |arguments: &[&str]| shell(at, "git", arguments);
    assert!(git(&["init", "-q"]).status.success());
    let hook = root().join("examples/scripts/pre-commit");
    fs::create_dir_all(at.join(".git/hooks")).unwrap();
    fs::copy(hook, at.join(".git/hooks/pre-commit")).unwrap();
    let house = "alloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n";
    let good = "use \"../house.annulet\"\n\nband b {\n  size 17 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy rose\n}\n";
    fs::create_dir(at.join("rings")).unwrap();
    fs::write(at.join("house.annulet"), house).unwrap();
    let put = |text: &str| fs::write(at.join("rings/b.annulet"), text).unwrap();
    let commit = || {
        git(&["add", "."]);
        git(&["commit", "-qm", "a ring"])
    };
    put(good);
    let done = commit();
    assert!(done.status.success(), "{}", said(&done));
    for (bad, told) in [
        (
            good.replace("width", "widht"),
            "`band` has no field `widht`",
        ),
        (
            good.replace("width 5 mm", "width   5 mm"),
            "-  size 17 mm, width   5 mm",
        ),
        (
            good.replace("thickness 2 mm", "thickness 0.15 mm"),
            "not committed",
        ),
    ] {
        put(&bad);
        let done = commit();
        assert!(!done.status.success(), "{bad}");
        assert!(said(&done).contains(told), "{told}:\n{}", said(&done));
    }
    // What counts is what is staged.
    put(&good.replace("5 mm", "6 mm"));
    git(&["add", "."]);
    put("band b {\n");
    let done = git(&["commit", "-qm", "staged"]);
    assert!(done.status.success(), "{}", said(&done));
    // A shared file that breaks a recipe is not let in either.
    put(&good.replace("5 mm", "6 mm"));
    fs::write(at.join("house.annulet"), house.replace("rose", "red")).unwrap();
    assert!(!commit().status.success());
}

#[test]
fn the_makefile_makes_what_has_changed() {
    let folder = TempDir::new().unwrap();
    let at = folder.path();
    let house = "alloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n";
    let band = |alloy: &str| {
        format!(
            "use \"house/rose.annulet\"\n\nband b {{\n  size 17 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy {alloy}\n}}\n"
        )
    };
    fs::create_dir(at.join("house")).unwrap();
    fs::write(at.join("house/rose.annulet"), house).unwrap();
    fs::write(at.join("one.annulet"), band("rose")).unwrap();
    fs::write(at.join("other.annulet"), band_with(&[])).unwrap();
    let rules = root().join("examples/scripts/reports.mk");
    let make = || shell(at, "make", &["-f", rules.to_str().unwrap()]);
    let done = make();
    assert!(done.status.success(), "{}", said(&done));
    let report = |name: &str| fs::read_to_string(at.join("reports").join(name)).unwrap();
    let wanted = run_in(at, &["eval", "one.annulet"], b"");
    assert_eq!(report("one.txt"), wanted.stdout);
    assert!(report("other.txt").contains("weight"));
    assert!(said(&make()).contains("Nothing to be done"));
    let later = std::time::SystemTime::now() + std::time::Duration::from_secs(5);
    fs::write(at.join("house/rose.annulet"), house.replace("13.3", "13.2")).unwrap();
    let touched = fs::File::options()
        .append(true)
        .open(at.join("house/rose.annulet"))
        .unwrap();
    touched.set_modified(later).unwrap();
    let done = make();
    assert!(
        said(&done).contains("eval -- one.annulet"),
        "{}",
        said(&done)
    );
    assert!(!said(&done).contains("other.annulet"), "{}", said(&done));
    // No report is left of a recipe that falls short.
    fs::write(at.join("other.annulet"), SHORT).unwrap();
    let touched = fs::File::options()
        .append(true)
        .open(at.join("other.annulet"))
        .unwrap();
    touched.set_modified(later).unwrap();
    assert!(!make().status.success());
}

#[test]
fn the_week_is_priced_as_each_ring_by_itself() {
    let script = root().join("examples/scripts/price-week");
    let orders = "examples/scripts/week.csv";
    let recipe = "examples/market-day.annulet";
    let done = shell(&root(), script.to_str().unwrap(), &[recipe, orders]);
    assert!(done.status.success(), "{}", said(&done));
    let text = String::from_utf8(done.stdout).unwrap();
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
    let (last, rows) = rows.split_last().unwrap();
    assert_eq!(rows.len(), 4);
    let mut sum = 0.0;
    for row in rows {
        let size = format!("{}.size={}", &row[1], &row[2]);
        let price = format!("{}.price", &row[1]);
        let ran = run(
            &["ask", &price, "--plain", "--set", &size, "--in", recipe],
            "",
        );
        let each: f64 = ran.stdout.trim().parse().unwrap();
        assert_eq!(row[4].parse::<f64>().unwrap(), each, "{row:?}");
        let count: f64 = row[3].parse().unwrap();
        assert!((row[5].parse::<f64>().unwrap() - count * each).abs() < 0.001);
        sum += count * each;
    }
    assert!((last[5].parse::<f64>().unwrap() - sum).abs() < 0.001);
    assert_eq!(&last[3], "13");
}
