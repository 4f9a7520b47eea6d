//! A run over sizes as a table, CSV or JSON.

use crate::evaluate::Evaluation;
use crate::schema::ResultRow;
use serde_json::{Map, Value as Json, json};

use crate::evaluate::{Rest, rests};
use crate::explore::{COLUMNS, Kept, SizeRow, SizeRun};
use crate::finding::{Finding, Weight};
use crate::quantity::Number;

use super::csv::{LINE_END, column, currency, quoted};
use super::json::{add_rests, quantity_json};
use super::number::{Digits, shown_in};
use super::page::{TextLayout, lines_fitted};
use super::size_stock::stocks;
use super::table::{banks, table};
use super::told::laid_over;

/// Whether all holds in a size, in a word.
fn verdict(row: &SizeRow) -> &'static str {
    match (&row.evaluation, row.weight()) {
        (None, _) => "cannot be made",
        (Some(_), Some(Weight::Wrong)) => "wrong",
        (Some(_), Some(Weight::Short)) => "falls short",
        (Some(_), _) => "holds",
    }
}

/// The unit of a column: of money that of the first size that has it.
fn unit(run: &SizeRun, entry: &ResultRow) -> String {
    let mut evaluations = run.rows.iter().filter_map(|row| row.evaluation.as_ref());
    evaluations
        .next()
        .map_or_else(|| entry.unit.to_owned(), |one| one.unit(entry).into_owned())
}

/// The run as a table, with what first stands in the way of a size behind it; `over` lies over the recipe, which it says.
#[must_use]
pub fn size_run(run: &SizeRun, over: &[String], layout: TextLayout) -> String {
    let digits = layout.digits;
    let units: Vec<String> = run.columns.iter().map(|entry| unit(run, entry)).collect();
    let mut header = vec!["size".to_owned()];
    let columns = kept_columns(run);
    header.extend(columns.iter().map(|(name, _)| (*name).to_owned()));
    header.extend(run.columns.iter().map(|entry| entry.path.to_owned()));
    header.push("limits".to_owned());
    let mut under = vec![String::new()];
    under.extend(columns.iter().map(|(_, unit)| (*unit).to_owned()));
    under.extend(units.iter().cloned());
    let mut rows = vec![header, under];
    let mut rounded = false;
    for row in &run.rows {
        let mut cells = vec![row.size.clone()];
        cells.extend(row.kept.iter().flat_map(|kept| {
            let (cells, is_rounded) = kept_cells(kept, digits);
            rounded |= is_rounded;
            cells
                .into_iter()
                .zip(KEPT)
                .filter(|(_, column)| columns.contains(column))
                .map(|(cell, _)| cell)
        }));
        for (entry, unit) in run.columns.iter().zip(&units) {
            let number = row.evaluation.as_ref().and_then(|one| one.number(entry.id));
            cells.push(number.map_or_else(String::new, |number| {
                let shown = shown_in(number, unit, digits);
                rounded |= shown.rounded;
                shown.marked()
            }));
        }
        let first = row.problems.iter().find(|one| one.weight() > Weight::Note);
        cells.push(match first {
            Some(first) => format!("{}: {}", verdict(row), first.message()),
            None => verdict(row).to_owned(),
        });
        rows.push(cells);
    }
    let mut note = match rounded {
        true => "\n\u{2248} rounded for reading; `--digits all` shows every digit\n".to_owned(),
        false => String::new(),
    };
    if let Some(text) = laid_over(over) {
        note.push_str(&format!("\n{}", lines_fitted(&(text + "\n"), layout.width)));
    }
    let stocks = lines_fitted(&stocks(run), layout.width);
    if table(&rows, 0, layout.width).lines().count() == rows.len() {
        return format!(
            "{}\n{}{stocks}{note}",
            run.band,
            table(&rows, 0, layout.width)
        );
    }
    // What first stands in the way of a size may be a sentence, which no column holds.
    let mut said = String::new();
    for row in rows.iter_mut().skip(2) {
        let (size, Some(limits)) = (row.first().cloned(), row.last_mut()) else {
            continue;
        };
        if let Some((verdict, why)) = limits.clone().split_once(": ") {
            said.push_str(&format!("{}: {why}\n", size.unwrap_or_default()));
            verdict.clone_into(limits);
        }
    }
    let said = lines_fitted(&said, layout.width);
    let tables = banks(&rows, 1, layout.width);
    format!("{}\n{tables}{said}{stocks}{note}", run.band)
}

/// Columns of what of a pattern stays the same, with their units.
const KEPT: &[(&str, &str)] = &[
    ("keep", ""),
    ("repeats", ""),
    ("stretch", "%"),
    ("thickness", "mm"),
    ("sleeve", "mm"),
];

