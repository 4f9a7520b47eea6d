//! What a ring bears between two opposed forces across its bore: first yield and stiffness, by curved-beam theory.
//!
//! A hollow ring counts as shell and sleeve, ridges included, side by side, each bearing its share. The roof of the
//! shell's channel gives way between its walls, so that only a part of it carries: a plate strip on the hoop's own
//! bedding, hinged on the walls, whose feet may splay. Three-dimensional elasticity (harmonics round the ring, free
//! feet) was tried on 19 shells: where roof and outside are level this is up to 5 % too stiff, which [`LEVEL`] takes
//! off; an arched roof flattens out, the more the higher it rises over its thickness, which [`RISE`] takes off as an
//! estimate. The greatest stress is up to [`STRESS`] times what the curved beam says. Each section counts as cut to
//! the greatest depth all over. So both figures are bounds from below; local denting of the roof is not covered.

use std::f64::consts::PI;

use libm::log;

use crate::kernel::Input;
use crate::kernel::section::{Body, Curves, Slice, Slices, ridges, slices};
use crate::schema::ResultId;

use super::join::{End, POISSON, Strength, Thinned, as_cut};

/// What a shell with a level roof is at most too stiff by (three-dimensional elasticity, `half-span^2 / (r t)` from 0.2
/// to 14).
const LEVEL: f64 = 1.06;
/// What an arched roof is too stiff by for each time that it rises by its thickness: `1 + RISE * rise / t` lies above
/// all of 14 arched shells (rise / t up to 2.9), and is an estimate elsewhere.
const RISE: f64 = 0.8;
/// What the greatest stress times stiffness is at most over that of the curved beam (1.33 in the same shells).
const STRESS: f64 = 1.35;
/// `half-span^2 / (r t)` of the level roofs with which the bound was checked.
pub const CHECKED: (f64, f64) = (0.2, 7.2);
/// Shear factor of a rectangle.
const SHEAR: f64 = 1.2;

/// A closed ring's section, as bending sees it; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Area, mm2.
    pub area: f64,
    /// Radius of the centroid.
    pub mean: f64,
    /// Radius that bending alone does not strain: `A / integral of dA / r`.
    pub neutral: f64,
    /// Radius of the innermost fibre.
    pub inner: f64,
    /// Radius of the outermost fibre.
    pub outer: f64,
}

impl Section {
    /// The section of slices, heights over a bore of that radius; `None` where there is no metal.
    #[must_use]
    pub fn of(slices: impl IntoIterator<Item = Slice>, radius: f64) -> Option<Self> {
        let (mut area, mut moment, mut inverse) = (0.0, 0.0, 0.0);
        let (mut inner, mut outer) = (f64::INFINITY, 0.0_f64);
        let metal = slices.into_iter().filter(|slice| slice.to > slice.from);
        for slice in metal {
            let (low, high) = (radius + slice.from, radius + slice.to);
            area += slice.width * (high - low);
            moment += slice.width * (high * high - low * low) / 2.0;
            inverse += slice.width * log(high / low);
            inner = inner.min(low);
            outer = outer.max(high);
        }
        (area > 0.0).then(|| Self {
            area,
            mean: moment / area,
            neutral: area / inverse,
            inner,
            outer,
        })
    }

    /// How far the neutral radius lies inside the centroid.
    #[must_use]
    pub fn off(&self) -> f64 {
        self.mean - self.neutral
    }

    /// The handbook's `k1` and `k2`, with `alpha = e / R`, `beta = 2 F (1 + nu) e / R`.
    fn factors(&self, contraction: f64) -> (f64, f64) {
        let alpha = self.off() / self.mean;
        let beta = 2.0 * SHEAR * (1.0 + contraction) * alpha;
        (1.0 - alpha + beta, 1.0 - alpha)
    }

    /// How much a force of 1 N shortens the diameter that it acts along, mm.
    ///
    /// # Formula
    /// `R^3 / (E A e R) * (pi k1 / 4 - 2 k2^2 / pi)`.
    #[must_use]
    pub fn shortening(&self, modulus: f64, contraction: f64) -> f64 {
        let (k1, k2) = self.factors(contraction);
        let inertia = self.area * self.off() * self.mean;
        self.mean * self.mean * self.mean / (modulus * inertia)
            * (PI * k1 / 4.0 - 2.0 * k2 * k2 / PI)
    }

