//! Shell and sleeve as they come off the machine, and the boundaries between the stages at the enlarger.

use super::kinematics::{Carried, Pair, stretch};
use super::metal::Strength;
use super::together::Together;

/// The shell as it comes off the machine; diameters and widths, mm, metal for finishing included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MachinedShell {
    /// Bore of its feet.
    pub bore: f64,
    /// Bore of its lips.
    pub lip: Option<f64>,
    /// Roof of the channel at mid width.
    pub channel: Option<f64>,
    /// Width of the channel between the feet.
    pub channel_width: Option<f64>,
    /// Largest outside.
    pub outside: f64,
    /// Width.
    pub width: f64,
}

/// The sleeve as it comes off the machine; diameters and widths, mm, metal for finishing included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MachinedSleeve {
    /// Smallest bore.
    pub bore: f64,
    /// Outside beside the ridges.
    pub floor: f64,
    /// Outside of the ridges.
    pub ridge_top: Option<f64>,
    /// From the side face to the outer face of the outermost ridge.
    pub ridge_from_face: Option<f64>,
    /// Width.
    pub width: f64,
    /// Bore at the side faces.
    pub edge_bore: f64,
}

/// A boundary between two stages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boundary {
    /// Bore after release, mm.
    pub bore: f64,
    /// Opening of the mandrel under load, mm; not known without yield and modulus.
    pub mandrel: Option<f64>,
    /// Stretch of the bore, of one.
    pub strain: f64,
}

impl Boundary {
    /// That at which a sleeve of a metal, machined to `start`, has come to a state; `together`: the parts that are
    /// opened together from touch on.
    #[must_use]
    pub fn of(
        sleeve: &Strength,
        start: &Pair,
        state: &Carried,
        together: Option<&Together>,
    ) -> Self {
        let free = || {
            let spring = sleeve.spring(libm::log(state.lambda))?;
            Some(2.0 * state.pair.inner * (1.0 + spring))
        };
        Self {
            bore: 2.0 * state.pair.inner,
            mandrel: together
                .map(|together| together.mandrel(state))
                .or_else(free),
            strain: stretch(state.pair.inner, start.inner),
        }
    }
}
