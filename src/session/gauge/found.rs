//! What comes out of readings of a ring: bands that fit, what is left open, what contradicts.

use crate::evaluate::RangeBy;
use crate::source::Span;

use super::hand::InHand;

/// What comes out of readings.
#[derive(Clone, Debug, Default)]
pub struct Gauged {
    /// What was measured.
    pub measured: Vec<InHand>,
    /// What follows from it, in words.
    pub says: Vec<String>,
    /// Bands that fit.
    pub fits: Vec<GaugedFit>,
    /// What is left open: more unknowns than readings.
    pub open: Vec<GaugedOpen>,
    /// What cannot hold together.
    pub clashes: Vec<GaugedClash>,
    /// All of it as a recipe.
    pub recipe: String,
}

/// A band that fits readings.
#[derive(Clone, Debug)]
pub struct GaugedFit {
    /// Its name.
    pub band: String,
    /// Its metal.
    pub alloy: String,
    /// The number that the weight settles, where there is one.
    pub sought: Option<SoughtNumber>,
    /// What is assumed of it, and what else is to be said.
    pub remarks: Vec<String>,
    /// Its text, with what it needs of its own.
    pub text: String,
    /// What it weighs, g.
    pub grams: f64,
}

/// A number that the weight settles, in mm or as a part.
#[derive(Clone, Debug)]
pub struct SoughtNumber {
    /// Its path.
    pub path: &'static str,
    /// With all as read.
    pub value: f64,
    /// At least.
    pub low: f64,
    /// At most.
    pub high: f64,
    /// How the range is known.
    pub way: RangeBy,
}

/// More unknowns than one reading settles.
#[derive(Clone, Debug)]
pub struct GaugedOpen {
    /// What it is about.
    pub what: String,
    /// The unknowns, by path or word.
    pub unknowns: Vec<String>,
    /// What one would be for some values of the other.
    pub rows: Vec<String>,
    /// What measurement would tell.
    pub tell: String,
}

/// Readings that cannot hold together.
#[derive(Clone, Debug)]
pub struct GaugedClash {
    /// What contradicts, in one sentence.
    pub message: String,
    /// The readings, by their words, with what each would have to be if all others hold.
    pub each: Vec<(String, String)>,
    /// Where they stand.
    pub places: Vec<Span>,
}
