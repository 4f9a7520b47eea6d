//! What was probably meant by text that fits no shape.
//!
//! Input: a stretch that the grammar could not read. Output: one finding for each trap in it (a comma
//! between digits, an operator without its spaces, a character from elsewhere), or, when none is
//! there, one finding at the place where the grammar stopped. Runs only on broken text, so it may
//! take its time, but never more than a few passes.

use crate::finding::{Finding, MOST as MOST_FINDINGS, add};
use crate::source::Source;

use super::characters::{character, known};
use super::ends::{leading, trailing};
use super::error::SyntaxError;
use super::grammar::Rule;
use super::guard::closing_quote;
use super::slips;
use super::stop::stop;
use super::tight::{in_name, tight, unit_before};

/// How many traps are reported for one stretch; the rest would be noise.
const MOST: usize = 8;

/// How many bytes before a character are looked at: more than any word that means something.
const NEAR: usize = 256;

/// Reports what is wrong with the text at `start`, given as `rule` would read it; where it is a line of a recipe,
/// `heads` is the path before a field of the band that this one is made of, empty where it is made of none. True
/// where it is a slip inside a line that is otherwise one, false where nobody knows what the text was meant to be.
pub(super) fn explain(
    source: &Source,
    start: usize,
    text: &str,
    rule: Rule,
    heads: Option<&str>,
    findings: &mut Vec<Finding>,
) -> bool {
    let before = findings.len();
    if before > MOST_FINDINGS {
        return false;
    }
    traps(source, start, text, heads, findings);
    let known = findings.len() > before;
    if !known {
        add(findings, stop(source, start, text, rule));
    }
    known
}

/// Looks for the known traps, outside text in quotes.
fn traps(
    source: &Source,
    start: usize,
    text: &str,
    heads: Option<&str>,
    findings: &mut Vec<Finding>,
) {
    if let Some(problem) = slips::unquoted(source, start, text) {
        add(findings, problem);
        return;
    }
    let (mut behind, mut found) = (0, 0);
    for (place, c) in text.char_indices() {
        if place < behind || found >= MOST {
            continue;
        }
        if c == '"' {
            match text.get(place + 1..).and_then(closing_quote) {
                Some(length) => behind = place + length + 2,
                None => {
                    let at = source.span(start + place..start + place + 1);
                    add(findings, SyntaxError::OpenText { at });
                    return;
                }
            }
            continue;
        }
        if let Some((problem, length)) = trap(source, start, text, (place, c), heads) {
            add(findings, problem);
            behind = place + length;
            found += 1;
        }
    }
}

