//! How strong a metal is in its state, as far as it is known.

use libm::{exp, log, pow};

use super::root::root;

/// A metal's strength in its state; what is not known is `None`. MPa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Strength {
    /// 0.2 % proof stress.
    pub yield_stress: Option<f64>,
    /// Tensile strength.
    pub tensile: Option<f64>,
    /// Young's modulus.
    pub modulus: Option<f64>,
    /// Rise of the flow stress with true strain, a straight line.
    pub hardening: Option<f64>,
    /// Elongation at fracture, of one.
    pub elongation: Option<f64>,
    /// Poisson's ratio, where stated.
    pub poisson: Option<f64>,
    /// Vickers hardness; its number, which has no unit.
    pub hardness: Option<f64>,
}

/// What a yield that is not stated is taken to lie between, in MPa for each unit of Vickers hardness: the annealed
/// pairs of yield and hardness that the built-in alloys state, and cold-worked metal from memory.
pub const YIELD_BY_HARDNESS: (f64, f64) = (1.5, 3.3);

/// Which end of an estimate is asked for: a verdict takes the one at which it is worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The metal yields as early as it may.
    Low,
    /// The metal yields as late as it may.
    High,
}

/// Where the rise of a flow stress comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hardening {
    /// Stated.
    Stated,
    /// The power law through yield and tensile strength.
    TwoPoint,
    /// Nothing: it hardens by an amount that is not known.
    Unknown,
}

/// The flow stress of a metal in its state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// The law, total strain for a power law.
    law: HardeningLaw,
    /// Yield.
    yields: f64,
    /// Modulus, where the law needs it.
    modulus: f64,
    /// Where its rise comes from.
    pub hardening: Hardening,
    /// The yield is estimated from the hardness.
    pub estimated: bool,
}

impl Flow {
    /// Flow stress, MPa, after a lasting true strain.
    ///
    /// # Formula
    /// `yield + hardening * strain`; by two points `sigma = K (strain + sigma / E)^n`, the elastic part in the total.
    #[must_use]
    pub fn at(&self, strain: f64) -> f64 {
        let strain = strain.max(0.0);
        let HardeningLaw::Power { factor, exponent } = self.law else {
            return self.law.flow(strain);
        };
        let mut stress = self.yields;
        for _ in 0..40 {
            let total = strain + stress / self.modulus;
            let by_law = factor * libm::pow(total, exponent);
            let next =
                stress - (stress - by_law) / (1.0 - exponent * by_law / (self.modulus * total));
            if !(next.is_finite() && next > 0.0) {
                break;
            }
            if (next - stress).abs() <= 1e-13 * next {
                return next;
            }
            stress = next;
        }
        let miss =
            |stress: f64| stress - factor * libm::pow(strain + stress / self.modulus, exponent);
        root(miss, 1e-3 * self.yields, 20.0 * self.yields).unwrap_or(self.yields)
    }

    /// The same metal with another yield and nothing that is known of its hardening.
    #[must_use]
    pub fn yielding(&self, yields: f64) -> Self {
        Self {
            law: HardeningLaw::Line {
                start: yields,
                slope: 0.0,
            },
            yields,
            ..*self
        }
    }
}

/// Poisson's ratio where none is stated (common practice, no source).
pub const POISSON: f64 = 0.38;

/// What an estimate of grip needs and a metal does not state.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Unstated {
    /// Its yield.
    pub yield_stress: bool,
    /// Its modulus.
    pub modulus: bool,
}

impl Unstated {
    /// Whether anything is.
    #[must_use]
    pub fn any(self) -> bool {
        self.yield_stress || self.modulus
    }
}

impl Strength {
    /// Yield: as stated, or by the hardness at one end of the estimate.
    #[must_use]
    pub fn yields(&self, end: End) -> Option<f64> {
        let (low, high) = YIELD_BY_HARDNESS;
        let each = match end {
            End::Low => low,
            End::High => high,
        };
        self.yield_stress
            .or(self.hardness.map(|number| number * each))
    }

    /// Whether its yield is an estimate from its hardness.
    #[must_use]
    pub fn is_estimated(&self) -> bool {
        self.yield_stress.is_none() && self.hardness.is_some()
    }

