//! What all tests share: running the program, and reading its machine output.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use annulet::finding::Finding;
use annulet::session::{Request, Session};

/// What a run left behind.
pub struct Ran {
    pub stdout: String,
    pub stderr: String,
    pub status: i32,
}

/// Runs the program in the package's folder, with nothing of the caller's environment that could matter.
pub fn run(arguments: &[&str], stdin: &str) -> Ran {
    run_in(&root(), arguments, stdin.as_bytes())
}

/// Runs the program in a folder.
pub fn run_in(folder: &Path, arguments: &[&str], stdin: &[u8]) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args(arguments)
        .current_dir(folder)
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE")
        .env_remove("COLUMNS")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut pipe = child.stdin.take().unwrap();
    let bytes = stdin.to_vec();
    // A program that refuses early closes its end; that is its right.
    let writer = std::thread::spawn(move || {
        let _ = pipe.write_all(&bytes);
    });
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    Ran {
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
        status: output.status.code().unwrap_or(-1),
    }
}

/// The package's folder.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Machine results of a recipe given as text; the recipe must be sound.
pub fn results(recipe: &str) -> serde_json::Map<String, serde_json::Value> {
    let ran = run(&["eval", "--json", "-"], recipe);
    assert!(ran.status < 2, "{}\n{recipe}", ran.stderr);
    let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["results"].as_object().unwrap().clone()
}

/// One result as a number, exact or computed.
pub fn number(results: &serde_json::Map<String, serde_json::Value>, path: &str) -> f64 {
    number_of(
        results
            .get(path)
            .unwrap_or_else(|| panic!("no result {path}")),
    )
}

/// A value of machine output as a number, exact or computed.
pub fn number_of(value: &serde_json::Value) -> f64 {
    let value = &value["value"];
    value
        .as_f64()
        .unwrap_or_else(|| value.as_str().unwrap().parse().unwrap())
}

/// Whether two numbers agree within a relative deviation.
pub fn agree(found: f64, wanted: f64, relative: f64) -> bool {
    (found - wanted).abs() <= relative * wanted.abs().max(1e-300)
}

/// A finding as the tests look at it.
#[derive(Clone, Debug)]
pub struct Found {
    pub code: String,
    pub message: String,
    pub help: String,
    /// `line:column` of the first label, from 1.
    pub place: String,
    /// The text under the first label.
    pub text: String,
    /// The text that would put it right, where one is certain.
    pub repair: Option<String>,
}

/// What the library finds in a recipe, in the order it reports.
pub fn findings(recipe: &str) -> Vec<Found> {
    let mut session = Session::default();
    let outcome = session.run("r.annulet", recipe, &Request::default());
    found(&outcome.findings, &session)
}

/// Findings of a session in the tests' form.
pub fn found(findings: &[Finding], session: &Session) -> Vec<Found> {
    findings
        .iter()
        .map(|finding| {
            let span = finding.span().expect("a finding without a place");
            let place = session.sources.locate(span);
            let mut parts = place.rsplitn(3, ':');
            let (column, line) = (parts.next().unwrap(), parts.next().unwrap());
            Found {
                code: finding.code(),
                message: finding.message(),
                help: finding.help().unwrap_or_default(),
                place: format!("{line}:{column}"),
                text: session.sources.slice(span).to_owned(),
                repair: finding.repair().map(|repair| repair.text),
            }
        })
        .collect()
}

/// A sound flat band, with these lines in place of its own of the same first word, or added to them.
pub fn band_with(lines: &[&str]) -> String {
    let sound = [
        "size 17 mm",
        "width 5 mm",
        "thickness 2 mm",
        "profile flat",
        "alloy silver-925",
    ];
    let word = |line: &str| line.split_whitespace().next().unwrap_or("").to_owned();
    let kept = sound
        .iter()
        .filter(|line| !lines.iter().any(|other| word(other) == word(line)));
    let all: String = kept
        .chain(lines)
        .map(|line| format!("  {line}\n"))
        .collect();
    format!("band b {{\n{all}}}\n")
}

/// The answer to one question about a recipe, without the line's end; the question must have one.
pub fn ask(recipe: &str, question: &str) -> String {
    let ran = run(&["ask", question, "--in", "-"], recipe);
    assert_eq!(ran.status, 0, "{question}\n{}", ran.stderr);
    ran.stdout.trim_end().to_owned()
}

/// The same, as the bare number in all its digits.
pub fn plain(recipe: &str, question: &str) -> String {
    let ran = run(&["ask", "--plain", question, "--in", "-"], recipe);
    assert_eq!(ran.status, 0, "{question}\n{}", ran.stderr);
    ran.stdout.trim_end().to_owned()
}

/// A file of the package, as text.
pub fn read(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Files under a folder whose names end so, as paths from the package's folder, sorted.
pub fn files_under(folder: &str, ending: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(root().join(&folder))
            .into_iter()
            .flatten()
        {
            let entry = entry.unwrap();
            let path = format!("{folder}/{}", entry.file_name().to_str().unwrap());
            if entry.file_type().unwrap().is_dir() {
                folders.push(path);
            } else if path.ends_with(ending) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// The examples that stand alone, for those who read their text without their folder: no file is used, no drawing named.
pub fn lone_examples() -> Vec<String> {
    let mut files = files_under("examples", ".annulet");
    files.retain(|file| !read(file).contains("drawing ") && !read(file).contains("\nuse "));
    assert!(files.len() > 20);
    files
}

/// Runs the program in the package's folder, its results on lines of so many cells.
pub fn run_wide(arguments: &[&str], columns: usize) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args(arguments)
        .current_dir(root())
        .env_remove("NO_COLOR")
        .env("COLUMNS", columns.to_string())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    Ran {
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
        status: output.status.code().unwrap_or(-1),
    }
}
