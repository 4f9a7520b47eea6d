//! How far results may be off: every `±` of the recipe carried through to each result.
//!
//! Each written `±` is one variable. For each, the kernel runs twice, with every field that uses it moved
//! by its share to either end, once for all results; the worst case adds up what each variable does at its worse end, the
//! standard deviation adds squares, each `±` taken as the half width of a rectangular distribution
//! (divided by the root of 3, as the Guide to the Expression of Uncertainty in Measurement does for bounds).

use crate::quantity::{Deviation, Number, to_f64};
use crate::schema::ResultRow;
use crate::source::Span;

use super::ends::{at_end, prices, variables};
use super::evaluation::{Ends, Evaluation};
use super::results::{computed, exact};

/// How far a result may be off.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// The lowest value in the worst case, as a difference from the nominal one (0 or less).
    pub low: f64,
    /// The highest value in the worst case, as a difference from the nominal one (0 or more).
    pub high: f64,
    /// Standard deviation.
    pub deviation: f64,
}

/// How far a result may be off; nothing where no `±` is written. Money and issued metal are computed anew at
/// either end of each `±`, those of prices included.
#[must_use]
pub fn spread_of(evaluation: &Evaluation, entry: &ResultRow) -> Option<Spread> {
    summed(moves_of(evaluation, entry)?)
}

/// What each written `±` does to a result, as [`shares`].
#[must_use]
pub fn shares_of(evaluation: &Evaluation, entry: &ResultRow) -> Vec<Deviation> {
    halved(moves_of(evaluation, entry).unwrap_or_default())
}

fn moves_of(evaluation: &Evaluation, entry: &ResultRow) -> Option<Vec<(Span, f64, f64)>> {
    let read = |of: &Evaluation| computed(entry.id, of);
    if read(evaluation).is_some() {
        return moves(evaluation, &read);
    }
    let ends = evaluation.ends();
    if ends.is_empty() {
        return None;
    }
    let read = |of: &Evaluation| exact(entry.id, of).map(to_f64);
    let nominal = read(evaluation)?;
    let moved = |ends: &Ends| {
        let (low, high) = (read(&ends.low)?, read(&ends.high)?);
        Some((ends.variable, low - nominal, high - nominal))
    };
    ends.iter().map(moved).collect()
}

/// How far one figure of an evaluation may be off; nothing where no `±` is written.
#[must_use]
pub fn spread(
    evaluation: &Evaluation,
    read: &dyn Fn(&Evaluation) -> Option<f64>,
) -> Option<Spread> {
    summed(moves(evaluation, read)?)
}

fn summed(moves: Vec<(Span, f64, f64)>) -> Option<Spread> {
    let mut spread = Spread::default();
    let mut squares = 0.0;
    for (_, below, above) in moves {
        spread.low += below.min(above).min(0.0);
        spread.high += below.max(above).max(0.0);
        let half = below.abs().max(above.abs());
        squares += half * half / 3.0;
    }
    spread.deviation = squares.sqrt();
    Some(spread)
}

/// The least that a figure of several bands together comes to, every `±` of theirs at its worse end; one that several
/// share, as that of a price, moves all of them at once. None where no `±` is written, or nothing is read.
#[must_use]
pub fn least_together(
    bands: &[&Evaluation],
    read: &dyn Fn(&[Evaluation]) -> Option<f64>,
) -> Option<f64> {
    let each = bands.iter();
    let mut all: Vec<Span> = each.flat_map(|one| variables(one, &prices(one))).collect();
    all.sort_unstable();
    all.dedup();
    if all.is_empty() {
        return None;
    }
    let as_written: Vec<Evaluation> = bands.iter().map(|one| (*one).clone()).collect();
    let nominal = read(&as_written)?;
    all.into_iter().try_fold(nominal, |least, variable| {
        let at = |sign: f64| {
            let moved = bands.iter().map(|one| at_end(one, variable, sign));
            Some(read(&moved.collect::<Vec<_>>())? - nominal)
        };
        Some(least + at(-1.0)?.min(at(1.0)?).min(0.0))
    })
}

/// What each written `±` does to one figure: the variable, and how far half its range to either side moves
/// the figure.
#[must_use]
pub fn shares(
    evaluation: &Evaluation,
    read: &dyn Fn(&Evaluation) -> Option<f64>,
) -> Vec<Deviation> {
    halved(moves(evaluation, read).unwrap_or_default())
}

fn halved(moves: Vec<(Span, f64, f64)>) -> Vec<Deviation> {
    moves
        .into_iter()
        .filter(|(_, below, above)| *below != 0.0 || *above != 0.0)
        .map(|(variable, below, above)| {
            let half = below.abs().max(above.abs());
            Deviation {
                variable,
                amount: Number::Computed(if above < below { -half } else { half }),
            }
        })
        .collect()
}

/// What a solver leaves in the last digits, of a figure or of one.
const NOISE: f64 = 1e-12;

/// How one figure moves when each variable goes to its lower and its upper end.
fn moves(
    evaluation: &Evaluation,
    read: &dyn Fn(&Evaluation) -> Option<f64>,
) -> Option<Vec<(Span, f64, f64)>> {
    // Prices move no figure of the metal.
    let variables = variables(evaluation, &[]);
    if variables.is_empty() {
        return None;
    }
    let nominal = read(evaluation)?;
    let by = |end: &Evaluation| {
        let by = read(end)? - nominal;
        // What a solver leaves in the last digits is no deviation.
        Some(if by.abs() > NOISE * nominal.abs().max(1.0) {
            by
        } else {
            0.0
        })
    };
    let ends = evaluation.ends().iter();
    ends.filter(|ends| variables.contains(&ends.variable))
        .map(|ends| Some((ends.variable, by(&ends.low)?, by(&ends.high)?)))
        .collect()
}
