//! A recipe as a list of cases for the runners of tests: JUnit XML, and TAP version 14.
//!
//! Sources: the common JUnit shape (`testsuites`, `testsuite`, `testcase`, with `failure` and `error`); the
//! specification of the Test Anything Protocol, version 14 (testanything.org): numbered test points, YAML diagnostics
//! indented by two spaces, the plan at the end.

use crate::source::printable;

/// How a case ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// It holds.
    Well,
    /// The recipe is sound, and this falls short.
    Short,
    /// Something is wrong, so that it cannot be judged.
    Wrong,
}

/// One thing that must hold of a recipe.
#[derive(Clone, Debug)]
pub struct Case {
    /// What must hold.
    pub name: String,
    /// The line that it stands in, where it has one.
    pub line: Option<usize>,
    /// How it ended.
    pub ended: Ended,
    /// What is said of it, a line each.
    pub said: Vec<String>,
}

/// The cases of one recipe.
#[derive(Clone, Debug)]
pub struct CasesOf<'a> {
    /// How the recipe is named.
    pub file: &'a str,
    /// What must hold of it.
    pub cases: &'a [Case],
    /// What is worth knowing beside them, a line each.
    pub notes: &'a [String],
}

/// How a JUnit document begins.
pub const JUNIT_HEAD: &str =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"annulet\">\n";

/// How it ends.
pub const JUNIT_TAIL: &str = "</testsuites>\n";

/// One recipe of a JUnit document.
#[must_use]
pub fn junit(of: &CasesOf<'_>) -> String {
    let file = escaped(of.file);
    let count = |ended: Ended| of.cases.iter().filter(|case| case.ended == ended).count();
    let mut text = format!(
        "  <testsuite name=\"{file}\" tests=\"{}\" failures=\"{}\" errors=\"{}\" skipped=\"0\">\n",
        of.cases.len(),
        count(Ended::Short),
        count(Ended::Wrong)
    );
    for case in of.cases {
        let line = case
            .line
            .map_or_else(String::new, |line| format!(" line=\"{line}\""));
        text.push_str(&format!(
            "    <testcase classname=\"{file}\" name=\"{}\" file=\"{file}\"{line}",
            escaped(&case.name)
        ));
        let word = match case.ended {
            Ended::Well => {
                text.push_str("/>\n");
                continue;
            }
            Ended::Short => "failure",
            Ended::Wrong => "error",
        };
        let first = case.said.first().map_or("", String::as_str);
        text.push_str(&format!(
            ">\n      <{word} message=\"{}\">{}</{word}>\n    </testcase>\n",
            escaped(first),
            escaped(&case.said.join("\n"))
        ));
    }
    if !of.notes.is_empty() {
        let notes = escaped(&of.notes.join("\n"));
        text.push_str(&format!("    <system-out>{notes}</system-out>\n"));
    }
    text + "  </testsuite>\n"
}

/// Text inside an element or an attribute; what XML cannot hold is replaced.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\n' => escaped.push_str("&#10;"),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => escaped.push('\u{FFFD}'),
            c => escaped.push(c),
        }
    }
    escaped
}

/// How a TAP stream begins.
pub const TAP_HEAD: &str = "TAP version 14\n";

/// One recipe of a TAP stream, its test points counted from the one behind `done`.
#[must_use]
pub fn tap(of: &CasesOf<'_>, done: usize) -> String {
    let mut text = String::new();
    for (place, case) in of.cases.iter().enumerate() {
        let ok = if case.ended == Ended::Well {
            "ok"
        } else {
            "not ok"
        };
        // A number sign would begin a directive, and a backslash escapes it.
        let name = printable(&format!("{}: {}", of.file, case.name));
        let name = name.replace('\\', "\\\\").replace('#', "\\#");
        text.push_str(&format!("{ok} {} - {name}\n", done + place + 1));
        if case.ended == Ended::Well {
            continue;
        }
        text.push_str("  ---\n");
        let severity = if case.ended == Ended::Wrong {
            "error"
        } else {
            "fail"
        };
        text.push_str(&format!("  severity: {severity}\n"));
        if let Some(line) = case.line {
            text.push_str(&format!("  file: {}\n  line: {line}\n", quoted(of.file)));
        }
        text.push_str("  said:\n");
        for line in &case.said {
            text.push_str(&format!("    - {}\n", quoted(line)));
        }
        text.push_str("  ...\n");
    }
    for note in of.notes {
        text.push_str(&format!("# {}\n", printable(note)));
    }
    text
}

/// The plan of a TAP stream of so many test points.
#[must_use]
pub fn tap_plan(count: usize) -> String {
    format!("1..{count}\n")
}

/// Text between double quotes as YAML reads it.
fn quoted(text: &str) -> String {
    let text = printable(text);
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
