//! What falls short somewhere in the ranges of what may be off, in words: the same sentence, and where it lies.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, Severity};
use thiserror::Error;

use crate::evaluate::{Evaluation, Worst};
use crate::finding::{Finding, Identity, Problem, Weight};
use crate::model::{Ranged, Value, check};
use crate::quantity::{Dimension, Number, Quantity};

use super::length::apart;
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
    let inputs = evaluation.inputs();
    let places = inputs.iter().filter_map(|input| {
        let mut point = worst.point.iter();
        let (_, t) = point.find(|(variable, _)| *variable == input.variable)?;
        Some(stands(input, *t))
    });
    let places: Vec<String> = places.collect();
    // They stand so at once.
    let places = places.join(" and ");
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

/// A number at a place of its range: `b.width is 4.98 mm`.
#[must_use]
pub fn stands(input: &Ranged, t: f64) -> String {
    let number = ((input.nominal + t * input.amount) * 1e9).round() / 1e9;
    if input.dimension == Dimension::LENGTH && matches!(input.unit.as_deref(), None | Some("mm")) {
        let [_, there] = apart([input.nominal, number]);
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
