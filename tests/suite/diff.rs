//! Differences by meaning: silent where nothing is meant otherwise, and of one real change all that it moved.
//!
//! Held against the acceptance list's point 38. What a changed width moves is checked by the closed form of a pipe,
//! pi * w * (R^2 - r^2); git itself calls the program in a repository made for it.

use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

use crate::json_schema::Schema;
use crate::overrides_equal_edits::outcome;
use crate::random_bands::of_seed;
use crate::support::{Ran, band_with, files_under, lone_examples, number_of, read, run_in};

fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = TempDir::new().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

fn diff(old: &str, new: &str) -> Ran {
    let folder = folder(&[("old.annulet", old), ("new.annulet", new)]);
    run_in(folder.path(), &["diff", "old.annulet", "new.annulet"], b"")
}

fn diff_json(old: &str, new: &str) -> Value {
    let folder = folder(&[("old.annulet", old), ("new.annulet", new)]);
    let call = ["diff", "--json", "old.annulet", "new.annulet"];
    let ran = run_in(folder.path(), &call, b"");
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!(Schema::published().accepts(&json), Ok(()), "{json:#}");
    assert_eq!(json["status"], ran.status);
    json["recipes"][0]["differences"][0].clone()
}

const PLAIN: &str = "let cut = 0.30 mm\n\
    prices { dated 2026-11-01, gold 120 EUR/g, silver 1.5 EUR/g }\n\
    alloy rose { gold 585, copper 325, silver 90 }\n\
    shop { labour 60 EUR/h, operation turning { run 6 min } }\n\
    band b {\n  size 16 mm\n  width 5 mm\n  thickness 2 mm\n  profile flat\n  alloy rose\n  pattern { repeats 12, depth cut, cover 50 % }\n}\n\
    variant c of b { width 6 mm }\n\
    require \"light\" b.weight <= 7 g\n\
    require b.thickness >= 0.1 cm\n";

#[test]
fn layout_order_comments_and_spelling_are_no_difference() {
    let other = "# a note\nrequire b.thickness  >=  1 mm\nrequire \"light\" b.weight <= 7 g\n\
        variant c of b {\n  width 0.6 cm # wider\n}\n\
        band b { alloy rose, profile flat, thickness 0.2 cm, width 0.5 cm, size 1.60 cm\n\
          pattern.cover 50 %, pattern.depth cut\n  pattern.repeats 12 }\n\
        shop.operation.turning.run 0.1 h\nshop.labour 1 EUR/min\n\
        alloy rose { silver 9 %, gold 58.5 %, copper 32.5 % }\n\
        prices { gold 120 EUR/g, silver 1500 EUR/kg, dated 2026-11-01 }\n\
        let cut = 0.300 mm\n";
    let ran = diff(PLAIN, other);
    assert_eq!(
        (ran.stdout.as_str(), ran.stderr.as_str(), ran.status),
        ("", "", 0)
    );
    assert_eq!(diff_json(PLAIN, other)["differs"], false);
    // A rule to be met is said in words.
    let band = band_with(&[]);
    let required = |lines: &str| format!("{band}{lines}");
    let ran = diff(
        &required("require b meets UK 925\nrequire b.weight <= 99 g\n"),
        &required("require b  meets  UK   925\nrequire  b.weight  <=  99 g\n"),
    );
    assert_eq!((ran.stdout.as_str(), ran.status), ("", 0), "{}", ran.stderr);
}

#[test]
fn the_same_text_never_differs() {
    let examples = lone_examples().into_iter();
    let cases = files_under("tests/suite/cases", ".annulet").into_iter();
    let mut texts: Vec<String> = examples.chain(cases).map(|file| read(&file)).collect();
    texts.extend((0..40).map(|seed| of_seed(seed).recipe.text()));
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    for (place, text) in texts.iter().enumerate() {
        for folder in &folders {
            fs::write(folder.path().join(format!("{place}.annulet")), text).unwrap();
        }
    }
    let path = |of: &TempDir| of.path().display().to_string();
    let ran = run_in(
        folders[0].path(),
        &["diff", &path(&folders[0]), &path(&folders[1])],
        b"",
    );
    assert_eq!(ran.stdout, "");
}

