//! The catalogue of results: path, unit, meaning, formula, and how to read each from an evaluation.

use rust_decimal::Decimal;

use crate::model::AlloyDensity;
use crate::quantity::{Dimension, Number};

use super::evaluation::Evaluation;
use super::figures::{Figures, HollowFigures, tidied};
use super::input::Input;
use super::money::Cost;

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
            (self.computed)(&evaluation.input, &evaluation.figures).map(Number::Computed)
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

const fn exact(entry: ResultEntry, exact: fn(&Evaluation) -> Option<Decimal>) -> ResultEntry {
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
        entry("volume", "mm3", Dimension::VOLUME, "finished volume of the metal", "volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx along the outside", |_, f| Some(f.volume)),
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
        entry("ridge.from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge", "as far out as the roof allows, plus play", |_, f| {
            f.hollow?.parts.ridges.map(|(left, right)| tidied(f.strip_height / 2.0 - right.max(-left)))
        }),
        &["hollow.ridge", "hollow.ridge.wide", "hollow.ridge.count", "hollow.ridge.play", "hollow.shell"],
    ),
    from(entry("section.area", "mm2", Dimension::AREA, "area of the solid section before the pattern is cut", "integral of (outside - inside) dx", |_, f| Some(f.area)), SECTION),
    hollow(
        from(entry("wall.least", "mm", Dimension::LENGTH, "thinnest wall that remains anywhere", "least of all walls, under the cut where there is one", |_, f| Some(f.wall_least)), &["wall.under-cut"]),
        "least of all walls, under the cut where there is one", &["wall.under-cut", "hollow.shell", "wall.side-face", "wall.sleeve-edge", "hollow.sleeve.relief"],
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
    from(entry("strip.length", "mm", Dimension::LENGTH, "length of the pattern strip", "pi * outside", |_, f| Some(f.strip_length)), &["outside"]),
    exact(from(entry("strip.height", "mm", Dimension::LENGTH, "height of the pattern strip", "width", |_, f| Some(f.strip_height)), &["width"]), |of| Some(of.band.width.value())),
    from(entry("strip.pitch", "mm", Dimension::LENGTH, "length of one repeat along the strip", "strip.length / repeats", |_, f| f.pitch), &["strip.length", "pattern.repeats"]),
    exact(from(entry("density", "g/cm3", Dimension::DENSITY, "density of the band's alloy", "stated, or 1 / sum of (part / density of the element)", |_, f| Some(f.density)), &["alloy"]), |evaluation| {
        let band = &evaluation.band;
        match &band.alloy.density {
            AlloyDensity::Stated { value, .. } => Some(value.value()),
            AlloyDensity::Derived(_) => None,
        }
    }),
    metal("weight.issued", "metal issued for one ring of a batch", "finished + turnings + offcuts + polishings", &["stock", "hollow.shell.stock", "hollow.sleeve.stock", "weight", "weight.cut", "shop.batch", "shop.scrap"], |of| Some(of.account()?.weights.issued)),
    metal("weight.turnings", "what turning, parting and the pattern take off", "issued stock - uncut - polishings + cut", &["weight.issued", "weight.cut"], |of| Some(of.account()?.weights.turnings)),
    metal("weight.offcuts", "clean offcuts: what stays in the chuck, sprues", "offcut of the batch / batch", &["stock", "shop.batch"], |of| Some(of.account()?.weights.offcuts)),
    metal("weight.polishings", "what is filed and polished off", "uncut * part", &["weight.uncut", "shop.scrap"], |of| Some(of.account()?.weights.polishings)),
    metal("weight.recovered", "metal that the refiner pays for", "sum of turnings, offcuts, polishings * collected * paid", &["weight.turnings", "weight.offcuts", "weight.polishings", "shop.scrap"], |of| Some(of.account()?.weights.recovered)),
    metal("weight.lost", "metal that is neither in the ring nor paid for", "issued - finished - recovered", &["weight.issued", "weight", "weight.recovered"], |of| Some(of.account()?.weights.lost)),
    metal("weight.charged", "weight that a price by weight counts; not a loss of metal", "finished * (1 + add)", &["weight", "sale.add"], |of| of.account()?.charged),
    exact(from(entry("time.labour", "min", Dimension::TIME, "labour for one ring of a batch", "run + set-up / batch, over the operations", |_, _| None), &["shop.operation", "shop.batch"]), |of| of.account()?.labour_minutes),
    exact(from(entry("time.machine", "min", Dimension::TIME, "machine time for one ring of a batch", "run + set-up / batch, over the operations", |_, _| None), &["shop.operation", "shop.batch"]), |of| of.account()?.machine_minutes),
    money("cost", "what one ring of a batch costs", "metal + labour + machine + overhead + rejects + fees", &["cost.metal", "cost.labour", "cost.machine", "cost.overhead", "cost.rejects", "cost.fees"], |of| cost(of, |of| of.total)),
    money("cost.metal", "metal, less what comes back", "bought - returned + refining", &["cost.metal.bought", "cost.metal.returned", "cost.metal.refining"], |of| cost(of, |of| of.metal)),
    money("cost.metal.bought", "metal as bought", "issued * (worth of a gram with premium + fabrication)", &["weight.issued", "prices"], |of| cost(of, |of| of.bought)),
    money("cost.metal.returned", "what the refiner pays", "recovered * worth of a gram", &["weight.recovered", "prices"], |of| cost(of, |of| of.returned)),
    money("cost.metal.refining", "what the refiner charges", "max(charge * collected * batch, minimum) / batch", &["shop.scrap", "shop.batch"], |of| cost(of, |of| of.refining)),
    money("cost.labour", "labour", "rate * (run + set-up / batch)", &["time.labour", "shop.labour"], |of| cost(of, |of| of.labour)),
    money("cost.machine", "machine", "rate * (run + set-up / batch)", &["time.machine", "shop.machine"], |of| cost(of, |of| of.machine)),
    money("cost.overhead", "overhead", "share * (labour + machine), or of metal bought less returned too", &["cost.labour", "cost.machine", "shop.overhead"], |of| cost(of, |of| of.overhead)),
    money("cost.rejects", "what rejects waste", "share / (1 - share) * what one reject wastes: its metal less what comes back, and the work on it", &["cost.metal", "shop.rejects"], |of| cost(of, |of| of.rejects)),
    money("cost.fees", "fees", "max(article * batch + consignment, minimum) / batch", &["shop.fee", "shop.batch"], |of| cost(of, |of| of.fees)),
    money("cost.one-per-cent", "what one per cent more on all prices of metal adds to the cost", "cost at 1.01 * prices - cost", &["cost", "prices"], |of| of.account()?.one_per_cent),
    money("price", "what one ring is sold for, before tax", "cost * (1 + markup), cost / (1 - margin), as stated, or charged * worth of a gram + making", &["cost", "sale", "sale.markup", "sale.margin", "sale.at", "sale.making", "weight.charged"], |of| of.account()?.net),
    money("price.making", "making charge in a price by weight", "making * charged, or a share of the worth of the metal charged", &["sale.making", "weight.charged"], |of| of.account()?.making),
    money("price.tax", "tax on the price", "price.total - price", &["price", "shop.tax"], |of| { let of = of.account()?; of.gross?.checked_sub(of.net?) }),
    money("price.total", "what one ring is sold for, with tax", "price * (1 + tax)", &["price", "shop.tax"], |of| of.account()?.gross),
    money("earning", "what one ring earns", "price - cost", &["price", "cost"], |of| of.account()?.earning),
    break_even("break-even.gold", "price of fine gold at which this band costs what the other does", |of| level(of, "gold")),
    break_even("break-even.silver", "price of fine silver at which this band costs what the other does", |of| level(of, "silver")),
    break_even("break-even.platinum", "price of fine platinum at which this band costs what the other does", |of| level(of, "platinum")),
    break_even("break-even.palladium", "price of fine palladium at which this band costs what the other does", |of| level(of, "palladium")),
    exact(from(entry("break-even.making", "money/g", Dimension::MONEY_BY_MASS, "making charge at which this band earns what the other does", "(what the other earns + cost - worth of the metal charged) / charged", |_, _| None), &["cost", "weight.charged", "against"]), |of| of.account()?.against.as_ref()?.making.map(|making| making.round_dp(6).normalize())),
    exact(from(entry("break-even.rejects", "", Dimension::NONE, "share of rejects at which this band costs what the other does", "k / (1 + k), k = (cost of the other - cost without rejects) / what one reject wastes", |_, _| None), &["cost", "against"]), |of| of.account()?.against.as_ref()?.rejects.map(|share| share.round_dp(6).normalize())),
];

