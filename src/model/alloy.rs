//! Alloys: of the recipe or built in, with composition, density and tempers, each value with its basis.
//!
//! Density is stated, or derived by ideal mixing: `1 / density = sum of (part / density of the element)`.
//! Against measured alloys the derived value is off by up to about 2.5 % (see [`MIXING_ERROR`]).

use std::cmp::{Ordering, Reverse};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use rust_decimal::Decimal;

use crate::catalogue::{self, AlloyRow, CitedFigure, TemperRow};
use crate::quantity::{Density, Deviation, Dimension, Number, Quantity, to_f64};
use crate::schema::{BlockId, Field, FieldId};
use crate::source::Span;

use super::error::ModelError;
use super::value::Value;

/// How far a density by ideal mixing may be off, as a part of it. Source: eight alloys published with
/// composition and measured density (`materials` reference, section 3) differ by -1.0 to +2.28 %.
pub const MIXING_ERROR: f64 = 0.025;

/// An alloy.
#[derive(Clone, Debug)]
pub struct Alloy {
    /// The name that it goes by.
    pub name: String,
    /// What the trade calls it.
    pub title: Option<String>,
    /// Element and parts per thousand by mass, adding up to 1000; largest first.
    pub parts: Vec<(String, Decimal)>,
    /// Of parts that carry a `\u{B1}` what they may be off by, in parts per thousand.
    pub off: Vec<(String, Vec<Deviation>)>,
    /// Density.
    pub density: AlloyDensity,
    /// States with their strength.
    pub tempers: Vec<Temper>,
    /// Where the recipe defines it; none for a built-in one.
    pub at: Option<Span>,
    /// It has the name of a built-in alloy.
    pub shadows: bool,
    /// What an assay of this lot found of its precious metal, in parts per thousand, and its day and number.
    pub assay: Option<(Decimal, String)>,
    /// Its colour, where the recipe states one.
    pub colour: Option<String>,
    /// Where the recipe writes each of its values, by path (`density`, `temper.hard.yield`), weakest first.
    pub places: Vec<(String, Vec<Span>)>,
}

impl Alloy {
    /// Whether it is white: as stated, or by the built-in name, which is that of the trade.
    #[must_use]
    pub fn is_white(&self) -> bool {
        match &self.colour {
            Some(colour) => colour == "white",
            None => self.name.starts_with("white-"),
        }
    }

    /// A value of it by its path: its density, the parts of an element, a figure of a temper.
    #[must_use]
    pub fn value(&self, path: &str) -> Option<Value> {
        let (field, word) = self.meant(path)?;
        self.of(field, word)
    }

    /// What a path says of it: the field, and the place of the temper among its own, or of the element among all.
    #[must_use]
    pub fn meant(&self, path: &str) -> Option<(FieldId, usize)> {
        let field = field_of(path).id;
        let word = match field {
            FieldId::AlloyMetal => catalogue::element_place(path)?,
            _ => match path.split('.').nth(1) {
                Some(name) => {
                    let mut tempers = self.tempers.iter();
                    tempers.position(|temper| temper.name == name)?
                }
                None => 0,
            },
        };
        Some((field, word))
    }

    /// The number of a field, and of the temper or element that it is said of.
    #[must_use]
    pub fn of(&self, field: FieldId, word: usize) -> Option<Value> {
        let plain = |number, dimension, unit: &str| Value::Quantity {
            quantity: Quantity::new(number, dimension),
            unit: Some(unit.to_owned()),
        };
        match field {
            FieldId::AlloyDensity => Some(match &self.density {
                AlloyDensity::Stated { quantity, .. } => Value::Quantity {
                    quantity: quantity.clone(),
                    unit: Some("g/cm3".to_owned()),
                },
                AlloyDensity::Derived(value) => {
                    let number = Number::Computed(value / 1000.0);
                    plain(number, Dimension::DENSITY, "g/cm3")
                }
            }),
            FieldId::AlloyMetal => {
                let element = catalogue::element_names().nth(word)?;
                let part = self.parts.iter().find(|(known, _)| known == element)?.1;
                let mut value = plain(Number::Exact(part), Dimension::FINENESS, "\u{2030}");
                let off = self.off.iter().find(|(known, _)| known == element);
                if let (Some((_, off)), Value::Quantity { quantity, .. }) = (off, &mut value) {
                    quantity.deviations.clone_from(off);
                }
                Some(value)
            }
            field => Some(self.tempers.get(word)?.figure(field)?.clone()),
        }
    }

