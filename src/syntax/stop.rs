//! Where the grammar stopped in a text that fits no shape.

use pest::Parser;

use crate::source::Source;

use super::error::SyntaxError;
use super::grammar::{Grammar, Rule, spoken};
use super::guard::closing_quote;

/// What a line looks like, for those who see the language for the first time.
const LINE: &str = "a line is a word and what is said of it, as in `width 4.5 mm`";

/// Where the grammar stopped, and what it would have taken there.
pub(super) fn stop(source: &Source, start: usize, text: &str, rule: Rule) -> SyntaxError {
    if let Some(problem) = open_bracket(source, start, text) {
        return problem;
    }
    let (place, expected) = match Grammar::parse(rule, text) {
        Ok(pairs) => (
            pairs.last().map_or(0, |pair| pair.as_span().end()),
            String::new(),
        ),
        Err(error) => {
            let place = match error.location {
                pest::error::InputLocation::Pos(place)
                | pest::error::InputLocation::Span((place, _)) => place,
            };
            let expected = match &error.variant {
                pest::error::ErrorVariant::ParsingError { positives, .. } => spoken(positives),
                pest::error::ErrorVariant::CustomError { .. } => String::new(),
            };
            (place, expected)
        }
    };
    let expected = if expected.is_empty() {
        "the end of the line or a block".to_owned()
    } else {
        expected
    };
    let inch = text
        .get(..place)
        .and_then(|before| before.trim_end().strip_suffix(" in"))
        .is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()));
    let several = rule != Rule::entry
        && text
            .get(place..)
            .is_some_and(|rest| rest.trim_start().starts_with(','));
    let help = if several {
        "several values stand between square brackets, as in `[US 6, US 7]`"
    } else if inch {
        "right behind a number `in` is the inch; to convert, put what stands before it in round brackets"
    } else {
        LINE
    };
    let rest = text.get(place..).unwrap_or("");
    let spaces = rest.len() - rest.trim_start().len();
    let word = rest.split_whitespace().next().map_or(0, str::len);
    let at = source.span(start + place + spaces..start + place + spaces + word);
    SyntaxError::Unreadable {
        at,
        expected,
        help: help.to_owned(),
    }
}

/// A round or square bracket without its partner.
fn open_bracket(source: &Source, start: usize, text: &str) -> Option<SyntaxError> {
    let mut open = Vec::new();
    let mut behind = 0;
    for (place, c) in text.char_indices() {
        match c {
            _ if place < behind => {}
            '"' => behind = place + text.get(place + 1..).and_then(closing_quote)? + 2,
            '(' => open.push((place, ')')),
            '[' => open.push((place, ']')),
            ')' | ']' if open.last().is_some_and(|(_, close)| *close == c) => {
                open.pop();
            }
            _ => {}
        }
    }
    let (place, close) = open.pop()?;
    Some(SyntaxError::OpenBracket {
        at: source.span(start + place..start + place + 1),
        close,
    })
}
