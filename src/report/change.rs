//! What a change moved, as text: before, after, difference; limits newly broken or met; cautions newly due.

use crate::explore::{Change, MovedFigure};
use crate::model::{Value, check};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{self, OrderResult};
use crate::source::printable;

use super::number::{Digits, places, shown, shown_in, shown_quantity};
use super::page::{flowed, wrapped};
use super::table::table;

/// What moved in a band, for a page so many cells wide, with no more than `most` of the results that are not looked at
/// first; how many are left is said.
#[must_use]
pub fn change(change: &Change, most: usize, digits: Digits, width: usize) -> String {
    let mut text = String::new();
    let fields = change.moved.iter().filter(|one| !one.of.is_result());
    let first = change
        .moved
        .iter()
        .filter(|one| one.of.is_result() && one.is_headline());
    let rest = change
        .moved
        .iter()
        .filter(|one| one.of.is_result() && !one.is_headline());
    let left = change.left(most);
    let shown = fields.chain(first).chain(rest.take(most));
    let shown: Vec<&MovedFigure> = shown.collect();
    let rows = |shares: bool| -> Vec<Vec<String>> {
        let row = |one: &&MovedFigure| row(one, digits, shares);
        shown.iter().map(row).collect()
    };
    // Where the lines are too narrow for shares, the figures still stand side by side.
    let mut lines = table(&rows(true), 2, width);
    if lines.lines().count() > shown.len() {
        let rows = rows(false);
        lines = table(&rows, 2, width);
        if lines.lines().count() > rows.len() {
            lines = one_by_one(&rows, width);
        }
    }
    text.push_str(&lines);
    if left > 0 {
        let results = if left == 1 { "result" } else { "results" };
        text.push_str(&format!("  and {left} more {results}: `more`\n"));
    }
    let mut say = |what: &str, of: &str| {
        let message = format!("{what}: {of}");
        for line in wrapped(&message, width.saturating_sub(2).max(20)) {
            text.push_str(&format!("  {line}\n"));
        }
    };
    for finding in &change.broken {
        say("falls short now", &finding.message());
    }
    for finding in &change.met {
        say("holds again; before", &finding.message());
    }
    let cautions: Vec<&str> = change.cautions.iter().map(|one| one.title).collect();
    if !cautions.is_empty() {
        say(
            "take care",
            &format!("{} (`eval care`)", cautions.join("; ")),
        );
    }
    text
}

/// Rows one after the other, each wrapped, for a page too narrow for columns.
fn one_by_one(rows: &[Vec<String>], width: usize) -> String {
    let mut text = String::new();
    for row in rows {
        let cells: Vec<&str> = row.iter().map(String::as_str).collect();
        for (place, line) in flowed(&cells.join("  "), width.saturating_sub(4).max(20))
            .iter()
            .enumerate()
        {
            let indent = if place == 0 { 2 } else { 4 };
            text.push_str(&format!("{:indent$}{line}\n", ""));
        }
    }
    text
}

fn row(moved: &MovedFigure, digits: Digits, shares: bool) -> Vec<String> {
    vec![
        moved.of.path().to_owned(),
        side(moved, moved.before.as_ref(), digits),
        format!("\u{2192} {}", side(moved, moved.after.as_ref(), digits)),
        if shares {
            difference(moved, digits)
        } else {
            by(moved, moved.of.is_share(), digits)
        },
    ]
}

/// Totals of an order that moved, a line each.
pub(super) fn totals(
    all: &[MovedFigure<OrderResult>],
    indent: usize,
    digits: Digits,
    width: usize,
) -> String {
    let shown = |of: Option<&Value>| match of {
        Some(Value::Quantity { quantity, unit }) => result(quantity, unit.as_deref(), digits),
        Some(of) => value(of, digits),
        None => "\u{2013}".to_owned(),
    };
    let row = |moved: &MovedFigure<OrderResult>| {
        vec![
            moved.of.row().path.to_owned(),
            shown(moved.before.as_ref()),
            format!("\u{2192} {}", shown(moved.after.as_ref())),
            by(moved, false, digits) + &share(moved),
        ]
    };
    table(&all.iter().map(row).collect::<Vec<_>>(), indent, width)
}

/// What something that moved is now.
#[must_use]
pub fn after(moved: &MovedFigure, digits: Digits) -> String {
    side(moved, moved.after.as_ref(), digits)
}

fn side(moved: &MovedFigure, of: Option<&Value>, digits: Digits) -> String {
    match of {
        None => "\u{2013}".to_owned(),
        Some(Value::Quantity { quantity, unit }) if moved.of.is_result() => {
            let unit = per_cent(moved.of.is_share(), unit.as_deref());
            result(quantity, unit, digits)
        }
        Some(of) => value(of, digits),
    }
}

