//! Built-in tables: alloys, elements, ring-size systems, sources. Data with its basis, never code.
//!
//! The tables are TOML files beside this one, embedded in the program. A look-up reads only the row it
//! wants (a whole table costs more than a whole evaluation); [`rows`] splits a table without reading it.
//! Every value carries its source and how that is known ([`Basis`]).

mod alloys;
mod elements;
mod moved;
mod rules;
mod sizes;
mod skin;
mod sources;
mod texts;

pub use alloys::{AlloyRow, CitedFigure, Melting, TemperRow, alloy, alloy_names, alloys, is_alloy};
pub use elements::{ElementRow, element, element_names, element_place, elements};
pub use moved::{MovedResults, moved};
pub use rules::{
    Cite, Exempt, Karats, Named, Own, Parts, Plated, RULEBOOKS, Rulebook, Say,
    Solder as SolderRule, Standards, Switch, Tag, Text, Word, rulebook, rulebook_words,
};
pub use sizes::{SystemBasis, Undefined, system, system_basis, system_words, systems, undefined};
pub use skin::{SkinLimit, is_limited, skin_limits};
pub use sources::{read_at, source};
pub use texts::texts;

use serde::Deserialize;

/// Where a value comes from and how that is known.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct Basis {
    /// Id of a source ([`source`]), or its title.
    pub source: String,
    /// `read`, `common practice`, `from memory` or `computed`.
    pub status: String,
    /// What else must be said.
    #[serde(default)]
    pub note: Option<String>,
}

/// The rows of an embedded table of `[[mark]]` entries, each still text.
fn rows<'a>(table: &'a str, mark: &'a str) -> impl Iterator<Item = &'a str> {
    table.split(mark).skip(1)
}

/// The name that an element or a built-in alloy goes by, where a word is one of its names.
///
/// # Example
/// ```
/// use annulet::catalogue::metal_name;
/// assert_eq!(metal_name("Ag"), Some("silver"));
/// assert_eq!(metal_name("sterling"), Some("silver-925"));
/// ```
#[must_use]
pub fn metal_name(word: &str) -> Option<&'static str> {
    let of_element = element(word).map(|row| row.name.as_str());
    of_element.or_else(|| alloy(word).map(|row| row.name.as_str()))
}

/// The text between the quotes behind the first mention of a field in a row that is not read.
fn quoted<'a>(row: &'a str, field: &str) -> &'a str {
    let behind = row.split_once(field).map_or("", |(_, behind)| behind);
    behind.split('"').nth(1).unwrap_or("")
}

/// Reads one row. The tables are checked whole by a test, so a row that cannot be read is left out.
fn read<'a, T: Deserialize<'a>>(row: &'a str) -> Option<T> {
    toml::from_str(row).ok()
}
