//! An operator that stands tight between two words, with the readings that it may have.

use crate::source::Source;

use super::ends::{leading, trailing};
use super::error::SyntaxError;

/// Whether the word before an operator is the unit of a number, so that `/` may stand tight.
pub(super) fn unit_before(before: &str) -> bool {
    let word = trailing(before, char::is_alphabetic);
    let rest = before.strip_suffix(word).unwrap_or("").trim_end();
    rest.chars().next_back().is_some_and(|c| c.is_ascii_digit())
}

/// Whether a hyphen stands inside a name: `rose-585` is one, `a-0.2` and `7-1` are not.
pub(super) fn in_name(before: &str, behind: &str) -> bool {
    let part = leading(behind, char::is_alphanumeric);
    let number = part.starts_with(|c: char| c.is_ascii_digit())
        && behind
            .get(part.len()..)
            .is_some_and(|rest| rest.starts_with(['.', '/']));
    let word = trailing(before, |c| c.is_alphanumeric() || c == '-');
    let is_name = word.starts_with(char::is_alphabetic) && !word.ends_with('-');
    is_name && !part.is_empty() && !number && !unit_before(before)
}

/// An operator without its spaces, and how many bytes from the operator on the finding covers.
pub(super) fn tight(
    source: &Source,
    start: usize,
    text: &str,
    place: usize,
    operator: &str,
) -> (SyntaxError, usize) {
    let before = text.get(..place).unwrap_or("");
    let behind = text.get(place + operator.len()..).unwrap_or("");
    let left = trailing(before, |c| c.is_alphanumeric() || matches!(c, '.' | '-'));
    let right = leading(behind, |c| c.is_alphanumeric() || matches!(c, '.' | '/'));
    let end = place + operator.len() + right.len();
    let problem = SyntaxError::TightOperator {
        at: source.span(start + place - left.len()..start + end),
        operator: operator.to_owned(),
        label: if operator.contains(['=', '<', '>']) {
            "it stands tight"
        } else {
            "two readings without spaces"
        },
        help: readings(before, operator, behind, left, right),
    };
    (problem, operator.len() + right.len())
}

/// The readings of two operands without spaces between.
fn readings(before: &str, operator: &str, behind: &str, left: &str, right: &str) -> String {
    let whole = !left.is_empty() && left.chars().all(|c| c.is_ascii_digit());
    match (operator, right.split_once('/')) {
        ("-", Some((above, below))) if whole && !above.is_empty() && !below.is_empty() => {
            format!(
                "write `{left} {right}` for the fraction, or `{left} - {right}` for the difference"
            )
        }
        ("..", _) => match (whole_size(before), first_size(behind)) {
            (Some(left), Some(right)) => format!("write `{left} .. {right}`"),
            _ => "put a value and a space on both sides of it".to_owned(),
        },
        ("/", _) if behind.starts_with(['/', '*']) => "comments begin with `#`".to_owned(),
        _ => {
            let (left, right) = (left_operand(before, left), right_operand(behind, right));
            let has_word = |text: &str| text.contains(char::is_alphanumeric);
            if has_word(left) && has_word(right) {
                format!("write `{left} {operator} {right}`")
            } else {
                "put a value and a space on both sides of it".to_owned()
            }
        }
    }
}

/// The value before a range's mark: a number with its unit, or a size with its system.
fn whole_size(before: &str) -> Option<String> {
    let mut words = before.split_whitespace().rev();
    let last = words.next()?;
    let two = words.next().filter(|word| {
        let system = word.starts_with(char::is_uppercase) && word.len() > 1;
        system
            || word.starts_with(|c: char| c.is_ascii_digit())
                && last.starts_with(char::is_alphabetic)
    });
    Some(two.map_or_else(|| last.to_owned(), |two| format!("{two} {last}")))
}

/// The value behind a range's mark.
fn first_size(behind: &str) -> Option<String> {
    let mut words = behind.split_whitespace();
    let first = words.next()?.trim_end_matches(',');
    let two = words.next().filter(|word| {
        let system = first.starts_with(char::is_uppercase) && first.len() > 1;
        let unit = word.starts_with(char::is_alphabetic) && *word != "by";
        system || first.ends_with(|c: char| c.is_ascii_digit()) && unit
    });
    Some(two.map_or_else(|| first.to_owned(), |two| format!("{first} {two}")))
}

/// The operand before an operator: a unit with its number.
fn left_operand<'t>(before: &'t str, word: &'t str) -> &'t str {
    let before = before.trim_end();
    let word = if word.is_empty() {
        trailing(before, |c| c.is_alphanumeric() || c == '.')
    } else {
        word
    };
    let rest = before.strip_suffix(word).unwrap_or("");
    let number = trailing(rest.trim_end(), |c| c.is_ascii_digit() || c == '.');
    let is_unit = word.starts_with(char::is_alphabetic) && !number.is_empty();
    let from = if is_unit {
        rest.trim_end().len() - number.len()
    } else {
        rest.len()
    };
    before.get(from..).unwrap_or(word)
}

/// The operand behind an operator: a number with its unit.
fn right_operand<'t>(behind: &'t str, word: &'t str) -> &'t str {
    let behind = behind.trim_start();
    let word = if word.is_empty() {
        leading(behind, |c| c.is_alphanumeric() || c == '.')
    } else {
        word
    };
    let rest = behind.get(word.len()..).unwrap_or("");
    let unit = leading(rest.trim_start(), char::is_alphabetic);
    let is_number = word.ends_with(|c: char| c.is_ascii_digit()) && !unit.is_empty();
    let to = if is_number {
        word.len() + (rest.len() - rest.trim_start().len()) + unit.len()
    } else {
        word.len()
    };
    behind.get(..to).unwrap_or(word)
}
