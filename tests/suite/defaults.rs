//! A default means the same as when it is written out.

use std::collections::BTreeSet;

use annulet::finding::{Finding, Weight};
use annulet::kernel::section::Roof;
use annulet::schema::{FieldId, of_band};
use annulet::session::{Outcome, Request, Session};
use serde_json::{Map, Value};

use crate::support::{findings, lone_examples, read, run};

/// What a recipe comes to: how it stands, what is told but notes, and every figure.
#[derive(Clone, Debug, PartialEq)]
struct Came {
    weight: Option<Weight>,
    codes: BTreeSet<String>,
    figures: Map<String, Value>,
}

/// What a recipe comes to with a line laid over it.
fn came(text: &str, set: Option<&str>) -> (Came, Outcome) {
    let mut session = Session::default();
    let request = Request {
        sets: set.map(str::to_owned).into_iter().collect(),
        ..Request::default()
    };
    let outcome = session.run("r", text, &request);
    let json = outcome.json(&session.sources);
    let heavy = outcome.findings.iter();
    let heavy = heavy.filter(|one| one.weight() > Weight::Note);
    let came = Came {
        weight: outcome.weight().filter(|weight| *weight > Weight::Note),
        codes: heavy.map(Finding::code).collect(),
        figures: json["results"].as_object().unwrap().clone(),
    };
    (came, outcome)
}

