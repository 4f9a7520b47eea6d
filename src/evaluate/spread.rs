//! How far results may be off: every `±` of the recipe carried through to each result.
//!
//! Each written `±` is one variable. For each, the kernel runs twice, with every field that uses it moved
//! by its share to either end, once for all results; the worst case adds up what each variable does at its worse end, the
//! standard deviation adds squares, each `±` taken as the half width of a rectangular distribution
//! (divided by the root of 3, as the Guide to the Expression of Uncertainty in Measurement does for bounds).

use crate::schema::ResultRow;
use std::sync::Arc;

use crate::kernel::{Input, figures};
use crate::model::Band;
use crate::model::money::Terms;
use crate::quantity::{Deviation, Number, from_f64, to_f64};
use crate::source::Span;

use super::deviations::{density_deviations, deviations};
use super::evaluation::Evaluation;
use super::join_input::temper_deviations;
use super::of_band;
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

/// An evaluation with one `±` at either end.
#[derive(Clone, Debug)]
pub(super) struct Ends {
    variable: Span,
    low: Evaluation,
    high: Evaluation,
}

/// An evaluation with each `±` at either end.
pub(super) fn ends(evaluation: &Evaluation) -> Vec<Ends> {
    let variables = variables(evaluation, &prices(evaluation));
    let at = |variable: Span| Ends {
        variable,
        low: at_end(evaluation, variable, -1.0),
        high: at_end(evaluation, variable, 1.0),
    };
    variables.into_iter().map(at).collect()
}

/// The amount of every `±` that an evaluation rests on.
pub(super) fn amounts(evaluation: &Evaluation) -> Vec<Number> {
    let terms = evaluation.band.terms.iter();
    let prices = terms.flat_map(|terms| &terms.money.prices.metals);
    let prices = prices.flat_map(|price| &price.deviations);
    let written = written(evaluation).chain(prices);
    written.map(|deviation| deviation.amount).collect()
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

/// An evaluation with one variable at one end.
pub(super) fn at_end(evaluation: &Evaluation, variable: Span, sign: f64) -> Evaluation {
    let input = moved(evaluation, variable, sign);
    let figures = figures(&input);
    let band = dearer(evaluation, variable, sign);
    evaluation.with(band, input, figures, (variable, sign))
}

/// Deviations of the prices of metal.
fn prices(evaluation: &Evaluation) -> Vec<Span> {
    let terms = evaluation.band.terms.iter();
    let prices = terms.flat_map(|terms| &terms.money.prices.metals);
    prices
        .flat_map(|price| &price.deviations)
        .map(|one| one.variable)
        .collect()
}

/// The band with the prices of metal at one end of a variable.
fn dearer(evaluation: &Evaluation, variable: Span, sign: f64) -> Arc<Band> {
    let band = &evaluation.band;
    let Some(terms) = band
        .terms
        .as_ref()
        .filter(|_| prices(evaluation).contains(&variable))
    else {
        return Arc::clone(band);
    };
    let mut money = (*terms.money).clone();
    for price in &mut money.prices.metals {
        let all = price
            .deviations
            .iter()
            .filter(|one| one.variable == variable);
        let by: f64 = all.map(|one| one.amount.to_f64() * sign).sum();
        let moved = from_f64(by).and_then(|by| price.by_gram.checked_add(by));
        price.by_gram = moved.unwrap_or(price.by_gram);
    }
    let terms = Terms {
        money: Arc::new(money),
        ..(**terms).clone()
    };
    Arc::new(Band {
        terms: Some(Arc::new(terms)),
        ..(**band).clone()
    })
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

/// Every `±` that a band rests on, and some more, each once.
fn variables(evaluation: &Evaluation, more: &[Span]) -> Vec<Span> {
    let mut variables: Vec<Span> = written(evaluation)
        .map(|deviation| deviation.variable)
        .chain(more.iter().copied())
        .collect();
    variables.sort_unstable();
    variables.dedup();
    variables
}

/// Every `±` of the band's fields and of its alloys.
fn written(evaluation: &Evaluation) -> impl Iterator<Item = &Deviation> {
    let band = &evaluation.band;
    let parts = band
        .hollow
        .iter()
        .flat_map(|hollow| [&hollow.shell, &hollow.sleeve])
        .map(|metal| (&metal.alloy, &metal.temper));
    let metals = std::iter::once((&band.alloy, &band.temper)).chain(parts);
    let of_metals = metals.flat_map(|(alloy, temper)| {
        density_deviations(&alloy.density)
            .iter()
            .chain(temper_deviations(alloy, temper))
    });
    let fields = band.fields.iter();
    fields
        .flat_map(|field| deviations(&field.value))
        .chain(of_metals)
}

/// The input with one variable at one end.
fn moved(evaluation: &Evaluation, variable: Span, sign: f64) -> Input {
    let share = |deviations: &[Deviation]| {
        deviations
            .iter()
            .filter(|one| one.variable == variable)
            .map(|one| one.amount.to_f64() * sign)
            .sum::<f64>()
    };
    of_band::read(
        &evaluation.band,
        &|field, nominal| nominal + share(deviations(&field.value)),
        &|density, deviations| density + share(deviations),
    )
}
