//! The elements that alloys are made of: density, stiffness, basis.

use std::sync::OnceLock;

use rust_decimal::Decimal;
use serde::Deserialize;

pub(super) const TABLE: &str = include_str!("elements.toml");

/// One element.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ElementRow {
    /// Its name, as recipes write it.
    pub name: String,
    /// Its symbol.
    pub symbol: String,
    /// Whether it is a precious metal: one that is sold by its fineness, so that no cost leaves it out.
    #[serde(default)]
    pub precious: bool,
    /// Density at room temperature, g/cm3.
    pub density: Decimal,
    /// Source of the density.
    pub source: String,
    /// How the density is known.
    pub status: String,
    /// Young's modulus, GPa.
    #[serde(default)]
    pub modulus: Option<Decimal>,
    /// Poisson's ratio.
    #[serde(default)]
    pub poisson: Option<Decimal>,
    /// Basis of modulus and Poisson's ratio.
    #[serde(default)]
    pub mechanical: Option<super::Basis>,
    /// Differing or confirming readings.
    #[serde(default)]
    pub also: Vec<Reading>,
}

/// Another reading of an element's figure.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Density, g/cm3.
    #[serde(default)]
    pub density: Option<Decimal>,
    /// Young's modulus, GPa.
    #[serde(default)]
    pub modulus: Option<Decimal>,
    /// Source.
    pub source: String,
    /// How it is known.
    pub status: String,
    /// What else must be said.
    #[serde(default)]
    pub note: Option<String>,
}

/// A row of the table, read when it is first wanted.
struct Row {
    name: &'static str,
    symbol: &'static str,
    text: &'static str,
    read: OnceLock<Option<ElementRow>>,
}

fn table() -> &'static [Row] {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        super::rows(TABLE, "[[element]]")
            .map(|text| Row {
                name: super::quoted(text, "name = "),
                symbol: super::quoted(text, "symbol = "),
                text,
                read: OnceLock::new(),
            })
            .collect()
    })
}

/// The element of that name or symbol.
///
/// # Example
/// ```
/// assert_eq!(annulet::catalogue::element("gold").unwrap().density.to_string(), "19.3");
/// ```
#[must_use]
pub fn element(name: &str) -> Option<&'static ElementRow> {
    let row = table()
        .iter()
        .find(|row| row.name == name || row.symbol == name)?;
    row.read.get_or_init(|| super::read(row.text)).as_ref()
}

/// The place of an element among all of them, by its name or symbol.
#[must_use]
pub fn element_place(name: &str) -> Option<usize> {
    let mut all = table().iter();
    all.position(|row| row.name == name || row.symbol == name)
}

/// All elements.
#[must_use]
pub fn elements() -> Vec<ElementRow> {
    super::rows(TABLE, "[[element]]")
        .filter_map(super::read)
        .collect()
}

/// Names of all elements.
pub fn element_names() -> impl Iterator<Item = &'static str> {
    table().iter().map(|row| row.name)
}
