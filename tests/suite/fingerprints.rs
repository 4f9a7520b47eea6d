//! Fingerprints: the same for what means the same, another for every change of meaning; and editions of the language.
//!
//! The digest itself is SHA-256 (FIPS 180-4) by a crate from outside the project.

use std::fs;

use serde_json::Value;
use tempfile::TempDir;

use crate::random_bands::of_seed;
use crate::support::{findings, lone_examples, read, run, run_in};

fn prints(arguments: &[&str], stdin: &str) -> Value {
    let mut call = vec!["eval", "--json"];
    call.extend(arguments);
    let ran = run(&call, stdin);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["fingerprints"].clone()
}

fn of(text: &str) -> String {
    prints(&["-"], text)["recipe"].as_str().unwrap().to_owned()
}

#[test]
fn layout_leaves_it_and_meaning_moves_it() {
    let mut known = std::collections::BTreeSet::new();
    for file in lone_examples() {
        let text = read(&file);
        let print = of(&text);
        assert!(
            known.insert(print.clone()),
            "{file}: two recipes of one fingerprint"
        );
        // What is laid out otherwise, with comments, says the same.
        let lines = text.lines().map(|line| format!("   {line}   # note"));
        let quoted = text.contains("\"\"");
        let other: String = lines.map(|line| line + "\r\n").collect();
        assert!(!quoted);
        assert_eq!(of(&other), print, "{file}");
    }
    for seed in 0..30 {
        let text = of_seed(seed).recipe.text();
        let Some(line) = text
            .lines()
            .find(|line| line.trim_start().starts_with("width "))
        else {
            continue;
        };
        assert_ne!(
            of(&text),
            of(&text.replacen(line, "  width 7.125 mm", 1)),
            "{text}"
        );
    }
}

#[test]
fn units_order_and_defaults_leave_it() {
    let one = "let cut = 0.30 mm\nband b {\n  size 17 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy sterling\n}\nrequire b.weight <= 7 g\n";
    let other = "require (b.weight <= 0.007 kg)\nband b {\n  alloy sterling\n  profile flat\n  ease.outer 0 mm\n  thickness 0.2 cm, width 0.5 cm, size 1.7 cm\n}\nlet cut = 0.3 mm\n";
    let other = other.replace("(b.weight <= 0.007 kg)", "b.weight <= 0.007 kg");
    assert_eq!(of(one), of(&other));
    for (old, new) in [
        ("0.30 mm", "0.31 mm"),
        ("<= 7 g", "< 7 g"),
        ("flat", "domed { edge 1.5 mm }"),
        ("sterling", "silver-999"),
        ("band b", "band c"),
        ("17 mm", "UK N"),
    ] {
        let new = one.replace(old, new).replace(
            "require b",
            if new == "band c" {
                "require c"
            } else {
                "require b"
            },
        );
        assert_ne!(of(one), of(&new), "{old}");
    }
}

#[test]
fn shared_files_and_overrides_count() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let house = "alloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n";
    write("house.annulet", house);
    write(
        "r.annulet",
        "use \"house.annulet\"\nband b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy rose }\n",
    );
    let print = |sets: &[&str]| {
        let mut call = vec!["eval", "--json", "r.annulet"];
        for set in sets {
            call.extend(["--set", set]);
        }
        let json: Value = serde_json::from_str(&run_in(folder.path(), &call, b"").stdout).unwrap();
        json["recipes"][0]["fingerprints"]["recipe"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    let before = print(&[]);
    assert_ne!(before, print(&["width=6 mm"]));
    assert_eq!(
        print(&["width=6 mm", "thickness=3 mm"]),
        print(&["thickness=3 mm", "width=6 mm"])
    );
    write(
        "house.annulet",
        &format!("# comment\n{}", house.replace("585", "58.5 %")),
    );
    assert_eq!(before, print(&[]));
    write("house.annulet", &house.replace("13.3", "13.31"));
    assert_ne!(before, print(&[]));
}

#[test]
fn the_program_tells_itself() {
    let program = prints(&["examples/harvest.annulet"], "")["program"].clone();
    let version = run(&["--version"], "").stdout;
    let (_, version) = version.trim().split_once(' ').unwrap();
    assert!(
        program
            .as_str()
            .unwrap()
            .starts_with(&format!("{version}-"))
    );
    assert_eq!(
        program,
        prints(&["examples/ferrule.annulet"], "")["program"]
    );
}

#[test]
fn an_older_edition_is_read_and_a_newer_one_refused_kindly() {
    let band = "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling }\n";
    assert!(findings(&format!("annulet 1\n{band}")).is_empty());
    for (line, help) in [
        ("annulet 2", "written for a newer program"),
        ("annulet 0", "write `annulet 1`"),
    ] {
        let found = findings(&format!("{line}\n{band}"));
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].code, "model::edition");
        assert!(found[0].help.contains(help), "{}", found[0].help);
    }
}
