//! One band evaluated: its figures, what falls short, what must be said.

use std::sync::Arc;

use crate::finding::Finding;
use crate::geometry::{self, NamedWall};
use crate::model::{Band, BandResults, Value};
use crate::quantity::{Number, Quantity, unit};

use super::cautions::{Caution, cautions};
use super::error::thin_walls;
use super::figures::{Figures, figures};
use super::input::Input;
use super::results::ResultEntry;
use super::spread::{shares, spread};

/// A band with everything that is computed of it.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// The band.
    pub band: Arc<Band>,
    /// What the kernel was given.
    pub input: Input,
    /// What it computed.
    pub figures: Figures,
    /// Limits that fall short.
    pub limits: Vec<Finding>,
    /// Cautions whose trigger is in the recipe.
    pub cautions: Vec<&'static Caution>,
}

/// Evaluates a band.
///
/// # Errors
/// What makes it impossible, each finding with the value that would just fit.
pub fn evaluate(band: &Arc<Band>) -> Result<Evaluation, Vec<Finding>> {
    let impossible = geometry::check(band);
    if !impossible.is_empty() {
        return Err(impossible);
    }
    let input = Input::of(band);
    let figures = figures(&input);
    let cautions = cautions(band);
    let mut evaluation = Evaluation {
        band: Arc::clone(band),
        input,
        figures,
        limits: Vec::new(),
        cautions,
    };
    let thin = thin_walls(&evaluation);
    evaluation.limits = thin.into_iter().map(Finding::from).collect();
    Ok(evaluation)
}

impl Evaluation {
    /// A result as a quantity in base units.
    #[must_use]
    pub fn result(&self, entry: &ResultEntry) -> Option<Quantity> {
        let number = entry.number(self)?;
        let number = match (number, unit::scale(entry.unit)) {
            (Number::Exact(value), Ok(scale)) => Number::Exact(scale.to_base(value)?),
            (Number::Computed(value), Ok(scale)) => {
                let one = scale
                    .of_base(Number::Computed(1.0))
                    .map_or(1.0, Number::to_f64);
                Number::Computed(value / one)
            }
            (number, Err(_)) => number,
        };
        let scale = unit::scale(entry.unit).ok();
        let one = scale
            .and_then(|scale| scale.of_base(Number::Computed(1.0)))
            .map_or(1.0, Number::to_f64);
        let mut quantity = Quantity::new(number, entry.dimension);
        for share in shares(self, &entry.computed) {
            quantity = quantity.deviating(
                share.variable,
                Number::Computed(share.amount.to_f64() / one),
            );
        }
        Some(quantity)
    }

    /// A result as a value with the unit that it is read in.
    #[must_use]
    pub fn value(&self, entry: &ResultEntry) -> Option<Value> {
        let unit = (!entry.unit.is_empty()).then(|| entry.unit.to_owned());
        self.result(entry)
            .map(|quantity| Value::Quantity { quantity, unit })
    }

    /// Every wall, and how much thinner it may be in the worst case.
    #[must_use]
    pub fn walls(&self) -> Vec<(NamedWall, f64)> {
        let walls = self.figures.bodies.walls();
        let worst = |name: &str| {
            let read = |_: &Input, figures: &Figures| {
                figures
                    .bodies
                    .walls()
                    .iter()
                    .find(|wall| wall.name == name)
                    .map(|wall| wall.thickness)
            };
            spread(self, &read).map_or(0.0, |spread| -spread.low)
        };
        walls
            .into_iter()
            .map(|wall| (wall, worst(wall.name)))
            .collect()
    }

    /// What a result is computed by and from.
    #[must_use]
    pub fn formula(&self, entry: &ResultEntry) -> (&'static str, &'static [&'static str]) {
        match entry.hollow {
            Some(hollow) if self.band.hollow.is_some() => hollow,
            _ => (entry.formula, entry.needs),
        }
    }
}

/// Results of bands, for fields and `let`s that refer to them.
pub struct Results;

impl BandResults for Results {
    fn matching(&self, path: &str) -> Vec<&'static str> {
        super::results::matching(path)
            .into_iter()
            .map(|entry| entry.path)
            .collect()
    }

    fn value(&self, band: &Arc<Band>, path: &str) -> Option<Value> {
        let evaluation = evaluate(band).ok()?;
        evaluation.value(super::results::find(path)?)
    }

    fn possible(&self, band: &Arc<Band>) -> bool {
        geometry::check(band).is_empty()
    }
}
