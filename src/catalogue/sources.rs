//! What the built-in tables cite.

use std::sync::OnceLock;

use serde::Deserialize;

pub(super) const TABLE: &str = include_str!("sources.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SourceRow {
    id: String,
    title: String,
    /// Who publishes it, and where it can be read.
    #[serde(default)]
    read_at: String,
}

/// A row of the table, read when it is first cited.
struct Row {
    id: &'static str,
    text: &'static str,
    read: OnceLock<Option<SourceRow>>,
}

fn row(id: &str) -> Option<&'static SourceRow> {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    let rows = ROWS.get_or_init(|| {
        let rows = super::rows(TABLE, "[[source]]").map(|text| Row {
            id: super::quoted(text, "id ="),
            text,
            read: OnceLock::new(),
        });
        rows.collect()
    });
    let row = rows.iter().find(|row| row.id == id)?;
    let read = row.read.get_or_init(|| super::read(row.text)).as_ref();
    read.filter(|read| read.id == id)
}

/// The title of a cited source; an id that is not in the table is a title already.
///
/// # Example
/// ```
/// assert!(annulet::catalogue::source("S01").contains("mendeleev"));
/// ```
#[must_use]
pub fn source(id: &str) -> String {
    row(id).map_or_else(|| id.to_owned(), |row| row.title.clone())
}

/// Where a cited source can be read; none where that is not known, or for an id that is not in the table.
///
/// # Example
/// ```
/// assert!(annulet::catalogue::read_at("S05").is_some());
/// ```
#[must_use]
pub fn read_at(id: &str) -> Option<String> {
    let read_at = &row(id)?.read_at;
    (!read_at.is_empty()).then(|| read_at.clone())
}
