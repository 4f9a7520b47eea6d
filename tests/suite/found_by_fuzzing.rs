//! Texts that a fuzzer found, or that were made to break what it could not reach, each as small as it gets,
//! with what must happen. `tests/fuzz` makes such texts.

use std::time::{Duration, Instant};

use annulet::session::{Request, Session};
use annulet::source::Sources;
use annulet::syntax::{parse, print};

use crate::support::{band_with, found};

/// What one of these may take in a build for tests, on a busy machine; those that hang take for ever.
const PATIENCE: Duration = Duration::from_secs(5);

/// Codes of what a recipe's evaluation finds, each once, in the order found.
fn codes(recipe: &str) -> Vec<String> {
    let start = Instant::now();
    let mut session = Session::default();
    let outcome = session.run("r", recipe, &Request::default());
    let mut codes: Vec<String> = Vec::new();
    for one in found(&outcome.findings, &session) {
        if !codes.contains(&one.code) {
            codes.push(one.code);
        }
    }
    let shown: String = recipe.chars().take(60).collect();
    assert!(start.elapsed() < PATIENCE, "{:?}: {shown}", start.elapsed());
    codes
}

/// A line of a sound band, and the code of what is found in it.
const LINES: &[(&str, &[&str])] = &[
    // Read as a word and a length; the help offered the size with its unit.
    ("size ISO 54mm", &["model::size"]),
    // Sums of steps ran over.
    ("size ISO 54 + 9223372036854775807", &["model::no_result"]),
    ("size ISO 54 + 1/4294967295", &["model::no_result"]),
    (
        "size ISO 54 + 4294967295 1/4294967295",
        &["model::no_result"],
    ),
    ("size UK Z+9223372036854775807", &["model::size"]),
    ("size UK Z+3/929497296555555555", &["model::size"]),
    ("size US 9223372036854775807 1/2", &["model::size"]),
    ("size US 7 1/9223372036854775807", &["model::size"]),
    // So did the search for a shell that just fits; then the limits of what is counted.
    (
        "hollow { shell 1 mm / 0.0000000000000000000000000001, sleeve 0.4 mm }",
        &["model::out_of_range"],
    ),
    (
        "width 79228162514264337593543950335 m",
        &["model::no_result"],
    ),
    (
        "width 99999999999999999999999999999999 mm",
        &["syntax::digits"],
    ),
    ("width 1 mm / 0", &["model::no_result"]),
];

#[test]
fn lines_of_a_band() {
    for (line, wanted) in LINES {
        assert_eq!(codes(&band_with(&[line])), *wanted, "{line}");
    }
}

/// Lines of a band whose repair, where one is offered, mends what it is offered for; names that can be changed and not
/// changed back.
const OFFERED: &[&str] = &[
    "size ISO sleeve",
    "size iso 54",
    "size us -1",
    "size UK MM",
    "size UK N 1/2file",
];

#[test]
fn what_is_offered_mends() {
    for line in OFFERED {
        crate::fuzz_holds::editor::holds(&band_with(&[line]));
    }
    crate::fuzz_holds::editor::holds("band profile { size ISO 54 }\n");
}

/// A piece, how often it is repeated, and the code of the first finding.
const HEAPS: &[(&str, usize, &str)] = &[
    ("{", 49, "syntax::too_deep"),
    ("a {\n", 49, "syntax::too_deep"),
    ("let a = (", 4000, "syntax::too_deep"),
    ("[", 4000, "syntax::too_deep"),
    ("1 + ", 1000, "syntax::unreadable"),
    ("-(", 48, "syntax::open_bracket"),
    ("1 mm in ", 400, "model::unknown_block"),
    ("UK A+", 800, "syntax::tight_operator"),
    ("1 .. 1 by ", 400, "syntax::unreadable"),
    ("\u{B1}", 1300, "syntax::unreadable"),
    ("\\\"", 1000, "syntax::open_text"),
    ("}", 4000, "syntax::stray_brace"),
    ("\u{202E}", 1300, "syntax::character"),
    ("a\n{", 1000, "syntax::too_deep"),
    ("variant a of a {}\n", 200, "model::circle"),
    ("let a = a + a\n", 200, "model::circle"),
    ("band b {}\n", 400, "model::missing_field"),
];

#[test]
fn heaps_of_one_thing() {
    let first = |(piece, times, _): &(&str, usize, &str)| {
        let codes = codes(&piece.repeat(*times));
        format!("{piece:?} {}", codes.first().map_or("", String::as_str))
    };
    let found: Vec<String> = HEAPS.iter().map(first).collect();
    let wanted: Vec<String> = HEAPS
        .iter()
        .map(|(piece, _, code)| format!("{piece:?} {code}"))
        .collect();
    assert_eq!(found, wanted);
}

/// Entries that read without findings: printed, they must read as the same.
const ENTRIES: &[&str] = &[
    // A unit set tight keeps these from being sizes.
    "size ISO 54mm",
    "size ISO 1/2mm + 1 mm",
    "size US 7 1/2in",
    "size UK N 1/2m",
    "size x + UK-old 5mm",
    // A block on one line that holds one of several.
    "band b { size ISO 54, hollow {\n shell 0.5 mm\n} }",
    "band b { hollow { shell 0.5 mm # here\n} }",
    // The nought keeps these fractions apart from what stands before them.
    "a 7 0 1/2",
    "a UK N 0 1/2",
    "a 1 + 2 0 1/2 .. 3",
];

#[test]
fn printed_as_read() {
    for entry in ENTRIES {
        let mut sources = Sources::default();
        let id = sources.add("written", entry);
        let first = parse(sources.get(id).unwrap());
        assert!(first.findings.is_empty(), "{entry}: {:?}", first.findings);
        let printed = print(&first.value);
        let id = sources.add("printed", &printed);
        let second = parse(sources.get(id).unwrap());
        assert!(
            second.findings.is_empty(),
            "{printed}: {:?}",
            second.findings
        );
        assert_eq!(first.value, second.value, "{printed}");
        assert_eq!(printed, print(&second.value));
    }
}
