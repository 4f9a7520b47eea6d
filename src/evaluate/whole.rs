//! A band evaluated whole: figures first, then every limit that it does not keep, in the order in which it is judged.

use std::cell::Cell;
use std::iter::once_with;
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

thread_local! {
    static JUDGED: Cell<u64> = const { Cell::new(0) };
}

/// How many bands this thread has evaluated with their limits since it began: what tells what a change costs, whatever
/// the machine.
///
/// # Example
/// ```
/// use annulet::evaluate::bands_judged;
/// assert_eq!(bands_judged(), 0);
/// ```
#[must_use]
pub fn bands_judged() -> u64 {
    JUDGED.get()
}

/// Evaluates a band.
///
/// # Errors
/// What makes it impossible.
pub fn evaluate(band: &Arc<Band>) -> Result<Evaluation, Barred> {
    JUDGED.set(JUDGED.get() + 1);
    let mut evaluation = possible(band)?;
    let judged = evaluation.walls();
    let written = |field| band.field(field).is_some_and(|field| field.at.is_some());
    let thin = thin_walls(&evaluation.input, &judged, &written);
    let thin = thin.map(kernel::KernelShortfall::ThinWall);
    let mut shortfalls: Vec<Shortfall> = thin.map(Shortfall::Metal).collect();
    shortfalls.extend(evaluation.beside_walls());
    evaluation.cautions = cautions(band, &shortfalls);
    evaluation.shortfalls = shortfalls;
    Ok(evaluation)
}

impl Evaluation {
    /// What falls short beside its walls, in the order in which it is judged; each kind is judged when it is come to.
    fn beside_walls(&self) -> impl Iterator<Item = Shortfall> + '_ {
        let cuts = once_with(|| kernel::cuts_told(&self.input)).flatten();
        let cuts = cuts.map(|told| Shortfall::Metal(kernel::KernelShortfall::Cut(told)));
        let money = once_with(|| self.of_money()).flatten();
        let restricted = once_with(|| fineness::restricted(&self.band)).flatten();
        let tag = once_with(|| fineness::overstated(&self.band, || self.fineness("ISO"))).flatten();
        let join = once_with(|| short(&self.input, &self.figures, || self.stretch())).flatten();
        let weighed = once_with(|| self.contradicted()).flatten();
        cuts.chain(money)
            .chain(restricted.chain(tag).map(Shortfall::Fineness))
            .chain(join)
            .chain(weighed.map(Shortfall::Weighed))
    }

    /// Whether a band that was evaluated without its limits keeps them: as [`evaluate`] judges, but for what would mend
    /// a thin wall.
    #[must_use]
    pub fn keeps(&self) -> bool {
        !kernel::is_thin(&self.input, &self.walls())
            && self.beside_walls().next().is_none()
            && self.worst().is_empty()
    }

    /// By how much a band falls short of its limits, all of them together and each as a part of what is wanted; nothing where it
    /// [keeps](Self::keeps) them.
    #[must_use]
    pub fn missing(&self) -> f64 {
        let part = |short: &Shortfall| {
            let both = short.found().zip(short.wanted());
            let of = both.map_or(1.0, |(found, wanted)| {
                let (found, wanted) = (found.to_f64(), wanted.to_f64());
                (found - wanted).abs() / wanted.abs().max(1e-3)
            });
            // However little it is, it falls short.
            of.max(LEAST_SHORT)
        };
        let walls: f64 = kernel::thin_by(&self.input, &self.walls()).sum();
        let beside: f64 = self.beside_walls().map(|short| part(&short)).sum();
        let worst = self.worst().iter().map(|one| part(&one.shortfall));
        walls + beside + worst.sum::<f64>()
    }
}

/// What something that falls short is short of at least, as a part of what is wanted.
const LEAST_SHORT: f64 = 1e-7;

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
