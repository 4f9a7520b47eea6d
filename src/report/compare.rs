//! Bands side by side, as text, JSON and CSV.

use serde_json::{Map, Value as Json, json};

use crate::explore::{ComparedRow, HEADLINES, SideBySide};
use crate::model::Value;
use crate::schema::Subject;
use crate::source;

use super::change::answer;
use super::csv::{LINE_END, plain, quoted};
use super::json::{add_rests, value as json_value};
use super::number::Digits;
use super::page::wrapped;
use super::table::fitted;

/// The comparison as text, differences first, for a page so many cells wide; what is the same in all is told where
/// everything is wanted, else counted.
#[must_use]
pub fn compare(comparison: &SideBySide, digits: Digits, width: usize, all: bool) -> String {
    let mut rows = vec![heading(comparison)];
    let several = |row: &&ComparedRow| row.values.iter().flatten().count() > 1;
    let (shared, single): (Vec<&ComparedRow>, Vec<&ComparedRow>) =
        comparison.different.iter().partition(several);
    let (first, rest): (Vec<&ComparedRow>, Vec<&ComparedRow>) = shared
        .into_iter()
        .partition(|row| matches!(row.of, Subject::Result(id) if HEADLINES.contains(&id)));
    let told = first.into_iter().chain(rest).map(|one| row(one, digits));
    // What differs behind the last digit shown is the same to a reader.
    let (alike, told): (Vec<_>, Vec<_>) = told.partition(|cells| is_alike(cells));
    let (long, told): (Vec<_>, Vec<_>) = told.into_iter().partition(|cells| {
        cells
            .iter()
            .skip(1)
            .any(|cell| source::cells(cell) > LONGEST)
    });
    rows.extend(told);
    let holds = comparison
        .holds
        .iter()
        .map(|holds| if *holds { "all hold" } else { "falls short" }.to_owned());
    rows.push(std::iter::once("limits".to_owned()).chain(holds).collect());
    let mut text = fitted(&rows, 2, width);
    for cells in &long {
        text.push_str(&sentence(cells, &comparison.names, width));
    }
    if comparison.different.is_empty() {
        text.push_str("  nothing differs\n");
    }
    for (place, name) in comparison.names.iter().enumerate() {
        let own = single
            .iter()
            .filter_map(|row| Some((row.of.path(), row.values.get(place)?.as_ref()?)));
        text.push_str(&listed(&format!("only in {name}"), own, digits, width));
    }
    let same = comparison
        .same
        .iter()
        .filter_map(|row| Some((row.of.path(), row.values.first()?.as_ref()?)));
    if all {
        text.push_str(&listed("the same in all", same, digits, width));
        return text;
    }
    let count = comparison.same.len() + alike.len();
    if count > 0 {
        text.push_str(&format!(
            "\n  {count} more are the same in all: `compare all`\n"
        ));
    }
    text
}

/// Cells that are longer stand in no column.
const LONGEST: usize = 22;

/// Whether all values of a row read the same.
fn is_alike(cells: &[String]) -> bool {
    let mut values = cells.iter().skip(1);
    let first = values.next();
    values.all(|value| Some(value) == first)
}

/// A row as running text: `title: millstone "…"; millstone-light "…"`.
fn sentence(cells: &[String], names: &[String], width: usize) -> String {
    let Some((path, values)) = cells.split_first() else {
        return String::new();
    };
    let said: Vec<String> = names
        .iter()
        .zip(values)
        .map(|(name, value)| format!("{name} {value}"))
        .collect();
    let lines = wrapped(
        &format!("{path}: {}", said.join("; ")),
        width.min(WIDEST).saturating_sub(4).max(20),
    );
    let indented = lines.iter().enumerate().map(|(place, line)| {
        let indent = if place == 0 { 2 } else { 4 };
        format!("{:indent$}{line}\n", "")
    });
    indented.collect()
}

/// Running text is no wider than this.
const WIDEST: usize = 100;

/// Paths with their values, one behind the other; nothing where there are none.
fn listed<'a>(
    heading: &str,
    values: impl Iterator<Item = (&'a str, &'a Value)>,
    digits: Digits,
    width: usize,
) -> String {
    let all: Vec<String> = values
        .map(|(path, found)| format!("{path} {}", answer(path, found, digits)))
        .collect();
    if all.is_empty() {
        return String::new();
    }
    let lines = wrapped(&all.join("; "), width.min(WIDEST).saturating_sub(4).max(20));
    let lines: String = lines.iter().map(|line| format!("    {line}\n")).collect();
    format!("\n  {heading}\n{lines}")
}

fn heading(comparison: &SideBySide) -> Vec<String> {
    let names = comparison.names.iter().cloned();
    std::iter::once(String::new()).chain(names).collect()
}

fn row(row: &ComparedRow, digits: Digits) -> Vec<String> {
    let shown = row.values.iter().map(|found| {
        found.as_ref().map_or("\u{2013}".to_owned(), |found| {
            answer(row.of.path(), found, digits)
        })
    });
    std::iter::once(row.of.path().to_owned())
        .chain(shown)
        .collect()
}

/// The comparison as JSON: rows in order, each with its value in every column or null.
#[must_use]
pub fn compare_json(comparison: &SideBySide) -> Json {
    let row = |row: &ComparedRow, differs: bool| {
        let values: Map<String, Json> = comparison
            .names
            .iter()
            .zip(row.values.iter().zip(&row.rests))
            .map(|(name, (found, rests))| {
                let found = found.as_ref().map(|found| {
                    let mut object = json_value(found);
                    add_rests(&mut object, rests.iter().map(|one| one.word()));
                    object
                });
                (name.clone(), found.map_or(Json::Null, Json::Object))
            })
            .collect();
        json!({ "path": row.of.path(), "differs": differs, "values": values })
    };
    let different = comparison.different.iter().map(|one| row(one, true));
    let same = comparison.same.iter().map(|one| row(one, false));
    json!({
        "bands": comparison.names.iter().zip(&comparison.holds)
            .map(|(name, holds)| json!({ "name": name, "holds": holds }))
            .collect::<Vec<_>>(),
        "rows": different.chain(same).collect::<Vec<_>>(),
    })
}

/// The comparison as a table (CSV): one line a path and band, the same columns whatever is compared; differences
/// first.
#[must_use]
pub fn compare_csv(file: &str, comparison: &SideBySide) -> String {
    let mut text = line(["file", "path", "differs", "band", "value", "unit"]);
    let different = comparison.different.iter().map(|row| (row, "yes"));
    let same = comparison.same.iter().map(|row| (row, "no"));
    for (row, differs) in different.chain(same) {
        let unit = row.values.iter().flatten().find_map(|found| match found {
            Value::Quantity { unit, .. } => unit.clone(),
            _ => None,
        });
        let unit = unit.unwrap_or_default();
        for (name, found) in comparison.names.iter().zip(&row.values) {
            let found = found.as_ref();
            let value = found.map_or_else(String::new, |found| plain(found, &unit));
            text.push_str(&line([file, row.of.path(), differs, name, &value, &unit]));
        }
    }
    text
}

fn line<const N: usize>(cells: [&str; N]) -> String {
    cells.map(quoted).join(",") + LINE_END
}
