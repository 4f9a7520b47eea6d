//! Names: one form for each, whatever way its accents are typed, and no letter that only looks like another.

use unicode_normalization::UnicodeNormalization;
use unicode_security::skeleton;

use crate::finding::{Finding, add};
use crate::source::Span;

use super::error::SyntaxError;

/// A name in the one form that names are compared in (Unicode's form C); what cannot be told apart in it is refused.
pub(super) fn name(written: &str, at: Span, findings: &mut Vec<Finding>) -> String {
    if written.is_ascii() {
        return written.to_owned();
    }
    match chosen_shape(written, at).or_else(|| look_alike(written, at)) {
        Some(problem) => {
            add(findings, problem);
            // Nothing more is said of a name that was refused.
            let letters = normal(written);
            letters.chars().map(|c| latin(c).unwrap_or(c)).collect()
        }
        None => normal(written),
    }
}

/// A name in the form that names are compared in.
#[must_use]
pub fn normal(written: &str) -> String {
    match written.is_ascii() {
        true => written.to_owned(),
        false => written.nfc().collect(),
    }
}

/// What a name looks like: two names with the same looks cannot be told apart.
#[must_use]
pub fn looks(name: &str) -> String {
    skeleton(name).collect()
}

/// The first character that chooses how the one before it is drawn (a variation selector), and is not seen itself.
fn chosen_shape(written: &str, at: Span) -> Option<SyntaxError> {
    let chooses = |c: &char| matches!(c, '\u{180B}'..='\u{180F}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}');
    let found = written.chars().find(chooses)?;
    Some(SyntaxError::Character {
        at,
        shown: "that is not visible".to_owned(),
        code: u32::from(found),
        help: "it is not seen, and would make a name of its own: remove it".to_owned(),
        instead: None,
    })
}

/// The first letter of another script among Latin ones that looks like a Latin letter.
fn look_alike(written: &str, at: Span) -> Option<SyntaxError> {
    let whole = normal(written);
    if !whole.contains(|c: char| c.is_ascii_alphabetic()) {
        return None;
    }
    let mut foreign = whole.chars().filter(|c| c.is_alphabetic() && !c.is_ascii());
    let (found, meant) = foreign.find_map(|c| Some((c, latin(c)?)))?;
    Some(SyntaxError::Character {
        at,
        shown: format!("`{found}`"),
        code: u32::from(found),
        help: format!(
            "it looks like the letter `{meant}` of the rest of the name and is another: write that letter"
        ),
        instead: None,
    })
}

/// The Latin letter that a letter of another script looks like.
fn latin(c: char) -> Option<char> {
    if c.is_ascii() || !c.is_alphabetic() {
        return None;
    }
    let mut seen = skeleton(c.encode_utf8(&mut [0; 4]))
        .collect::<Vec<char>>()
        .into_iter();
    let first = seen.next().filter(char::is_ascii_alphabetic)?;
    seen.next().is_none().then_some(first)
}