    /// The greatest stress anywhere in the ring under a force of 1 N, MPa.
    ///
    /// # Formula
    /// Under the force `M = R k2 / pi`; across from it `M = R (k2 / pi - 1/2)` and `N = -1/2`; in each
    /// `sigma = M (r_n - r) / (A e r) + N / A` at the innermost and the outermost fibre.
    #[must_use]
    pub fn stress(&self, contraction: f64) -> f64 {
        let (_, k2) = self.factors(contraction);
        let under = self.mean * k2 / PI;
        let across = self.mean * (k2 / PI - 0.5);
        let bending =
            |moment: f64, r: f64| moment * (self.neutral - r) / (self.area * self.off() * r);
        let direct = -0.5 / self.area;
        [
            bending(under, self.inner),
            bending(under, self.outer),
            bending(across, self.inner) + direct,
            bending(across, self.outer) + direct,
        ]
        .into_iter()
        .fold(0.0, |most, stress| stress.abs().max(most))
    }
}

/// What a band bears; a hollow one at the least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bears {
    /// Force for each mm that the diameter shortens, N/mm.
    pub stiffness: Option<f64>,
    /// Force at first yield, N.
    pub load: Option<f64>,
    /// Stiffness over that of the solid band of the same look.
    pub stiffness_ratio: Option<f64>,
    /// Load at first yield over that of the solid band of the same look.
    pub load_ratio: Option<f64>,
    /// The roof of a channel.
    pub roof: Option<RoofSpan>,
    /// The most that the stiffness may be, where it is an estimate: the roof carries all over.
    pub most: Option<f64>,
}

/// The roof of a channel between its walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoofSpan {
    /// `half-span^2 / (r t)`.
    pub wide: f64,
    /// What it rises by, over its thickness.
    pub rise: f64,
    /// Part of it that carries.
    pub share: f64,
}

impl RoofSpan {
    /// The roof of a shell, cut; `None` where it has none.
    fn of(shell: &[Slice], (left, right): (f64, f64), radius: f64) -> Option<Self> {
        let range = |of: fn(&Slice) -> f64| {
            let within = shell
                .iter()
                .filter(|slice| slice.x > left && slice.x < right);
            within.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), slice| {
                (low.min(of(slice)), high.max(of(slice)))
            })
        };
        let (low, high) = range(|slice| slice.from);
        let outside = range(|slice| slice.to);
        let (thick, _) = range(|slice| slice.to - slice.from);
        let half = (right - left) / 2.0;
        if !(thick.is_finite() && thick > 0.0 && half > 0.0) {
            return None;
        }
        let wide = half * half / ((radius + high + thick / 2.0) * thick);
        Some(Self {
            wide,
            rise: (high - low).max(outside.1 - outside.0) / thick,
            share: share(wide),
        })
    }

    /// Whether it is as those that the bound was checked with.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        let (least, most) = CHECKED;
        self.rise < 1e-6 && self.wide >= least && self.wide <= most
    }

    /// What the shell's stiffness is divided by.
    fn too_stiff(&self) -> f64 {
        LEVEL * (1.0 + RISE * self.rise)
    }
}

/// Part of a roof that carries between walls that it is hinged on.
///
/// # Formula
/// `d^4 v / dx^4 + 4 beta^4 v = 0`, `beta^4 = 3 (1 - nu^2) / (r t)^2`, `v = 1` and no moment at the walls; the mean of
/// `v`.
fn share(wide: f64) -> f64 {
    let z = (3.0 * (1.0 - POISSON * POISSON)).sqrt().sqrt() * wide.sqrt();
    if z < 1e-3 {
        return 1.0;
    }
    if z > 50.0 {
        return 1.0 / (2.0 * z);
    }
    let (cosh, sinh, cos, sin) = (libm::cosh(z), libm::sinh(z), libm::cos(z), libm::sin(z));
    let whole = cosh * cosh * cos * cos + sinh * sinh * sin * sin;
    let even = (sinh * cos + cosh * sin) / 2.0;
    let odd = (cosh * sin - sinh * cos) / 2.0;
    (cosh * cos * even + sinh * sin * odd) / whole / z
}

/// What a band bears between two opposed forces; the finished band, cut to the greatest depth all over, which is less
/// deep than it was cut where it was stretched since.
#[must_use]
pub fn bears(input: &Input, curves: &Curves<'_>) -> Option<Bears> {
    let shape = &input.shape;
    let given = &input.stretch;
    let solid = section(&cut(input, curves, Body::Solid), shape.radius)?;
    let whole = (stiffness(&solid, &given.whole), load(&solid, &given.whole));
    if shape.hollow.is_some() {
        return side_by_side(input, curves, whole);
    }
    Some(Bears {
        stiffness: whole.0,
        load: whole.1,
        stiffness_ratio: None,
        load_ratio: None,
        roof: None,
        most: None,
    })
}

