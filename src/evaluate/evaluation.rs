//! One band evaluated: its figures, what falls short, what must be said.

use std::sync::Arc;

use crate::finding::Finding;
use crate::geometry;
use crate::model::Band;
use crate::quantity::{Number, Quantity, unit};

use super::cautions::{Caution, cautions};
use super::error::thin_walls;
use super::figures::{Figures, figures};
use super::input::Input;
use super::results::ResultEntry;
use super::spread::spread;

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
    let worst =
        spread(&evaluation, |figures| Some(figures.wall_least)).map_or(0.0, |spread| -spread.low);
    let thin = thin_walls(band, &evaluation.input, &evaluation.figures, worst);
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
        Some(Quantity::new(number, entry.dimension))
    }
}
