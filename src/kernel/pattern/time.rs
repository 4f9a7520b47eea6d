//! How long does a cut take on the machine, and what is missing where that cannot be said?
//!
//! # Formula
//! `passes * length / feed + plunges * (depth + lift) / plunge` (`pattern.md`, Time), in minutes.

use super::results::Way;

/// A number written with decimals, exactly: `digits / 10^scale`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrittenLength {
    /// All its digits as a whole number.
    pub digits: i128,
    /// How many of them stand behind the point.
    pub scale: u32,
}

/// What the machine is told of a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speeds {
    /// Along a groove, mm a minute.
    pub feed: Option<f64>,
    /// Into the metal, mm a minute.
    pub plunge: Option<f64>,
    /// Between cuts, mm a minute; not stated, the way between is not counted.
    pub rapid: Option<f64>,
    /// How far it is lifted over the outside, mm.
    pub lift: f64,
    /// How often a groove is gone along.
    pub passes: u32,
}

/// What is not stated and would be needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpeedMissing {
    /// The cutter's feed.
    Feed,
    /// The cutter's plunge.
    Plunge,
    /// The pocket's step-over.
    StepOver,
}

/// Passes for a depth at so much a pass, rounded up on the exact decimals; 1 where none is stated.
///
/// None where a figure is not above 0 or too long to be compared.
///
/// # Example
/// ```
/// use annulet::kernel::pattern::{WrittenLength, passes};
/// let mm = |digits| WrittenLength { digits, scale: 2 };
/// assert_eq!(passes(mm(30), Some(mm(15))), Some(2));
/// assert_eq!(passes(mm(31), Some(mm(15))), Some(3));
/// ```
#[must_use]
pub fn passes(depth: WrittenLength, pass: Option<WrittenLength>) -> Option<u32> {
    let Some(pass) = pass else { return Some(1) };
    let scale = depth.scale.max(pass.scale);
    let whole = |number: WrittenLength| {
        number
            .digits
            .checked_mul(10_i128.checked_pow(scale - number.scale)?)
    };
    let (depth, pass) = (whole(depth)?, whole(pass)?);
    if depth <= 0 || pass <= 0 {
        return None;
    }
    u32::try_from(depth / pass + i128::from(depth % pass != 0)).ok()
}

/// Minutes that one cut takes right round the band, without travel between cuts.
///
/// # Errors
/// What is missing. A feed is asked for only where something is gone along, a plunge where something is gone into.
pub fn minutes(way: &Way, speeds: &Speeds) -> Result<f64, SpeedMissing> {
    let clearing = way.clearing.ok_or(SpeedMissing::StepOver)?;
    let length = way.length + clearing;
    let mut sum = 0.0;
    if length > 0.0 {
        sum += f64::from(speeds.passes) * length / speeds.feed.ok_or(SpeedMissing::Feed)?;
    }
    if way.plunges > 0 {
        sum += way.plunges as f64 * (way.depth + speeds.lift)
            / speeds.plunge.ok_or(SpeedMissing::Plunge)?;
    }
    Ok(sum)
}

/// Minutes of travel between the lines of one cut, one after the other right round, where `rapid` is stated.
#[must_use]
pub fn travel(layout: &super::laid::Layout, cut: usize, speeds: &Speeds) -> f64 {
    let Some(rapid) = speeds.rapid else {
        return 0.0;
    };
    let strokes = layout.strokes.iter().filter(|stroke| stroke.cut == cut);
    let ends = strokes.map(|stroke| (stroke.from.at, stroke.end().at));
    let facets = layout.facets.iter().filter(|facet| facet.cut == cut);
    let facets = facets
        .map(|facet| super::stroke::StripPlace {
            u: facet.u,
            v: facet.row,
        })
        .map(|at| (at, at));
    let pockets = layout.pockets.iter().filter(|pocket| pocket.cut == cut);
    let starts = pockets
        .flat_map(|pocket| pocket.loops.iter())
        .filter_map(|round| round.first());
    let all: Vec<_> = ends
        .chain(facets)
        .chain(starts.map(|at| (*at, *at)))
        .collect();
    let between = all
        .windows(2)
        .filter_map(|two| Some(two.first()?.1.to(two.last()?.0)));
    let mut way: f64 = between.sum();
    // On to the next span.
    if let (Some(first), Some(last)) = (all.first(), all.last()) {
        let next = super::stroke::StripPlace {
            u: first.0.u + layout.length,
            v: first.0.v,
        };
        way += last.1.to(next);
    }
    way * f64::from(layout.spans) / rapid
}
