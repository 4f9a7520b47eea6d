//! The built-in alloys: composition, density, tempers, each figure with its basis.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use rust_decimal::Decimal;
use serde::Deserialize;

use super::Basis;

pub(super) const TABLE: &str = include_str!("alloys.toml");

/// A figure with its basis; `value_max` closes a range.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct CitedFigure {
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
    pub yield_stress: Option<CitedFigure>,
    /// Tensile strength, MPa.
    #[serde(default)]
    pub tensile: Option<CitedFigure>,
    /// Elongation, per cent.
    #[serde(default)]
    pub elongation: Option<CitedFigure>,
    /// Vickers hardness.
    #[serde(default)]
    pub hardness: Option<CitedFigure>,
    /// Differing readings.
    #[serde(default)]
    pub tensile_also: Vec<CitedFigure>,
    /// Differing readings.
    #[serde(default)]
    pub elongation_also: Vec<CitedFigure>,
    /// Differing readings.
    #[serde(default)]
    pub hardness_also: Vec<CitedFigure>,
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
    pub density: Option<CitedFigure>,
    /// Other readings of the density.
    #[serde(default)]
    pub density_also: Vec<CitedFigure>,
    /// Young's modulus, GPa.
    #[serde(default)]
    pub modulus: Option<CitedFigure>,
    /// Differing readings.
    #[serde(default)]
    pub modulus_also: Vec<CitedFigure>,
    /// Melting range.
    #[serde(default)]
    pub melting: Option<Melting>,
    /// Differing readings.
    #[serde(default)]
    pub melting_also: Vec<Melting>,
    /// Annealing temperature, Celsius.
    #[serde(default)]
    pub anneal: Option<CitedFigure>,
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

/// A row of the table, read when it is first wanted.
struct Row {
    text: &'static str,
    read: OnceLock<Option<Box<AlloyRow>>>,
}

struct Table {
    rows: Vec<Row>,
    /// Every name with the place of its row, other names included.
    names: Vec<(&'static str, usize)>,
}

impl Table {
    fn row(&self, name: &str) -> Option<&Row> {
        let (_, place) = self.names.iter().find(|(known, _)| *known == name)?;
        self.rows.get(*place)
    }
}

fn table() -> &'static Table {
    static READ: OnceLock<Table> = OnceLock::new();
    READ.get_or_init(|| {
        let rows = super::rows(TABLE, "[[alloy]]").map(|text| Row {
            text,
            read: OnceLock::new(),
        });
        let rows: Vec<Row> = rows.collect();
        let mut names = Vec::new();
        for (place, row) in rows.iter().enumerate() {
            // They stand first in a row.
            let is_name = |line: &&str| line.starts_with("name = ") || line.starts_with("also = ");
            let lines = row.text.lines().skip(1).take_while(is_name);
            // Names stand between quotes: every second part.
            let quoted = lines.flat_map(|line| line.split('"').skip(1).step_by(2));
            names.extend(quoted.map(|name| (name, place)));
        }
        Table { rows, names }
    })
}

/// Whether a built-in alloy has that name.
#[must_use]
pub fn is_alloy(name: &str) -> bool {
    table().row(name).is_some()
}

/// The built-in alloy of that name.
///
/// # Example
/// ```
/// let alloy = annulet::catalogue::alloy("sterling").unwrap();
/// assert_eq!(alloy.name, "silver-925");
/// ```
#[must_use]
pub fn alloy(name: &str) -> Option<&'static AlloyRow> {
    let row = table().row(name)?;
    row.read.get_or_init(|| read(row.text)).as_deref()
}

/// All built-in alloys, by name.
pub fn alloys() -> impl Iterator<Item = &'static AlloyRow> {
    table()
        .rows
        .iter()
        .filter_map(|row| row.read.get_or_init(|| read(row.text)).as_deref())
}

/// Names of all built-in alloys.
pub fn alloy_names() -> impl Iterator<Item = &'static str> {
    table().names.iter().map(|(name, _)| *name)
}

/// One row; its sub-tables name the array they belong to, which alone means nothing.
fn read(row: &str) -> Option<Box<AlloyRow>> {
    toml::from_str(&row.replace("[alloy.", "["))
        .ok()
        .map(Box::new)
}
