//! How far results may be off: every `±` of the recipe carried through to each result.
//!
//! Each written `±` is one variable. For each, the kernel runs twice, with every field that uses it moved
//! by its share to either end; the worst case adds up what each variable does at its worse end, the
//! standard deviation adds squares, each `±` taken as the half width of a rectangular distribution
//! (divided by the root of 3, as the Guide to the Expression of Uncertainty in Measurement does for bounds).

use crate::quantity::{Deviation, Number};
use crate::source::Span;

use super::evaluation::Evaluation;
use super::figures::{Figures, figures};
use super::input::{Input, density_deviations, deviations};

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

/// How far one figure of an evaluation may be off; nothing where no `±` is written.
#[must_use]
pub fn spread(
    evaluation: &Evaluation,
    read: &dyn Fn(&Input, &Figures) -> Option<f64>,
) -> Option<Spread> {
    let moves = moves(evaluation, read)?;
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
    read: &dyn Fn(&Input, &Figures) -> Option<f64>,
) -> Vec<Deviation> {
    let moves = moves(evaluation, read).unwrap_or_default();
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

/// How one figure moves when each variable goes to its lower and its upper end.
fn moves(
    evaluation: &Evaluation,
    read: &dyn Fn(&Input, &Figures) -> Option<f64>,
) -> Option<Vec<(Span, f64, f64)>> {
    let band = &evaluation.band;
    let parts = band
        .hollow
        .iter()
        .flat_map(|hollow| [&hollow.shell.alloy, &hollow.sleeve_metal.alloy]);
    let alloys = std::iter::once(&band.alloy).chain(parts);
    let mut variables: Vec<Span> = band
        .fields
        .iter()
        .flat_map(|field| deviations(&field.value))
        .chain(alloys.flat_map(|alloy| density_deviations(&alloy.density)))
        .map(|deviation| deviation.variable)
        .collect();
    variables.sort_unstable();
    variables.dedup();
    if variables.is_empty() {
        return None;
    }
    let nominal = read(&evaluation.input, &evaluation.figures)?;
    variables
        .into_iter()
        .map(|variable| {
            let moved = |sign: f64| {
                let input = moved(evaluation, variable, sign);
                read(&input, &figures(&input)).map(|value| value - nominal)
            };
            Some((variable, moved(-1.0)?, moved(1.0)?))
        })
        .collect()
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
    Input::read(
        &evaluation.band,
        &|field, nominal| nominal + share(deviations(&field.value)),
        &|density, deviations| density + share(deviations),
    )
}
