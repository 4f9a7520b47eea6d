//! A finished hollow ring worked back to its parts as machined: what catches must pass, and what grows is taken off.

use crate::kernel::Input;
use crate::kernel::section::{Body, Catch, Hollow, Slices, area, slices};

use super::grip::Fit;
use super::input::StretchInput;
use super::kinematics::{Carried, Kinematics, Pair};
use super::root::root;
use super::thinned::Thinned;

/// Radii of the finished ring, mm.
#[derive(Clone, Copy)]
pub(super) struct Finished {
    /// The sleeve's surfaces.
    pub sleeve: Pair,
    /// Ridge top; the floor where the shell has lips, or nothing catches.
    pub catch: f64,
    /// The shell's surfaces.
    pub shell: Pair,
    /// Below the foot: how far the lips reach.
    lip: f64,
    /// The bore at the side faces.
    pub edge: f64,
}

/// Sleeve and shell as machined, as states of the finished ones.
#[derive(Clone, Copy)]
pub(super) struct Back {
    /// The sleeve.
    pub sleeve: Carried,
    /// The shell.
    pub shell: Carried,
    /// What catches the sleeve: foot or lip, radius as machined.
    pub passes: f64,
}

impl Finished {
    pub fn of(input: &Input, hollow: &Hollow) -> Self {
        let shape = &input.shape;
        let floor = shape.radius + hollow.sleeve;
        let (ridge, lip) = match hollow.catch {
            Catch::Ridge { height, .. } => (height, 0.0),
            // Lips reach down from the floor; where the ring turns, the foot stands higher by half the play.
            Catch::Lip { height, .. } => (0.0, height + hollow.play / 2.0),
            Catch::None => (0.0, 0.0),
        };
        Self {
            sleeve: Pair {
                inner: shape.radius,
                outer: floor,
            },
            catch: floor + ridge,
            shell: Pair {
                inner: shape.radius + hollow.foot(),
                outer: shape.radius + shape.thickness,
            },
            lip,
            edge: shape.radius + shape.comfort,
        }
    }

    /// The parts as machined, for a shell whose feet are machined to the radius `foot`.
    pub fn back(&self, foot: f64, entry: f64, kinematics: Kinematics) -> Option<Back> {
        let shell = if foot >= self.shell.inner {
            self.shell.stretched(1.0, kinematics)
        } else {
            self.shell.until(self.shell.inner, foot, kinematics)?
        };
        let passes = shell.carried(&self.shell, self.shell.inner - self.lip);
        let wanted = passes - entry / 2.0;
        let sleeve = if wanted >= self.catch {
            // It passes as it is.
            self.sleeve.stretched(1.0, kinematics)
        } else {
            self.sleeve.until(self.catch, wanted, kinematics)?
        };
        Some(Back {
            sleeve,
            shell,
            passes,
        })
    }
}

/// The shell's surfaces when finished, and its state before it is opened with the sleeve; `None` where it is not
/// opened.
pub(super) fn shell_before(input: &Input) -> Option<(Pair, Carried)> {
    let hollow = input.shape.hollow?;
    let given = &input.stretch;
    let past = given.past.filter(|past| *past > 0.0 && !given.turning)?;
    let finished = Finished::of(input, &hollow);
    let sections = Sections::of(input, &hollow);
    let fit = |foot: f64, back: &Back| sections.fit(input, &finished, foot, back);
    let foot = machined_foot(&finished, given, Some(past / 2.0), fit);
    let back = finished.back(foot, given.entry, given.kinematics)?;
    Some((finished.shell, back.shell))
}

/// The radius that the shell's feet are machined to: what it grows by when both are opened is taken off.
pub(super) fn machined_foot(
    finished: &Finished,
    given: &StretchInput,
    past: Option<f64>,
    fit: impl Fn(f64, &Back) -> Option<Fit>,
) -> f64 {
    let done = finished.shell.inner;
    let Some(past) = past.filter(|past| *past > 0.0) else {
        return done;
    };
    let released = |foot: f64| {
        let back = finished.back(foot, given.entry, given.kinematics)?;
        Some(fit(foot, &back)?.opened(past).released.max(foot))
    };
    let miss = |foot: f64| released(foot).unwrap_or(done) - done;
    root(miss, done - 1.01 * past, done).unwrap_or(done)
}

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
    /// The thinnest section and the harmonic mean over the uncut one, where drawn cuts say them.
    shares: Option<(f64, f64)>,
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
            shares: input.drawn_shares(),
        }
    }

    /// The shell under its pattern.
    pub fn thinned(&self, input: &Input, finished: &Finished, back: &Back) -> Thinned {
        Thinned {
            radius: input.shape.radius,
            depth: self.depth,
            cut: (input.stretch.cut_before && back.shell.lambda < 1.0)
                .then_some((finished.shell, back.shell)),
            share: self.shares.map(|(least, _)| least),
        }
    }

    /// Sleeve in shell, for feet machined to the radius `foot`.
    pub fn fit(&self, input: &Input, finished: &Finished, foot: f64, back: &Back) -> Option<Fit> {
        let given = &input.stretch;
        let (sleeve, shell) = (&given.sleeve, &given.shell);
        let thick = finished.shell.outer - finished.shell.inner;
        let filled =
            self.thinned(input, finished, back).area(&self.shell) / (input.shape.width * thick);
        Some(Fit {
            contact: foot,
            sleeve: self.sleeve / self.sleeve_width,
            shell: thick,
            filled,
            evened: match self.shares {
                Some((least, harmonic)) if least > 0.0 => filled * harmonic / least,
                _ => filled,
            },
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