    /// The place among [`Self::places`] of a number that the recipe states.
    pub(super) fn placed(&self, field: FieldId, word: usize) -> Option<usize> {
        let mut places = self.places.iter();
        places.position(|(path, _)| self.meant(path) == Some((field, word)))
    }

    /// What is wrong with its composition, said at a place: its parts make up the whole.
    pub(super) fn composition(&self, at: Span) -> Option<ModelError> {
        let (total, whole): (Decimal, _) = (
            self.parts.iter().map(|(_, part)| part).sum(),
            Decimal::ONE_THOUSAND,
        );
        let first = self.parts.first();
        let first = first.map(|(name, part)| (name, part.normalize()));
        let (label, help) = match total.cmp(&whole) {
            Ordering::Equal => return None,
            // Parts of a hundred, or of one.
            Ordering::Less if total == Decimal::ONE_HUNDRED => (
                "per cent?".to_owned(),
                first.map_or_else(String::new, |(name, part)| {
                    format!(
                        "write per cent, as in `{name} {part} %`, or parts per thousand, as in `{name} {}`",
                        (part * Decimal::TEN).normalize()
                    )
                }),
            ),
            Ordering::Less if total == Decimal::ONE => (
                "parts of one?".to_owned(),
                first.map_or_else(String::new, |(name, part)| {
                    format!(
                        "write parts per thousand, as in `{name} {}`, or per cent, as in `{name} {} %`",
                        (part * Decimal::ONE_THOUSAND).normalize(),
                        (part * Decimal::ONE_HUNDRED).normalize()
                    )
                }),
            ),
            Ordering::Less => (
                format!("{} missing", (whole - total).normalize()),
                format!(
                    "state the other {} parts, or correct one",
                    (whole - total).normalize()
                ),
            ),
            Ordering::Greater => (
                format!("{} too many", (total - whole).normalize()),
                format!("take {} parts off", (total - whole).normalize()),
            ),
        };
        Some(ModelError::Composition {
            at,
            alloy: self.name.clone(),
            total: total.normalize().to_string(),
            label,
            help,
        })
    }

    /// Puts its largest part first, and takes its density as stated or by ideal mixing; none where an element has
    /// none.
    pub(super) fn settle(&mut self, stated: Option<AlloyDensity>) -> Option<()> {
        self.parts.sort_by_key(|(_, part)| Reverse(*part));
        self.density = match stated {
            Some(density) => density,
            None => AlloyDensity::Derived(mixed_density(&self.parts)?),
        };
        Some(())
    }
}

/// The field that a path inside an alloy means: `temper.hard.yield`, or an element where it is no field's.
#[must_use]
pub fn field_of(path: &str) -> &'static Field {
    let found = BlockId::Alloy.named(path);
    found.unwrap_or(FieldId::AlloyMetal.row())
}

/// A density and how it is known.
#[derive(Clone, Debug)]
pub enum AlloyDensity {
    /// Stated, in a recipe or by a source.
    Stated {
        /// The density.
        value: Density,
        /// Where it comes from.
        basis: String,
        /// Its deviations, in base units, where a `±` is written.
        quantity: Quantity,
    },
    /// Derived by ideal mixing, in g/cm3.
    Derived(f64),
}

impl AlloyDensity {
    /// In g/cm3.
    #[must_use]
    pub fn grams_per_cm3(&self) -> f64 {
        match self {
            Self::Stated { value, .. } => value.to_grams_per_cm3(),
            Self::Derived(value) => *value,
        }
    }
}

/// A state of an alloy.
#[derive(Clone, Debug)]
pub struct Temper {
    /// Its name.
    pub name: String,
    /// What is known of it: field, value, basis.
    pub figures: Vec<(FieldId, Value, String)>,
}

impl Temper {
    /// A figure of it.
    #[must_use]
    pub fn figure(&self, field: FieldId) -> Option<&Value> {
        let found = self.figures.iter().find(|(known, ..)| *known == field);
        found.map(|(_, value, _)| value)
    }
}

