//! Files that a recipe uses, and many recipes at once: what is read, what is refused, in which order.
//!
//! Run as a user would, in folders of their own.

use std::fs;
use std::path::Path;

use crate::support::{Ran, run_in};

const BAND: &str =
    "band b { size ISO 54, width 4 mm, thickness 1.5 mm, profile flat, alloy house-silver }\n";
const ALLOY: &str = "alloy house-silver { silver 925, copper 75, density 10.3 g/cm3 }\n";

fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

fn ran(folder: &Path, arguments: &[&str]) -> Ran {
    run_in(folder, arguments, b"")
}

#[test]
fn a_used_file_defines_and_is_not_reported() {
    let used = format!(
        "{ALLOY}band u {{ size ISO 50, width 4 mm, thickness 0.1 mm, profile flat, alloy house-silver }}\nrequire u.weight >= 9 g\n"
    );
    let recipe =
        format!("use \"house/all.annulet\"\n{BAND}variant v of u {{ thickness 1.2 mm }}\n");
    let folder = folder(&[("r.annulet", &recipe), ("house/all.annulet", &used)]);
    let check = ran(folder.path(), &["check", "r.annulet"]);
    assert_eq!(
        (check.status, check.stderr.as_str()),
        (0, ""),
        "{}",
        check.stderr
    );
    let csv = ran(folder.path(), &["eval", "--csv", "r.annulet"]);
    let bands: Vec<&str> = csv
        .stdout
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap())
        .collect();
    assert_eq!(bands, ["b", "v"]);
    // The same from another folder.
    let outside = ran(
        Path::new("/"),
        &[
            "eval",
            "--csv",
            folder.path().join("r.annulet").to_str().unwrap(),
        ],
    );
    // The column of the file says how the call names it.
    let named = format!("{}/r.annulet,", folder.path().display());
    assert_eq!(outside.stdout.replace(&named, "r.annulet,"), csv.stdout);
}

#[test]
fn this_file_stands_before_the_files_it_uses() {
    let recipe = format!("use \"a.annulet\"\n{BAND}{}", ALLOY.replace("10.3", "10.2"));
    let folder = folder(&[("r.annulet", &recipe), ("a.annulet", ALLOY)]);
    assert_eq!(
        ran(folder.path(), &["ask", "density", "--in", "r.annulet"]).stdout,
        "10.2 g/cm3\n"
    );
}

#[test]
fn what_cannot_be_used_is_said_where_it_stands() {
    let outer = folder(&[("secret.annulet", ALLOY)]);
    let secret = outer.path().join("secret.annulet");
    let rows = [
        (
            "use \"missing.annulet\"",
            "session::unread_file",
            "there is no file `missing.annulet`",
        ),
        (
            "use \"house/alloy.annulet\"",
            "session::unread_file",
            "did you mean",
        ),
        ("use \"../secret.annulet\"", "session::unread_file", ""),
        (
            &*format!("use \"{}\"", secret.display()),
            "session::unread_file",
            "outside the recipe's folder",
        ),
        (
            "use \"link.annulet\"",
            "session::unread_file",
            "outside the recipe's folder",
        ),
        (
            "use \"house/ring.annulet\"",
            "session::circle",
            "house/ring.annulet uses house/round.annulet uses",
        ),
        (
            "use \"house/back.annulet\"",
            "session::circle",
            "r.annulet uses house/back.annulet uses r.annulet",
        ),
        (
            "use \"house/bad.annulet\"",
            "model::unknown_field",
            "house/bad.annulet:1:13",
        ),
        (
            "use \"house/alloys.annulet\"\nuse \"house/again.annulet\"",
            "model::given_twice",
            "house/again.annulet",
        ),
        (
            "use house",
            "model::value_count",
            "the path of a file, in quotes",
        ),
    ];
    for (line, code, fragment) in rows {
        let folder = folder(&[
            ("r.annulet", &format!("{line}\n{ALLOY}{BAND}")),
            ("house/alloys.annulet", "alloy other { silver 1000 }\n"),
            ("house/again.annulet", "alloy other { silver 1000 }\n"),
            ("house/ring.annulet", "use \"round.annulet\"\n"),
            ("house/round.annulet", "use \"ring.annulet\"\n"),
            ("house/back.annulet", "use \"../r.annulet\"\n"),
            ("house/bad.annulet", "alloy bad { silvr 1000 }\n"),
        ]);
        #[cfg(unix)]
        std::os::unix::fs::symlink(&secret, folder.path().join("link.annulet")).unwrap();
        let check = ran(folder.path(), &["check", "r.annulet"]);
        assert_eq!(check.status, 2, "{line}");
        let codes = check
            .stderr
            .lines()
            .filter(|line| line.contains("::") && !line.contains(' '));
        assert_eq!(codes.count(), 1, "{line}\n{}", check.stderr);
        assert!(
            check.stderr.contains(code) && check.stderr.contains(fragment),
            "{line}\n{}",
            check.stderr
        );
    }
}