/// Money, of the currency of each band.
const MONEY: &str = "money";

const fn money(
    path: &'static str,
    meaning: &'static str,
    formula: &'static str,
    needs: &'static [&'static str],
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    exact(
        from(
            entry(path, MONEY, Dimension::MONEY, meaning, formula, |_, _| None),
            needs,
        ),
        read,
    )
}

const fn metal(
    path: &'static str,
    meaning: &'static str,
    formula: &'static str,
    needs: &'static [&'static str],
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    exact(
        from(
            entry(path, "g", Dimension::MASS, meaning, formula, |_, _| None),
            needs,
        ),
        read,
    )
}

const fn break_even(
    path: &'static str,
    meaning: &'static str,
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    let formula = "(a of the other - a) / (b - b of the other), each cost being a + b * price";
    let row = entry(
        path,
        "money/g",
        Dimension::MONEY_BY_MASS,
        meaning,
        formula,
        |_, _| None,
    );
    exact(from(row, &["cost", "against"]), read)
}

fn cost(evaluation: &Evaluation, read: fn(&Cost) -> Decimal) -> Option<Decimal> {
    evaluation.account()?.cost.as_ref().map(read)
}

fn level(evaluation: &Evaluation, element: &str) -> Option<Decimal> {
    let metals = &evaluation.account()?.against.as_ref()?.metals;
    let found = metals.iter().find(|(metal, _)| metal == element);
    found.map(|(_, price)| price.round_dp(6).normalize())
}

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
    RESULTS.iter().chain(super::stretch::STRETCH_RESULTS)
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
