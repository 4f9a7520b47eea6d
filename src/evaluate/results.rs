//! The catalogue of results: path, unit, meaning, formula, and how to read each from an evaluation.

use rust_decimal::Decimal;

use crate::model::AlloyDensity;
use crate::quantity::{Dimension, Number};

use super::evaluation::Evaluation;
use super::figures::{Figures, HollowFigures, tidied};
use super::input::Input;

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
    /// Computes it from the kernel's input and figures, in `unit`; none where the band has no such result.
    pub computed: fn(&Input, &Figures) -> Option<f64>,
    /// The exact number, where it has one.
    pub exact: fn(&Evaluation) -> Option<Decimal>,
    /// Fields and results that it is computed from.
    pub needs: &'static [&'static str],
    /// Formula and needs for a hollow band, where they differ.
    pub hollow: Option<(&'static str, &'static [&'static str])>,
}

impl ResultEntry {
    /// The result of an evaluation, in `unit`: exact where it can be.
    #[must_use]
    pub fn number(&self, evaluation: &Evaluation) -> Option<Number> {
        (self.exact)(evaluation).map(Number::Exact).or_else(|| {
            let computed = (self.computed)(&evaluation.input, &evaluation.figures);
            computed.map(Number::computed)
        })
    }
}

pub(super) const fn entry(
    path: &'static str,
    unit: &'static str,
    dimension: Dimension,
    meaning: &'static str,
    formula: &'static str,
    computed: fn(&Input, &Figures) -> Option<f64>,
) -> ResultEntry {
    ResultEntry {
        path,
        unit,
        dimension,
        meaning,
        formula,
        computed,
        exact: |_| None,
        needs: &[],
        hollow: None,
    }
}

pub(super) const fn from(entry: ResultEntry, needs: &'static [&'static str]) -> ResultEntry {
    ResultEntry { needs, ..entry }
}

const fn hollow(
    entry: ResultEntry,
    formula: &'static str,
    needs: &'static [&'static str],
) -> ResultEntry {
    ResultEntry {
        hollow: Some((formula, needs)),
        ..entry
    }
}

pub(super) const fn exact(
    entry: ResultEntry,
    exact: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    ResultEntry { exact, ..entry }
}

fn part(figures: &Figures, read: fn(&HollowFigures) -> f64) -> Option<f64> {
    figures.hollow.as_ref().map(read)
}

