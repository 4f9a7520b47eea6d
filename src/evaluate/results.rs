//! The catalogue of results: path, unit, meaning, formula, and how to read each from an evaluation.

use rust_decimal::Decimal;

use crate::model::{AlloyDensity, Band};
use crate::quantity::{Dimension, Number};

use super::evaluation::Evaluation;
use super::figures::{Figures, HollowFigures, tidied};

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

fn part(figures: &Figures, read: fn(&HollowFigures) -> f64) -> Option<f64> {
    figures.hollow.as_ref().map(read)
}

/// All results, those of one subject together.
#[rustfmt::skip]
pub const RESULTS: &[ResultEntry] = &[
    entry("weight", "g", Dimension::MASS, "finished weight", "volume * density, each part by its own", |f| Some(f.weight)),
    entry("weight.uncut", "g", Dimension::MASS, "weight before the pattern is cut", "volume.uncut * density, each part by its own", |f| Some(f.weight_uncut)),
    entry("weight.cut", "g", Dimension::MASS, "weight that the pattern takes off", "(volume.uncut - volume) * density", |f| Some(f.weight_cut)),
    entry("volume", "mm3", Dimension::VOLUME, "finished volume of the metal", "volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx", |f| Some(f.volume)),
    entry("volume.uncut", "mm3", Dimension::VOLUME, "volume of the metal before the pattern is cut", "2 pi * integral of r dA (Pappus and Guldinus)", |f| Some(f.volume_uncut)),
    entry("shell.volume", "mm3", Dimension::VOLUME, "volume of the shell before cutting", "solid - sleeve below the floor - cavity", |f| part(f, |h| h.parts.shell)),
    entry("shell.weight", "g", Dimension::MASS, "weight of the shell before cutting", "shell.volume * its density", |f| part(f, |h| h.shell_weight)),
    entry("sleeve.volume", "mm3", Dimension::VOLUME, "volume of the sleeve, ridges included", "from the inside curve to the floor, less relief, plus ridges", |f| part(f, |h| h.parts.sleeve)),
    entry("sleeve.weight", "g", Dimension::MASS, "weight of the sleeve, ridges included", "sleeve.volume * its density", |f| part(f, |h| h.sleeve_weight)),
    entry("ridge.volume", "mm3", Dimension::VOLUME, "volume of all ridges", "pi * wide * ((floor + height)^2 - floor^2) each", |f| part(f, |h| h.parts.ridge)),
    entry("cavity.volume", "mm3", Dimension::VOLUME, "enclosed empty space, ridges taken off", "pi * integral of (roof^2 - floor^2) dx - ridges + relief", |f| part(f, |h| h.parts.cavity)),
    entry("solid.weight", "g", Dimension::MASS, "finished weight of the solid band of the same look", "(solid volume - cut) * density of the band's alloy", |f| part(f, |h| h.solid_weight)),
    entry("saving", "", Dimension::NONE, "part of the solid's weight that the hollow saves", "1 - weight / solid.weight", |f| part(f, |h| h.saving)),
    entry("foot.left", "mm", Dimension::LENGTH, "axial width of the left foot, on which the shell stands", "from the side face to where roof or wall meets the sleeve", |f| part(f, |h| tidied(h.parts.foot_left))),
    entry("foot.right", "mm", Dimension::LENGTH, "axial width of the right foot", "as foot.left", |f| part(f, |h| tidied(h.parts.foot_right))),
    entry("ridge.from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge", "as far out as the roof allows, plus play", |f| {
        f.hollow?.parts.ridges.map(|(left, right)| tidied(f.strip_height / 2.0 - right.max(-left)))
    }),
    entry("section.area", "mm2", Dimension::AREA, "area of the solid section before the pattern is cut", "integral of (outside - inside) dx", |f| Some(f.area)),
    entry("wall.least", "mm", Dimension::LENGTH, "thinnest wall that remains anywhere", "least of all walls, under the cut where there is one", |f| Some(f.wall_least)),
    entry("wall.under-cut", "mm", Dimension::LENGTH, "thinnest metal under the cut", "least distance from the cut surface to cavity, sleeve or bore", |f| {
        Some(tidied(f.hollow.map_or(f.bodies.solid_wall.thickness, |h| h.parts.walls.under_cut.thickness)))
    }),
    entry("wall.side-face", "mm", Dimension::LENGTH, "shell at the thinner side face, radial", "edge + comfort - sleeve", |f| part(f, |h| tidied(h.parts.walls.side_face))),
    entry("wall.sleeve-edge", "mm", Dimension::LENGTH, "sleeve at its edge, radial", "sleeve - comfort", |f| part(f, |h| tidied(h.parts.walls.sleeve_edge))),
    exact(entry("bore", "mm", Dimension::LENGTH, "smallest inside diameter", "size", |f| Some(f.bore)), |band| band.inside.diameter.exact()),
    exact(entry("outside", "mm", Dimension::LENGTH, "largest outside diameter", "bore + 2 * thickness", |f| Some(f.outside)), |band| {
        band.inside.diameter.exact()?.checked_add(band.thickness.value().checked_mul(Decimal::TWO)?)
    }),
    exact(entry("size.circumference", "mm", Dimension::LENGTH, "inside circumference", "by the size system, or pi * bore", |f| Some(f.circumference)), |band| {
        band.inside.size.and_then(|size| size.circumference().exact())
    }),
    entry("strip.length", "mm", Dimension::LENGTH, "length of the pattern strip", "pi * outside", |f| Some(f.strip_length)),
    exact(entry("strip.height", "mm", Dimension::LENGTH, "height of the pattern strip", "width", |f| Some(f.strip_height)), |band| Some(band.width.value())),
    entry("strip.pitch", "mm", Dimension::LENGTH, "length of one repeat along the strip", "strip.length / repeats", |f| f.pitch),
    exact(entry("density", "g/cm3", Dimension::DENSITY, "density of the band's alloy", "stated, or 1 / sum of (part / density of the element)", |f| Some(f.density)), |band| {
        match &band.alloy.density {
            AlloyDensity::Stated { value, .. } => Some(value.value()),
            AlloyDensity::Derived(_) => None,
        }
    }),
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
