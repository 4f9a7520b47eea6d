//! What all tests share: running the program, and reading its machine output.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

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
    json["results"].as_object().unwrap().clone()
}

/// One result as a number, exact or computed.
pub fn number(results: &serde_json::Map<String, serde_json::Value>, path: &str) -> f64 {
    let value = &results
        .get(path)
        .unwrap_or_else(|| panic!("no result {path}"))["value"];
    value
        .as_f64()
        .unwrap_or_else(|| value.as_str().unwrap().parse().unwrap())
}

/// Whether two numbers agree within a relative deviation.
pub fn agree(found: f64, wanted: f64, relative: f64) -> bool {
    (found - wanted).abs() <= relative * wanted.abs().max(1e-300)
}
