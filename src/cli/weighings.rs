//! Weighings of a batch from a CSV file.

use crate::session::{Batch, written_grams};
use crate::source::printable;

use super::input;

/// The readings of the file, g, each with its line; or everything that is wrong with it.
pub(super) fn weighings(name: &str, wanted: Option<&str>) -> Result<Batch, Vec<String>> {
    let file = printable(name);
    let text = input::read(name).text.map_err(|why| vec![why])?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{FEFF}').as_bytes());
    let mut column: Option<usize> = None;
    let mut wrong = Vec::new();
    let mut found = Vec::new();
    for (place, record) in reader.records().enumerate() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                wrong.push(format!("{file}: {error}"));
                break;
            }
        };
        let line = record.position().map_or(0, csv::Position::line);
        if place == 0 && record.iter().all(|cell| written_grams(cell).is_none()) {
            column = match head(&record, wanted) {
                Ok(column) => Some(column),
                Err(message) => return Err(vec![format!("{file}:{line}: {message}")]),
            };
            continue;
        }
        let column = match (column, wanted) {
            (Some(column), _) => column,
            (None, Some(name)) => {
                return Err(vec![format!(
                    "{file} has no line of headings, so no column is called `{}`",
                    printable(name)
                )]);
            }
            (None, None) if record.len() == 1 => 0,
            (None, None) => {
                return Err(vec![format!(
                    "{file}:{line}: which of {} columns? give the file a line of headings with `weight` in it, or name one with `--column`",
                    record.len()
                )]);
            }
        };
        let cell = record.get(column).unwrap_or_default();
        match written_grams(cell) {
            Some(value) if value > 0.0 => found.push((line, value)),
            _ => wrong.push(format!(
                "{file}:{line}: `{}` is no weight in grams",
                printable(cell)
            )),
        }
    }
    match wrong.is_empty() {
        true => Ok(found),
        false => Err(wrong),
    }
}

/// The column of a name in a line of headings, or that of the weight.
fn head(record: &csv::StringRecord, wanted: Option<&str>) -> Result<usize, String> {
    let names: Vec<&str> = record.iter().collect();
    let is_it = |name: &&str| match wanted {
        Some(wanted) => *name == wanted,
        None => ["weight", "finished", "grams", "g"].contains(&name.to_lowercase().as_str()),
    };
    let shown = || {
        let shown: Vec<String> = names.iter().map(|name| printable(name)).collect();
        crate::suggest::listed(shown.iter().map(String::as_str))
    };
    match names.iter().position(is_it) {
        Some(column) => Ok(column),
        None if names.len() == 1 && wanted.is_none() => Ok(0),
        None => Err(format!(
            "no column is called `{}`; columns are {}",
            wanted.map_or("weight".to_owned(), printable),
            shown()
        )),
    }
}
