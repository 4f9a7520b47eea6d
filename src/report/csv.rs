//! A table of all results: one line a band, the same columns whatever the values, units in the header.

use crate::evaluate::Evaluation;
use crate::model::{Value, check};
use crate::schema::{self, ResultRow};

/// What ends a line of any table.
pub(super) const LINE_END: &str = "\n";

/// The header of the table; what is money is in the currency of its line.
#[must_use]
pub fn csv_header() -> String {
    let results = schema::RESULTS.iter().map(column);
    let results: String = results.map(|column| format!(",{column}")).collect();
    format!("file,band,title,alloy,holds,currency{results}{LINE_END}")
}

/// The name of a column, with its unit.
pub(super) fn column(entry: &ResultRow) -> String {
    match entry.unit {
        "" => entry.path.to_owned(),
        unit => format!("{} ({unit})", entry.path),
    }
}

/// The currency of a band, where it has one.
pub(super) fn currency(evaluation: &Evaluation) -> &str {
    let terms = evaluation.band.terms.as_ref();
    let currency = terms.and_then(|terms| terms.money.currency.as_ref());
    currency.map_or("", |currency| currency.code())
}

/// Lines of the table for the bands of a file (quotes as in RFC 4180; decimal point, no grouping).
#[must_use]
pub fn csv<'a>(file: &str, evaluations: impl Iterator<Item = &'a Evaluation>) -> String {
    let mut text = String::new();
    for evaluation in evaluations {
        let band = &evaluation.band;
        let holds = if evaluation.holds() { "yes" } else { "no" };
        let names = [
            file,
            band.name.as_str(),
            band.title().unwrap_or(""),
            band.alloy.name.as_str(),
            holds,
            currency(evaluation),
        ];
        let mut cells: Vec<String> = names.into_iter().map(quoted).collect();
        cells.extend(schema::RESULTS.iter().map(|entry| {
            evaluation
                .number(entry.id)
                .map_or_else(String::new, |number| number.to_string())
        }));
        text.push_str(&cells.join(","));
        text.push_str(LINE_END);
    }
    text
}

/// A value as a bare number in a unit, all digits; a text as it reads, all else as a recipe writes it.
pub(super) fn plain(value: &Value, unit: &str) -> String {
    match value {
        Value::Quantity { quantity, .. } => {
            let unit = (!unit.is_empty()).then_some(unit);
            check::in_unit(quantity, unit).0.to_string()
        }
        Value::Text(text) => text.clone(),
        other => check::shown(other),
    }
}

/// A cell, in quotes where it holds a comma, a quote or a line end. A text that a spreadsheet would take for a formula
/// and run stands behind an apostrophe, which marks it as text there.
pub(super) fn quoted(cell: &str) -> String {
    let formula =
        cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
    let marked = format!("'{cell}");
    let cell = if formula { &marked } else { cell };
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
