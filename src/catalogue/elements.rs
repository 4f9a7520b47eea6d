//! The elements that alloys are made of: density, stiffness, basis.

use rust_decimal::Decimal;
use serde::Deserialize;

const TABLE: &str = include_str!("elements.toml");

/// One element.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ElementRow {
    /// Its name, as recipes write it.
    pub name: String,
    /// Its symbol.
    pub symbol: String,
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

/// The element of that name or symbol.
///
/// # Example
/// ```
/// assert_eq!(annulet::catalogue::element("gold").unwrap().density.to_string(), "19.3");
/// ```
#[must_use]
pub fn element(name: &str) -> Option<ElementRow> {
    let wanted = [format!("name = \"{name}\""), format!("symbol = \"{name}\"")];
    super::rows(TABLE, "[[element]]")
        .filter(|row| wanted.iter().any(|wanted| row.contains(wanted.as_str())))
        .find_map(super::read::<ElementRow>)
}

/// All elements.
#[must_use]
pub fn elements() -> Vec<ElementRow> {
    super::rows(TABLE, "[[element]]")
        .filter_map(super::read)
        .collect()
}

/// Names of all elements.
#[must_use]
pub fn element_names() -> Vec<String> {
    elements().into_iter().map(|element| element.name).collect()
}
