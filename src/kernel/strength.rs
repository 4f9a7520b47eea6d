//! What a ring bears between two opposed forces across its bore: first yield and stiffness, by curved-beam theory.
//!
//! A hollow ring counts as shell and sleeve side by side, each bearing its share. The shell's channel distorts, so
//! that it is only 0.74 to 0.87 as stiff as its section says (three-dimensional elasticity, as the physical model
//! states); the lower figure is taken. Each section counts as cut to the greatest depth all over. So both figures are
//! bounds from below; local denting of the roof is not covered.

use std::f64::consts::PI;

use libm::log;

use crate::kernel::Input;
use crate::kernel::section::{Body, Slice, slices};

use super::join::{Strength, Thinned, as_cut};

/// Part of a channel's stiffness that its distortion leaves, at the least.
pub const DISTORTION: f64 = 0.74;
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

/// What a band bears.
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
}

/// What a band bears between two opposed forces; the finished band, cut to the greatest depth all over, which is less
/// deep than it was cut where it was stretched since.
#[must_use]
pub fn bears(input: &Input) -> Option<Bears> {
    let shape = &input.shape;
    let thinned = shape.cut.map(|cut| Thinned {
        radius: shape.radius,
        depth: cut.depth,
        cut: as_cut(input),
        share: None,
    });
    let section = |body| {
        let whole = slices(shape, body, 0.0);
        match &thinned {
            Some(thinned) if body != Body::Sleeve => {
                Section::of(thinned.finished(&whole), shape.radius)
            }
            _ => Section::of(whole, shape.radius),
        }
    };
    let stiffness = |section: &Section, metal: &Strength| {
        Some(1.0 / section.shortening(metal.modulus?, metal.contraction()))
    };
    let load = |section: &Section, metal: &Strength| {
        Some(metal.yield_stress? / section.stress(metal.contraction()))
    };
    let given = &input.stretch;
    let solid = section(Body::Solid)?;
    let whole = (stiffness(&solid, &given.whole), load(&solid, &given.whole));
    if shape.hollow.is_none() {
        return Some(Bears {
            stiffness: whole.0,
            load: whole.1,
            stiffness_ratio: None,
            load_ratio: None,
        });
    }
    let (shell, sleeve) = (section(Body::Shell)?, section(Body::Sleeve)?);
    let parts = stiffness(&shell, &given.shell).zip(stiffness(&sleeve, &given.sleeve));
    let together = parts.map(|(shell, sleeve)| DISTORTION * shell + sleeve);
    // Both shorten alike; the one that yields first ends it.
    let yields = parts.zip(load(&shell, &given.shell).zip(load(&sleeve, &given.sleeve)));
    let first = yields.map(|((stiff_shell, stiff_sleeve), (load_shell, load_sleeve))| {
        (load_shell / stiff_shell).min(load_sleeve / stiff_sleeve)
    });
    let load = first
        .zip(together)
        .map(|(shortening, stiffness)| shortening * stiffness);
    let ratio = |part: Option<f64>, whole: Option<f64>| Some(part? / whole?);
    Some(Bears {
        stiffness: together,
        load,
        stiffness_ratio: ratio(together, whole.0),
        load_ratio: ratio(load, whole.1),
    })
}
