//! How the parts of a typed line are told apart: for highlighting. Colours are the terminal's business.

use crate::schema;
use std::ops::Range;

use crate::syntax::TOP_WORDS;

use super::words::command;

/// What a part of a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A command of the bench.
    Command,
    /// A word of the recipe language: a block or a field.
    Field,
    /// A number.
    Number,
    /// The unit behind a number.
    Unit,
    /// Text between quotes.
    Text,
    /// A comment.
    Comment,
}

/// The parts of a text that stand out, in order; what lies between them is plain.
///
/// # Example
/// ```
/// use annulet::bench::{Kind, look};
/// let kinds: Vec<Kind> = look("try width 4.5 mm # wide").into_iter().map(|(_, kind)| kind).collect();
/// assert_eq!(kinds, [Kind::Command, Kind::Field, Kind::Number, Kind::Unit, Kind::Comment]);
/// ```
#[must_use]
pub fn look(text: &str) -> Vec<(Range<usize>, Kind)> {
    let mut found = Vec::new();
    let (mut at, mut first, mut after_number) = (0, true, false);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let mut characters = rest.chars();
        let Some(c) = characters.next() else { break };
        let length = match c {
            '#' => rest.find('\n').unwrap_or(rest.len()),
            '"' => rest
                .get(1..)
                .and_then(|inner| inner.find(['"', '\n']))
                .map_or(rest.len(), |end| end + 2),
            c if c.is_ascii_digit() => {
                run(rest, |c| c.is_ascii_digit() || matches!(c, '.' | '/' | '-'))
            }
            c if c.is_alphabetic() => run(rest, |c| {
                c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/')
            }),
            c => c.len_utf8(),
        };
        let word = rest.get(..length).unwrap_or(rest);
        let range = at..at + word.len();
        at = range.end;
        let kind = match c {
            '#' => Some(Kind::Comment),
            '"' => Some(Kind::Text),
            '%' | '\u{2030}' if after_number => Some(Kind::Unit),
            c if c.is_ascii_digit() => Some(Kind::Number),
            c if c.is_alphabetic() => kind_of(word, text, first, after_number),
            _ => None,
        };
        if !c.is_whitespace() {
            first = false;
            after_number = kind == Some(Kind::Number);
        }
        found.extend(kind.map(|kind| (range, kind)));
    }
    found
}

/// The length of the characters at the start for which something holds.
fn run(text: &str, holds: impl Fn(char) -> bool) -> usize {
    text.find(|c: char| !holds(c)).unwrap_or(text.len())
}

fn kind_of(word: &str, text: &str, first: bool, after_number: bool) -> Option<Kind> {
    if first && command(text).is_some() {
        return Some(Kind::Command);
    }
    if after_number && !matches!(word, "of" | "by" | "in" | "meets" | "where" | "x") {
        return Some(Kind::Unit);
    }
    // A word of ranges far more often than the field of a mark.
    let known = TOP_WORDS.contains(&word) || (word != "by" && !schema::matching(word).is_empty());
    known.then_some(Kind::Field)
}
