//! Lines as they are typed: the statements of a text, and what of a line is no comment.

use crate::syntax;

/// Whether a line asks for the output for machines, which nothing else goes into.
pub(super) fn is_for_machines(line: &str) -> bool {
    let mut words = line.split_whitespace();
    words.next() == Some("eval") && words.any(|word| matches!(word, "json" | "csv"))
}

/// What stands behind a command, without a comment; within a name (`a#b.annulet`) a `#` begins none.
pub(super) fn without_comment(rest: &str) -> &str {
    let mut before = ' ';
    for (place, c) in rest.char_indices() {
        if c == '#' && before.is_whitespace() {
            return rest.get(..place).unwrap_or(rest).trim_end();
        }
        before = c;
    }
    rest
}

/// The statements of a text: lines, and blocks over several lines.
///
/// # Example
/// ```
/// assert_eq!(annulet::bench::statements("a {\n b\n}\nc\n"), ["a {\n b\n}", "c"]);
/// ```
#[must_use]
pub fn statements(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let (mut start, mut end) = (0, 0);
    let mut open = 0;
    for line in text.split_inclusive('\n') {
        end += line.len();
        open += syntax::open_braces(line);
        if open <= 0 {
            found.push(
                text.get(start..end)
                    .unwrap_or("")
                    .trim_end_matches(['\n', '\r']),
            );
            start = end;
            open = 0;
        }
    }
    if start < end {
        found.push(text.get(start..end).unwrap_or(""));
    }
    found
}
