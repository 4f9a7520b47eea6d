//! Parts as machined, opened together: each flow stress at the strain that lasts, which depends on the opening.

use std::cell::Cell;

use super::grip::{Fit, Press};
use super::kinematics::{Carried, Kinematics, Pair};
use super::root::{root, root_near};

/// Both parts as machined, and what they are made of; radii, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Together {
    /// Their sections and metals.
    pub fit: Fit,
    /// The sleeve's surfaces as machined.
    pub sleeve: Pair,
    /// The shell's surfaces as machined.
    pub shell: Pair,
    /// Thickness of the sleeve at mid width, metal for finishing that is still on included.
    pub middle: f64,
    /// How the width behaves.
    pub kinematics: Kinematics,
}

/// Steps in which a strain and the opening that it follows from settle; each gains some three figures.
const STEPS: usize = 30;

impl Together {
    fn strain(&self, pair: &Pair, surface: f64, comes_to: f64) -> f64 {
        if comes_to <= surface {
            return 0.0;
        }
        pair.until(surface, comes_to, self.kinematics)
            .map_or(0.0, |state| libm::log(state.lambda).max(0.0))
    }

    /// Both opened by `past` (radial) past touch and released.
    #[must_use]
    pub fn press(&self, past: f64) -> Press {
        Presses::of(self).at(past)
    }

    /// Both opened and released, where floor and feet last as `comes_to`.
    fn lasting(&self, past: f64, comes_to: (f64, f64)) -> Press {
        let machined = self.shell.inner;
        let strains = (
            self.strain(&self.sleeve, self.sleeve.outer, comes_to.0),
            self.strain(&self.shell, machined, comes_to.1),
        );
        self.fit.opened(machined, past, strains)
    }

    /// The radial opening past touch at which the shell yields.
    #[must_use]
    pub fn yields_at(&self) -> Option<f64> {
        let machined = self.shell.inner;
        let presses = Presses::of(self);
        let over = |past: f64| {
            let strain = self.strain(&self.shell, machined, presses.at(past).foot);
            self.fit.over_yield(machined, past, strain)
        };
        root_near(over, self.fit.yields_about(machined), 0.0, machined / 4.0)
    }

    /// The radial openings past touch between which it grips and the shell does not yield yet.
    #[must_use]
    pub fn window(&self) -> Option<(f64, f64)> {
        let to = self.yields_at()?;
        let presses = Presses::of(self);
        let pressure = |past: f64| presses.at(past).on_release;
        // A hair below, since beyond it another branch begins.
        if pressure(to * (1.0 - 1e-10)) <= 0.0 {
            return None;
        }
        Some((root(pressure, 0.0, to)?, to))
    }

    /// The least yield of the shell with which it would grip before it yields; `None` where none does.
    #[must_use]
    pub fn shell_yield_needed(&self) -> Option<f64> {
        let now = self.fit.shell_flow.at(0.0);
        let best = |yields: f64| {
            let stronger = Self {
                fit: self.fit.with_shell(yields),
                ..*self
            };
            let to = stronger.yields_at();
            to.map_or(-1.0, |to| stronger.press(to).on_release)
        };
        root(best, now, 20.0 * now)
    }

    /// Opening of the mandrel under load at touch, a diameter.
    #[must_use]
    pub fn touch(&self) -> f64 {
        2.0 * (self.shell.inner - self.middle)
    }

    /// Opening of the mandrel under load, a diameter, that leaves the sleeve in a state after release.
    ///
    /// # Formula
    /// Before touch `bore (1 + flow stress / E)`, from touch on `2 (r_c - s)`.
    #[must_use]
    pub fn mandrel(&self, state: &Carried) -> f64 {
        let strain = libm::log(state.lambda).max(0.0);
        let spring = self.fit.sleeve_flow.at(strain) / self.fit.sleeve_modulus;
        let free = 2.0 * state.pair.inner * (1.0 + spring);
        let touch = self.touch();
        if free <= touch {
            return free;
        }
        let wanted = state.pair.outer;
        let presses = Presses::of(self);
        let miss = |past: f64| presses.at(past).floor - wanted;
        let short = -miss(0.0);
        if short <= 0.0 {
            return touch;
        }
        root_near(miss, short, 0.0, 0.5).map_or(free, |past| touch + 2.0 * past)
    }
}

/// Openings looked at one after the other, each settled from where the last one did.
struct Presses<'a> {
    together: &'a Together,
    /// The last opening, and what floor and feet came to.
    last: Cell<(f64, f64, f64)>,
}

impl<'a> Presses<'a> {
    fn of(together: &'a Together) -> Self {
        let machined = together.shell.inner;
        Self {
            together,
            last: Cell::new((0.0, machined, machined)),
        }
    }

    fn at(&self, past: f64) -> Press {
        let past = past.max(0.0);
        let (before, floor, foot) = self.last.get();
        let (mut floor, mut foot) = (floor + past - before, foot);
        let mut press = self.together.lasting(past, (floor, foot));
        for _ in 1..STEPS {
            let moved = (press.floor - floor).abs() + (press.foot - foot).abs();
            (floor, foot) = (press.floor, press.foot);
            if moved < 1e-13 {
                break;
            }
            press = self.together.lasting(past, (floor, foot));
        }
        self.last.set((past, floor, foot));
        press
    }
}
