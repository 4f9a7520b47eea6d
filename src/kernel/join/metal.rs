//! How strong a metal is in its state, as far as it is known.

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
    /// Flow stress at a true strain: yield, and hardening where it is known.
    #[must_use]
    pub fn flow(&self, strain: f64) -> Option<f64> {
        Some(self.yield_stress? + self.hardening.unwrap_or(0.0) * strain.max(0.0))
    }

    /// Poisson's ratio, stated or usual.
    #[must_use]
    pub fn contraction(&self) -> f64 {
        self.poisson.unwrap_or(POISSON)
    }

    /// How far a free ring opens elastically at a strain, as a part of its bore: `flow stress / modulus`.
    #[must_use]
    pub fn spring(&self, strain: f64) -> Option<f64> {
        Some(self.flow(strain)? / self.modulus?)
    }

    /// What an estimate of grip would need and the temper does not state.
    #[must_use]
    pub fn unstated(&self) -> Unstated {
        Unstated {
            yield_stress: self.yield_stress.is_none(),
            modulus: self.modulus.is_none(),
        }
    }
}