#[test]
fn a_change_is_told_with_all_that_it_moved() {
    let ran = diff(PLAIN, &PLAIN.replace("width 5 mm", "width 5.5 mm"));
    assert_eq!((ran.stderr.as_str(), ran.status), ("", 1));
    insta::assert_snapshot!(ran.stdout);
    let found = diff_json(PLAIN, &PLAIN.replace("width 5 mm", "width 5.5 mm"));
    let band = &found["bands"][0];
    assert_eq!(found["bands"].as_array().unwrap().len(), 1, "{found:#}");
    assert_eq!(band["fields"][0]["path"], "width");
    assert_eq!(band["fields"][0]["old"]["value"], "5");
    let volume = band["results"].as_array().unwrap().iter();
    let mut volume = volume.filter(|one| one["path"] == "volume.uncut");
    let volume = volume.next().unwrap();
    for (side, width) in [("old", 5.0), ("new", 5.5)] {
        let pipe = std::f64::consts::PI * width * (10.0 * 10.0 - 8.0 * 8.0);
        let found = number_of(&volume[side]);
        assert!((found - pipe).abs() < 1e-9 * pipe, "{found} is not {pipe}");
    }
    let paths: Vec<&str> = band["results"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["path"].as_str().unwrap())
        .collect();
    for path in ["weight", "cost", "weight.issued"] {
        assert!(paths.contains(&path), "{path} did not move: {paths:?}");
    }
}

/// What is moved, and a word that the difference must hold.
#[test]
fn every_kind_of_change_is_told() {
    let outline = "band o { size 16 mm, width 5 mm, alloy sterling\n  profile custom { from -2.5 mm 2 mm, to 2.5 mm 2 mm }\n}\n";
    for (old, change, into, told) in [
        (PLAIN, "let cut = 0.30 mm", "let cut = 0.25 mm", "let cut"),
        (PLAIN, "gold 120 EUR/g", "gold 121 EUR/g", "prices.gold"),
        (
            PLAIN,
            "run 6 min",
            "run 7 min",
            "shop.operation.turning.run",
        ),
        (
            PLAIN,
            "silver 90",
            "silver 90\n density 13.1 g/cm3",
            "alloy.rose.density",
        ),
        (
            PLAIN,
            "copper 325, silver 90",
            "copper 324, silver 91",
            "alloy.rose.silver",
        ),
        (PLAIN, "<= 7 g", "<= 6 g", "required, “light”: holds"),
        (PLAIN, "thickness 2 mm", "thickness 0.4 mm", "now, warning"),
        (
            PLAIN,
            "require \"light\" b.weight <= 7 g",
            "",
            "no longer required",
        ),
        (PLAIN, "variant c of b", "variant d of b", "band c: gone"),
        (PLAIN, "variant c of b", "variant d of b", "band d: added"),
        (
            PLAIN,
            "thickness 2 mm",
            "thickness 2 mm, title \"A\"",
            "title",
        ),
        (
            PLAIN,
            "thickness 2 mm",
            "thickness -2 mm",
            "band b: can no longer be worked out",
        ),
        (PLAIN, "cover 50 %", "cover 50 % ± 1 %", "pattern.cover"),
        (outline, "to 2.5 mm 2 mm", "to 2.5 mm 2.1 mm", "profile.to"),
    ] {
        let new = old.replace(change, into);
        assert_ne!(new, *old, "{change}");
        let ran = diff(old, &new);
        let said = ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(told), "{told}:\n{}", ran.stdout);
        let wanted = if into.contains("-2 mm") { 2 } else { 1 };
        assert_eq!(ran.status, wanted, "{told}:\n{}", ran.stdout);
    }
}

