//! A table of all results: one line a band, the same columns whatever the values, units in the header.

use crate::evaluate::Evaluation;
use crate::model::{Value, check};
use crate::schema;

/// What ends a line of any table.
pub(super) const LINE_END: &str = "\n";

/// Lines of the table (quotes as in RFC 4180; decimal point, no grouping), with the header where it is wanted.
#[must_use]
pub fn csv<'a>(evaluations: impl Iterator<Item = &'a Evaluation>, header: bool) -> String {
    let mut text = String::new();
    if header {
        text.push_str("band,title,alloy,holds,currency");
        for entry in schema::RESULTS.iter() {
            let unit = if entry.unit.is_empty() {
                String::new()
            } else {
                format!(" ({})", entry.unit)
            };
            text.push_str(&format!(",{}{unit}", entry.path));
        }
        text.push_str(LINE_END);
    }
    for evaluation in evaluations {
        let band = &evaluation.band;
        let holds = if evaluation.holds() { "yes" } else { "no" };
        let currency = band.terms.as_ref().and_then(|terms| terms.money.currency);
        let names = [
            band.name.as_str(),
            band.title().unwrap_or(""),
            band.alloy.name.as_str(),
            holds,
            currency.as_ref().map_or("", |currency| currency.code()),
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

/// A value as a bare number in a unit, all digits; what is no number as a recipe writes it.
pub(super) fn plain(value: &Value, unit: &str) -> String {
    match value {
        Value::Quantity { quantity, .. } => {
            let unit = (!unit.is_empty()).then_some(unit);
            check::in_unit(quantity, unit).0.to_string()
        }
        other => check::shown(other),
    }
}

/// A cell, in quotes where it holds a comma, a quote or a line end.
pub(super) fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