/// A result with how far it may be off at worst, both in one unit: `\u{2248} 4.294 \u{B1} 0.051 g`.
fn result(quantity: &Quantity, unit: Option<&str>, digits: Digits) -> String {
    let plain = Quantity::new(quantity.number, quantity.dimension);
    let whole = shown_quantity(&plain, unit, digits);
    if quantity.deviations.is_empty() {
        return whole;
    }
    let worst = Quantity::new(Number::Computed(quantity.worst()), quantity.dimension);
    let (worst, word) = check::in_unit(&worst, unit);
    let worst = shown(worst, places(&word), digits).text;
    match whole.strip_suffix(&word).filter(|_| !word.is_empty()) {
        Some(number) => format!("{} \u{B1} {worst} {word}", number.trim_end()),
        None => format!("{whole} \u{B1} {worst}"),
    }
}

/// The answer to a question as a report shows it: what a share is of is one, so a path that is a share is in per
/// cent.
///
/// # Example
/// ```
/// use annulet::model::Value;
/// use annulet::quantity::{Dimension, Number, Quantity};
/// use annulet::report::{Digits, answer};
/// let saving = Value::Quantity {
///     quantity: Quantity::new(Number::Computed(0.352_413), Dimension::NONE),
///     unit: None,
/// };
/// assert_eq!(answer("harvest-light.saving", &saving, Digits::Useful), "≈ 35.24 %");
/// ```
#[must_use]
pub fn answer(question: &str, found: &Value, digits: Digits) -> String {
    match found {
        Value::Quantity { quantity, unit } if is_share(question) => {
            shown_quantity(quantity, per_cent(true, unit.as_deref()), digits)
        }
        other => value(other, digits),
    }
}

/// Whether a question is a path to a result that is a share.
fn is_share(question: &str) -> bool {
    let path = question.trim();
    let whole = schema::find_subject(path);
    let behind = || {
        let rest = path.split_once('.').map(|(_, rest)| rest);
        rest.map(schema::find_subject).unwrap_or_default()
    };
    let found = if whole.is_empty() { behind() } else { whole };
    !found.is_empty() && found.iter().all(|one| one.is_share())
}

/// The unit that a result is shown in; a share is in per cent.
fn per_cent(is_share: bool, unit: Option<&str>) -> Option<&str> {
    if is_share { Some("%") } else { unit }
}

/// A value as a report shows it.
#[must_use]
pub fn value(value: &Value, digits: Digits) -> String {
    match value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            shown_quantity(quantity, unit.as_deref(), digits)
        }
        other => printable(&check::shown(other)),
    }
}

/// `+0.050 mm (+9.1 %)`, or nothing where it means nothing.
#[must_use]
pub fn difference(moved: &MovedFigure, digits: Digits) -> String {
    by(moved, moved.of.is_share(), digits) + &share(moved)
}

/// `+0.050 mm`, or nothing where it means nothing.
fn by<S>(moved: &MovedFigure<S>, is_share: bool, digits: Digits) -> String {
    // Where only the deviation moved, the figure did not.
    let Some(difference) = moved.difference().filter(|one| one.number != Number::ZERO) else {
        return String::new();
    };
    let after = moved.after.as_ref().and_then(Value::measured);
    let unit = after.and_then(|(_, unit)| unit);
    let unit = per_cent(is_share, unit);
    let (number, word) = check::in_unit(&difference, unit);
    // What subtracting leaves behind the last digit that means something is none of it.
    let number = match number {
        Number::Computed(value) => Number::Computed((value * 1e12).round() / 1e12),
        exact => exact,
    };
    // A difference is rounded as the two figures beside it are.
    let figure = match number {
        Number::Computed(_) => shown(number.abs(), places(&word), digits),
        Number::Exact(_) => shown_in(number.abs(), &word, digits),
    };
    let gap = if word.is_empty() { "" } else { " " };
    let nothing = figure.text.chars().all(|digit| matches!(digit, '0' | '.'));
    if nothing {
        let mark = if figure.rounded { "\u{2248} " } else { "" };
        return format!("{mark}0{gap}{word}");
    }
    let mark = if figure.rounded { "\u{2248} " } else { "" };
    format!("{mark}{}{}{gap}{word}", sign(number), figure.text)
}

/// ` (+9.1 %)`; a share of a share would only confuse.
fn share<S>(moved: &MovedFigure<S>) -> String {
    let shares = [Dimension::NONE, Dimension::FINENESS];
    let has_unit = |one: &Quantity| !shares.contains(&one.dimension);
    let difference = moved.difference().filter(has_unit);
    let share = difference.and_then(|_| moved.share());
    let share = share.filter(|share| share.abs() >= 0.0005);
    share.map_or_else(String::new, |share| {
        let mark = if share < 0.0 { '\u{2212}' } else { '+' };
        format!(" ({mark}{:.1} %)", share.abs() * 100.0)
    })
}

fn sign(number: Number) -> char {
    if number.is_negative() {
        '\u{2212}'
    } else {
        '+'
    }
}
