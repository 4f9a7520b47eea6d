//! Many recipes at once: order kept on any number of cores, bad ones told and passed by.
//!
//! Held against the acceptance list's points 27, 31 and 32, in folders of their own. How fast it is and how
//! much memory it takes is measured by hand, not here.

use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use crate::support::{Ran, band_with, run_in};

const JOBS: [&str; 4] = ["1", "2", "8", "1000"];

fn ran(folder: &Path, arguments: &[&str]) -> Ran {
    run_in(folder, arguments, b"")
}

/// What a recipe of the batch is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Good,
    Thin,
    Bad,
    Missing,
}

/// A folder of recipes, and their names in order.
fn batch(count: usize, kind: impl Fn(usize) -> Kind) -> (TempDir, Vec<String>) {
    let folder = TempDir::new().unwrap();
    let names: Vec<String> = (0..count)
        .map(|place| format!("r{place:03}.annulet"))
        .collect();
    for (place, name) in names.iter().enumerate() {
        let lines: &[&str] = match kind(place) {
            Kind::Good => &[],
            Kind::Thin => &["thickness 0.15 mm"],
            Kind::Bad => &["width 5 mmm"],
            Kind::Missing => continue,
        };
        let text = band_with(lines).replace("band b", &format!("band r{place:03}"));
        fs::write(folder.path().join(name), text).unwrap();
    }
    (folder, names)
}

fn call<'a>(words: &[&'a str], names: &'a [String]) -> Vec<&'a str> {
    let mut arguments = words.to_vec();
    arguments.extend(names.iter().map(String::as_str));
    arguments
}

/// A hundred of which three are bad: one of each way to be so.
fn hundred(place: usize) -> Kind {
    match place {
        13 | 99 => Kind::Bad,
        42 => Kind::Missing,
        _ => Kind::Good,
    }
}

#[test]
fn three_bad_ones_cost_only_themselves() {
    let (folder, names) = batch(100, hundred);
    for format in [&["--csv"][..], &["--json"], &[]] {
        let mut words = vec!["eval"];
        words.extend(format);
        let found = ran(folder.path(), &call(&words, &names));
        assert_eq!(found.status, 2, "{format:?}");
        let names: Vec<String> = match format {
            ["--csv"] => found
                .stdout
                .lines()
                .skip(1)
                .map(|line| line.split(',').nth(1).unwrap().to_owned())
                .collect(),
            ["--json"] => {
                let json: Value = serde_json::from_str(&found.stdout).unwrap();
                let all = json["recipes"].as_array().unwrap();
                assert_eq!(all.len(), 99, "the missing one is a finding alone");
                all.iter()
                    .flat_map(|one| one["bands"].as_array().unwrap())
                    .map(|band| band["name"].as_str().unwrap().to_owned())
                    .collect()
            }
            _ => found
                .stdout
                .lines()
                .filter(|line| line.starts_with('r'))
                .map(str::to_owned)
                .collect(),
        };
        let wanted: Vec<String> = (0..100)
            .filter(|place| hundred(*place) == Kind::Good)
            .map(|place| format!("r{place:03}"))
            .collect();
        assert_eq!(names.len(), 97);
        assert_eq!(names, wanted, "{format:?}");
        // Each with its name, and its place where it has one, in order.
        let told = [
            "r013.annulet:6:11",
            "there is no file `r042.annulet`",
            "r099.annulet:6:11",
        ];
        let places: Vec<usize> = told
            .iter()
            .map(|one| {
                found
                    .stderr
                    .find(one)
                    .unwrap_or_else(|| panic!("{one}: {}", found.stderr))
            })
            .collect();
        assert!(places.is_sorted(), "{}", found.stderr);
        assert_eq!(found.stderr.matches("did you mean `mm`").count(), 2);
        assert!(
            found
                .stderr
                .ends_with("annulet: 100 recipes: 97 hold, 0 fall short, 3 are wrong\n"),
            "{}",
            found.stderr
        );
    }
}

#[test]
fn the_same_bytes_on_any_number_of_cores() {
    let (folder, names) = batch(120, |place| match place % 7 {
        0 if place % 21 == 0 => Kind::Bad,
        3 => Kind::Thin,
        _ => Kind::Good,
    });
    for words in [
        &["eval", "--json"][..],
        &["eval", "--csv"],
        &["eval"],
        &["check"],
        &["check", "--json"],
        &["check", "--held"],
    ] {
        let first = ran(folder.path(), &call(words, &names));
        assert_eq!(first.status, 2, "{words:?}");
        for jobs in JOBS {
            let mut words = words.to_vec();
            words.extend(["--jobs", jobs]);
            let found = ran(folder.path(), &call(&words, &names));
            assert_eq!(
                (found.status, &found.stdout, &found.stderr),
                (first.status, &first.stdout, &first.stderr),
                "{words:?}"
            );
        }
    }
    // The order is that of the call, not of the names.
    let turned: Vec<String> = names.iter().rev().cloned().collect();
    let rows = |names: &[String]| -> Vec<String> {
        let found = ran(folder.path(), &call(&["eval", "--csv"], names));
        found.stdout.lines().skip(1).map(str::to_owned).collect()
    };
    let mut backwards = rows(&turned);
    backwards.reverse();
    assert_eq!(backwards, rows(&names));
}