#[test]
fn orders_are_told_in_words_and_units() {
    let of = |order: &str| {
        format!(
            "{PLAIN}stock tube-22 tube {{ outside 22 mm, bore 15 mm, length 20 mm }}\n\
             variant d of b {{ stock tube-22, sale piece {{ markup 50 % }} }}\n{order}\n"
        )
    };
    let three = of("order fair { dated 2026-11-20, d 3 }");
    let five = of("order fair { dated 2026-11-20, d 5 }");
    let ran = diff(&three, &five);
    let (_, told) = ran.stdout.split_once("  order fair\n").unwrap();
    let rows: Vec<Vec<&str>> = told
        .lines()
        .map(|line| {
            line.split("  ")
                .map(str::trim)
                .filter(|cell| !cell.is_empty())
                .collect()
        })
        .collect();
    let row = |what: &str| {
        let mut rows = rows.iter();
        let found = rows.find(|row| row[0] == what);
        found.unwrap_or_else(|| panic!("no {what}: {told}"))
    };
    assert_eq!(row("count")[1..], ["3", "→ 5", "+2"]);
    let line = row("d in 16 mm");
    assert!(
        line[1].starts_with("3 at ") && line[1].contains(" EUR, ≈ "),
        "{line:?}"
    );
    assert!(
        line[2].starts_with("→ 5 at ") && line[2].ends_with(" g each"),
        "{line:?}"
    );
    assert!(row("to buy, tube-22")[1].starts_with("1 length, ≈ "));
    for total in ["cost", "price", "price.total", "due"] {
        let row = row(total);
        assert!(
            row[1].ends_with(" EUR") && row[2].ends_with(" EUR"),
            "{row:?}"
        );
        assert!(
            row[3].starts_with('+') && row[3].contains(" EUR (+"),
            "{row:?}"
        );
    }
    assert!(row("weight.issued")[1].ends_with(" g"));
    assert!(row("time.labour")[1].ends_with(" min"));
    assert!(!told.contains("totals") && !told.contains("net"), "{told}");
    // The keys of machine output stay as they are.
    let json = diff_json(&three, &five);
    let paths = json["orders"].as_array().unwrap().iter();
    let paths: Vec<&str> = paths.map(|one| one["path"].as_str().unwrap()).collect();
    assert!(paths.contains(&"order fair totals count"), "{paths:?}");
    let ran = diff(&of(""), &five);
    assert!(
        ran.stdout.contains("  order fair: added\n"),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_moved_result_is_told_of_random_recipes() {
    // Where machine results of both sides differ, so do the recipes, and the other way round.
    for seed in 0..25 {
        let text = of_seed(seed).recipe.text();
        // A cutter may have a width too.
        let (before, band) = text.split_at(text.find("band b {").unwrap());
        let Some(line) = band
            .lines()
            .find(|line| line.trim_start().starts_with("width "))
        else {
            continue;
        };
        let other = before.to_owned() + &band.replacen(line, "  width 7.125 mm", 1);
        let same = outcome(&text, Vec::new()) == outcome(&other, Vec::new());
        let ran = diff(&text, &other);
        assert_eq!(ran.stdout.is_empty(), same, "{text}\n{}", ran.stdout);
    }
}

#[test]
fn a_shared_file_is_told_by_what_it_moves() {
    let house = "alloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n\
        alloy pale { gold 750, silver 250, density 15 g/cm3 }\n";
    let band = |name: &str, alloy: &str| {
        format!(
            "use \"house.annulet\"\nband {name} {{ size 16 mm, width 5 mm, thickness 2 mm, profile flat, alloy {alloy} }}\n"
        )
    };
    let (one, other) = (band("one", "rose"), band("other", "pale"));
    let changed = house.replace("13.3", "13.2");
    let files = |house: &str| {
        folder(&[
            ("house.annulet", house),
            ("one.annulet", &one),
            ("other.annulet", &other),
        ])
    };
    let (old, new) = (files(house), files(&changed));
    let path = |of: &TempDir| of.path().display().to_string();
    let call = ["diff", &path(&old), &path(&new)];
    let ran = run_in(old.path(), &call, b"");
    assert_eq!(ran.status, 1);
    insta::assert_snapshot!(ran.stdout);
    assert_eq!(
        ran.stderr,
        "annulet: 3 recipes: 2 differ, 0 added, 0 gone\n"
    );
    fs::remove_file(new.path().join("one.annulet")).unwrap();
    fs::write(new.path().join("third.annulet"), band("third", "pale")).unwrap();
    let ran = run_in(old.path(), &call, b"");
    assert_eq!(
        ran.stderr,
        "annulet: 4 recipes: 1 differ, 1 added, 1 gone\n"
    );
    assert!(ran.stdout.contains("\n  band one: gone\n"));
    assert!(ran.stdout.contains("\n  band third: added\n"));
}

#[test]
fn wrong_calls_are_told() {
    let folder = folder(&[("a.annulet", PLAIN), ("b/c.annulet", PLAIN)]);
    for (call, status, said) in [
        (
            &["diff", "a.annulet"][..],
            2,
            "`diff` takes two recipes or two folders",
        ),
        (
            &["diff", "a.annulet", "b"],
            2,
            "compare a folder with a folder",
        ),
        (
            &["diff", "a.annulet", "no.annulet"],
            2,
            "there is no file `no.annulet`",
        ),
        (
            &["diff", "a.annulet", "b/c.annulet", "--band", "x"],
            2,
            "there is no band `x`",
        ),
        (
            &["diff", "a.annulet", "b/c.annulet", "a.annulet"],
            2,
            "`diff` takes two recipes",
        ),
        (&["diff", "a.annulet", "/dev/null"], 1, ""),
    ] {
        let ran = run_in(folder.path(), call, b"");
        assert_eq!(ran.status, status, "{call:?}: {}", ran.stderr);
        assert!(ran.stderr.contains(said), "{call:?}: {}", ran.stderr);
    }
}

/// Runs git in a folder, with nothing of the machine's own settings; its standard output.
fn git(folder: &Path, arguments: &[&str]) -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_annulet")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let ran = Command::new("git")
        .args([
            "-c",
            "user.name=Bench",
            "-c",
            "user.email=bench@example.org",
        ])
        .args(["-c", "init.defaultBranch=main"])
        .args(arguments)
        .current_dir(folder)
        .env("PATH", path)
        .env("HOME", folder)
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .env("GIT_PAGER", "cat")
        .output()
        .unwrap();
    let (stdout, stderr) = (
        String::from_utf8(ran.stdout).unwrap(),
        String::from_utf8(ran.stderr).unwrap(),
    );
    assert!(ran.status.success(), "{arguments:?}: {stdout}{stderr}");
    stdout
}

#[test]
fn git_shows_differences_by_meaning() {
    let repository = TempDir::new().unwrap();
    let at = repository.path();
    let write = |text: &str| fs::write(at.join("b.annulet"), text).unwrap();
    git(at, &["init", "-q"]);
    fs::write(at.join(".gitattributes"), "*.annulet diff=annulet\n").unwrap();
    write(PLAIN);
    git(at, &["add", "."]);
    git(at, &["commit", "-qm", "first"]);
    git(at, &["config", "diff.annulet.command", "annulet diff"]);
    // Layout alone is nothing to show.
    write(&PLAIN.replace("width 5 mm", "width   0.5 cm # as ever"));
    assert_eq!(git(at, &["diff"]), "");
    git(at, &["commit", "-qam", "layout"]);
    write(&PLAIN.replace("width 5 mm", "width 5.5 mm"));
    let shown = git(at, &["diff"]);
    assert!(
        shown.starts_with("b.annulet\n  band b\n    width"),
        "{shown}"
    );
    assert!(shown.contains("cost"), "{shown}");
    git(at, &["commit", "-qam", "wider"]);
    git(at, &["mv", "b.annulet", "wide.annulet"]);
    fs::write(
        at.join("wide.annulet"),
        PLAIN.replace("width 5 mm", "width 5.6 mm"),
    )
    .unwrap();
    git(at, &["add", "."]);
    let shown = git(at, &["diff", "--cached", "-M"]);
    assert!(
        shown.starts_with("b.annulet → wide.annulet\n  band b\n    width"),
        "{shown}"
    );
    git(at, &["commit", "-qam", "renamed"]);
    // A faulty state must not stop the log, nor a file that is gone.
    fs::write(at.join("wide.annulet"), "band b {\n  widht 5 mm\n}\n").unwrap();
    git(at, &["commit", "-qam", "faulty"]);
    git(at, &["rm", "-q", "wide.annulet"]);
    git(at, &["commit", "-qm", "gone"]);
    let log = git(at, &["log", "-p", "--ext-diff", "--format=%s"]);
    for told in [
        "first",
        "b.annulet: added",
        "can no longer be worked out",
        "wide.annulet: gone",
    ] {
        assert!(log.contains(told), "{told}:\n{log}");
    }
}

#[test]
fn git_compares_texts_with_results_behind_them() {
    let repository = TempDir::new().unwrap();
    let at = repository.path();
    let write = |text: &str| fs::write(at.join("b.annulet"), text).unwrap();
    git(at, &["init", "-q"]);
    fs::write(at.join(".gitattributes"), "*.annulet diff=annulet\n").unwrap();
    git(
        at,
        &["config", "diff.annulet.textconv", "annulet diff --text"],
    );
    write(PLAIN);
    git(at, &["add", "."]);
    git(at, &["commit", "-qm", "first"]);
    write(&PLAIN.replace("width 5 mm", "width    5.5 mm"));
    let shown = git(at, &["diff"]);
    let lines: Vec<&str> = shown
        .lines()
        .filter(|line| line.starts_with(['-', '+']))
        .collect();
    assert!(
        lines.contains(&"-  width 5 mm") && lines.contains(&"+  width 5.5 mm"),
        "{shown}"
    );
    assert!(
        lines.iter().any(|line| line.starts_with("+# b.weight = ≈")),
        "{shown}"
    );
    assert!(
        lines.iter().any(|line| line.starts_with("+# b.cost = ")),
        "{shown}"
    );
    git(at, &["commit", "-qam", "second"]);
    write("band b {\n");
    git(at, &["commit", "-qam", "faulty"]);
    let log = git(at, &["log", "-p", "--format=%s"]);
    assert!(
        log.contains("+# b.weight") && log.contains("+band b {"),
        "{log}"
    );
}