/// The trap at one character, if there is one, and how many bytes it covers.
fn trap(
    source: &Source,
    start: usize,
    text: &str,
    (place, c): (usize, char),
    heads: Option<&str>,
) -> Option<(SyntaxError, usize)> {
    let from = (place.saturating_sub(NEAR)..=place).find(|from| text.is_char_boundary(*from))?;
    let before = text.get(from..place)?;
    let behind = text.get(place + c.len_utf8()..)?;
    let last = before.chars().next_back();
    let next = behind.chars().next();
    let span = |from: usize, to: usize| source.span(start + from..start + to);
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let is_word = |c: Option<char>| {
        c.is_some_and(|c| c.is_alphanumeric() || matches!(c, ')' | ']' | '%' | '"'))
    };
    if matches!(c, '-' | '.' | '/')
        && is_digit(last)
        && let Some(found) = slips::day_first(source, start + place, c, before, behind)
            .or_else(|| slips::short_day(source, start + place, c, before, behind))
    {
        return Some(found);
    }
    match c {
        '\u{201C}'..='\u{201F}' | '\u{AB}' | '\u{BB}'
            if let Some(found) = slips::curly(source, start + place, c, behind) =>
        {
            Some(found)
        }
        '\u{20AC}' | '\u{A3}' | '\u{20B9}' | '$' | '\u{A5}'
            if let Some(found) = slips::money(source, start + place, c, behind) =>
        {
            Some(found)
        }
        '-' if before.trim_end().ends_with(['\u{B1}', '-'])
            && is_digit(next)
            && deviates(before) =>
        {
            let digits = leading(behind, |c| c.is_ascii_digit() || c == '.');
            let problem = SyntaxError::Step {
                at: span(place, place + 1 + digits.len()),
                message: "a deviation has no sign".to_owned(),
                help: "`\u{B1} 0.02 mm` already means to either side".to_owned(),
            };
            Some((problem, text.len() - place))
        }
        ',' if is_digit(last) && is_digit(next) => Some((
            slips::decimal_comma(span(place, place + 1), before, behind),
            1,
        )),
        '.' if next == Some('.') => {
            let spaced = |c: Option<char>| c.is_none_or(char::is_whitespace);
            if spaced(last) && spaced(behind.chars().nth(1)) {
                return None;
            }
            Some(tight(source, start, text, place, ".."))
        }
        '.' if is_digit(next) && !is_digit(last) && !last.is_some_and(char::is_alphabetic) => {
            let digits = leading(behind, |c| c.is_ascii_digit());
            let written = format!(".{digits}");
            let problem = SyntaxError::Number {
                at: span(place, place + written.len()),
                instead: format!("0{written}"),
                written,
                why: "no digit before the point",
                certain: !is_digit(before.trim_end().chars().next_back()),
            };
            Some((problem, 1 + digits.len()))
        }
        '.' if is_digit(last) && !is_digit(next) && next != Some('.') => {
            let digits = trailing(before, |c| c.is_ascii_digit());
            let problem = SyntaxError::Number {
                at: span(place - digits.len(), place + 1),
                written: format!("{digits}."),
                why: "no digit after the point",
                instead: digits.to_owned(),
                // The digits behind the point may have slipped away, or stand behind a space.
                certain: false,
            };
            Some((problem, 1))
        }
        'e' | 'E'
            if is_digit(last)
                && behind.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+')) =>
        {
            exponent(before, behind).map(|(written, instead)| {
                let from = place - trailing(before, |c| c.is_ascii_digit() || c == '.').len();
                let to = from + written.len();
                let alone = text.get(..from).and_then(|text| text.chars().next_back());
                (
                    SyntaxError::Number {
                        at: span(from, to),
                        written,
                        why: "an exponent",
                        instead,
                        certain: alone.is_none_or(char::is_whitespace),
                    },
                    to - place,
                )
            })
        }
        ':' | '='
            if from == 0
                && before
                    .trim_end()
                    .chars()
                    .all(|c| c.is_alphanumeric() || c == '-')
                && !before.trim().is_empty() =>
        {
            let instead = format!("{} {}", before.trim(), behind.trim());
            Some((
                SyntaxError::FieldMark {
                    at: span(place, place + 1),
                    mark: c,
                    instead,
                },
                c.len_utf8(),
            ))
        }
        '=' if matches!(next, Some('>' | '<')) => {
            let instead = if next == Some('>') { ">=" } else { "<=" };
            let written = text.get(place..place + 2)?.to_owned();
            let at = span(place, place + 2);
            let problem = SyntaxError::TurnedSign {
                at,
                written,
                instead,
            };
            Some((problem, 2))
        }
        '=' | '<' | '>' | '!' => {
            let spaced = |c: Option<char>| c.is_none_or(char::is_whitespace);
            let length = 1 + usize::from(next == Some('='));
            let operator = text.get(place..place + length).unwrap_or("");
            if operator == "==" {
                let at = span(place, place + 2);
                return Some((SyntaxError::DoubleEqual { at }, 2));
            }
            // What is no operator is said by the shape of the line.
            if operator == "!"
                || matches!(last, Some('<' | '>' | '!'))
                || spaced(last) && spaced(behind.chars().nth(length - 1))
            {
                return None;
            }
            Some(tight(source, start, text, place, operator))
        }
        '+' if next == Some('-') => {
            let at = span(place, place + 2);
            Some((SyntaxError::PlusMinus { at }, 2))
        }
        '+' | '-' | '*' | '/' | '\u{D7}' => {
            let spaced = |c: Option<char>| c.is_none_or(char::is_whitespace);
            let head = before.trim();
            let of_field = from == 0
                && head.starts_with(char::is_alphabetic)
                && !head.contains(char::is_whitespace)
                && spaced(last);
            if spaced(last) && spaced(next) {
                return heads
                    .filter(|_| of_field)
                    .and_then(|heads| step(source, start, text, place, c, (head, heads)));
            }
            let sign = c == '-' && !is_word(last);
            let tolerance = c == '+' && behind.starts_with("/-")
                || c == '/' && before.ends_with('+')
                || c == '-' && before.ends_with("+/");
            let hyphen = c == '-' && in_name(before, behind);
            let quotient = c == '/'
                && (is_digit(last) && is_digit(next)
                    || is_word(last)
                        && next.is_some_and(char::is_alphabetic)
                        && unit_before(before));
            if sign || tolerance || hyphen || quotient {
                return None;
            }
            // Behind a field's name a sign is that of a step; behind a value it joins two.
            if c == '+' && of_field && is_digit(next) {
                let digits = leading(behind, |c| c.is_ascii_digit() || c == '.');
                let problem = SyntaxError::Step {
                    at: span(place, place + 1 + digits.len()),
                    message: format!("`+{digits}` is neither a value nor a step"),
                    help: format!(
                        "a step has a space after its sign, as in `try {head} + {}`; a value has no plus sign",
                        rest_of(behind)
                    ),
                };
                return Some((problem, text.len() - place));
            }
            let operator = text.get(place..place + c.len_utf8()).unwrap_or("");
            let (problem, length) = tight(source, start, text, place, operator);
            let comment = c == '/' && behind.starts_with(['/', '*']);
            Some((problem, if comment { text.len() - place } else { length }))
        }
        _ => (!known(c)).then(|| {
            (
                character(span(place, place + c.len_utf8()), c),
                c.len_utf8(),
            )
        }),
    }
}

