//! What two states of a recipe differ in, as text and as machine output.

use serde_json::{Value as Json, json};

use crate::evaluate::Verdict;
use crate::explore::{
    BandDifference, Became, Change, Difference, MovedFigure, MovedText, OrderDifference,
};
use crate::finding::Finding;
use crate::source::{Sources, printable};

use super::change::{change, totals};
use super::json::{finding, severity, value, verdict};
use super::number::Digits;
use super::page::wrapped;
use super::table::table;

/// A difference for a page so many cells wide.
#[must_use]
pub fn difference(difference: &Difference, digits: Digits, width: usize) -> String {
    let mut text = String::new();
    text.push_str(&texts(&difference.stated, 2, width));
    for band in &difference.bands {
        text.push_str(&of_band(band, digits, width));
    }
    for order in &difference.ordered {
        text.push_str(&of_order(order, digits, width));
    }
    let mut say = |line: &str| {
        for (place, line) in wrapped(line, width.saturating_sub(4).max(20))
            .iter()
            .enumerate()
        {
            let indent = if place == 0 { 2 } else { 4 };
            text.push_str(&format!("{:indent$}{line}\n", ""));
        }
    };
    for one in &difference.requirements {
        say(&required(
            &one.what,
            one.before.as_ref(),
            one.after.as_ref(),
        ));
    }
    for (word, findings) in [("now", &difference.came), ("no longer", &difference.went)] {
        for one in findings {
            say(&format!(
                "{word}, {}: {}",
                severity(one.weight()),
                one.message()
            ));
        }
    }
    text
}

fn of_order(order: &OrderDifference, digits: Digits, width: usize) -> String {
    let name = order.order.as_deref().unwrap_or_default();
    let mut text = became(&format!("order {}", printable(name)), order.became);
    text.push_str(&texts(&order.stated, 4, width));
    text + &totals(&order.moved, 4, digits, width)
}

/// `band mill: added`.
fn became(what: &str, became: Became) -> String {
    let what = what.trim_end();
    match became {
        Became::Other => format!("  {what}\n"),
        Became::New => format!("  {what}: added\n"),
        Became::Gone => format!("  {what}: gone\n"),
        Became::Impossible => format!("  {what}: can no longer be worked out\n"),
        Became::Possible => format!("  {what}: can be worked out now\n"),
    }
}

fn of_band(band: &BandDifference, digits: Digits, width: usize) -> String {
    let mut text = became(&format!("band {}", printable(&band.band)), band.became);
    text.push_str(&texts(&band.stated, 4, width));
    let moved = Change {
        moved: band.moved.clone(),
        ..Change::default()
    };
    let figures = change(&moved, usize::MAX, digits, width.saturating_sub(2));
    text.extend(figures.lines().map(|line| format!("  {line}\n")));
    text.push_str(&texts(&band.verdicts, 4, width));
    if !band.cautions.is_empty() {
        text.push_str(&format!(
            "    take care now: {}\n",
            band.cautions.join(", ")
        ));
    }
    text
}

fn texts(all: &[MovedText], indent: usize, width: usize) -> String {
    let side = |of: &Option<String>| match of {
        Some(text) if text.is_empty() => "(empty)".to_owned(),
        Some(text) => printable(text),
        None => "\u{2013}".to_owned(),
    };
    let row = |one: &MovedText| {
        vec![
            printable(&one.path),
            side(&one.before),
            format!("\u{2192} {}", side(&one.after)),
        ]
    };
    table(&all.iter().map(row).collect::<Vec<_>>(), indent, width)
}

/// `required: light enough: holds (2.8 g against 2.9 g) → broken (…)`.
fn required(what: &str, before: Option<&Verdict>, after: Option<&Verdict>) -> String {
    let side = |of: &Verdict| {
        let holds = match of.holds {
            Some(true) => "holds",
            Some(false) => "broken",
            None => "not judged",
        };
        let margin = match of.margin.as_str() {
            "" => String::new(),
            margin => format!(", {margin}"),
        };
        format!("{holds} ({}{margin})", of.found)
    };
    match (before, after) {
        (Some(before), Some(after)) => {
            format!(
                "required, {what}: {} \u{2192} {}",
                side(before),
                side(after)
            )
        }
        (None, Some(after)) => format!("required now, {what}: {}", side(after)),
        (Some(before), None) => format!("no longer required, {what}: {}", side(before)),
        (None, None) => String::new(),
    }
}

/// How a side of a difference is called, and the texts that its places lie in.
#[derive(Clone, Copy, Debug)]
pub struct DifferenceSide<'a> {
    /// Its name; none where there is no such side.
    pub file: Option<&'a str>,
    /// Its texts.
    pub sources: &'a Sources,
}

/// A difference as machine output.
#[must_use]
pub fn difference_json(
    difference: &Difference,
    old: DifferenceSide<'_>,
    new: DifferenceSide<'_>,
) -> Json {
    let findings = |all: &[Finding], sources: &Sources| -> Vec<Json> {
        all.iter().map(|one| finding(one, sources)).collect()
    };
    let requirements: Vec<Json> = difference
        .requirements
        .iter()
        .map(|one| {
            json!({
                "requirement": one.what,
                "old": one.before.as_ref().map(|one| verdict(one, old.sources)),
                "new": one.after.as_ref().map(|one| verdict(one, new.sources)),
            })
        })
        .collect();
    json!({
        "old": old.file,
        "new": new.file,
        "differs": !difference.is_none(),
        "stated": texts_json(&difference.stated),
        "bands": difference.bands.iter().map(band_json).collect::<Vec<_>>(),
        "orders": texts_json(&difference.orders),
        "requirements": requirements,
        "came": findings(&difference.came, new.sources),
        "went": findings(&difference.went, old.sources),
    })
}

fn texts_json(all: &[MovedText]) -> Vec<Json> {
    let one = |one: &MovedText| json!({"path": one.path, "old": one.before, "new": one.after});
    all.iter().map(one).collect()
}

fn band_json(band: &BandDifference) -> Json {
    let figures = |results: bool| -> Vec<Json> {
        let of_kind = band
            .moved
            .iter()
            .filter(|one| one.of.is_result() == results);
        of_kind.map(figure_json).collect()
    };
    json!({
        "name": band.band,
        "change": band.became.word(),
        "stated": texts_json(&band.stated),
        "fields": figures(false),
        "results": figures(true),
        "verdicts": texts_json(&band.verdicts),
        "cautions": band.cautions,
    })
}

fn figure_json(one: &MovedFigure) -> Json {
    let side = |of: &Option<crate::model::Value>| of.as_ref().map(|of| Json::Object(value(of)));
    json!({"path": one.of.path(), "old": side(&one.before), "new": side(&one.after)})
}
