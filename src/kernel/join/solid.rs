//! A solid band that is made small and stretched to size: what to machine.

use crate::kernel::Input;

use super::input::Start;
use super::kinematics::{Carried, Kinematics, Pair, stretch};

/// A solid band before its stretch; diameters and widths, mm, metal for finishing included.
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
    /// Bore when it is stretched, without what comes off before.
    pub start: f64,
    /// Where the outside of the finished band lies in it.
    pub crown: f64,
    /// Bore of the finished band, all metal taken off.
    pub size: f64,
    /// Stretch of the bore, finished over machined less one.
    pub strain: f64,
    /// True strain in the mean.
    pub mean_strain: f64,
    /// Opening of the mandrel under load, metal that is taken off last still in the bore.
    pub mandrel: Option<f64>,
}

/// The band when it is done but for the metal that is taken off last, and its state before the stretch, told from
/// there.
pub(in crate::kernel) fn before(input: &Input, kinematics: Kinematics) -> Option<(Pair, Carried)> {
    let shape = &input.shape;
    let layers = &input.stretch.layers;
    let [bore, outside, _] = layers.on();
    let done = Pair {
        inner: shape.radius - bore,
        outer: shape.radius + shape.thickness + outside,
    };
    // A start is what is machined: with all metal for finishing in it.
    let [early, ..] = layers.before();
    let bore = match input.stretch.start {
        Some(Start::Bore(bore)) => bore / 2.0 + early,
        Some(Start::Strain(strain)) => done.inner / (1.0 + strain) + early,
        None => done.inner,
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
    let [_, _, faces] = given.layers.on();
    let [bore, outside, early] = given.layers.before();
    let wide = shape.width + 2.0 * faces;
    let width = |kinematics| {
        before(input, kinematics).map_or(wide, |(_, state)| wide * state.across) + 2.0 * early
    };
    let mean_strain = libm::log(1.0 / state.lambda);
    let (inner, outer) = (state.pair.inner, state.pair.outer);
    Some(Small {
        bore: 2.0 * (inner - bore),
        outside: 2.0 * (outer + outside),
        thickness: outer - inner + bore + outside,
        width: wide * state.across + 2.0 * early,
        widths: (width(Kinematics::Held), width(Kinematics::Free)),
        start: 2.0 * inner,
        crown: 2.0 * state.carried(&done, shape.radius + shape.thickness),
        size: 2.0 * shape.radius,
        strain: stretch(done.inner, inner),
        mean_strain,
        mandrel: (given.start.is_some())
            .then(|| given.whole.spring(mean_strain))
            .flatten()
            .map(|spring| 2.0 * done.inner * (1.0 + spring)),
    })
}
