//! Every diagnostic: a minimal recipe that provokes it, and what is then printed, whole.
//!
//! The codes are read from the source, so a new one without a case fails here. The printed text is a
//! snapshot that holds the recipe too, so a reviewer reads one file. Beside that: all mistakes at once
//! and in order, none twice; a brace missing or too many is one finding; carets stand under the right cells.
//! Held against the acceptance list, points 11, 14, 15, 19 and 36.

use std::collections::BTreeSet;

use annulet::finding::Finding;
use annulet::session::{Library, Opened, Request, Session};
use serde_json::Value;

use crate::support::{Ran, band_with, files_under, findings, read, root, run_in};

const CASES: &str = "tests/suite/cases/errors";

/// Codes that take a call, or more text than a case should hold: the call, and what is piped in.
fn calls() -> Vec<(&'static str, &'static [&'static str], String)> {
    let hollow = "hollow { shell 0.5 mm, sleeve 0.3 mm, ridge 0.1 mm { wide 0.3 mm } }";
    let ask = &["ask", "wide", "--in", "-"];
    vec![
        ("model::ambiguous_name", ask, band_with(&[hollow])),
        (
            "model::deviation_dropped",
            &["ask", "width", "--set", "width=5 mm", "--in", "-"],
            band_with(&["width 4 mm \u{B1} 0.1 mm"]),
        ),
        (
            "session::written_elsewhere",
            &["bench", "tests/suite/cases/errors/used/two.annulet"],
            "on first\ntry width 5 mm\nkeep\n".to_owned(),
        ),
        (
            "session::nothing_to_step_from",
            &[
                "ask",
                "weight",
                "--set",
                "pattern.depth + 0.1 mm",
                "--in",
                "-",
            ],
            band_with(&[]),
        ),
        (
            "session::worked_out",
            &["eval", "--set", "weight=3 g", "-"],
            band_with(&[]),
        ),
        (
            "session::field_due",
            &["eval", "--set", "b=3 g", "-"],
            band_with(&[]),
        ),
        (
            "session::not_given",
            &["ask", "cost", "--in", "-"],
            "prices { dated 2026-11-20, copper 0.01 EUR/g }\n".to_owned() + &band_with(&[]),
        ),
        (
            "session::built_in",
            &["eval", "--set", "sterling.density=10.3 g/cm3", "-"],
            band_with(&[]),
        ),
        (
            "model::end_not_reached",
            &["run", "--in", "-", "--sizes", "ISO 48 .. ISO 51 by 2"],
            band_with(&[]),
        ),
        (
            "finding::too_many",
            &["check", "--json", "-"],
            "gold 1\n".repeat(1001),
        ),
    ]
}

/// Codes that only the library is asked for here: the program looks at a file's size before it reads it, and
/// a case of sixty-five files would be none.
const LIBRARY: &[&str] = &["syntax::too_large", "session::too_many_files"];

/// Any file, each an empty recipe.
struct Endless;

impl Library for Endless {
    fn open(&mut self, _: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        let (id, name, text) = (path.to_owned(), path.to_owned(), String::new());
        Ok(Opened { id, name, text })
    }
}

/// Codes of notes, which change no status.
const NOTES: &[&str] = &["model::deviation_dropped", "model::end_not_reached"];

/// Codes of findings that are never shown: they stand for one that is.
const HIDDEN: &[&str] = &["model::unread"];

/// All codes of the source, as `layer::name`.
fn codes() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for path in files_under("src", ".rs") {
        // Shortfalls give theirs by a match, all else by an attribute.
        let before = if path.ends_with("/shortfall.rs") {
            "=> \""
        } else {
            "code("
        };
        for rest in read(&path).split(before).skip(1) {
            let code: String = rest
                .trim_start()
                .chars()
                .take_while(|c| c.is_ascii_lowercase() || matches!(c, '_' | ':'))
                .collect();
            if code.contains("::") {
                codes.insert(code);
            }
        }
    }
    assert!(codes.len() > 40, "{codes:?}");
    codes
}

/// The cases with the code that each is named for.
fn cases() -> Vec<(String, String)> {
    // Files in the folder below are used by the cases.
    let own = |path: &String| path.matches('/').count() == CASES.matches('/').count() + 1;
    files_under(CASES, ".annulet")
        .into_iter()
        .filter(own)
        .map(|path| {
            let file = path.rsplit('/').next().unwrap().to_owned();
            let code = file
                .strip_suffix(".annulet")
                .unwrap()
                .replacen("__", "::", 1);
            (file, code)
        })
        .collect()
}