    /// The flow stress: by the stated hardening, else the law through yield and tensile strength, else the yield.
    #[must_use]
    pub fn flow(&self, end: End) -> Option<Flow> {
        let yields = self.yields(end)?;
        let line = |slope| HardeningLaw::Line {
            start: yields,
            slope,
        };
        let (law, hardening) = match (self.hardening, HardeningLaw::of(self)) {
            (Some(slope), _) => (line(slope), Hardening::Stated),
            (None, Some(law)) => (law, Hardening::TwoPoint),
            (None, None) => (line(0.0), Hardening::Unknown),
        };
        Some(Flow {
            law,
            yields,
            modulus: self.modulus.unwrap_or(f64::INFINITY),
            hardening,
            estimated: self.is_estimated(),
        })
    }

    /// Poisson's ratio, stated or usual.
    #[must_use]
    pub fn contraction(&self) -> f64 {
        self.poisson.unwrap_or(POISSON)
    }

    /// How far a free ring opens elastically after a strain, as a part of its bore: `flow stress / modulus`, at the
    /// later end of an estimate.
    #[must_use]
    pub fn spring(&self, strain: f64) -> Option<f64> {
        Some(self.flow(End::High)?.at(strain) / self.modulus?)
    }

    /// How far it is strained elastically before it yields, at one end of an estimate.
    #[must_use]
    pub fn elastic(&self, end: End) -> Option<f64> {
        Some(self.yields(end)? / self.modulus?)
    }

    /// What an estimate of grip would need and the temper does not state.
    #[must_use]
    pub fn unstated(&self) -> Unstated {
        Unstated {
            yield_stress: self.yields(End::Low).is_none(),
            modulus: self.modulus.is_none(),
        }
    }
}

/// A hardening law through two points of the tensile test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HardeningLaw {
    /// `sigma = yield + slope * strain`; MPa.
    Line {
        /// At no strain.
        start: f64,
        /// Rise with true strain.
        slope: f64,
    },
    /// `sigma = K strain^n` (Hollomon).
    Power {
        /// K, MPa.
        factor: f64,
        /// n.
        exponent: f64,
    },
}

impl HardeningLaw {
    /// The law that a metal's figures give: the stated hardening, else the power law through proof stress and
    /// tensile strength; `None` where neither is known.
    ///
    /// # Formula
    /// `Rm / sigma_0.2 = n^n e^-n / e0^n`, `sigma_0.2 = Rp (1.002 + Rp/E)`, `e0 = ln(1.002 + Rp/E)`.
    #[must_use]
    pub fn of(strength: &Strength) -> Option<Self> {
        let start = strength.yield_stress?;
        if let Some(slope) = strength.hardening {
            return Some(Self::Line { start, slope });
        }
        let (tensile, modulus) = (strength.tensile?, strength.modulus?);
        let stretched = 1.002 + start / modulus;
        let (proof, strain) = (start * stretched, log(stretched));
        let ratio = log(tensile / proof);
        // Below the strain of the first point the power falls; the root wanted lies above it.
        let exponent = root(|n| n * log(n) - n - n * log(strain) - ratio, strain, 2.0)?;
        Some(Self::Power {
            factor: proof / pow(strain, exponent),
            exponent,
        })
    }

    /// True strain up to which a bar thins evenly (Considère): where `d sigma / d strain = sigma`.
    #[must_use]
    pub fn uniform(&self) -> f64 {
        match self {
            Self::Line { start, slope } => (1.0 - start / slope).max(0.0),
            Self::Power { exponent, .. } => *exponent,
        }
    }

    /// Flow stress at a true strain.
    #[must_use]
    pub fn flow(&self, strain: f64) -> f64 {
        match self {
            Self::Line { start, slope } => start + slope * strain,
            Self::Power { factor, exponent } => factor * pow(strain, *exponent),
        }
    }

    /// True strain of the full section at which a section of `thin` its area reaches the uniform limit.
    ///
    /// # Formula
    /// Equal force in both: `sigma(e) exp(-e) = thin * sigma(u) exp(-u)`.
    #[must_use]
    pub fn notched(&self, thin: f64) -> f64 {
        let limit = self.uniform();
        let force = |strain: f64| self.flow(strain) * exp(-strain);
        let most = thin * force(limit);
        root(|strain| force(strain) - most, 0.0, limit).unwrap_or(if thin >= 1.0 {
            limit
        } else {
            0.0
        })
    }
}
