//! Characters of a recipe: those that the language uses, and what to write instead of others.

use crate::source::{Span, is_unseen};

use super::error::SyntaxError;

/// A character that the language has no use for, with what to write instead.
pub(super) fn character(at: Span, c: char) -> SyntaxError {
    let (help, instead) = match c {
        '\u{2212}' | '\u{2010}' | '\u{2011}' => {
            ("write the minus sign of the keyboard, `-`", Some("-"))
        }
        // A dash may stand for a sign, or for `..` in a range.
        '\u{2012}'..='\u{2015}' => ("write the minus sign of the keyboard, `-`", None),
        '\u{201C}'..='\u{201F}' | '\u{AB}' | '\u{BB}' => {
            ("write the straight quotation mark, `\"`", Some("\""))
        }
        '\u{2044}' | '\u{2215}' => ("write the stroke of the keyboard, `/`", Some("/")),
        '\u{2264}' => ("write `<=`", Some("<=")),
        '\u{2265}' => ("write `>=`", Some(">=")),
        '\u{2260}' => ("write `!=`", Some("!=")),
        ';' => ("a comma or a new line separates two entries", None),
        '_' => ("names are joined by a hyphen, as in `rose-585`", None),
        '$' | '\u{A3}' | '\u{A5}' | '\u{20AC}' | '\u{20B9}' => (
            "money carries its ISO 4217 code behind the amount, as in `5 EUR`",
            None,
        ),
        '\u{FF01}'..='\u{FF5E}' => (
            "this is a full-width character; write the ordinary one",
            None,
        ),
        '\u{2028}' | '\u{2029}' => ("an invisible line end; write an ordinary space", Some(" ")),
        '\u{200C}' | '\u{200D}' => ("an invisible character; remove it", Some("")),
        c if is_unseen(c) => ("an invisible character; remove it", Some("")),
        c if c.is_control() => ("a control character; remove it", None),
        c if !crate::source::is_safe(c) => (
            "it changes the direction of writing and can hide what is read; remove it",
            None,
        ),
        c if c.is_whitespace() => ("write an ordinary space", Some(" ")),
        c if c.is_numeric() => ("numbers are written with the digits 0 to 9", None),
        _ => (
            "remove it, or put it between quotation marks if it is text",
            None,
        ),
    };
    let invisible = is_unseen(c) || unicode_width::UnicodeWidthChar::width(c).unwrap_or(0) == 0;
    let shown = if invisible || c.is_whitespace() {
        "that is not visible".to_owned()
    } else {
        format!("`{c}`")
    };
    SyntaxError::Character {
        at,
        shown,
        code: u32::from(c),
        help: help.to_owned(),
        instead,
    }
}

/// Characters that some shape uses.
pub(super) fn known(c: char) -> bool {
    if !crate::source::is_safe(c) && !matches!(c, '\r' | '\n' | '\u{FEFF}') {
        // Reported when the text was first looked at; the same finding is not listed twice.
        return false;
    }
    c.is_ascii_alphanumeric()
        || c.is_alphabetic() && !('\u{FF01}'..='\u{FF5E}').contains(&c)
        || matches!(
            c,
            ' ' | '\t'
                | '\r'
                | '\n'
                | '\u{A0}'
                | '\u{202F}'
                | '\u{B1}'
                | '\u{B2}'
                | '\u{B3}'
                | '\u{B0}'
        )
        || matches!(c, '\u{BC}'..='\u{BE}' | '\u{2030}' | '\u{D7}' | '\u{FEFF}')
        || matches!(
            c,
            '%' | '('
                | ')'
                | '['
                | ']'
                | '{'
                | '}'
                | '<'
                | '>'
                | '='
                | '!'
                | '.'
                | ','
                | '"'
                | '\\'
                | '#'
                | '-'
                | '+'
                | '*'
                | '/'
        )
        || unicode_width::UnicodeWidthChar::width(c) == Some(0)
            && !c.is_control()
            && !matches!(c, '\u{200B}'..='\u{200F}' | '\u{2060}')
}
