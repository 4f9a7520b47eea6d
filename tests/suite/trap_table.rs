//! The table of traps: recipes and calls in which a person means one thing and a careless reader takes another.
//!
//! Each row of `cases/traps/*.toml` says what is meant, the recipe, the call, and what must come of it: the
//! reading as meant, or a finding. Held against the acceptance list's point 41: none is taken in silence.

use std::collections::BTreeSet;

use serde::Deserialize;

use crate::support::{files_under, read, run_in};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    trap: Vec<Trap>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Trap {
    /// One sentence: what a person means, or what a careless reader takes.
    name: String,
    /// The recipe, as `r.annulet` in the call's folder; none for calls that need none.
    #[serde(default)]
    recipe: Option<String>,
    /// Other files of that folder, by name.
    #[serde(default)]
    files: std::collections::BTreeMap<String, String>,
    /// The arguments behind the program's name; `r.annulet` names the recipe.
    call: Vec<String>,
    /// Lines typed, for the bench.
    #[serde(default)]
    stdin: String,
    /// The exit status.
    status: i32,
    /// The whole of standard output without its last line end, where that is what counts.
    #[serde(default)]
    answer: Option<String>,
    /// Codes of findings, or parts of sentences, that must be said on either stream.
    #[serde(default)]
    says: Vec<String>,
    /// What must be on neither stream.
    #[serde(default)]
    never: Vec<String>,
}

#[test]
fn no_trap_is_taken_in_silence() {
    let mut wrong = Vec::new();
    let mut names = BTreeSet::new();
    for file in files_under("tests/suite/cases/traps", ".toml") {
        let table: Table =
            toml::from_str(&read(&file)).unwrap_or_else(|error| panic!("{file}: {error}"));
        for trap in table.trap {
            assert!(
                names.insert(trap.name.clone()),
                "{file}: two rows are named `{}`",
                trap.name
            );
            assert!(
                trap.answer.is_some() || !trap.says.is_empty() || !trap.never.is_empty(),
                "{file}: `{}` expects nothing",
                trap.name
            );
            if let Some(found) = sprung(&trap) {
                wrong.push(format!("{file}: {}\n{found}", trap.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// What a trap did otherwise than its row says; none where all is as said.
fn sprung(trap: &Trap) -> Option<String> {
    let folder = tempfile::TempDir::new().unwrap();
    let recipe = trap.recipe.iter().map(|text| ("r.annulet", text));
    let others = trap.files.iter().map(|(name, text)| (name.as_str(), text));
    for (name, text) in recipe.chain(others) {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let call: Vec<&str> = trap.call.iter().map(String::as_str).collect();
    let ran = run_in(folder.path(), &call, trap.stdin.as_bytes());
    let said = format!("{}\n{}", ran.stdout, ran.stderr);
    let mut wrong = Vec::new();
    if ran.status != trap.status {
        wrong.push(format!("status {}, not {}", ran.status, trap.status));
    }
    if let Some(answer) = &trap.answer
        && ran.stdout.trim_end_matches('\n') != answer.trim_end_matches('\n')
    {
        wrong.push(format!("the answer is not `{answer}`"));
    }
    for part in trap
        .says
        .iter()
        .filter(|part| !flat(&said).contains(&flat(part)))
    {
        wrong.push(format!("does not say `{part}`"));
    }
    for part in trap
        .never
        .iter()
        .filter(|part| flat(&said).contains(&flat(part)))
    {
        wrong.push(format!("says `{part}`"));
    }
    (!wrong.is_empty()).then(|| format!("  {}\n{said}", wrong.join("\n  ")))
}

/// A text with its line breaks and runs of spaces as one space each, since messages are wrapped.
fn flat(text: &str) -> String {
    text.split_whitespace()
        .filter(|word| *word != "│")
        .collect::<Vec<_>>()
        .join(" ")
}