/// Results of weight, size and walls, those of one subject together; [`all`] has the others too.
#[rustfmt::skip]
pub const RESULTS: &[ResultEntry] = &[
    hollow(
        from(entry("weight", "g", Dimension::MASS, "finished weight", "volume * density", |_, f| Some(f.weight)), &["volume", "density"]),
        "shell.weight + sleeve.weight - weight.cut", &["shell.weight", "sleeve.weight", "weight.cut"],
    ),
    hollow(
        from(entry("weight.uncut", "g", Dimension::MASS, "weight before the pattern is cut", "volume.uncut * density", |_, f| Some(f.weight_uncut)), &["volume.uncut", "density"]),
        "shell.weight + sleeve.weight", &["shell.weight", "sleeve.weight"],
    ),
    from(
        entry("weight.cut", "g", Dimension::MASS, "weight that the pattern takes off", "(volume.uncut - volume) * density, in a hollow band the shell's", |_, f| Some(f.weight_cut)),
        &["volume.uncut", "volume", "density"],
    ),
    from(
        entry("volume", "mm3", Dimension::VOLUME, "finished volume of the metal", "volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx along the outside as it is when cut", |_, f| Some(f.volume)),
        &["volume.uncut", "pattern.mean-depth", "pattern.depth", "pattern.cover"],
    ),
    hollow(
        from(entry("volume.uncut", "mm3", Dimension::VOLUME, "volume of the metal before the pattern is cut", "2 pi * integral of r dA over the section (Pappus and Guldinus)", |_, f| Some(f.volume_uncut)), SECTION),
        "shell.volume + sleeve.volume", &["shell.volume", "sleeve.volume"],
    ),
    from(
        entry("shell.volume", "mm3", Dimension::VOLUME, "volume of the shell before cutting", "solid beyond the sleeve's floor, less the cavity", |_, f| part(f, |h| h.parts.shell)),
        &["size", "width", "thickness", "outside", "profile", "profile.edge", "hollow.shell", "hollow.shell.roof", "hollow.shell.nose", "hollow.sleeve", "ease.outer"],
    ),
    from(entry("shell.weight", "g", Dimension::MASS, "weight of the shell before cutting", "shell.volume * density of its alloy", |_, f| part(f, |h| h.shell_weight)), &["shell.volume", "hollow.shell.alloy", "alloy"]),
    from(
        entry("sleeve.volume", "mm3", Dimension::VOLUME, "volume of the sleeve, ridges included", "from the inside curve to the floor, less relief, plus ridges", |_, f| part(f, |h| h.parts.sleeve)),
        &["size", "width", "comfort", "hollow.sleeve", "hollow.sleeve.relief", "ridge.volume", "ease.bore"],
    ),
    from(entry("sleeve.weight", "g", Dimension::MASS, "weight of the sleeve, ridges included", "sleeve.volume * density of its alloy", |_, f| part(f, |h| h.sleeve_weight)), &["sleeve.volume", "hollow.sleeve.alloy", "alloy"]),
    from(
        entry("ridge.volume", "mm3", Dimension::VOLUME, "volume of all ridges", "pi * wide * ((floor + height)^2 - floor^2) each, floor = size / 2 + sleeve", |_, f| part(f, |h| h.parts.ridge)),
        &["size", "hollow.sleeve", "hollow.ridge", "hollow.ridge.wide", "hollow.ridge.count"],
    ),
    from(
        entry("cavity.volume", "mm3", Dimension::VOLUME, "enclosed empty space, ridges taken off", "pi * integral of (roof^2 - floor^2) dx - ridges + relief", |_, f| part(f, |h| h.parts.cavity)),
        &["size", "width", "thickness", "profile", "hollow.shell", "hollow.sleeve", "ridge.volume"],
    ),
    from(
        entry("solid.weight", "g", Dimension::MASS, "finished weight of the solid band of the same look", "(solid volume - cut) * density", |_, f| part(f, |h| h.solid_weight)),
        &["size", "width", "thickness", "profile", "profile.edge", "comfort", "weight.cut", "density"],
    ),
    from(entry("saving", "", Dimension::NONE, "part of the solid's weight that the hollow saves", "1 - weight / solid.weight", |_, f| part(f, |h| h.saving)), &["weight", "solid.weight"]),
    from(
        entry("foot.left", "mm", Dimension::LENGTH, "axial width of the left foot, on which the shell stands", "from the side face to where roof or wall meets the sleeve", |_, f| part(f, |h| tidied(h.parts.foot_left))),
        &["hollow.shell", "hollow.sleeve", "profile"],
    ),
    from(
        entry("foot.right", "mm", Dimension::LENGTH, "axial width of the right foot", "as foot.left", |_, f| part(f, |h| tidied(h.parts.foot_right))),
        &["hollow.shell", "hollow.sleeve", "profile"],
    ),
    from(
        entry("ridge.from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge", "as far out as the roof allows, plus play", |i, f| {
            f.hollow?.parts.ridges.map(|(left, right)| tidied(i.shape.width / 2.0 - right.max(-left)))
        }),
        &["hollow.ridge", "hollow.ridge.wide", "hollow.ridge.count", "hollow.ridge.play", "hollow.shell"],
    ),
    from(entry("section.area", "mm2", Dimension::AREA, "area of the solid section before the pattern is cut", "integral of (outside - inside) dx", |_, f| Some(f.area)), SECTION),
    hollow(
        from(entry("wall.least", "mm", Dimension::LENGTH, "thinnest wall that remains anywhere", "least of all walls, under the cut and under a struck mark", |_, f| Some(f.wall_least)), &["wall.under-cut", "mark.deep"]),
        "least of all walls, under the cut and under a struck mark", &["wall.under-cut", "hollow.shell", "wall.side-face", "wall.sleeve-edge", "hollow.sleeve.relief", "mark.deep"],
    ),
    from(
        entry("wall.under-cut", "mm", Dimension::LENGTH, "thinnest metal under the cut", "least distance from the cut surface to cavity, sleeve or bore", |_, f| {
            Some(tidied(f.hollow.map_or(f.bodies.solid_wall.thickness, |h| h.parts.walls.under_cut.thickness)))
        }),
        &["thickness", "profile", "profile.edge", "comfort", "hollow.shell", "hollow.sleeve", "pattern.depth"],
    ),
    from(entry("wall.side-face", "mm", Dimension::LENGTH, "shell at the thinner side face, radial", "edge + comfort - sleeve", |_, f| part(f, |h| tidied(h.parts.walls.side_face))), &["profile.edge", "thickness", "comfort", "hollow.sleeve"]),
    from(entry("wall.sleeve-edge", "mm", Dimension::LENGTH, "sleeve at its edge, radial", "sleeve - comfort", |_, f| part(f, |h| tidied(h.parts.walls.sleeve_edge))), &["hollow.sleeve", "comfort"]),
    exact(from(entry("bore", "mm", Dimension::LENGTH, "smallest inside diameter", "size", |_, f| Some(f.bore)), &["size"]), |of| of.band.inside.diameter.exact()),
    exact(from(entry("outside", "mm", Dimension::LENGTH, "largest outside diameter", "bore + 2 * thickness", |_, f| Some(f.outside)), &["bore", "thickness"]), |evaluation| {
        let band = &evaluation.band;
        band.inside.diameter.exact()?.checked_add(band.thickness.value().checked_mul(Decimal::TWO)?)
    }),
    exact(from(entry("size.circumference", "mm", Dimension::LENGTH, "inside circumference", "by the size system, or pi * bore", |_, f| Some(f.circumference)), &["size"]), |evaluation| {
        let band = &evaluation.band;
        band.inside.size.and_then(|size| size.circumference().exact())
    }),
    from(entry("strip.length", "mm", Dimension::LENGTH, "length of the pattern strip", "pi * outside; of a pattern cut before the stretch the outside before it", |_, f| Some(f.strip_length)), &["outside", "pattern.cut", "start", "hollow.stage.past"]),
    exact(from(entry("strip.height", "mm", Dimension::LENGTH, "height of the pattern strip", "width; of a pattern cut before the stretch the width before it", |_, f| Some(f.strip_height)), &["width", "pattern.cut", "start"]), |of| (of.figures.strip_height == of.input.shape.width).then(|| of.band.width.value())),
    from(entry("strip.pitch", "mm", Dimension::LENGTH, "length of one repeat along the strip", "strip.length / repeats", |_, f| f.pitch), &["strip.length", "pattern.repeats"]),
    exact(from(entry("density", "g/cm3", Dimension::DENSITY, "density of the band's alloy", "stated, or 1 / sum of (part / density of the element)", |_, f| Some(f.density)), &["alloy"]), |evaluation| {
        let band = &evaluation.band;
        match &band.alloy.density {
            AlloyDensity::Stated { value, .. } => Some(value.value()),
            AlloyDensity::Derived(_) => None,
        }
    }),
];

/// What the section of a solid band is drawn from.
const SECTION: &[&str] = &[
    "size",
    "width",
    "thickness",
    "outside",
    "profile",
    "profile.edge",
    "profile.across",
    "profile.down",
    "profile.crown",
    "profile.dip",
    "comfort",
    "ease.outer",
    "ease.bore",
];

/// Every result of the catalogue, whichever table it stands in.
pub fn all() -> impl Iterator<Item = &'static ResultEntry> {
    RESULTS
        .iter()
        .chain(super::money::MONEY_RESULTS)
        .chain(super::stretch::STRETCH_RESULTS)
        .chain(super::fineness::FINENESS_RESULTS)
}

/// The result of a full path behind the band's name.
#[must_use]
pub fn find(path: &str) -> Option<&'static ResultEntry> {
    all().find(|result| result.path == path)
}

/// Results that a short path could mean: the exact one, or those that it ends, at a point.
#[must_use]
pub fn matching(short: &str) -> Vec<&'static ResultEntry> {
    if let Some(result) = find(short) {
        return vec![result];
    }
    all()
        .filter(|result| {
            result
                .path
                .strip_suffix(short)
                .is_some_and(|rest| rest.ends_with('.'))
        })
        .collect()
}
