//! Sections that grip is estimated from: of the sleeve, and of the shell under its pattern.

use crate::kernel::section::{Body, Catch, Hollow, Slices, area, slices};

use super::grip::Fit;
use super::hollow::{Back, Finished};
use super::thinned::Thinned;
use crate::kernel::Input;

/// Sections that grip is estimated from; mm, mm2.
pub(super) struct Sections {
    /// The sleeve.
    pub sleeve: f64,
    /// How wide it is.
    pub sleeve_width: f64,
    /// The shell, uncut.
    pub shell: Slices,
    /// What the pattern takes off it.
    depth: f64,
}

impl Sections {
    /// Those of a finished band.
    pub fn of(input: &Input, hollow: &Hollow) -> Self {
        let shape = &input.shape;
        Self {
            sleeve: area(&slices(shape, Body::Sleeve, 0.0)),
            sleeve_width: match hollow.catch {
                Catch::Lip { wide, play, .. } => shape.width - 2.0 * wide - play,
                _ => shape.width,
            },
            shell: slices(shape, Body::Shell, 0.0),
            depth: shape.cut.map_or(0.0, |cut| cut.depth),
        }
    }

    /// The shell under its pattern.
    pub fn thinned(&self, input: &Input, finished: &Finished, back: &Back) -> Thinned {
        Thinned {
            radius: input.shape.radius,
            depth: self.depth,
            cut: (input.stretch.cut_before && back.shell.lambda < 1.0)
                .then_some((finished.shell, back.shell)),
        }
    }

    /// Sleeve in shell, for feet machined to the radius `foot`.
    pub fn fit(&self, input: &Input, finished: &Finished, foot: f64, back: &Back) -> Option<Fit> {
        let given = &input.stretch;
        let (sleeve, shell) = (&given.sleeve, &given.shell);
        let thick = finished.shell.outer - finished.shell.inner;
        Some(Fit {
            contact: foot,
            sleeve: self.sleeve / self.sleeve_width,
            shell: thick,
            filled: area(&self.thinned(input, finished, back).finished(&self.shell))
                / (input.shape.width * thick),
            width: self.sleeve_width,
            sleeve_flow: sleeve.flow(-libm::log(back.sleeve.lambda))?,
            shell_flow: shell.flow(-libm::log(back.shell.lambda))?,
            sleeve_modulus: sleeve.modulus?,
            shell_modulus: shell.modulus?,
            sleeve_contraction: sleeve.contraction(),
            shell_contraction: shell.contraction(),
            friction: given.friction,
        })
    }
}