#[test]
fn stop_ends_at_the_first_that_is_wrong() {
    let (folder, names) = batch(60, |place| match place {
        10 => Kind::Thin,
        20 | 40 => Kind::Bad,
        _ => Kind::Good,
    });
    for jobs in JOBS {
        let words = ["eval", "--csv", "--stop", "--jobs", jobs];
        let found = ran(folder.path(), &call(&words, &names));
        assert_eq!(found.status, 2, "{jobs}");
        // All before it, what falls short included, and nothing behind it.
        assert_eq!(found.stdout.lines().count(), 21, "{jobs}");
        assert!(found.stderr.contains("r020.annulet:6:11"), "{jobs}");
        assert!(!found.stderr.contains("r040.annulet"), "{jobs}");
        assert!(
            found
                .stderr
                .ends_with("annulet: 21 recipes: 19 hold, 1 fall short, 1 are wrong\n"),
            "{jobs}: {}",
            found.stderr
        );
    }
    // Broken JSON would be worse than none.
    let found = ran(folder.path(), &call(&["eval", "--json", "--stop"], &names));
    let json: Value = serde_json::from_str(&found.stdout).unwrap();
    assert_eq!(json["recipes"].as_array().unwrap().len(), 21);
}

#[test]
fn the_summary_is_for_batches_that_have_something_to_say() {
    let (folder, names) = batch(3, |place| if place == 1 { Kind::Thin } else { Kind::Good });
    // What the call names, its options, the status, and how standard error ends.
    let summary = "annulet: 3 recipes: 2 hold, 1 fall short, 0 are wrong\n";
    let cases: &[(&[usize], &[&str], i32, &str)] = &[
        (&[0, 1, 2], &[], 1, summary),
        (&[0, 1, 2], &["-q"], 1, ""),
        (&[0, 2], &[], 0, ""),
        (&[1], &[], 1, "\n"),
    ];
    for (places, options, status, end) in cases {
        let files: Vec<String> = places.iter().map(|place| names[*place].clone()).collect();
        let mut words = vec!["check"];
        words.extend(*options);
        let found = ran(folder.path(), &call(&words, &files));
        assert_eq!(
            (found.status, found.stdout.as_str()),
            (*status, ""),
            "{places:?}"
        );
        assert!(found.stderr.ends_with(end), "{places:?}: {}", found.stderr);
        assert_eq!(
            found.stderr.contains("recipes:"),
            *end == summary,
            "{places:?}"
        );
        assert_eq!(found.stderr.is_empty(), end.is_empty(), "{places:?}");
    }
}

#[test]
fn what_is_laid_over_is_laid_over_each() {
    let (folder, names) = batch(4, |_| Kind::Good);
    let words = ["eval", "--csv", "--set", "width=6 mm"];
    let found = ran(folder.path(), &call(&words, &names));
    assert_eq!(found.status, 0, "{}", found.stderr);
    let header: Vec<&str> = found.stdout.lines().next().unwrap().split(',').collect();
    let column = header
        .iter()
        .position(|name| name.starts_with("strip.height"))
        .unwrap();
    let widths: Vec<&str> = found
        .stdout
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(column).unwrap())
        .collect();
    assert_eq!(widths, ["6"; 4]);
    // A band that only one of them has.
    let found = ran(
        folder.path(),
        &call(&["eval", "--csv", "--band", "r002"], &names),
    );
    assert_eq!(
        (found.status, found.stdout.lines().count()),
        (0, 2),
        "{}",
        found.stderr
    );
    let found = ran(
        folder.path(),
        &call(&["eval", "--csv", "--band", "r02"], &names),
    );
    assert_eq!(found.status, 2);
    assert!(
        found.stderr.contains("there is no band `r02`"),
        "{}",
        found.stderr
    );
}

#[test]
fn one_file_twice_and_standard_input_among_files() {
    let (folder, names) = batch(2, |_| Kind::Good);
    let found = run_in(
        folder.path(),
        &[
            "eval", "--csv", &names[0], "-", &names[1], &names[0], "--jobs", "8",
        ],
        band_with(&[]).as_bytes(),
    );
    assert_eq!(found.status, 0, "{}", found.stderr);
    let bands: Vec<&str> = found
        .stdout
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap())
        .collect();
    assert_eq!(bands, ["r000", "b", "r001", "r000"]);
}
