//! No character that could upset a terminal gets out: not from any command, not from the bench, whatever titles,
//! names, texts, file names and arguments hold.

use annulet::source::is_safe;
use serde_json::Value;
use tempfile::TempDir;

use crate::support::{Ran, run_in};

/// Clipboard and screen codes with both endings, C1 controls, deletion, marks and overrides of direction.
const EVIL: &str = "\u{1B}]52;c;aGk=\u{7}\u{1B}[2J\u{1B}P1\u{1B}\\\u{9B}31m\u{9D}0;x\u{9C}\u{85}\u{7F}\u{8}\u{0}\u{B}\
                    \u{202E}\u{2066}\u{200F}\u{61C}";

/// The same without what no argument and no file name can hold.
fn evil_name() -> String {
    EVIL.replace('\0', "")
}

/// A recipe with such a text in every place that takes one.
fn recipe() -> String {
    let text = r#"annulet 1
# EVIL
alloy mine {
  title "EVIL"
  silver 935, copper 65
  assay 935 { by "EVIL" }
  colour "EVIL"
}
prices { dated 2026-11-20, oldest 2 days, source "EVIL", silver 1.1 EUR/g, gold 98 EUR/g }
shop { labour 40 EUR/h, operation turning { run 5 min }, operation "EVIL" { run 1 min } }
stock tube-21 tube { outside 22 mm, bore 16 mm }
rules mine-own {
  title "EVIL"
  like UK
}
band b {
  title "EVIL" # EVIL
  size ISO 54, width 5 mm, thickness 1.5 mm
  profile flat, alloy mine, stock tube-21
  tag "EVIL"
  sale piece { markup 100 % }
}
variant v of b { title "EVIL", width 6 mm }
require "EVIL" b.width <= 5.5 mm
require "EVIL" b.title = "EVIL"
require b meets EVIL 925
order fair { dated 2026-11-25, for "EVIL", b { 2 of ISO 54 } }
order "EVIL" { dated 2026-11-25 }
use "EVIL"
width EVIL mm
"#;
    text.replace("EVIL", EVIL)
}

/// One whose bands are sound, so that all of their results come out; such texts stand around them only.
fn around() -> String {
    let text = r#"# EVIL
prices { dated 2026-11-20, oldest 2 days, source "EVIL", silver 1.1 EUR/g }
shop { labour 40 EUR/h, operation turning { run 5 min } }
band b {
  size ISO 54, width 5 mm, thickness 1.5 mm
  profile flat, alloy sterling
  sale piece { markup 100 % }
}
variant v of b { width 6 mm }
require "EVIL" b.width <= 5.5 mm
require "EVIL" v.width <= 5.5 mm
order fair { dated 2026-11-25, for "EVIL", b { 2 of ISO 54 } }
"#;
    text.replace("EVIL", EVIL)
}

fn unsafe_in(ran: &Ran) -> Option<String> {
    let found = |text: &str| {
        let ends = |place: usize| text.as_bytes().get(place + 1) == Some(&b'\n');
        let mut all = text.char_indices();
        let wrong =
            all.find(|(place, c)| !(is_safe(*c) || *c == '\n' || *c == '\r' && ends(*place)));
        wrong.map(|(place, c)| {
            let start: String = text[..place].chars().rev().take(60).collect();
            format!("{c:?} behind {:?}", start.chars().rev().collect::<String>())
        })
    };
    found(&ran.stdout).or_else(|| found(&ran.stderr))
}

