//! A finished hollow ring worked back to its parts as machined: what catches must pass, and what grows is taken off.

use crate::kernel::Input;
use crate::kernel::section::{Catch, Curves, Hollow};

use super::grip::{Fit, Press};
use super::input::StretchInput;
use super::kinematics::{Carried, Kinematics, Pair};
use super::root::root;
use super::sections::fit_of;

/// Radii of the ring when it is opened, metal that is taken off last still on; mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Finished {
    /// The sleeve's surfaces.
    pub sleeve: Pair,
    /// Ridge top; the floor where the shell has lips, or nothing catches.
    pub catch: f64,
    /// The shell's surfaces.
    pub shell: Pair,
    /// The lips, where it has some.
    lip: Option<f64>,
    /// The bore at the side faces.
    pub edge: f64,
}

/// Sleeve and shell as machined, as states of the finished ones.
#[derive(Clone, Copy, Debug)]
pub(super) struct Back {
    /// The ring when it is opened.
    pub done: Finished,
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
        let [bore, outside, _] = input.stretch.layers.on();
        let floor = shape.radius + hollow.sleeve;
        let (ridge, lip) = match hollow.catch {
            Catch::Ridge { height, .. } => (height, None),
            Catch::Lip { height, .. } => (0.0, Some(floor - height)),
            Catch::None => (0.0, None),
        };
        Self {
            sleeve: Pair {
                inner: shape.radius - bore,
                outer: floor,
            },
            catch: floor + ridge,
            shell: Pair {
                inner: shape.radius + hollow.foot(),
                outer: shape.radius + shape.thickness + outside,
            },
            lip,
            edge: shape.radius - bore + shape.comfort,
        }
    }

    /// The same ring with its feet at another radius: above the floor where the parts spring free of each other.
    fn with_feet(&self, foot: f64) -> Self {
        Self {
            shell: Pair {
                inner: foot,
                ..self.shell
            },
            ..*self
        }
    }

    /// What catches the sleeve: the foot, or the lips.
    pub fn passes(&self) -> f64 {
        self.lip.unwrap_or(self.shell.inner)
    }

    /// The parts as machined, for a shell whose feet are machined to the radius `foot`.
    pub fn back(&self, foot: f64, entry: f64, kinematics: Kinematics) -> Option<Back> {
        let shell = if foot >= self.shell.inner {
            self.shell.stretched(1.0, kinematics)
        } else {
            self.shell.until(self.shell.inner, foot, kinematics)?
        };
        let passes = shell.carried(&self.shell, self.passes());
        let wanted = passes - entry / 2.0;
        let sleeve = if wanted >= self.catch {
            // It passes as it is.
            self.sleeve.stretched(1.0, kinematics)
        } else {
            self.sleeve.until(self.catch, wanted, kinematics)?
        };
        Some(Back {
            done: *self,
            sleeve,
            shell,
            passes,
        })
    }
}

impl Back {
    /// True strains of sleeve and shell from as machined.
    pub fn strains(&self) -> (f64, f64) {
        (
            -libm::log(self.sleeve.lambda),
            -libm::log(self.shell.lambda),
        )
    }
}

/// The shell's surfaces when finished, and its state before it is opened with the sleeve; `None` where it is not
/// opened.
pub(super) fn shell_before(input: &Input) -> Option<(Pair, Carried)> {
    let hollow = input.shape.hollow?;
    let given = &input.stretch;
    given.past.filter(|_| !given.turning)?;
    let finished = Finished::of(input, &hollow);
    let fit = fit_of(input, &Curves::of(&input.shape), &hollow);
    let (_, back) = machined_feet(&finished, given, fit.as_ref())?;
    Some((back.done.shell, back.shell))
}

/// The radius that the shell's feet are machined to, so that the ring opened as stated comes to its size, and the
/// parts then: what the shell grows by is taken off, and what the parts spring free of each other by is the shell's.
pub(super) fn machined_feet(
    finished: &Finished,
    given: &StretchInput,
    fit: Option<&Fit>,
) -> Option<(f64, Back)> {
    let done = finished.shell.inner;
    let plain = || Some((done, finished.back(done, given.entry, given.kinematics)?));
    let past = given.past.filter(|_| !given.turning).map(|past| past / 2.0);
    let Some((past, fit)) = past.zip(fit) else {
        return plain();
    };
    let floor = finished.sleeve.outer;
    let state = |machined: f64| -> Option<(Press, Back)> {
        let mut foot = done.max(machined);
        let mut found = None;
        for _ in 0..30 {
            let ring = finished.with_feet(foot);
            let back = ring.back(machined, given.entry, given.kinematics)?;
            let press = fit.opened(machined, past, back.strains());
            // Feet that do not grow are as machined.
            let comes_to = press.foot.max(machined);
            let settled = (comes_to - foot).abs() < 1e-14;
            foot = comes_to;
            found = Some((press, back));
            if settled {
                break;
            }
        }
        found
    };
    let miss = |machined: f64| state(machined).map_or(f64::NAN, |(press, _)| press.floor - floor);
    let low = floor - 1.01 * past - 1e-6;
    let mut reach = 1e-3;
    while reach < 0.3 {
        if let Some(machined) = root(miss, low, floor * (1.0 + reach)) {
            let (press, _) = state(machined)?;
            // What the ring comes to is its size to the last digit.
            let foot = if press.gap() > 0.0 {
                press.foot.max(machined)
            } else {
                floor
            };
            let back = finished
                .with_feet(foot)
                .back(machined, given.entry, given.kinematics)?;
            return Some((machined, back));
        }
        reach *= 4.0;
    }
    plain()
}