#[test]
fn a_file_reached_by_two_ways_counts_once() {
    let folder = folder(&[
        (
            "r.annulet",
            &format!("use \"one.annulet\"\nuse \"two.annulet\"\n{BAND}"),
        ),
        ("one.annulet", "use \"metal.annulet\"\n"),
        ("two.annulet", "use \"./metal.annulet\"\n"),
        ("metal.annulet", ALLOY),
    ]);
    let check = ran(folder.path(), &["check", "r.annulet"]);
    assert_eq!((check.status, check.stderr.as_str()), (0, ""));
}

/// A hundred recipes, three of which are wrong.
fn hundred() -> tempfile::TempDir {
    let recipes: Vec<(String, String)> = (0..100)
        .map(|place| {
            let alloy = if place % 40 == 7 { "silver-952" } else { "silver-925" };
            let band = format!("band b{place:02} {{ size ISO 54, width 4 mm, thickness 1.5 mm, profile flat, alloy {alloy} }}\n");
            (format!("{place:02}.annulet"), band)
        })
        .collect();
    let named: Vec<(&str, &str)> = recipes
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    folder(&named)
}

#[test]
fn bad_recipes_are_passed_by_and_the_order_is_kept() {
    let folder = hundred();
    let one = ran(folder.path(), &["eval", "--csv", "--jobs", "1", "."]);
    let eight = ran(folder.path(), &["eval", "--csv", "--jobs", "8", "."]);
    assert_eq!(
        (&one.stdout, &one.stderr, one.status),
        (&eight.stdout, &eight.stderr, eight.status)
    );
    assert_eq!(one.status, 2);
    let names: Vec<&str> = one
        .stdout
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap())
        .collect();
    let wanted: Vec<String> = (0..100)
        .filter(|place| place % 40 != 7)
        .map(|place| format!("b{place:02}"))
        .collect();
    assert_eq!(names, wanted);
    for place in ["07.annulet:1:75", "47.annulet:1:75", "87.annulet:1:75"] {
        assert!(one.stderr.contains(place), "{place}\n{}", one.stderr);
    }
    assert!(
        one.stderr
            .ends_with("100 recipes: 97 hold, 0 fall short, 3 are wrong\n"),
        "{}",
        one.stderr
    );
    let stopped = ran(folder.path(), &["check", "--stop", "--jobs", "1", "."]);
    assert!(
        stopped.stderr.contains("07.annulet") && !stopped.stderr.contains("47.annulet"),
        "{}",
        stopped.stderr
    );
    assert_eq!(stopped.status, 2);
}

#[test]
fn check_is_silent_where_all_holds_and_lists_requirements_on_demand() {
    let held = format!("{ALLOY}{BAND}require \"light\" b.weight <= 9 g\nrequire b.width = 4 mm\n");
    let folder = folder(&[("r.annulet", &held)]);
    let quiet = ran(folder.path(), &["check", "r.annulet"]);
    assert_eq!(
        (quiet.status, quiet.stdout.as_str(), quiet.stderr.as_str()),
        (0, "", "")
    );
    let all = ran(folder.path(), &["check", "--held", "r.annulet"]);
    assert!(
        all.stdout.contains("holds: \u{201C}light\u{201D}") && all.stdout.contains("to spare"),
        "{}",
        all.stdout
    );
    let broken = ran(
        folder.path(),
        &["check", "--set", "b.width=5 mm", "r.annulet"],
    );
    assert_eq!(broken.status, 1);
    assert!(
        broken.stderr.contains("session::broken"),
        "{}",
        broken.stderr
    );
}

#[test]
fn why_names_every_place_and_the_one_that_holds() {
    let recipe = format!("{ALLOY}{BAND}variant v of b {{ width 5 mm }}\n");
    let folder = folder(&[("r.annulet", &recipe)]);
    let why = ran(
        folder.path(),
        &[
            "why",
            "v.width",
            "--in",
            "r.annulet",
            "--set",
            "v.width=6 mm",
        ],
    );
    let places: Vec<&str> = why.stdout.lines().skip(2).map(str::trim).collect();
    assert_eq!(
        places,
        [
            "r.annulet:2:23: width 4 mm",
            "r.annulet:3:18: width 5 mm",
            "--set: v.width 6 mm  <- holds"
        ]
    );
    let flat = ran(
        folder.path(),
        &["why", "b.weight", "--in", "r.annulet", "--depth", "0"],
    );
    assert_eq!(flat.stdout.lines().count(), 3, "{}", flat.stdout);
    let json = ran(
        folder.path(),
        &["why", "b.weight", "--in", "r.annulet", "--json"],
    );
    let json: serde_json::Value = serde_json::from_str(&json.stdout).unwrap();
    let inputs: Vec<&str> = json["recipes"][0]["reasons"][0]["inputs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["path"].as_str().unwrap())
        .collect();
    assert_eq!(inputs, ["b.volume", "b.density"]);
}
