//! How far a metal in its state may be stretched before it must be annealed, and how many pulls a stretch takes.
//!
//! True strains in the mean of the section. The least of what is known counts: a part of the elongation, the
//! uniform elongation where hardening is known, and less where the section is already cut thinner somewhere.

use libm::log;

use super::metal::{End, HardeningLaw, Strength};

/// Part of the elongation that is used before annealing (common practice, no source).
pub const WORKING: f64 = 1.0 / 3.0;
/// Greatest true strain in one pull (common practice, no source: the trade moves half a size to one).
pub const ONE_PULL: f64 = 0.05;

/// What a maker allows in one pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Greatest true strain.
    pub strain: f64,
    /// Part of the elongation that is used before annealing.
    pub working: f64,
}

impl Default for Pull {
    fn default() -> Self {
        Self {
            strain: ONE_PULL,
            working: WORKING,
        }
    }
}

/// How far a part may be stretched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// True strain.
    pub strain: f64,
    /// What sets it.
    pub basis: LimitBasis,
}

/// What sets how far a part may be stretched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitBasis {
    /// A part of the elongation at fracture, [`Pull::working`].
    Elongation,
    /// The greatest strain in one pull, [`Pull::strain`].
    OnePull,
    /// The same, which alone judges: no elongation is known.
    Unstated,
    /// The uniform elongation.
    Uniform,
    /// What is still elastic: it hardens too little to stretch evenly beyond.
    Elastic,
    /// What is still elastic: the section that the cut thins takes what is more.
    ElasticUnderCut,
    /// The section that the cut thins takes the strain.
    Notched,
    /// What is still elastic: the cut thins the section, and no hardening is known.
    NoHardening,
    /// None: the cut thins the section, and no yield is known.
    NoYield,
}

/// How far a metal may be stretched in one pull whose thinnest section is `thin` of a full one (1: nowhere thinner).
#[must_use]
pub fn allowed(strength: &Strength, thin: f64, pull: &Pull) -> Allowed {
    let mut least = Allowed {
        strain: pull.strain,
        basis: match strength.elongation {
            Some(_) => LimitBasis::OnePull,
            None => LimitBasis::Unstated,
        },
    };
    let mut less = |strain: f64, basis: LimitBasis| {
        if strain < least.strain {
            least = Allowed { strain, basis };
        }
    };
    if let Some(elongation) = strength.elongation {
        less(log(1.0 + elongation * pull.working), LimitBasis::Elongation);
    }
    let law = HardeningLaw::of(strength);
    if let Some(law) = &law {
        match strength.elastic(End::Low) {
            Some(elastic) if elastic > law.uniform() => less(elastic, LimitBasis::Elastic),
            _ => less(law.uniform(), LimitBasis::Uniform),
        }
    }
    if thin < 1.0 {
        match (&law, strength.elastic(End::Low)) {
            // What is still elastic thins nothing.
            (Some(law), Some(elastic)) if elastic > law.notched(thin) => {
                less(elastic, LimitBasis::ElasticUnderCut)
            }
            (Some(law), _) => less(law.notched(thin), LimitBasis::Notched),
            (None, Some(elastic)) => less(elastic, LimitBasis::NoHardening),
            (None, None) => less(0.0, LimitBasis::NoYield),
        }
    }
    least
}

impl Allowed {
    /// Whether a true strain stays within it.
    #[must_use]
    pub fn bears(&self, strain: f64) -> bool {
        strain <= self.strain + 1e-9
    }
}

/// The pulls that a true strain takes, each within what is allowed, annealing between; `None` where none is.
#[must_use]
pub fn pulls(strain: f64, allowed: &Allowed) -> Option<u32> {
    let pulls = (strain / allowed.strain - 1e-9).ceil().max(1.0);
    (pulls <= 100.0).then_some(pulls as u32)
}
