//! A band of the readings worked out as any recipe is.

use crate::evaluate::Evaluation;
use crate::finding::{Finding, Weight};
use crate::source::Span;

use super::super::{Library, Request, Session};
use super::text::Composed;

/// A band worked out, or what is wrong with it, said of the readings.
pub(super) fn worked(
    session: &mut Session,
    library: &mut dyn Library,
    before: &str,
    composed: &Composed,
    (name, otherwise): (&str, Span),
) -> Result<Box<Evaluation>, Vec<Finding>> {
    let mut whole = Composed::of(before);
    whole.append(composed);
    let prepared = session.prepare("the ring in the hand", &whole.text, library);
    let outcome = session.outcome(&prepared, &Request::default());
    let wrong = outcome
        .findings
        .iter()
        .filter(|one| one.weight() == Weight::Wrong);
    let source = session.sources.get(prepared.id).cloned();
    if let Some(evaluation) = outcome.evaluation(name)
        && wrong.clone().next().is_none()
    {
        return Ok(Box::new(evaluation.clone()));
    }
    let told = wrong.filter_map(|one| Some(whole.repointed(one, source.as_ref()?, otherwise)));
    Err(told.collect())
}
