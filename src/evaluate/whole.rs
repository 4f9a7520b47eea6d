//! A band evaluated whole: figures first, then every limit that it does not keep, in the order in which it is judged.

use std::sync::Arc;

use crate::fineness;
use crate::kernel::section::Curves;
use crate::kernel::{self, thin_walls};
use crate::model::{Band, BandResults, Value};
use crate::schema::ResultId;

use super::cautions::cautions;
use super::evaluation::{Evaluation, possible, stated_of};
use super::of_band::shape_of;
use super::shortfall::{Barred, Shortfall, short};

/// Evaluates a band.
///
/// # Errors
/// What makes it impossible.
pub fn evaluate(band: &Arc<Band>) -> Result<Evaluation, Barred> {
    let mut evaluation = possible(band)?;
    let judged = evaluation.walls();
    let written = |field| band.field(field).is_some_and(|field| field.at.is_some());
    let thin = thin_walls(&evaluation.input, &judged, &written);
    let thin = thin.map(kernel::Shortfall::ThinWall);
    let mut shortfalls: Vec<Shortfall> = thin.map(Shortfall::Metal).collect();
    let told = kernel::cuts_told(&evaluation.input).into_iter();
    shortfalls.extend(told.map(|told| Shortfall::Metal(kernel::Shortfall::Cut(told))));
    shortfalls.extend(evaluation.of_money());
    shortfalls.extend(fineness::restricted(band).map(Shortfall::Fineness));
    let tag = fineness::overstated(band, || evaluation.fineness("ISO"));
    shortfalls.extend(tag.map(Shortfall::Fineness));
    let (input, figures) = (&evaluation.input, &evaluation.figures);
    shortfalls.extend(short(input, figures, || evaluation.stretch()));
    let contradicted = evaluation.contradicted().into_iter();
    shortfalls.extend(contradicted.map(Shortfall::Weighed));
    evaluation.cautions = cautions(band, &shortfalls);
    evaluation.shortfalls = shortfalls;
    Ok(evaluation)
}

impl Evaluation {
    /// Whether a band that was evaluated without its limits keeps them: as [`evaluate`] judges, but for what would mend
    /// what falls short.
    #[must_use]
    pub fn keeps(&self) -> bool {
        let (input, figures) = (&self.input, &self.figures);
        let band = &self.band;
        !kernel::is_thin(input, &self.walls())
            && kernel::cuts_told(input).is_empty()
            && self.of_money().is_empty()
            && fineness::restricted(band).next().is_none()
            && fineness::overstated(band, || self.fineness("ISO")).is_none()
            && short(input, figures, || self.stretch()).is_empty()
            && self.contradicted().is_empty()
            && self.worst().is_empty()
    }
}

/// Results of bands, for fields and `let`s that refer to them.
pub struct Results;

impl BandResults for Results {
    fn value(&self, band: &Arc<Band>, id: ResultId) -> Option<Value> {
        evaluate(band).ok()?.value(id.row())
    }

    fn possible(&self, band: &Arc<Band>) -> bool {
        kernel::possible(&Curves::of(&shape_of(band)), &stated_of(band))
    }
}
