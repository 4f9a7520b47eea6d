//! One band over many sizes, each as if it stood in the recipe.

use crate::evaluate::stopped;
use crate::explore::{Keep, Kept, SizeRow, SizeRun, sizes};
use crate::finding::{Finding, settle};
use crate::model::{ModelError, check};
use crate::source::Span;
use crate::suggest::{nearest, of_bands};
use crate::syntax;

use super::question::{Results, choose};
use super::{Outcome, Prepared, Request, Session};

impl Session {
    /// A band in every size that a text means, such as `ISO 48 .. ISO 62 by 2`; the only band, or the chosen one,
    /// where none is named. Of its pattern stays the same what is asked, one row for each; else what the pattern says.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn size_run(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        band: Option<&str>,
        (text, keeps): (&str, &[Keep]),
    ) -> (Option<SizeRun>, Vec<Finding>) {
        let id = self.sources.add("--sizes", text);
        let mut findings = Vec::new();
        let Some(source) = self.sources.get(id) else {
            return (None, findings);
        };
        let parsed = syntax::parse_query(source);
        findings.extend(parsed.findings);
        let Some(expr) = parsed.value.filter(|_| findings.is_empty()) else {
            return (None, findings);
        };
        let mut scope = Results { outcome };
        let Some(sizes) = sizes(&expr, &mut scope, &mut findings) else {
            return (None, findings);
        };
        let names: Vec<String> = outcome
            .recipe
            .names
            .iter()
            .map(|one| one.name.clone())
            .collect();
        let wanted = band.or(request.band.as_deref());
        let Some(band) = choose(&names, wanted, "size", expr.span, &mut findings) else {
            return (None, findings);
        };
        if !outcome.recipe.is_band(&band) {
            findings.push(unknown(&band, &names, expr.span).into());
            return (None, findings);
        }
        let mut rows = Vec::new();
        for size in sizes.iter().map(check::written) {
            if stopped() {
                break;
            }
            let asked: Vec<Option<Keep>> = match keeps {
                [] => vec![None],
                some => some.iter().copied().map(Some).collect(),
            };
            for keep in asked {
                let (evaluation, mut problems) =
                    self.in_size(prepared, request, outcome, (&band, &size), keep);
                settle(&mut problems);
                let own = outcome.evaluation(&band);
                rows.push(SizeRow {
                    size: size.clone(),
                    kept: keep.map(|keep| Kept::of(keep, own, evaluation.as_ref())),
                    evaluation,
                    problems,
                });
            }
        }
        (Some(SizeRun::of(&band, rows)), findings)
    }
}

/// A band that the recipe does not have.
fn unknown(band: &str, names: &[String], at: Span) -> ModelError {
    let known = || names.iter().map(String::as_str);
    let near = nearest(band, known()).map(str::to_owned);
    ModelError::UnknownName {
        at,
        name: band.to_owned(),
        kind: "the band",
        help: of_bands(near.as_deref(), known()),
        nearest: None,
    }
}