/// Whether a text ends with the mark of a deviation.
fn deviates(before: &str) -> bool {
    let before = before.trim_end();
    before.ends_with('\u{B1}') || before.ends_with("+/-")
}

/// A step where a recipe states a value, with the value spelt out where a parent has one; `heads` is the path
/// of the field in there. None where nothing stands behind the sign.
fn step(
    source: &Source,
    start: usize,
    text: &str,
    place: usize,
    sign: char,
    (head, heads): (&str, &str),
) -> Option<(SyntaxError, usize)> {
    let rest = text.get(place + sign.len_utf8()..).map(rest_of)?;
    let spelt = format!("{head} {sign} {rest}");
    let problem = SyntaxError::Step {
        at: source.span(start + place..start + text.trim_end().len()),
        message: "a recipe states values, not steps".to_owned(),
        help: match heads {
            "" => format!("write the value out; a step is tried, as in `try {spelt}`"),
            heads => format!("write `{head} {heads}{spelt}`"),
        },
    };
    (!rest.is_empty()).then_some((problem, text.len() - place))
}

/// What stands behind a sign, up to the end of what is said of the field.
fn rest_of(behind: &str) -> &str {
    leading(behind, |c| !matches!(c, ',' | '{' | '}' | '#')).trim()
}

/// The number around an `e`, and the same without exponent.
fn exponent(before: &str, behind: &str) -> Option<(String, String)> {
    let mantissa = trailing(before, |c| c.is_ascii_digit() || c == '.');
    let sign = leading(behind, |c| matches!(c, '-' | '+'));
    let digits = leading(behind.get(sign.len()..)?, |c| c.is_ascii_digit());
    let word = before.strip_suffix(mantissa)?.chars().next_back();
    // Inside a name it is a letter like others.
    if digits.is_empty() || word.is_some_and(|c| c.is_alphanumeric() || c == '-') {
        return None;
    }
    let written = format!("{mantissa}e{sign}{digits}");
    let value = rust_decimal::Decimal::from_scientific(&written).ok()?;
    Some((written, value.to_string()))
}
