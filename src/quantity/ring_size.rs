//! Ring sizes: exact designations in a named system, and what they measure.
//!
//! A system is a straight line: so many millimetres of circumference, or of diameter, a step. The
//! designation stays an exact fraction; circumference and diameter follow from it. The systems
//! themselves are data of `catalogue`.

use std::f64::consts::PI;
use std::fmt;

use num_rational::Rational64;
use rust_decimal::Decimal;

use super::Number;

/// Steps of a system, exact.
pub type Steps = Rational64;

/// A measure of a ring's inside, exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Inside circumference, in mm.
    Circumference(Rational64),
    /// Inside diameter, in mm.
    Diameter(Rational64),
}

impl Measure {
    /// As a circumference in mm.
    #[must_use]
    pub fn circumference(self) -> f64 {
        match self {
            Self::Circumference(value) => float(value),
            Self::Diameter(value) => float(value) * PI,
        }
    }
}

/// The straight line of a system: what designation `at` measures, and what one step adds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Law {
    /// The designation of the anchor, in steps from the system's zero.
    pub at: Steps,
    /// What it measures.
    pub anchor: Measure,
    /// What one step adds.
    pub step: Measure,
}

/// An inside circumference in mm, as an exact number where the system allows it.
pub type Circumference = Number;

impl Law {
    /// Inside circumference of a designation, in mm.
    #[must_use]
    pub fn circumference(&self, at: Steps) -> Circumference {
        let steps = at - self.at;
        if let (Measure::Circumference(anchor), Measure::Circumference(step)) =
            (self.anchor, self.step)
            && let Some(exact) = decimal(anchor + steps * step)
        {
            return Number::Exact(exact);
        }
        Number::Computed(self.anchor.circumference() + float(steps) * self.step.circumference())
    }

    /// Inside diameter of a designation, in mm.
    #[must_use]
    pub fn diameter(&self, at: Steps) -> f64 {
        let steps = at - self.at;
        match (self.anchor, self.step) {
            (Measure::Diameter(anchor), Measure::Diameter(step)) => float(anchor + steps * step),
            _ => self.circumference(at).to_f64() / PI,
        }
    }

    /// The designation of a circumference in mm, between the steps.
    #[must_use]
    pub fn designation(&self, circumference: f64) -> f64 {
        float(self.at) + (circumference - self.anchor.circumference()) / self.step.circumference()
    }
}

/// A system of ring sizes, as the catalogue gives it.
#[derive(Clone, Debug)]
pub struct System {
    /// The word that recipes use, in capitals.
    pub word: String,
    /// What it is.
    pub name: String,
    /// Its line.
    pub law: Law,
    /// Whether designations are letters (A is 0).
    pub letters: bool,
    /// The finest step in use.
    pub grain: Steps,
    /// The smallest designation.
    pub lowest: Steps,
    /// The largest designation.
    pub highest: Steps,
}

/// A size: a system and a designation in it.
#[derive(Clone, Copy, Debug)]
pub struct RingSize {
    /// The system.
    pub system: &'static System,
    /// The designation.
    pub at: Steps,
}

impl PartialEq for RingSize {
    fn eq(&self, other: &Self) -> bool {
        self.system.word == other.system.word && self.at == other.at
    }
}

/// Why a designation names no size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeError {
    /// It is not how the system writes sizes.
    Form,
    /// It lies between the system's steps; the nearest ones are given.
    Between(Steps, Steps),
    /// It lies outside the system's range.
    Range,
}

impl RingSize {
    /// Reads a designation.
    ///
    /// # Errors
    /// [`SizeError`], with the nearest sizes where there are any.
    pub fn read(system: &'static System, designation: &str) -> Result<Self, SizeError> {
        let at = if system.letters {
            letters(designation)
        } else {
            numbers(designation)
        }
        .ok_or(SizeError::Form)?;
        Self::at(system, at)
    }

    /// A size by its place on the system's line.
    ///
    /// # Errors
    /// [`SizeError::Between`] and [`SizeError::Range`].
    pub fn at(system: &'static System, at: Steps) -> Result<Self, SizeError> {
        if at < system.lowest || at > system.highest {
            return Err(SizeError::Range);
        }
        let steps = divided(at, system.grain);
        if !steps.is_some_and(|steps| steps.is_integer()) {
            // Parts too small to count in the system's grain lie between whole sizes.
            let grain = steps.map_or(Rational64::from_integer(1), |_| system.grain);
            let below = steps.unwrap_or(at).floor();
            return Err(SizeError::Between(below * grain, (below + 1) * grain));
        }
        Ok(Self { system, at })
    }

    /// The size of a system nearest to a circumference (in mm), halves upwards; none outside its range.
    #[must_use]
    pub fn nearest(system: &'static System, circumference: f64) -> Option<Self> {
        let grain = float(system.grain);
        let steps = (system.law.designation(circumference) / grain + 0.5 + ROUNDING).floor();
        let at = Rational64::from_integer(steps as i64) * system.grain;
        (at >= system.lowest && at <= system.highest).then_some(Self { system, at })
    }

    /// So many steps further.
    ///
    /// # Errors
    /// [`SizeError::Between`] and [`SizeError::Range`].
    pub fn stepped(self, steps: Steps) -> Result<Self, SizeError> {
        let at = sum(self.at, steps).ok_or(SizeError::Range)?;
        Self::at(self.system, at)
    }

