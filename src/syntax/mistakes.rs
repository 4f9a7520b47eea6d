//! What was probably meant by text that fits no shape.
//!
//! Input: a stretch that the grammar could not read. Output: one finding for each trap in it (a comma
//! between digits, an operator without its spaces, a character from elsewhere), or, when none is
//! there, one finding at the place where the grammar stopped. Runs only on broken text, so it may
//! take its time, but never more than a few passes.

use pest::Parser;

use crate::finding::{Finding, MOST as MOST_FINDINGS, add};
use crate::source::Source;

use super::characters::{character, known};
use super::ends::{leading, trailing};
use super::error::SyntaxError;
use super::grammar::{Grammar, Rule, spoken};
use super::guard::closing_quote;
use super::slips;

/// How many traps are reported for one stretch; the rest would be noise.
const MOST: usize = 8;

/// How many bytes before a character are looked at: more than any word that means something.
const NEAR: usize = 256;

/// What a line looks like, for those who see the language for the first time.
const LINE: &str = "a line is a word and what is said of it, as in `width 4.5 mm`";

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
                why: "no digit behind the point",
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
                        "a step has a space behind its sign, as in `try {head} + {}`; a value has no plus sign",
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

/// Whether the word before an operator is the unit of a number, so that `/` may stand tight.
fn unit_before(before: &str) -> bool {
    let word = trailing(before, char::is_alphabetic);
    let rest = before.strip_suffix(word).unwrap_or("").trim_end();
    rest.chars().next_back().is_some_and(|c| c.is_ascii_digit())
}

/// Whether a hyphen stands inside a name: `rose-585` is one, `a-0.2` and `7-1` are not.
fn in_name(before: &str, behind: &str) -> bool {
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
fn tight(
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

/// Where the grammar stopped, and what it would have taken there.
fn stop(source: &Source, start: usize, text: &str, rule: Rule) -> SyntaxError {
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
