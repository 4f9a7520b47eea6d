//! `B meets UK 750`, judged: the claim against the band's parts, by the rulebook's own tests.

use std::borrow::Cow;

use crate::evaluate::{Evaluation, Verdict};
use crate::finding::Finding;
use crate::fineness::{Claim, FinenessShortfall, Portion, Ruling, judge};
use crate::model::{Meets, ModelError};
use crate::words::fineness::{self as words, Judged};

use super::Outcome;

impl Outcome {
    /// Fills in the verdict of a rule that a band is to meet.
    pub(super) fn meets(&self, meets: &Meets, verdict: &mut Verdict, findings: &mut Vec<Finding>) {
        // A band that could not be evaluated was reported as such.
        let band = self.evaluation(&meets.band.value);
        if let Some(problem) = band.and_then(|band| judged(band, meets, verdict)) {
            findings.push(problem);
        }
    }
}

/// The verdict on one band, and what is wrong with the claim or keeps it from a verdict.
fn judged(band: &Evaluation, meets: &Meets, verdict: &mut Verdict) -> Option<Finding> {
    let book = band.band.marking.rulebook(&meets.book.value)?;
    let asked = band.rules_asked(&meets.book.value)?;
    let rules = &asked.rules;
    let (article, judgement) = match &meets.part {
        None => (
            Cow::Borrowed(band.article()),
            Cow::Borrowed(&asked.judgement),
        ),
        Some(part) => {
            let portion = Portion::of(part);
            let Some(alone) = portion.and_then(|portion| band.article().alone(portion)) else {
                return Some(no_part(meets, part, &band.band.name).into());
            };
            let judgement = judge(&alone, rules, None);
            (Cow::Owned(alone), Cow::Owned(judgement))
        }
    };
    let judged = |judgement| Judged {
        judgement,
        book,
        article: &article,
    };
    let problem = |shortfall, judgement| {
        let judged = judged(judgement);
        words::problem(shortfall, verdict.at, meets, &judged, rules).map(Finding::from)
    };
    let claim = match Claim::of(meets, book, rules, &article) {
        Ok(claim) => claim,
        // Whatever is claimed, there is no verdict.
        Err(_) if rules.silent => None,
        Err(shortfall) => return problem(shortfall, &judgement),
    };
    let judgement = match &claim {
        Some(claim) => Cow::Owned(judgement.against(claim, &article, rules)),
        None => judgement,
    };
    let open = judgement.ruling == Ruling::Open;
    let problem = open.then(|| problem(FinenessShortfall::NoVerdict, &judgement));
    let said = match claim {
        Some(_) => words::claimed(meets),
        None => "any mark".to_owned(),
    };
    verdict.holds = judgement.passes();
    verdict.found = words::found(&judged(&judgement), &said);
    verdict.margin = words::margin(&judgement);
    problem.flatten()
}

fn no_part(meets: &Meets, part: &str, band: &str) -> ModelError {
    ModelError::UnknownName {
        at: meets.band.span,
        name: part.to_owned(),
        kind: "the part",
        help: format!("`{band}` is solid: it has neither shell nor sleeve"),
        nearest: None,
    }
}