/// Density by ideal mixing, in g/cm3.
///
/// # Formula
/// `1 / density = sum over elements of (parts / 1000) / density of the element`
///
/// # Errors
/// None when an element is not in the catalogue.
///
/// # Source
/// The volumes of the elements add up; elements' densities from the catalogue.
///
/// # Example
/// ```
/// use rust_decimal::dec;
/// let parts = [("silver".to_owned(), dec!(925)), ("copper".to_owned(), dec!(75))];
/// let density = annulet::model::mixed_density(&parts).unwrap();
/// assert!((density - 10.366).abs() < 0.001);
/// ```
#[must_use]
pub fn mixed_density(parts: &[(String, Decimal)]) -> Option<f64> {
    let mut volume = 0.0;
    for (element, part) in parts {
        let row = catalogue::element(element)?;
        volume += to_f64(*part) / 1000.0 / to_f64(row.density);
    }
    (volume > 0.0).then(|| 1.0 / volume)
}

/// A built-in alloy, made once of its row.
pub(super) fn built_in(name: &str) -> Option<Arc<Alloy>> {
    static MADE: Mutex<BTreeMap<&'static str, Arc<Alloy>>> = Mutex::new(BTreeMap::new());
    let row = catalogue::alloy(name)?;
    // What is in it stays whole even where somebody stopped while holding it.
    let mut made = MADE.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = made.get(row.name.as_str()) {
        return Some(Arc::clone(known));
    }
    let alloy = Arc::new(of_row(row)?);
    made.insert(&row.name, Arc::clone(&alloy));
    Some(alloy)
}

fn of_row(row: &AlloyRow) -> Option<Alloy> {
    let mut parts: Vec<(String, Decimal)> = row.parts.clone().into_iter().collect();
    parts.sort_by_key(|(_, part)| Reverse(*part));
    let density = match &row.density {
        Some(figure) => {
            let value = Density::grams_per_cm3(figure.value);
            AlloyDensity::Stated {
                value,
                basis: cited(figure),
                quantity: value.quantity(),
            }
        }
        None => AlloyDensity::Derived(mixed_density(&parts)?),
    };
    let tempers = tempers(row);
    Some(Alloy {
        name: row.name.clone(),
        title: Some(row.title.clone()),
        parts,
        off: Vec::new(),
        density,
        tempers,
        at: None,
        shadows: false,
        assay: None,
        colour: None,
        places: Vec::new(),
    })
}

/// Source and status of a figure in one line.
fn cited(figure: &CitedFigure) -> String {
    let note = figure
        .note
        .as_ref()
        .map(|note| format!("; {note}"))
        .unwrap_or_default();
    format!(
        "{} ({}{note})",
        catalogue::source(&figure.source),
        figure.status
    )
}

fn tempers(row: &AlloyRow) -> Vec<Temper> {
    let states = [
        ("annealed", &row.annealed),
        ("hard", &row.hard),
        ("aged", &row.aged),
    ];
    let mut tempers = Vec::new();
    for (name, state) in states {
        let mut figures = state_figures(state);
        let known = !figures.is_empty() || name != "aged";
        // The three states share the modulus; a state of which nothing is known is still a state.
        figures.extend(
            row.modulus
                .iter()
                .filter_map(|figure| figure_value(FieldId::AlloyTemperModulus, figure, "GPa")),
        );
        if known {
            tempers.push(Temper {
                name: name.to_owned(),
                figures,
            });
        }
    }
    tempers
}

fn state_figures(state: &TemperRow) -> Vec<(FieldId, Value, String)> {
    let fields = [
        (FieldId::AlloyTemperYield, &state.yield_stress, "MPa"),
        (FieldId::AlloyTemperTensile, &state.tensile, "MPa"),
        (FieldId::AlloyTemperElongation, &state.elongation, "%"),
        (FieldId::AlloyTemperHardness, &state.hardness, ""),
    ];
    fields
        .into_iter()
        .filter_map(|(field, figure, unit)| {
            figure
                .as_ref()
                .and_then(|figure| figure_value(field, figure, unit))
        })
        .collect()
}

fn figure_value(
    field: FieldId,
    figure: &CitedFigure,
    unit: &str,
) -> Option<(FieldId, Value, String)> {
    let quantity = match unit {
        "" => Quantity::new(Number::Exact(figure.value), Dimension::NONE),
        unit => {
            let scale = crate::quantity::unit::scale(unit).ok()?;
            Quantity::new(Number::Exact(scale.to_base(figure.value)?), scale.dimension)
        }
    };
    Some((
        field,
        Value::Quantity {
            quantity,
            unit: (!unit.is_empty()).then(|| unit.to_owned()),
        },
        cited(figure),
    ))
}