/// Whether [`result`] reads a result.
#[must_use]
pub fn is_result(id: ResultId) -> bool {
    matches!(
        id,
        ResultId::StrengthStiffness
            | ResultId::StrengthLoad
            | ResultId::StrengthStiffnessRatio
            | ResultId::StrengthLoadRatio
    )
}

/// A result of strength; none where it is not known.
#[must_use]
pub fn result(id: ResultId, bears: &Bears) -> Option<f64> {
    match id {
        ResultId::StrengthStiffness => bears.stiffness,
        ResultId::StrengthLoad => bears.load,
        ResultId::StrengthStiffnessRatio => bears.stiffness_ratio,
        ResultId::StrengthLoadRatio => bears.load_ratio,
        _ => None,
    }
}

/// Slices of a body under its pattern.
fn cut(input: &Input, curves: &Curves<'_>, body: Body) -> Slices {
    let shape = &input.shape;
    let whole = slices(curves, body, 0.0);
    match shape.cut {
        Some(cut) => {
            let thinned = Thinned {
                radius: shape.radius,
                depth: cut.depth,
                cut: as_cut(input),
                share: None,
            };
            thinned.finished(&whole).collect()
        }
        None => whole,
    }
}

fn section(slices: &[Slice], radius: f64) -> Option<Section> {
    Section::of(slices.iter().copied(), radius)
}

fn stiffness(section: &Section, metal: &Strength) -> Option<f64> {
    Some(1.0 / section.shortening(metal.modulus?, metal.contraction()))
}

fn load(section: &Section, metal: &Strength) -> Option<f64> {
    Some(metal.yields(End::Low)? / section.stress(metal.contraction()))
}

/// Shell and sleeve side by side: both shorten alike, and the one that yields first ends it; `whole`: stiffness and
/// load of the solid band of the same look.
fn side_by_side(
    input: &Input,
    curves: &Curves<'_>,
    whole: (Option<f64>, Option<f64>),
) -> Option<Bears> {
    let shape = &input.shape;
    let given = &input.stretch;
    let shell = cut(input, curves, Body::Shell);
    let between = curves.cavity().map(|cavity| (cavity.left, cavity.right));
    let roof = between.and_then(|between| RoofSpan::of(&shell, between, shape.radius));
    let mut carries = shell.clone();
    if let Some(((left, right), roof)) = between.zip(roof) {
        let within = carries
            .iter_mut()
            .filter(|slice| slice.x > left && slice.x < right);
        within.for_each(|slice| slice.width *= roof.share);
    }
    let mut inner = slices(curves, Body::Sleeve, 0.0);
    inner.extend(ridges(curves));
    let of = |slices: &[Slice]| section(slices, shape.radius);
    let (full, carries, sleeve) = (of(&shell)?, of(&carries)?, of(&inner)?);
    let parts = stiffness(&carries, &given.shell).zip(stiffness(&sleeve, &given.sleeve));
    let too_stiff = roof.map_or(1.0, |roof| roof.too_stiff());
    let together = parts.map(|(shell, sleeve)| shell / too_stiff + sleeve);
    let stressed = if roof.is_some() { STRESS } else { 1.0 };
    let yields = parts.zip(load(&full, &given.shell).zip(load(&sleeve, &given.sleeve)));
    let first = yields.map(|((stiff_shell, stiff_sleeve), (load_shell, load_sleeve))| {
        (load_shell / stressed / stiff_shell).min(load_sleeve / stiff_sleeve)
    });
    let load = first
        .zip(together)
        .map(|(shortening, stiffness)| shortening * stiffness);
    let ratio = |part: Option<f64>, whole: Option<f64>| Some(part? / whole?);
    let estimate = roof.is_some_and(|roof| !roof.is_checked());
    let most = stiffness(&full, &given.shell).zip(stiffness(&sleeve, &given.sleeve));
    Some(Bears {
        stiffness: together,
        load,
        stiffness_ratio: ratio(together, whole.0),
        load_ratio: ratio(load, whole.1),
        roof,
        most: most
            .filter(|_| estimate)
            .map(|(shell, sleeve)| shell + sleeve),
    })
}