    /// Inside circumference, in mm.
    #[must_use]
    pub fn circumference(&self) -> Circumference {
        self.system.law.circumference(self.at)
    }

    /// Inside diameter, in mm.
    #[must_use]
    pub fn diameter(&self) -> f64 {
        self.system.law.diameter(self.at)
    }

    /// The designation without its system word.
    #[must_use]
    pub fn designation(&self) -> String {
        designated(self.system, self.at)
    }
}

/// Binary rounding must not turn a half into less than a half.
const ROUNDING: f64 = 1e-9;

impl fmt::Display for RingSize {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} {}", self.system.word, self.designation())
    }
}

/// How a system writes a place on its line.
#[must_use]
pub fn designated(system: &System, at: Steps) -> String {
    let whole = at.floor().to_integer();
    let part = at - at.floor();
    let fraction = if *part.numer() == 0 {
        String::new()
    } else {
        format!(" {part}")
    };
    if !system.letters {
        return match (whole, fraction.is_empty()) {
            (0, false) => part.to_string(),
            _ => format!("{whole}{fraction}"),
        };
    }
    let letter = u8::try_from(whole.clamp(0, 25)).map_or('?', |place| char::from(b'A' + place));
    match whole - 25 {
        past @ 1.. => format!("{letter}+{past}{fraction}"),
        _ => format!("{letter}{fraction}"),
    }
}

/// `7`, `7.5`, `7 1/2`, `7½`, `1/2`.
fn numbers(text: &str) -> Option<Steps> {
    let mut total = Rational64::from_integer(0);
    let (digits, vulgar) = split_vulgar(text);
    total += vulgar;
    for part in digits.split_whitespace() {
        total = sum(total, fraction(part)?)?;
    }
    Some(total)
}

/// `N`, `N 1/2`, `N.5`, `Z+3`, `Z+3.5`, `Z+3 1/2`, `Z+1/2`.
fn letters(text: &str) -> Option<Steps> {
    let mut characters = text.chars();
    let letter = characters.next().filter(char::is_ascii_uppercase)?;
    let rest = characters.as_str().trim_start();
    let (past, rest) = match rest.strip_prefix('+') {
        Some(rest) if letter == 'Z' => (true, rest),
        Some(_) => return None,
        None => (false, rest),
    };
    let rest = if rest.starts_with('.') {
        format!("0{rest}")
    } else {
        rest.to_owned()
    };
    let beyond = numbers(&rest)?;
    if !past && beyond >= Rational64::from_integer(1) {
        return None;
    }
    let letter = i64::from(u32::from(letter) - u32::from('A'));
    sum(Rational64::from_integer(letter), beyond)
}

fn split_vulgar(text: &str) -> (&str, Rational64) {
    let vulgars = [('\u{BC}', (1, 4)), ('\u{BD}', (1, 2)), ('\u{BE}', (3, 4))];
    for (sign, (above, below)) in vulgars {
        if let Some(rest) = text.strip_suffix(sign) {
            return (rest, Rational64::new(above, below));
        }
    }
    (text, Rational64::from_integer(0))
}

/// A whole number and a fraction; the denominator is not zero.
#[must_use]
pub fn mixed(whole: u32, numerator: u32, denominator: u32) -> Option<Steps> {
    let part = Rational64::new(numerator.into(), denominator.into());
    sum(Rational64::from_integer(whole.into()), part)
}

/// Reads `3`, `3.25` or `1/3`, exactly.
#[must_use]
pub fn fraction(text: &str) -> Option<Rational64> {
    if let Some((above, below)) = text.split_once('/') {
        let (above, below): (i64, i64) = (above.parse().ok()?, below.parse().ok()?);
        return (below != 0).then(|| Rational64::new(above, below));
    }
    let value = Decimal::from_str_exact(text).ok()?.normalize();
    let below = 10_i64.checked_pow(value.scale())?;
    Some(Rational64::new(
        i64::try_from(value.mantissa()).ok()?,
        below,
    ))
}

/// A sum, where its parts can be counted in 64 bits; any number may stand in a recipe.
fn sum(left: Rational64, right: Rational64) -> Option<Rational64> {
    let (left, right) = (wide(left), wide(right));
    let (above, below) = (left.0 * right.1 + right.0 * left.1, left.1 * right.1);
    narrow(above, below)
}

/// A quotient, likewise; the divisor is not zero.
fn divided(left: Rational64, right: Rational64) -> Option<Rational64> {
    let (left, right) = (wide(left), wide(right));
    narrow(left.0 * right.1, left.1 * right.0)
}

fn wide(value: Rational64) -> (i128, i128) {
    (i128::from(*value.numer()), i128::from(*value.denom()))
}

fn narrow(above: i128, below: i128) -> Option<Rational64> {
    let reduced = num_rational::Ratio::new(above, below);
    let above = i64::try_from(*reduced.numer()).ok()?;
    let below = i64::try_from(*reduced.denom()).ok()?;
    Some(Rational64::new(above, below))
}

fn float(value: Rational64) -> f64 {
    *value.numer() as f64 / *value.denom() as f64
}

/// The decimal of a fraction whose denominator has no factors but 2 and 5.
fn decimal(value: Rational64) -> Option<Decimal> {
    let mut below = *value.denom();
    for prime in [2, 5] {
        while below % prime == 0 {
            below /= prime;
        }
    }
    (below == 1)
        .then(|| Decimal::from(*value.numer()).checked_div(Decimal::from(*value.denom())))?
}
