//! What a change moved, as text: before, after, difference; limits newly broken or met; cautions newly due.

use crate::explore::{Change, Moved};
use crate::model::{Value, check};
use crate::quantity::{Number, Quantity};
use crate::source::printable;

use super::number::{Digits, shown_in, shown_quantity};
use super::page::wrapped;
use super::table::table;

/// How many results that are not looked at first are shown.
const MOST: usize = 6;

/// What moved in a band, for a page so many cells wide.
#[must_use]
pub fn change(change: &Change, digits: Digits, width: usize) -> String {
    let mut text = String::new();
    let all = digits == Digits::All;
    let fields = change.moved.iter().filter(|one| !one.is_result);
    let first = change
        .moved
        .iter()
        .filter(|one| one.is_result && one.is_headline());
    let rest: Vec<&Moved> = change
        .moved
        .iter()
        .filter(|one| one.is_result && !one.is_headline())
        .collect();
    let most = if all { rest.len() } else { MOST };
    let rows: Vec<Vec<String>> = fields
        .chain(first)
        .chain(rest.iter().take(most).copied())
        .map(|one| row(one, digits))
        .collect();
    text.push_str(&table(&rows, 2, width));
    if rest.len() > most {
        let left = rest.len() - most;
        let results = if left == 1 { "result" } else { "results" };
        text.push_str(&format!("  and {left} more {results}\n"));
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
    for caution in &change.cautions {
        say("take care", caution.text);
    }
    text
}

fn row(moved: &Moved, digits: Digits) -> Vec<String> {
    // How far a result may be off moves with it, and would only blur what moved.
    let side = |value: &Option<Value>| match value {
        None => "\u{2013}".to_owned(),
        Some(Value::Quantity { quantity, unit }) if moved.is_result => {
            let plain = Quantity::new(quantity.number, quantity.dimension);
            shown_quantity(&plain, unit.as_deref(), digits)
        }
        Some(value) => self::value(value, digits),
    };
    vec![
        moved.path.to_owned(),
        side(&moved.before),
        format!("\u{2192} {}", side(&moved.after)),
        difference(moved, digits),
    ]
}

/// A value as a report shows it.
#[must_use]
pub fn value(value: &Value, digits: Digits) -> String {
    match value {
        Value::Quantity { quantity, unit } => shown_quantity(quantity, unit.as_deref(), digits),
        other => printable(&check::shown(other)),
    }
}

/// `+0.050 mm (+9.1 %)`, or nothing where it means nothing.
#[must_use]
pub fn difference(moved: &Moved, digits: Digits) -> String {
    let Some(difference) = moved.difference() else {
        return String::new();
    };
    let unit = match moved.after.as_ref() {
        Some(Value::Quantity { unit, .. }) => unit.as_deref(),
        _ => None,
    };
    let (number, word) = check::in_unit(&difference, unit);
    let figure = shown_in(number.abs(), &word, digits);
    let sign = sign(number);
    let gap = if word.is_empty() { "" } else { " " };
    // A share of a share would only confuse.
    let share = moved.share().filter(|_| !word.is_empty());
    let share = share.filter(|share| share.abs() >= 0.0005);
    let share = share.map_or_else(String::new, |share| {
        let mark = if share < 0.0 { '\u{2212}' } else { '+' };
        format!(" ({mark}{:.1} %)", share.abs() * 100.0)
    });
    format!("{sign}{}{gap}{word}{share}", figure.text)
}

fn sign(number: Number) -> char {
    if number.is_negative() {
        '\u{2212}'
    } else {
        '+'
    }
}