#[test]
fn every_command_is_safe() {
    let folder = TempDir::new().unwrap();
    let evil = evil_name();
    let file = format!("{evil}.annulet");
    std::fs::write(folder.path().join("r.annulet"), recipe()).unwrap();
    std::fs::write(folder.path().join("a.annulet"), around()).unwrap();
    std::fs::write(folder.path().join(&file), recipe()).unwrap();
    // What can be read with such a name, so that results come of it too.
    let sound =
        "band b { size ISO 54, width 5 mm, thickness 1.5 mm, profile flat, alloy silver-925 }\n";
    std::fs::write(folder.path().join(format!("s{evil}.annulet")), sound).unwrap();
    let named = [file.clone(), format!("s{evil}.annulet")];
    let mut calls: Vec<Vec<&str>> = Vec::new();
    for name in [
        "r.annulet",
        "a.annulet",
        ".",
        named[0].as_str(),
        named[1].as_str(),
    ] {
        for command in [
            &["eval"][..],
            &["eval", "--json"],
            &["eval", "--csv"],
            &["check"],
            &["check", "--json"],
            &["check", "--held"],
        ] {
            calls.push([command, &[name]].concat());
        }
        for command in [
            &[
                "ask",
                "b.title",
                "mine.title",
                "prices.source",
                "b.tag",
                "v.title",
                &evil,
            ][..],
            &["ask", "--plain", "b.title", "mine.title", &evil],
            &["ask", "--json", "b.title", "mine.title", &evil],
            &["compare", "b", "v"],
            &["compare", "b", "v", "--json"],
            &["compare", "b", "v", "--csv"],
            &["compare", &evil],
            &["run", "b", "--sizes", "ISO 54 .. ISO 56"],
            &["run", "b", "--sizes", "ISO 54 .. ISO 56", "--csv"],
            &["run", "b", "--sizes", "ISO 54 .. ISO 56", "--json"],
            &["run", "b", "--sizes", &evil],
            &["run", &evil, "--sizes", "ISO 54"],
            &["offer"],
            &["offer", "fair"],
            &["offer", &evil],
            &["why", "b.title"],
            &["why", "b.title", "--json"],
            &["why", "b.weight"],
            &["why", "mine.title"],
            &["why", &evil],
        ] {
            calls.push([command, &["--in", name]].concat());
        }
    }
    let set = format!("title=\"{evil}\"");
    let set_let = format!("{evil}=5 mm");
    for arguments in [
        &["list", &evil][..],
        &["list", "alloys", &evil],
        &["eval", "r.annulet", "--band", &evil],
        &["eval", "r.annulet", "--on", &evil],
        &["eval", "r.annulet", "--set", &evil],
        &["eval", "r.annulet", "--set", &set],
        &["eval", "r.annulet", "--set", &set_let],
        &["bench", "r.annulet", "--set", &set],
        &["bench", "r.annulet", "--band", &evil],
        &["bench", &evil],
        &["eval", "r.annulet", "--color", &evil],
        &["eval", "r.annulet", "--jobs", &evil],
        &["why", "b.width", "--depth", &evil, "--in", "r.annulet"],
        &["eval", &evil],
        &["ask", "b.width", "--in", &evil],
        &["list", "alloys", &evil, &evil],
        &[&evil],
    ] {
        calls.push(arguments.to_vec());
    }
    let option = format!("--{evil}");
    let value = format!("--band={evil}");
    calls.push(vec!["eval", &option]);
    calls.push(vec!["list", "alloys", &value]);
    let (mut wrong, mut shown) = (Vec::new(), 0);
    for call in calls {
        let ran = run_in(folder.path(), &call, b"");
        shown += usize::from((ran.stdout.clone() + &ran.stderr).contains("\u{FFFD}"));
        wrong.extend(unsafe_in(&ran).map(|found| format!("{call:?}: {found}")));
        // Colours are ours, and nothing but colours.
        let mut colored = call.clone();
        colored.extend(["--color", "always"]);
        let ran = run_in(folder.path(), &colored, b"");
        let plain = Ran {
            stderr: without_colour(&ran.stderr),
            ..ran
        };
        wrong.extend(unsafe_in(&plain).map(|found| format!("{colored:?}: {found}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(shown > 40, "{shown}");
}

/// A text without the codes of colour.
fn without_colour(text: &str) -> String {
    let mut plain = String::new();
    let mut parts = text.split("\u{1B}[");
    plain.push_str(parts.next().unwrap_or(""));
    for part in parts {
        match part.split_once('m') {
            Some((codes, rest)) if codes.chars().all(|c| c.is_ascii_digit() || c == ';') => {
                plain.push_str(rest);
            }
            _ => plain.push_str(&format!("\u{1B}[{part}")),
        }
    }
    plain
}

#[test]
fn every_line_of_the_bench_is_safe() {
    let folder = TempDir::new().unwrap();
    std::fs::write(folder.path().join("r.annulet"), recipe()).unwrap();
    let evil = evil_name();
    let other = format!("{evil}.annulet");
    std::fs::write(
        folder.path().join(&other),
        "band b { size ISO 54, width 5 mm, thickness 1.5 mm, profile flat, alloy silver-925 }\n",
    )
    .unwrap();
    let lines: Vec<String> = [
        "show",
        "show v",
        "check",
        "eval",
        "eval v",
        "eval json",
        "eval csv",
        "compare b v",
        "offer",
        "offer fair",
        "offer EVIL",
        "why title",
        "why mine.title",
        "why EVIL",
        "title",
        "v.title",
        "mine.title",
        "prices.source",
        "EVIL",
        "EVIL 5 mm",
        "title EVIL",
        "title \"EVIL\"",
        "try width 5.8 mm",
        "try width 5.8 mm\ntry",
        "try title \"EVIL\"",
        "try title \"EVIL\"\nkeep",
        "try title \"EVIL\"\nkeep\nundo\nredo",
        "width 5.8 mm",
        "width 5.8 mm # EVIL",
        "# EVIL\nwidth 5.8 mm",
        "band n { title \"EVIL\" }",
        "band EVIL { width 5 mm }",
        "let EVIL = 5 mm",
        "require \"EVIL\" b.width <= 1 mm",
        "on EVIL",
        "open EVIL",
        "open EVIL.annulet",
        "save EVIL",
        "save EVIL.annulet",
        "save EVIL.annulet over",
        "width 5.8 mm\nsave nEVIL.annulet\nundo",
        "list EVIL",
        "list alloys EVIL",
        "help EVIL",
        "digits EVIL",
        "keep EVIL",
        "undo EVIL",
        "without pattern # EVIL",
        "alloy mine { silver 925, copper 75 }",
    ]
    .into_iter()
    .map(|line| line.replace("EVIL", &evil))
    .collect();
    let (mut wrong, mut shown) = (Vec::new(), 0);
    std::fs::write(folder.path().join("a.annulet"), around()).unwrap();
    let files = ["r.annulet", "a.annulet", other.as_str()];
    for (file, line) in files
        .iter()
        .flat_map(|file| lines.iter().map(move |line| (file, line)))
    {
        let ran = run_in(folder.path(), &["bench", file], line.as_bytes());
        shown += usize::from((ran.stdout.clone() + &ran.stderr).contains("\u{FFFD}"));
        wrong.extend(unsafe_in(&ran).map(|found| format!("{line:?} on {file:?}: {found}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(shown > 40, "{shown}");
}

#[test]
fn machine_output_says_the_very_same_text() {
    let folder = TempDir::new().unwrap();
    // A file's name is the one text that reaches machine output as it is.
    let evil = evil_name();
    let name = format!("{evil}.annulet");
    let sound =
        "band b { size ISO 54, width 5 mm, thickness 1.5 mm, profile flat, alloy silver-925 }\n";
    std::fs::write(folder.path().join(&name), sound).unwrap();
    std::fs::write(folder.path().join("a.annulet"), sound).unwrap();
    let ran = run_in(folder.path(), &["eval", "--json", "a.annulet", &name], b"");
    assert_eq!(unsafe_in(&ran), None);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!(
        json["recipes"][1]["file"],
        Value::from(name.as_str()),
        "{}",
        ran.stderr
    );
}
