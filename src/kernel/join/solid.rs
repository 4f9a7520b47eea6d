//! A solid band that is made small and stretched to size: what to machine.

use crate::kernel::Input;

use super::input::Start;
use super::kinematics::{Carried, Kinematics, Pair, stretch};

/// A solid band before its stretch; diameters and widths, mm. Metal for finishing is in all but `start`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Small {
    /// Smallest bore.
    pub bore: f64,
    /// Largest outside.
    pub outside: f64,
    /// Half the difference of the two.
    pub thickness: f64,
    /// Width.
    pub width: f64,
    /// Width if it is held, and if it is free.
    pub widths: (f64, f64),
    /// Bore, without metal for finishing.
    pub start: f64,
    /// Outside, without metal for finishing.
    pub crown: f64,
    /// Stretch of the bore, finished over machined less one.
    pub strain: f64,
    /// True strain in the mean.
    pub mean_strain: f64,
    /// Opening of the mandrel under load for the finished bore.
    pub mandrel: Option<f64>,
}

/// The state before the stretch, as one of the finished band.
pub(in crate::kernel) fn before(input: &Input, kinematics: Kinematics) -> Option<(Pair, Carried)> {
    let shape = &input.shape;
    let done = Pair {
        inner: shape.radius,
        outer: shape.radius + shape.thickness,
    };
    let bore = match input.stretch.start {
        Some(Start::Bore(bore)) => bore / 2.0,
        Some(Start::Strain(strain)) => shape.radius / (1.0 + strain),
        None => shape.radius,
    };
    Some((done, done.until(done.inner, bore, kinematics)?))
}

/// A solid band before its stretch; as finished where none is stated.
///
/// # Range
/// Bands that passed [`crate::kernel::check`]; `None` for hollow ones.
#[must_use]
pub fn small(input: &Input) -> Option<Small> {
    let shape = &input.shape;
    if shape.hollow.is_some() {
        return None;
    }
    let given = &input.stretch;
    let (done, state) = before(input, given.kinematics)?;
    let [bore, outside, faces] = given.finish;
    let width = |kinematics| {
        before(input, kinematics).map_or(shape.width, |(_, state)| shape.width * state.across)
            + 2.0 * faces
    };
    let mean_strain = libm::log(1.0 / state.lambda);
    let (inner, outer) = (state.pair.inner, state.pair.outer);
    Some(Small {
        bore: 2.0 * (inner - bore),
        outside: 2.0 * (outer + outside),
        thickness: outer - inner + bore + outside,
        width: shape.width * state.across + 2.0 * faces,
        widths: (width(Kinematics::Held), width(Kinematics::Free)),
        start: 2.0 * inner,
        crown: 2.0 * outer,
        strain: stretch(done.inner, inner),
        mean_strain,
        mandrel: (given.start.is_some())
            .then(|| given.whole.spring(mean_strain))
            .flatten()
            .map(|spring| 2.0 * shape.radius * (1.0 + spring)),
    })
}
