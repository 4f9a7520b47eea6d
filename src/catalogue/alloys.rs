//! The built-in alloys: composition, density, tempers, each figure with its basis.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::Deserialize;

use super::Basis;

const TABLE: &str = include_str!("alloys.toml");

/// A figure with its basis; `value_max` closes a range.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// The figure, or the lower end of a range.
    pub value: Decimal,
    /// The upper end of a range.
    #[serde(default)]
    pub value_max: Option<Decimal>,
    /// Source.
    pub source: String,
    /// How it is known.
    pub status: String,
    /// What else must be said.
    #[serde(default)]
    pub note: Option<String>,
}

/// Where an alloy begins and ends to melt.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Melting {
    /// Celsius.
    #[serde(default)]
    pub solidus: Option<Decimal>,
    /// Celsius.
    #[serde(default)]
    pub liquidus: Option<Decimal>,
    /// Source.
    pub source: String,
    /// How it is known.
    pub status: String,
    /// What else must be said.
    #[serde(default)]
    pub note: Option<String>,
}

/// Strength of an alloy in one state.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TemperRow {
    /// 0.2 % proof stress, MPa.
    #[serde(default, rename = "yield")]
    pub yield_stress: Option<Figure>,
    /// Tensile strength, MPa.
    #[serde(default)]
    pub tensile: Option<Figure>,
    /// Elongation, per cent.
    #[serde(default)]
    pub elongation: Option<Figure>,
    /// Vickers hardness.
    #[serde(default)]
    pub hardness: Option<Figure>,
    /// Differing readings.
    #[serde(default)]
    pub tensile_also: Vec<Figure>,
    /// Differing readings.
    #[serde(default)]
    pub elongation_also: Vec<Figure>,
    /// Differing readings.
    #[serde(default)]
    pub hardness_also: Vec<Figure>,
}

/// One alloy.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AlloyRow {
    /// The name that recipes use.
    pub name: String,
    /// Other names; the first is the composition written out.
    #[serde(default)]
    pub also: Vec<String>,
    /// What the trade calls it.
    pub title: String,
    /// Parts per thousand by mass, adding up to 1000.
    pub parts: BTreeMap<String, Decimal>,
    /// Basis of the composition.
    pub composition: Basis,
    /// Density in g/cm3, where a source states composition and density together.
    #[serde(default)]
    pub density: Option<Figure>,
    /// Other readings of the density.
    #[serde(default)]
    pub density_also: Vec<Figure>,
    /// Young's modulus, GPa.
    #[serde(default)]
    pub modulus: Option<Figure>,
    /// Differing readings.
    #[serde(default)]
    pub modulus_also: Vec<Figure>,
    /// Melting range.
    #[serde(default)]
    pub melting: Option<Melting>,
    /// Differing readings.
    #[serde(default)]
    pub melting_also: Vec<Melting>,
    /// Annealing temperature, Celsius.
    #[serde(default)]
    pub anneal: Option<Figure>,
    /// What else must be said.
    #[serde(default)]
    pub note: Option<String>,
    /// Soft.
    #[serde(default)]
    pub annealed: TemperRow,
    /// Cold worked.
    #[serde(default)]
    pub hard: TemperRow,
    /// Hardened by ageing.
    #[serde(default)]
    pub aged: TemperRow,
}

/// The built-in alloy of that name.
///
/// # Example
/// ```
/// let alloy = annulet::catalogue::alloy("sterling").unwrap();
/// assert_eq!(alloy.name, "silver-925");
/// ```
#[must_use]
pub fn alloy(name: &str) -> Option<AlloyRow> {
    let wanted = format!("\"{name}\"");
    super::rows(TABLE, "[[alloy]]")
        .filter(|row| row.contains(&wanted))
        .find_map(|row| {
            read(row)
                .filter(|alloy| alloy.name == name || alloy.also.iter().any(|also| also == name))
        })
}

/// All built-in alloys, by name.
#[must_use]
pub fn alloys() -> Vec<AlloyRow> {
    super::rows(TABLE, "[[alloy]]").filter_map(read).collect()
}

/// Names of all built-in alloys.
#[must_use]
pub fn alloy_names() -> Vec<String> {
    alloys()
        .into_iter()
        .flat_map(|alloy| [vec![alloy.name], alloy.also].concat())
        .collect()
}

/// One row; its sub-tables name the array they belong to, which alone means nothing.
fn read(row: &str) -> Option<AlloyRow> {
    toml::from_str(&row.replace("[alloy.", "[")).ok()
}
