//! Bad input of every kind: an answer that tells what to do, never a panic, a hang or a wrong reading.
//!
//! The library is asked first, on a test thread's small stack; the program then, with the largest of them.
//! Held against the acceptance list's points on bad input and the language page's promise that untrusted
//! recipes are safe to open. The limit of a second is the project's own.

use std::fs::File;
use std::time::{Duration, Instant};

use annulet::finding::{Finding, MOST};
use annulet::report;
use annulet::session::{Request, Session};
use annulet::source::is_safe;
use proptest::prelude::*;
use tempfile::TempDir;

use crate::support::{band_with, found, run, run_in};

/// What one recipe may take, whatever it is; the program built for tests is slower than the one shipped.
const PATIENCE: Duration = Duration::from_secs(if cfg!(debug_assertions) { 3 } else { 1 });

/// How long this thread has worked: on Linux the time that it had a core, so that a busy machine fails no check.
fn worked() -> Duration {
    static BEGUN: std::sync::LazyLock<Instant> = std::sync::LazyLock::new(Instant::now);
    let of_core = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let of_core = of_core.and_then(|said| said.split_whitespace().next()?.parse().ok());
    of_core.map_or_else(|| BEGUN.elapsed(), Duration::from_nanos)
}

/// Evaluates a text all the way to its machine output; gives the codes of what was found.
pub fn survive(text: &str) -> Vec<String> {
    let start = worked();
    let mut session = Session::default();
    let outcome = session.run("r", text, &Request::default());
    assert!(outcome.findings.len() <= MOST + 1);
    for evaluation in outcome.shown() {
        assert!(evaluation.figures.weight.is_finite());
        assert!(
            !report::report(
                evaluation,
                report::ReportExtent::Full,
                report::TextLayout::default()
            )
            .is_empty()
        );
    }
    for one in found(&outcome.findings, &session) {
        assert!(one.message.chars().all(is_safe), "{one:?}");
        assert!(one.help.chars().all(is_safe), "{one:?}");
    }
    let taken = worked().saturating_sub(start);
    assert!(taken < PATIENCE, "{taken:?} for {} bytes", text.len());
    outcome.findings.iter().map(Finding::code).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text(text in ".{0,400}") {
        survive(&text);
    }

    #[test]
    fn any_bytes_that_are_text(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        survive(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_row_of_the_languages_own_pieces(pieces in prop::collection::vec(prop::sample::select(PIECES.to_vec()), 0..60)) {
        survive(&pieces.concat());
    }

    #[test]
    fn any_line_in_a_band(pieces in prop::collection::vec(prop::sample::select(PIECES.to_vec()), 0..12)) {
        survive(&band_with(&[&pieces.concat()]));
    }

    #[test]
    fn any_cut_of_a_recipe(from in any::<prop::sample::Index>(), to in any::<prop::sample::Index>()) {
        let recipe = crate::support::read("examples/workshop-pair.annulet");
        let borders: Vec<usize> = recipe.char_indices().map(|(place, _)| place).collect();
        let (from, to) = (borders[from.index(borders.len())], borders[to.index(borders.len())]);
        survive(&recipe[from.min(to)..from.max(to)]);
        survive(&format!("{}{}", &recipe[..from.min(to)], &recipe[from.max(to)..]));
    }
}

/// What recipes are made of, and what they are not.
const PIECES: &[&str] = &[
    " ",
    " ",
    " ",
    "\n",
    "\n",
    "\t",
    ",",
    ", ",
    "{",
    "}",
    " {\n",
    "\n}\n",
    "(",
    ")",
    "[",
    "]",
    "\"",
    "\\",
    "#",
    "band b {",
    "alloy a {",
    "variant v of b {",
    "let x = ",
    "require ",
    "use ",
    "annulet 1",
    "size ",
    "width ",
    "thickness ",
    "profile ",
    "domed",
    "flat",
    "custom",
    "edge ",
    "alloy ",
    "sterling",
    "hollow ",
    "shell ",
    "pattern",
    "gold 585",
    "5",
    "0.1",
    "1/2",
    " mm",
    "mm",
    " g",
    "%",
    "ISO 54",
    "US 7 1/2",
    "UK Z+3",
    "x",
    "b.weight",
    "+",
    " + ",
    "-",
    " - ",
    "*",
    " / ",
    "/",
    " = ",
    "<=",
    " >= ",
    "..",
    " .. ",
    " by ",
    " in ",
    "\u{B1}",
    "+/-",
    "min(",
    "sqrt(",
    ".",
    "-5 mm",
    "1e9",
    "99999999999999999999999999999",
    "2026-11-25",
    "\u{0}",
    "\u{1B}[2J",
    "\u{202E}",
    "\u{FEFF}",
    "\u{A0}",
    "\u{BD}",
    "\u{6307}",
    "\r",
    "\r\n",
    ";",
    "$",
];

#[test]
fn a_file_of_a_hundred_megabytes_is_refused_at_once() {
    let folder = TempDir::new().unwrap();
    // Sparse: it takes no space on the disk, and reading it whole would still take its time.
    let file = File::create(folder.path().join("huge.annulet")).unwrap();
    file.set_len(100 << 20).unwrap();
    let start = Instant::now();
    for command in [
        &["check", "huge.annulet"][..],
        &["eval", "huge.annulet"],
        &["ask", "a", "--in", "huge.annulet"],
    ] {
        let ran = run_in(folder.path(), command, b"");
        let lines = if command[0] == "ask" {
            "\u{2014}\n"
        } else {
            ""
        };
        assert_eq!((ran.status, ran.stdout.as_str()), (2, lines), "{command:?}");
        assert!(ran.stderr.contains("104857600 bytes"), "{}", ran.stderr);
        assert!(ran.stderr.contains("Is it a recipe?"), "{}", ran.stderr);
    }
    assert!(start.elapsed() < PATIENCE);
    let piped = run_in(folder.path(), &["check", "-"], &vec![b' '; 20 << 20]);
    assert_eq!(piped.status, 2);
    assert!(piped.stderr.contains("Is it a recipe?"), "{}", piped.stderr);
    let device = run(&["check", "/dev/zero"], "");
    assert_eq!(device.status, 2);
}

#[test]
fn nothing_unsafe_reaches_the_terminal() {
    let evil = "\u{1B}]0;x\u{7}\u{1B}[2J\u{202E}\u{0}\u{9B}31m";
    let recipes = [
        evil.to_owned(),
        band_with(&[&format!("title \"{evil}\"")]),
        band_with(&[&format!("width {evil} mm")]),
        format!("# {evil}\n{}", band_with(&["width 5 mmm"])),
        format!("band {evil} {{\n}}\n"),
        format!("use \"{evil}\"\n{}", band_with(&[])),
        format!("{}require \"{evil}\" b.weight < 1 g\n", band_with(&[])),
    ];
    let shown = |c: char| is_safe(c) || c == '\n' || c == '\r';
    for recipe in recipes {
        for arguments in [
            &["eval", "-"][..],
            &["check", "-"],
            &["eval", "--csv", "-"],
            &["ask", "title", "--in", "-"],
        ] {
            let ran = run(arguments, &recipe);
            assert!(
                ran.stdout.chars().all(shown),
                "{arguments:?} {recipe:?}: {:?}",
                ran.stdout
            );
            assert!(
                ran.stderr.chars().all(shown),
                "{arguments:?} {recipe:?}: {:?}",
                ran.stderr
            );
        }
    }
    for arguments in [
        vec!["eval", "a\u{1B}[2Jb"],
        vec!["eval", "-", "--band", "\u{1B}[2J"],
        vec!["eval", "-", "--on", "\u{1B}[2J"],
        vec!["eval", "-", "--set", "\u{1B}[2J=5"],
        vec!["ask", "\u{1B}[2J", "--in", "-"],
        vec!["list", "\u{1B}[2J"],
        vec!["list", "alloys", "\u{202E}x"],
    ] {
        let ran = run(&arguments, &band_with(&[]));
        assert_eq!(ran.status, 2, "{arguments:?}");
        assert!(
            ran.stderr.chars().all(shown),
            "{arguments:?}: {:?}",
            ran.stderr
        );
    }
}

#[test]
fn the_program_survives_the_worst_of_these() {
    for text in [
        "(".repeat(1_000_000),
        "{".repeat(1_000_000),
        "!\n".repeat(200_000),
        "}".repeat(400_000),
        "\u{0}".repeat(400_000),
        format!("let a = {}1", "1 + ".repeat(100_000)),
        format!("title \"{}", "x".repeat(400_000)),
    ] {
        for arguments in [&["check", "-"][..], &["check", "--json", "-"]] {
            let start = Instant::now();
            let ran = run(arguments, &text);
            assert_eq!(ran.status, 2);
            let taken = start.elapsed();
            assert!(taken < 2 * PATIENCE, "{taken:?}");
            assert!(ran.stderr.len() < 200_000, "{}", ran.stderr.len());
        }
    }
}
