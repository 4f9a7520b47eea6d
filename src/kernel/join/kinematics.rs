//! How a ring's radii and width change when it is stretched: volume stays, the width follows or is held.
//!
//! Two surfaces of a part carry its stretch `lambda`, taken on their mean; every other radius follows.

use super::root::root;

/// How the width behaves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Kinematics {
    /// A thin ring in hoop tension: `lambda_z = 1 / sqrt(lambda)`.
    #[default]
    Free,
    /// The width is kept: `lambda_z = 1`.
    Held,
}

impl Kinematics {
    /// By how much the width changes when the ring is stretched by `lambda`.
    #[must_use]
    pub fn across(self, lambda: f64) -> f64 {
        match self {
            Self::Free => 1.0 / lambda.sqrt(),
            Self::Held => 1.0,
        }
    }
}

/// Stretch below this is what solving leaves in the last digits, not stretch.
const NOISE: f64 = 1e-12;

/// The stretch of a radius or diameter, of one: 0 where nothing but the last digits moved.
#[must_use]
pub fn stretch(now: f64, before: f64) -> f64 {
    let stretch = now / before - 1.0;
    if stretch.abs() < NOISE { 0.0 } else { stretch }
}

/// The two surfaces of a part that its stretch is taken on; radii, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The inner one.
    pub inner: f64,
    /// The outer one.
    pub outer: f64,
}

/// A part in another state: its surfaces, and how it came there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// Its surfaces.
    pub pair: Pair,
    /// Stretch from the state it was told in; under 1 goes back.
    pub lambda: f64,
    /// What the width is multiplied by.
    pub across: f64,
}

impl Pair {
    /// The pair stretched by `lambda` (under 1: before it was stretched).
    ///
    /// # Formula
    /// `r^2 - r_i^2 = (r0^2 - r_i0^2) / lambda_z` on both surfaces and `lambda = (r_i + r_o) / (r_i0 + r_o0)` give
    /// the sum `S = lambda S0` and the thickness `t = t0 / (lambda lambda_z)`.
    #[must_use]
    pub fn stretched(&self, lambda: f64, kinematics: Kinematics) -> Carried {
        // What is not stretched stays as it is, to the last digit.
        if (lambda - 1.0).abs() < NOISE {
            return Carried {
                pair: *self,
                lambda: 1.0,
                across: 1.0,
            };
        }
        let across = kinematics.across(lambda);
        let sum = (self.inner + self.outer) * lambda;
        let thickness = (self.outer - self.inner) / (lambda * across);
        Carried {
            pair: Self {
                inner: (sum - thickness) / 2.0,
                outer: (sum + thickness) / 2.0,
            },
            lambda,
            across,
        }
    }

    /// The state in which a material radius of this one comes to `wanted`.
    ///
    /// # Formula
    /// Newton's rule on the square of that radius, which is all but straight in the stretch; where it leaves the range,
    /// the interval about the stretch of that radius alone, widened until it holds the root.
    ///
    /// # Range
    /// Stretches by up to a factor of 4 either way; `None` beyond.
    #[must_use]
    pub fn until(&self, radius: f64, wanted: f64, kinematics: Kinematics) -> Option<Carried> {
        if stretch(wanted, radius) == 0.0 {
            return Some(self.stretched(1.0, kinematics));
        }
        let lambda = self
            .near(radius, wanted, kinematics)
            .or_else(|| self.sought(radius, wanted, kinematics))?;
        Some(self.stretched(lambda, kinematics))
    }

    /// The stretch by Newton's rule; `None` where it does not settle at once.
    fn near(&self, radius: f64, wanted: f64, kinematics: Kinematics) -> Option<f64> {
        let (sum, thickness) = (self.inner + self.outer, self.outer - self.inner);
        let beyond = radius * radius - self.inner * self.inner;
        let mut lambda = wanted / radius;
        for _ in 0..8 {
            // The thickness and what lies beyond the inner surface go with powers of the stretch.
            let (thin, wide, power) = match kinematics {
                Kinematics::Free => {
                    let root = lambda.sqrt();
                    (1.0 / root, root, 0.5)
                }
                Kinematics::Held => (1.0 / lambda, 1.0, 0.0),
            };
            let thinner = thickness * thin;
            let inner = (sum * lambda - thinner) / 2.0;
            let square = inner * inner + beyond * wide;
            let slope =
                inner * (sum + (1.0 - power) * thinner / lambda) + power * beyond * wide / lambda;
            let step = (wanted * wanted - square) / slope;
            lambda += step;
            if !(0.25..=4.0).contains(&lambda) || square <= 0.0 {
                return None;
            }
            if step.abs() <= 2.0 * f64::EPSILON * lambda {
                return Some(lambda);
            }
        }
        None
    }

    /// The stretch between ends that are widened until they hold it.
    fn sought(&self, radius: f64, wanted: f64, kinematics: Kinematics) -> Option<f64> {
        let miss = |lambda: f64| {
            let state = self.stretched(lambda, kinematics);
            state.carried(self, radius) - wanted
        };
        // The stretch of that radius alone is close; widen from there.
        let guess = wanted / radius;
        let mut reach = 0.01;
        while reach < 4.0 {
            let ends = [guess / (1.0 + reach), guess * (1.0 + reach)];
            let [low, high] = ends.map(|end| end.clamp(0.25, 4.0));
            if let Some(lambda) = root(miss, low, high) {
                return Some(lambda);
            }
            reach *= 2.0;
        }
        None
    }
}

impl Carried {
    /// Where a material radius of the first state, whose pair is `from`, lies in this one.
    #[must_use]
    pub fn carried(&self, from: &Pair, radius: f64) -> f64 {
        let beyond = (radius * radius - from.inner * from.inner) / self.across;
        let square = self.pair.inner * self.pair.inner + beyond;
        // A radius that would lie beyond the axis has no place; its sign says which way it is off.
        square.signum() * square.abs().sqrt()
    }
}
