//! What the built-in tables cite.

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

/// The title of a cited source; an id that is not in the table is a title already.
///
/// # Example
/// ```
/// assert!(annulet::catalogue::source("S01").contains("mendeleev"));
/// ```
#[must_use]
pub fn source(id: &str) -> String {
    let wanted = format!("id = \"{id}\"");
    super::rows(TABLE, "[[source]]")
        .filter(|row| row.contains(&wanted))
        .find_map(super::read::<SourceRow>)
        .filter(|row| row.id == id)
        .map_or_else(|| id.to_owned(), |row| row.title)
}

/// Where a cited source can be read; none where that is not known, or for an id that is not in the table.
///
/// # Example
/// ```
/// assert!(annulet::catalogue::read_at("S05").is_some());
/// ```
#[must_use]
pub fn read_at(id: &str) -> Option<String> {
    let wanted = format!("id = \"{id}\"");
    let row = super::rows(TABLE, "[[source]]")
        .filter(|row| row.contains(&wanted))
        .find_map(super::read::<SourceRow>)?;
    (row.id == id && !row.read_at.is_empty()).then_some(row.read_at)
}