#[test]
fn a_default_that_is_written_out_changes_nothing() {
    let (mut tried, mut wrong) = (0, Vec::new());
    for example in lone_examples() {
        let text = read(&example);
        let (plain, outcome) = came(&text, None);
        for band in outcome.evaluations.iter().map(|one| &one.band) {
            for field in of_band() {
                let Some((default, _)) = field.default else {
                    continue;
                };
                if band.field(field.id).is_none_or(|value| value.at.is_some()) {
                    continue;
                }
                // A shell without a cavity has no corners to round, whatever is written.
                let full = band
                    .hollow
                    .as_ref()
                    .is_some_and(|build| build.roof == Roof::Full);
                if field.id == FieldId::HollowShellNose && full {
                    continue;
                }
                let set = format!("{}.{}={default}", band.name, field.path);
                let (mut written, _) = came(&text, Some(&set));
                // What is written stands among the values that a recipe states.
                let stated = |figures: &mut Map<String, Value>| {
                    figures.retain(|path, _| !path.ends_with(&format!(".{}", field.path)));
                };
                let mut plain = plain.clone();
                stated(&mut plain.figures);
                stated(&mut written.figures);
                tried += 1;
                if written != plain {
                    wrong.push(format!(
                        "{example} {set}: {:?} {:?}",
                        written.weight, written.codes
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(tried > 300, "{tried}");
}

/// The lines that the help for a ring that is never seated offers, as overrides.
fn ways_out(help: &str) -> Vec<Vec<String>> {
    let lines: Vec<&str> = help.split('`').collect();
    let mut ways: Vec<Vec<String>> = Vec::new();
    for pair in lines.windows(2).skip(1).step_by(2) {
        let (line, behind) = (pair[0], pair[1]);
        let (word, value) = line.split_once(' ').unwrap();
        match (word, behind) {
            ("temper", behind) if behind.starts_with(" for the shell") => {
                ways.push(vec![format!("hollow.shell.temper={value}")]);
            }
            ("temper", _) => ways.push(vec![format!("hollow.sleeve.temper={value}")]),
            ("ridge" | "lip", _) => ways
                .last_mut()
                .unwrap()
                .push(format!("hollow.{word}={value}")),
            _ => ways.push(vec![format!("hollow.{word}={value}")]),
        }
    }
    ways
}

#[test]
fn each_way_out_of_a_ring_that_is_never_seated_holds() {
    let plain = |alloy: &str, parts: &str| {
        format!(
            "band b {{\n  size ISO 54\n  width 5 mm\n  thickness 1.6 mm\n  profile flat\n  alloy {alloy}\n  hollow {{ {parts} }}\n}}\n"
        )
    };
    let parts = "shell 0.5 mm, sleeve 0.35 mm, ridge 0.12 mm { wide 0.4 mm }";
    let mut recipes = vec![
        plain("yellow-750", parts),
        plain("silver-925", parts),
        plain("rose-750", "shell full, sleeve 0.5 mm"),
        plain(
            "silver-925",
            "shell 0.5 mm, sleeve 0.4 mm { temper hard }, lip 0.12 mm { wide 0.4 mm }",
        ),
    ];
    // The shell is left hard, or the sleeve annealed.
    let cases = "tests/suite/cases/errors/evaluate__never_seated.annulet";
    recipes.push(read(cases));
    for example in lone_examples() {
        let text = read(&example);
        let unlocked: Vec<&str> = text
            .lines()
            .filter(|line| !line.trim_start().starts_with("lock "))
            .collect();
        if unlocked.len() < text.lines().count() {
            recipes.push(unlocked.join("\n") + "\n");
        }
    }
    let (mut told, mut tried) = (0, BTreeSet::new());
    let findings = |sets: &[String], recipe: &str| -> Vec<Value> {
        let mut call = vec!["check", "--json", "-"];
        for set in sets {
            call.extend(["--set", set]);
        }
        let json: Value = serde_json::from_str(&run(&call, recipe).stdout).unwrap();
        json["findings"].as_array().unwrap().clone()
    };
    for recipe in recipes {
        let all = findings(&[], &recipe);
        let Some(finding) = all
            .iter()
            .find(|one| one["code"] == "evaluate::never_seated")
        else {
            continue;
        };
        told += 1;
        let ways = ways_out(finding["help"].as_str().unwrap());
        assert!(!ways.is_empty(), "{recipe}");
        for way in ways {
            let band = finding["band"].as_str().unwrap();
            let fields = way.iter().map(|line| line.split('=').next().unwrap());
            tried.extend(fields.map(str::to_owned));
            let sets: Vec<String> = way.iter().map(|line| format!("{band}.{line}")).collect();
            // It goes, and nothing comes that was not there.
            for one in findings(&sets, &recipe) {
                let known = all.iter().any(|before| before["code"] == one["code"]);
                let gone = one["code"] != finding["code"];
                assert!(known && gone, "{way:?} {one:#}\n{recipe}");
            }
        }
    }
    assert!(told >= 7, "{told}");
    let all = [
        "hollow.lock",
        "hollow.ridge",
        "hollow.shell.temper",
        "hollow.sleeve.temper",
        "hollow.stage",
    ];
    assert_eq!(tried.iter().map(String::as_str).collect::<Vec<_>>(), all);
}

#[test]
fn the_yield_that_would_grip_grips() {
    let recipe = |yields: u32| {
        format!(
            "alloy stiff {{ gold 750, silver 125, copper 125, temper annealed {{ yield {yields} MPa, modulus 88 GPa }} }}\n\
             band b {{\n  size ISO 54\n  width 5 mm\n  thickness 1.6 mm\n  profile flat\n  alloy yellow-750\n  \
             hollow {{ shell 0.5 mm {{ alloy stiff }}, sleeve 0.35 mm, ridge 0.12 mm {{ wide 0.4 mm }} }}\n}}\n"
        )
    };
    let found = findings(&recipe(200));
    let help = found[0].help.as_str();
    let (_, yields) = help.split_once("yields at ").unwrap();
    let yields: u32 = yields.split(' ').next().unwrap().parse().unwrap();
    let codes = |yields| {
        let found = findings(&recipe(yields));
        found.into_iter().map(|one| one.code).collect::<Vec<_>>()
    };
    assert_eq!(codes(yields), [""; 0]);
    assert_eq!(codes(yields - 1), ["evaluate::never_seated"]);
}

#[test]
fn solder_holds_what_would_not_grip() {
    let recipe = |more: &str| {
        format!(
            "band b {{\n  size ISO 54\n  width 5 mm\n  thickness 1.6 mm\n  profile flat\n  alloy yellow-750\n  \
             hollow {{ shell 0.5 mm, sleeve 0.35 mm, ridge 0.12 mm {{ wide 0.4 mm }} }}\n  {more}\n}}\n"
        )
    };
    let never = |more: &str| {
        let mut found = findings(&recipe(more)).into_iter();
        found.any(|one| one.code == "evaluate::never_seated")
    };
    assert!(never(""));
    assert!(!never("solder yellow-750 { amount 0.05 g }"));
}
