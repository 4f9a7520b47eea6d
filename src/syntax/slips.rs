//! Slips that cover more than one sign: a day with its day first, grouped thousands, text without quotation marks.

use crate::source::Source;

use super::ends::{leading, trailing};
use super::error::SyntaxError;

/// A day written day first, as in `20-11-2026`, by its first mark; and how many bytes it covers from there.
pub(super) fn day_first(
    source: &Source,
    place: usize,
    mark: char,
    before: &str,
    behind: &str,
) -> Option<(SyntaxError, usize)> {
    let digit = |c: char| c.is_ascii_digit();
    let first = trailing(before, digit);
    let second = leading(behind, digit);
    let year = behind.get(second.len()..)?.strip_prefix(mark)?;
    let year = leading(year, digit);
    let short = |text: &str| matches!(text.len(), 1 | 2);
    if !(short(first) && short(second) && year.len() == 4) {
        return None;
    }
    let (one, other): (u8, u8) = (first.parse().ok()?, second.parse().ok()?);
    let day = |month: u8, day: u8| format!("`{year}-{month:02}-{day:02}`");
    let help = match (one > 12, other > 12) {
        (true, _) => format!("write {}", day(other, one)),
        (_, true) => format!("write {}", day(one, other)),
        _ if one == other => format!("write {}", day(one, other)),
        _ => format!("write {} or {}", day(other, one), day(one, other)),
    };
    let covered = 1 + second.len() + 1 + year.len();
    let written = format!("{first}{mark}{second}{mark}{year}");
    Some((
        SyntaxError::DayFirst {
            at: source.span(place - first.len()..place + covered),
            written,
            help,
        },
        covered,
    ))
}

/// A day whose month or day has one digit, or whose marks are others, as in `2026-2-3` or `2026/02/03`.
pub(super) fn short_day(
    source: &Source,
    place: usize,
    mark: char,
    before: &str,
    behind: &str,
) -> Option<(SyntaxError, usize)> {
    let digit = |c: char| c.is_ascii_digit();
    let year = trailing(before, digit);
    let month = leading(behind, digit);
    let day = leading(behind.get(month.len()..)?.strip_prefix(mark)?, digit);
    let short = |text: &str| matches!(text.len(), 1 | 2);
    if year.len() != 4 || !short(month) || !short(day) {
        return None;
    }
    let written = format!("{year}{mark}{month}{mark}{day}");
    let covered = 1 + month.len() + 1 + day.len();
    Some((
        SyntaxError::DayFirst {
            at: source.span(place - year.len()..place + covered),
            written,
            help: format!("write `{year}-{month:0>2}-{day:0>2}`"),
        },
        covered,
    ))
}

/// A comma between digits, with both readings.
pub(super) fn decimal_comma(at: crate::source::Span, before: &str, behind: &str) -> SyntaxError {
    let digit = |c: char| c.is_ascii_digit();
    let left = trailing(before, digit);
    let right = leading(behind, digit);
    let grouped = |text: &str| text.len() == 3;
    // `1,000.5` and `1.000,5`: one of two marks groups the thousands.
    let part = behind
        .get(right.len()..)
        .and_then(|rest| rest.strip_prefix('.'));
    let part = part
        .map(|rest| leading(rest, digit))
        .filter(|rest| !rest.is_empty());
    let whole = before
        .strip_suffix(left)
        .and_then(|rest| rest.strip_suffix('.'));
    let whole = whole
        .map(|rest| trailing(rest, digit))
        .filter(|rest| !rest.is_empty());
    let help = match (part, whole) {
        (Some(part), _) if grouped(right) => {
            format!("write `{left}{right}.{part}`: thousands are not grouped")
        }
        (_, Some(whole)) if grouped(left) => {
            format!("write `{whole}{left}.{right}`: thousands are not grouped")
        }
        _ if grouped(right) && left.len() <= 3 => format!(
            "write `{left}.{right}` with a decimal point, or `{left}{right}` if the comma groups thousands"
        ),
        _ => format!(
            "write `{left}.{right}` with a decimal point, or `{left}, {right}` with a space for two values"
        ),
    };
    SyntaxError::DecimalComma { at, help }
}

/// `use house/alloys.annulet`: a path that stands without its quotation marks.
pub(super) fn unquoted(source: &Source, start: usize, text: &str) -> Option<SyntaxError> {
    let line = text.trim_start();
    let rest = line.strip_prefix("use")?;
    let path = leading(rest, |c| c != '#').trim();
    let is_path = rest.starts_with(char::is_whitespace)
        && !path.contains('"')
        && !path.contains(char::is_whitespace)
        && path.contains(['/', '.']);
    let from = text.find(path).filter(|_| is_path)?;
    Some(SyntaxError::Unquoted {
        at: source.span(start + from..start + from + path.len()),
        help: format!("write `use \"{path}\"`"),
    })
}

/// Text between the quotation marks of a word processor, by its opening mark; and how many bytes it covers.
pub(super) fn curly(
    source: &Source,
    place: usize,
    mark: char,
    behind: &str,
) -> Option<(SyntaxError, usize)> {
    let is_mark = |c: char| matches!(c, '\u{201C}'..='\u{201F}' | '\u{AB}' | '\u{BB}' | '"');
    let end = behind.find(is_mark)?;
    let closing = behind.get(end..)?.chars().next()?;
    let said = behind.get(..end)?;
    let covered = mark.len_utf8() + end + closing.len_utf8();
    Some((
        SyntaxError::Character {
            at: source.span(place..place + mark.len_utf8()),
            shown: format!("`{mark}`"),
            code: u32::from(mark),
            help: format!("write straight quotation marks, `\"{said}\"`"),
            instead: None,
        },
        covered,
    ))
}

/// A sign of money in a unit, as in `98 \u{20AC}/g`; and how many bytes it covers.
pub(super) fn money(
    source: &Source,
    place: usize,
    sign: char,
    behind: &str,
) -> Option<(SyntaxError, usize)> {
    let per = behind.strip_prefix('/')?;
    let unit = leading(per, char::is_alphabetic);
    let code = match sign {
        '\u{20AC}' => "EUR",
        '\u{A3}' => "GBP",
        '\u{20B9}' => "INR",
        '$' => "USD",
        '\u{A5}' => "JPY",
        _ => return None,
    };
    let also = if matches!(sign, '$' | '\u{A5}') {
        "as in "
    } else {
        ""
    };
    Some((
        SyntaxError::Character {
            at: source.span(place..place + sign.len_utf8()),
            shown: format!("`{sign}`"),
            code: u32::from(sign),
            help: format!("money carries its ISO 4217 code: write {also}`{code}/{unit}`"),
            instead: None,
        },
        sign.len_utf8() + 1 + unit.len(),
    ))
}