/// Whether it was asked what of the pattern stays the same.
fn is_kept(run: &SizeRun) -> bool {
    run.rows.iter().any(|row| row.kept.is_some())
}

/// Those columns of which some size has something.
fn kept_columns(run: &SizeRun) -> Vec<(&'static str, &'static str)> {
    let has_sleeve = run
        .rows
        .iter()
        .any(|row| row.kept.is_some_and(|kept| kept.sleeve.is_some()));
    let columns = KEPT
        .iter()
        .filter(|(name, _)| is_kept(run) && (*name != "sleeve" || has_sleeve));
    columns.copied().collect()
}

/// What of the pattern stays the same, and whether some of it is rounded.
fn kept_cells(kept: &Kept, digits: Digits) -> (Vec<String>, bool) {
    let mut rounded = false;
    let mut cell = |number: Option<f64>, unit: &str| {
        number.map_or_else(String::new, |number| {
            let shown = shown_in(Number::Computed(number), unit, digits);
            rounded |= shown.rounded;
            shown.marked()
        })
    };
    let cells = vec![
        kept.keep.word().to_owned(),
        kept.repeats
            .map_or_else(String::new, |count| count.to_string()),
        cell(kept.stretch.map(|share| share * 100.0), "%"),
        cell(kept.thickness, "mm"),
        cell(kept.sleeve, "mm"),
    ];
    (cells, rounded)
}

/// The run as CSV: the same columns whatever the band has, all digits, units in the header.
#[must_use]
pub fn size_run_csv(file: &str, run: &SizeRun) -> String {
    let columns = || COLUMNS.iter().map(|id| id.row());
    let names: String = columns()
        .map(|entry| format!(",{}", column(entry)))
        .collect();
    let kept = match is_kept(run) {
        true => ",keep,repeats,stretch,thickness mm,sleeve mm",
        false => "",
    };
    let mut text = format!("file,band,size{kept},currency{names},limits{LINE_END}");
    for row in &run.rows {
        let evaluation = row.evaluation.as_ref();
        let mut cells: Vec<String> = [file, &run.band, &row.size]
            .into_iter()
            .map(quoted)
            .collect();
        if let Some(kept) = &row.kept {
            let number =
                |number: Option<f64>| number.map_or_else(String::new, |one| one.to_string());
            cells.push(kept.keep.word().to_owned());
            cells.push(
                kept.repeats
                    .map_or_else(String::new, |count| count.to_string()),
            );
            cells.extend([kept.stretch, kept.thickness, kept.sleeve].map(number));
        }
        cells.push(quoted(evaluation.map_or("", currency)));
        cells.extend(columns().map(|entry| {
            let number = evaluation.and_then(|one| one.number(entry.id));
            number.map_or_else(String::new, |number| number.to_string())
        }));
        cells.push(verdict(row).to_owned());
        text.push_str(&cells.join(","));
        text.push_str(LINE_END);
    }
    text
}

/// What each part of a size must come out of, and what serves.
fn stock(row: &SizeRow) -> Vec<Json> {
    let serving = row.evaluation.as_ref().map(Evaluation::serving);
    let serving = serving.unwrap_or_default().into_iter();
    serving
        .map(|one| {
            json!({
                "part": one.part.word(), "outside": one.extent.outside, "bore": one.extent.bore,
                "width": one.extent.width, "serves": one.stocks,
            })
        })
        .collect()
}

/// The run as machine output; `problem` says a finding.
#[must_use]
pub fn size_run_json(run: &SizeRun, problem: &dyn Fn(&Finding) -> Json) -> Json {
    let rows: Vec<Json> = run
        .rows
        .iter()
        .map(|row| {
            let mut results = Map::new();
            for entry in &run.columns {
                let Some(one) = &row.evaluation else { continue };
                if let Some(number) = one.number(entry.id) {
                    let mut object = quantity_json(number, &one.unit(entry));
                    add_rests(&mut object, rests(one, entry).into_iter().map(Rest::word));
                    results.insert(entry.path.to_owned(), Json::Object(object));
                }
            }
            let problems: Vec<Json> = row.problems.iter().map(problem).collect();
            let mut json = json!({
                "size": row.size, "limits": verdict(row), "results": results, "stock": stock(row),
                "findings": problems,
            });
            if let (Some(kept), Some(object)) = (&row.kept, json.as_object_mut()) {
                let pattern = json!({
                    "keep": kept.keep.word(), "repeats": kept.repeats, "stretch": kept.stretch,
                    "thickness": kept.thickness, "sleeve": kept.sleeve,
                });
                object.insert("pattern".to_owned(), pattern);
            }
            json
        })
        .collect();
    json!({ "band": run.band, "sizes": rows })
}