/// Codes of a run's machine output.
fn codes_of(ran: &Ran) -> Vec<String> {
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    let findings = json["findings"].as_array().unwrap().iter();
    findings
        .map(|finding| finding["code"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn every_code_has_a_case() {
    let mut covered: BTreeSet<String> = cases().into_iter().map(|(_, code)| code).collect();
    covered.extend(calls().into_iter().map(|(code, ..)| code.to_owned()));
    covered.extend(HIDDEN.iter().chain(LIBRARY).map(|code| (*code).to_owned()));
    let lacking: Vec<String> = codes().difference(&covered).cloned().collect();
    assert_eq!(
        lacking,
        Vec::<String>::new(),
        "codes without a case in {CASES}"
    );
    let idle: Vec<String> = covered.difference(&codes()).cloned().collect();
    assert_eq!(idle, Vec::<String>::new(), "cases without a code");
}

#[test]
fn every_case_brings_its_finding_and_no_other() {
    for (file, code) in cases() {
        let ran = run_in(&root().join(CASES), &["check", "--json", &file], b"");
        assert_eq!(codes_of(&ran), [code.as_str()], "{file}");
        let ran = run_in(&root().join(CASES), &["check", &file], b"");
        assert_eq!(ran.stdout, "", "{file}");
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path("snapshots/errors");
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        let recipe = read(&format!("{CASES}/{file}"));
        let text = format!("{recipe}\n---- status {}\n{}", ran.status, ran.stderr);
        settings.bind(|| insta::assert_snapshot!(code.replace("::", "__"), text));
    }
}

#[test]
fn every_call_brings_its_finding() {
    for (code, arguments, piped) in calls() {
        let ran = run_in(&root(), arguments, piped.as_bytes());
        let said = ran.stdout + &ran.stderr;
        assert!(said.contains(code), "{code}: {said}");
        let status = if NOTES.contains(&code) { 0 } else { 2 };
        assert_eq!(ran.status, status, "{code}");
    }
    let found = findings(&" ".repeat(2 << 20));
    assert_eq!((found.len(), found[0].code.as_str()), (1, LIBRARY[0]));
    let uses: String = (0..65).map(|n| format!("use \"{n}.annulet\"\n")).collect();
    let recipe = uses + &band_with(&[]);
    let outcome = Session::default().run_with("r", &recipe, &Request::default(), &mut Endless);
    let codes: Vec<String> = outcome.findings.iter().map(Finding::code).collect();
    assert_eq!(codes, [LIBRARY[1]]);
}

#[test]
fn every_finding_says_what_to_do() {
    for (file, code) in cases() {
        let ran = run_in(&root().join(CASES), &["check", "--json", &file], b"");
        let json: Value = serde_json::from_str(&ran.stdout).unwrap();
        for key in ["message", "help"] {
            let text = json["findings"][0][key].as_str().unwrap();
            // Size systems are written in capitals.
            let first = text.split(' ').next().unwrap();
            let lower = first.to_uppercase() == first || !first.starts_with(char::is_uppercase);
            assert!(lower, "{code}: {text}");
            assert!(!text.ends_with('.'), "{code}: {text}");
            for word in ["invalid", "Some(", "None", "unwrap", "Err("] {
                assert!(!text.contains(word), "{code}: {text}");
            }
        }
    }
}

#[test]
fn a_certain_repair_removes_the_finding() {
    for (file, code) in cases() {
        let recipe = read(&format!("{CASES}/{file}"));
        let ran = run_in(&root(), &["check", "--json", "-"], recipe.as_bytes());
        let json: Value = serde_json::from_str(&ran.stdout).unwrap();
        let Some(repair) = json["findings"][0]["repair"].as_object() else {
            continue;
        };
        let byte = |place: usize| repair["span"][place].as_u64().unwrap() as usize;
        let mut repaired = recipe.clone();
        repaired.replace_range(byte(0)..byte(1), repair["text"].as_str().unwrap());
        let left: Vec<String> = findings(&repaired)
            .into_iter()
            .map(|one| one.code)
            .collect();
        assert!(!left.contains(&code), "{code}: {left:?}\n{repaired}");
    }
}

#[test]
fn five_faults_are_five_findings_in_order() {
    let recipe = "let a = 1,5 mm\nband b {\n  size US 7 1/3\n  widht 5 mm\n  thickness 2 mmm\n  \
                  profile flat\n  alloy silver-9255\n}\n";
    let found = findings(recipe);
    let brief: Vec<(&str, &str, &str)> = found
        .iter()
        .map(|one| (one.code.as_str(), one.place.as_str(), one.text.as_str()))
        .collect();
    let wanted = [
        ("syntax::decimal_comma", "1:10", ","),
        ("model::size", "3:11", "7 1/3"),
        ("model::unknown_field", "4:3", "widht"),
        ("model::unknown_unit", "5:15", "mmm"),
        ("model::unknown_name", "7:9", "silver-9255"),
    ];
    assert_eq!(brief, wanted);
}

#[test]
fn one_slip_is_one_finding_wherever_it_is_used() {
    let used = "width cut + 5 mm\nthickness cut + 2 mm\npattern { depth cut, cover 50 % }";
    let lines: Vec<&str> = used.lines().collect();
    for slip in [
        "0,3 mm",
        "0.3 mmm",
        "1 / 3 mm",
        "oops",
        "0.3 mm + 1 g",
        ".3 mm",
        "1/0",
        "3 $",
    ] {
        let bands = band_with(&lines) + &band_with(&lines).replace("band b", "band c");
        let recipe = format!("let cut = {slip}\n{bands}");
        let found = findings(&recipe);
        assert_eq!(found.len(), 1, "{slip}: {found:?}");
        assert!(found[0].place.starts_with("1:"), "{slip}: {found:?}");
    }
    for slip in [
        "gold 1,5",
        "gold 999",
        "gold 585 mm",
        "density 1 g/cmm3",
        "gold .5",
    ] {
        let alloy = format!("alloy a {{ copper 325, silver 90, {slip} }}\n");
        let found = findings(&(alloy + &band_with(&["alloy a"])));
        assert_eq!(found.len(), 1, "{slip}: {found:?}");
    }
}

#[test]
fn nothing_is_computed_of_what_could_not_be_read() {
    let lines = [
        "pattern { depth 0,3 mm, cover 50 % }",
        "pattern { depth 0.3 mm cover 50 %) }",
        "comfort 0,1 mm",
        "comfort 1 / 10 mm",
        "comfort c",
        "this is no line)",
    ];
    for line in lines {
        let recipe = format!("let c = 0.1 mmm\n{}", band_with(&[line]));
        let ran = run_in(&root(), &["eval", "-"], recipe.as_bytes());
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{line}");
    }
    // A sound band beside a faulty one still is.
    let recipe = band_with(&["comfort 0,1 mm"]) + &band_with(&[]).replace("band b", "band c");
    let ran = run_in(&root(), &["eval", "-"], recipe.as_bytes());
    assert!(
        ran.status == 2 && ran.stdout.starts_with("c\n"),
        "{}",
        ran.stdout
    );
}

#[test]
fn one_brace_missing_or_doubled_is_one_finding() {
    let two = band_with(&[
        "profile domed { edge 1.2 mm }",
        "pattern { depth 0.3 mm, cover 50 % }",
    ]);
    let alloy =
        "alloy a {\n  gold 585, copper 325, silver 90\n  temper hard { yield 520 MPa }\n}\n";
    let mixed = format!("{alloy}\n{}", band_with(&["alloy a"]));
    let recipes = [
        read("examples/harvest.annulet"),
        format!("{two}\n{}", band_with(&[]).replace("band b", "band c")),
        format!(
            "{mixed}{}",
            band_with(&["alloy a"]).replace("band b", "band c")
        ),
    ];
    for recipe in recipes {
        assert_eq!(findings(&recipe).len(), 0, "{recipe}");
        for (place, brace) in recipe.match_indices(['{', '}']) {
            let (before, behind) = (&recipe[..place], &recipe[place + 1..]);
            for text in [
                format!("{before}{behind}"),
                format!("{before}{brace}{brace}{behind}"),
            ] {
                let found = findings(&text);
                assert_eq!(found.len(), 1, "{text}\n{found:#?}");
                assert!(found[0].code.starts_with("syntax::"), "{text}\n{found:#?}");
            }
        }
    }
}

#[test]
fn a_block_on_one_line_and_a_brace_on_its_own() {
    let inline =
        "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925 }";
    assert_eq!(findings(inline).len(), 0);
    let lone = band_with(&[]).replace(" {", "\n{");
    let found = findings(&lone);
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].code.as_str(), found[0].place.as_str()),
        ("syntax::lone_brace", "2:1")
    );
}

#[test]
fn set_twice_shows_both_places() {
    let recipe = band_with(&["width 5 mm", "comfort 0 mm", "width 6 mm"]);
    let ran = run_in(&root(), &["check", "--json", "-"], recipe.as_bytes());
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    let finding = &json["findings"][0];
    let related = finding["related"].as_array().unwrap().iter();
    let lines: Vec<u64> = std::iter::once(finding)
        .chain(related)
        .map(|place| place["line"].as_u64().unwrap())
        .collect();
    assert_eq!(lines, [8, 6]);
}
