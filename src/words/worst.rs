//! What falls short somewhere in the ranges of what may be off, in words: the same sentence, and where it lies.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, Severity};
use thiserror::Error;

use crate::evaluate::{Evaluation, Worst};
use crate::finding::{Finding, Identity, Problem, Weight};
use crate::kernel::ThinWall;
use crate::model::{Ranged, Value, check};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::FieldId;
use crate::source::Span;

use super::length::apart;
use super::repointed::Repointed;
use super::told::{finding, of_band};

/// A limit that holds as written, and not everywhere in the ranges.
#[derive(Debug, Error)]
#[error("at worst, {message}")]
struct AtWorst {
    message: String,
    help: String,
    /// What is said of the band that it is at worst.
    inner: Finding,
}

impl Diagnostic for AtWorst {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.inner.problem().code()
    }

    fn severity(&self) -> Option<Severity> {
        Some(Severity::Warning)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(&self.help))
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        self.inner.problem().labels()
    }
}

impl Problem for AtWorst {}

/// What falls short at worst; none for what would only be worth knowing.
pub(super) fn told(evaluation: &Evaluation, worst: &Worst) -> Option<Finding> {
    let inner = finding(&worst.band, &worst.shortfall)?;
    if inner.weight() < Weight::Short {
        return None;
    }
    let places = stood(evaluation, &worst.point);
    let help = match inner.help() {
        Some(help) => format!("it holds as written, and not where {places}; there, {help}"),
        None => format!("it holds as written, and not where {places}"),
    };
    let identity = Identity {
        field: Some(worst.shortfall.field().path()),
        ..of_band(&evaluation.band)
    };
    let at_worst = AtWorst {
        message: inner.message(),
        help,
        inner,
    };
    Some(Finding::from(at_worst).of(identity))
}

/// A wall that falls short where something is off: the same, and where that is.
pub(super) fn of_wall(evaluation: &Evaluation, thin: &ThinWall, said: Finding) -> Finding {
    let places = stood(evaluation, &evaluation.thinnest(thin.wall.id));
    let holds = thin.wall.thickness >= thin.limit;
    let lead = match holds {
        true => format!("it holds as written, and not where {places}"),
        false => format!("at worst, where {places}"),
    };
    let help = match said.help() {
        Some(help) => format!("{lead}; {help}"),
        None => lead,
    };
    Repointed::helped(said, help)
}

/// Where inputs stand at once, in words: those that are off, no more than a few of them.
fn stood(evaluation: &Evaluation, point: &[(Span, f64)]) -> String {
    let inputs = evaluation.inputs();
    let places = inputs.iter().filter_map(|input| {
        let (_, t) = point
            .iter()
            .find(|(variable, _)| *variable == input.variable)?;
        Some(stands(input, *t))
    });
    let mut places: Vec<String> = places.collect();
    let more = places.len().saturating_sub(MOST);
    if more > 1 {
        places.truncate(MOST);
        places.push(format!("{more} others are off too"));
    }
    places.join(" and ")
}

/// Inputs that are told at most.
const MOST: usize = 6;

/// A number at a place of its range: `b.width is 4.98 mm`.
#[must_use]
pub fn stands(input: &Ranged, t: f64) -> String {
    // A run-out is itself what is off: as written there is none.
    let is_run_out = input.field == Some(FieldId::ShopToleranceRunOut);
    let (nominal, number) = match is_run_out {
        true => (0.0, t.abs() * input.amount),
        false => (input.nominal, input.nominal + t * input.amount),
    };
    let number = (number * 1e9).round() / 1e9;
    if input.dimension == Dimension::LENGTH && matches!(input.unit.as_deref(), None | Some("mm")) {
        let [_, there] = apart([nominal, number]);
        return format!("`{}` is {there} mm", input.path);
    }
    let quantity = Quantity::new(Number::Computed(number), input.dimension);
    let value = Value::Quantity {
        quantity,
        unit: input.unit.clone(),
    };
    let shown = check::shown(&value);
    format!(
        "`{}` is {}",
        input.path,
        shown.trim_start_matches("\u{2248} ")
    )
}
