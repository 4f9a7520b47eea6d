//! The catalogue of results: path, unit, meaning, formula, and how to read each from an evaluation.

use rust_decimal::Decimal;

use crate::model::{AlloyDensity, Band};
use crate::quantity::{Dimension, Number};

use super::evaluation::Evaluation;
use super::figures::Figures;

/// One result.
#[derive(Clone, Copy)]
pub struct ResultEntry {
    /// Path behind the band's name.
    pub path: &'static str,
    /// The unit of the bare number; empty for a fraction of one.
    pub unit: &'static str,
    /// Its dimension.
    pub dimension: Dimension,
    /// What it means.
    pub meaning: &'static str,
    /// How it is computed.
    pub formula: &'static str,
    /// Reads it from computed figures, in `unit`; none where the band has no such result.
    pub computed: fn(&Figures) -> Option<f64>,
    /// The exact number, where what is written gives it without computing.
    pub exact: fn(&Band) -> Option<Decimal>,
}

impl ResultEntry {
    /// The result of an evaluation, in `unit`: exact where it can be.
    #[must_use]
    pub fn number(&self, evaluation: &Evaluation) -> Option<Number> {
        (self.exact)(&evaluation.band)
            .map(Number::Exact)
            .or_else(|| (self.computed)(&evaluation.figures).map(Number::Computed))
    }
}

const fn entry(
    path: &'static str,
    unit: &'static str,
    dimension: Dimension,
    meaning: &'static str,
    formula: &'static str,
    computed: fn(&Figures) -> Option<f64>,
) -> ResultEntry {
    ResultEntry {
        path,
        unit,
        dimension,
        meaning,
        formula,
        computed,
        exact: |_| None,
    }
}

const fn exact(entry: ResultEntry, exact: fn(&Band) -> Option<Decimal>) -> ResultEntry {
    ResultEntry { exact, ..entry }
}

/// All results, those of one subject together.
pub const RESULTS: &[ResultEntry] = &[
    entry(
        "weight",
        "g",
        Dimension::MASS,
        "finished weight",
        "volume * density",
        |f| Some(f.weight),
    ),
    entry(
        "weight.uncut",
        "g",
        Dimension::MASS,
        "weight before the pattern is cut",
        "volume.uncut * density",
        |f| Some(f.weight_uncut),
    ),
    entry(
        "weight.cut",
        "g",
        Dimension::MASS,
        "weight that the pattern takes off",
        "(volume.uncut - volume) * density",
        |f| Some(f.weight_cut),
    ),
    entry(
        "volume",
        "mm3",
        Dimension::VOLUME,
        "finished volume",
        "volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx",
        |f| Some(f.volume),
    ),
    entry(
        "volume.uncut",
        "mm3",
        Dimension::VOLUME,
        "volume before the pattern is cut",
        "2 pi * integral of r dA (Pappus and Guldinus)",
        |f| Some(f.volume_uncut),
    ),
    entry(
        "section.area",
        "mm2",
        Dimension::AREA,
        "area of the section before the pattern is cut",
        "integral of (outside - inside) dx",
        |f| Some(f.area),
    ),
    exact(
        entry(
            "wall.least",
            "mm",
            Dimension::LENGTH,
            "thinnest wall that remains, under the cut where there is one",
            "least distance from the cut surface to the bore",
            |f| Some(f.wall_least),
        ),
        crate::geometry::solid_wall,
    ),
    exact(
        entry(
            "bore",
            "mm",
            Dimension::LENGTH,
            "smallest inside diameter",
            "size",
            |f| Some(f.bore),
        ),
        |band| band.inside.diameter.exact(),
    ),
    exact(
        entry(
            "outside",
            "mm",
            Dimension::LENGTH,
            "largest outside diameter",
            "bore + 2 * thickness",
            |f| Some(f.outside),
        ),
        |band| {
            band.inside
                .diameter
                .exact()?
                .checked_add(band.thickness.value().checked_mul(Decimal::TWO)?)
        },
    ),
    exact(
        entry(
            "size.circumference",
            "mm",
            Dimension::LENGTH,
            "inside circumference",
            "by the size system, or pi * bore",
            |f| Some(f.circumference),
        ),
        |band| {
            band.inside
                .size
                .and_then(|size| size.circumference().exact())
        },
    ),
    entry(
        "strip.length",
        "mm",
        Dimension::LENGTH,
        "length of the pattern strip",
        "pi * outside",
        |f| Some(f.strip_length),
    ),
    exact(
        entry(
            "strip.height",
            "mm",
            Dimension::LENGTH,
            "height of the pattern strip",
            "width",
            |f| Some(f.strip_height),
        ),
        |band| Some(band.width.value()),
    ),
    entry(
        "strip.pitch",
        "mm",
        Dimension::LENGTH,
        "length of one repeat along the strip",
        "strip.length / repeats",
        |f| f.pitch,
    ),
    exact(
        entry(
            "density",
            "g/cm3",
            Dimension::DENSITY,
            "density of the alloy",
            "stated, or 1 / sum of (part / density of the element)",
            |f| Some(f.density),
        ),
        |band| match &band.alloy.density {
            AlloyDensity::Stated { value, .. } => Some(value.value()),
            AlloyDensity::Derived(_) => None,
        },
    ),
];

/// The result of a full path behind the band's name.
#[must_use]
pub fn find(path: &str) -> Option<&'static ResultEntry> {
    RESULTS.iter().find(|result| result.path == path)
}

/// Results that a short path could mean: the exact one, or those that it ends, at a point.
#[must_use]
pub fn matching(short: &str) -> Vec<&'static ResultEntry> {
    if let Some(result) = find(short) {
        return vec![result];
    }
    RESULTS
        .iter()
        .filter(|result| {
            result
                .path
                .strip_suffix(short)
                .is_some_and(|rest| rest.ends_with('.'))
        })
        .collect()
}
