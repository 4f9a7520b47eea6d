//! `B meets UK 750`, judged: the claim against the band's parts, by the rulebook's own tests.

use rust_decimal::Decimal;

use crate::evaluate::Verdict;
use crate::evaluate::fineness::{Article, Claim, ClaimError, FinenessError, Judgement, judge};
use crate::finding::Finding;
use crate::model::Meets;

use super::Outcome;

impl Outcome {
    /// Fills in the verdict of a rule that a band is to meet.
    pub(super) fn meets(&self, meets: &Meets, verdict: &mut Verdict, findings: &mut Vec<Finding>) {
        let mut bands = self.evaluations.iter();
        // A band that could not be evaluated was reported as such.
        let Some(evaluation) = bands.find(|one| one.band.name == meets.band.value) else {
            return;
        };
        let Some(book) = evaluation.band.marking.rulebook(&meets.book.value) else {
            return;
        };
        let mut article = evaluation.article();
        let mut named = meets.band.value.clone();
        if let Some(part) = &meets.part {
            article.parts.retain(|one| one.name == *part);
            // A part alone is judged by its own metal.
            article.weight = article.parts.iter().map(|part| part.weight).sum();
            article.marked = None;
            named = format!("{named}.{part}");
            if article.parts.is_empty() {
                findings.push(no_part(meets, part, &evaluation.band.name).into());
                return;
            }
        }
        let claim = match Claim::of(meets, &book, &article) {
            Ok(claim) => claim,
            // Whatever is claimed, there is no verdict.
            Err(_) if book.silent.is_some() => None,
            Err(problem) => {
                findings.push(error(problem, &book.word, named).into());
                return;
            }
        };
        let judged = judge(&article, &book, claim.as_ref());
        verdict.holds = judged.passes;
        let said = claim
            .as_ref()
            .map_or("any mark", |claim| claim.said.as_str());
        verdict.found = found(&judged, said, &article);
        verdict.margin = judged.margin().map_or_else(String::new, |margin| {
            if margin.is_sign_negative() && !margin.is_zero() {
                format!("{} per thousand missing", short(-margin))
            } else if margin.is_zero() {
                "nothing to spare".to_owned()
            } else {
                format!("{} per thousand to spare", short(margin))
            }
        });
        if judged.passes.is_none() {
            let why = judged
                .undecided
                .first()
                .map_or("", |said| said.text.as_str());
            findings.push(
                FinenessError::NoVerdict {
                    at: verdict.at,
                    book: book.word.clone(),
                    band: named,
                    why: why.to_owned(),
                    help: format!(
                        "`annulet list rules {}` shows what was read; ask the assay office, which decides",
                        book.word
                    ),
                }
                .into(),
            );
        }
    }
}

/// An exact margin as a person reads it: thirds of a karat have no end.
fn short(margin: Decimal) -> String {
    let shown = margin.round_dp(6).normalize();
    let mark = if shown == margin { "" } else { "\u{2248} " };
    format!("{mark}{shown}")
}

/// What decides, in one line with its clause.
fn found(judged: &Judgement, said: &str, article: &Article) -> String {
    if let Some(refused) = judged.refused.first() {
        return format!("{} ({})", refused.text, refused.cite);
    }
    let Some(test) = judged.deciding() else {
        return "nothing could be tested".to_owned();
    };
    let allowed = if test.allowed.is_zero() {
        String::new()
    } else {
        format!(", {} allowed short", test.allowed.normalize())
    };
    let metal = judged.marks.first().map_or("", |mark| mark.metal.as_str());
    let best = match judged.best().filter(|_| judged.passes == Some(false)) {
        Some(best) => format!("; it may carry {metal} {}", best.normalize()),
        None => String::new(),
    };
    let part = article.parts.iter().find(|part| part.name == test.what);
    let known = match (&test.what, part.and_then(|part| part.assay.as_ref())) {
        (_, Some(assay)) if assay.note.is_empty() => "assayed".to_owned(),
        (_, Some(assay)) => format!("assayed {}", assay.note),
        (what, None) if what == "whole" && article.whole.is_some() => "assayed".to_owned(),
        _ => "nominal, not assayed".to_owned(),
    };
    let memory = if judged.memory.is_empty() {
        ""
    } else {
        "; rests on values from memory, not read"
    };
    format!(
        "{} {} against {said}{allowed}, {known}; {}{memory}{best}",
        test.what, test.found, test.cite
    )
}

fn error(problem: ClaimError, book: &str, band: String) -> FinenessError {
    match problem {
        ClaimError::Unknown {
            at,
            said,
            metal,
            help,
        } => FinenessError::UnknownStandard {
            at,
            book: book.to_owned(),
            said,
            metal,
            help,
        },
        ClaimError::NotThere { at, metal, help } => FinenessError::MetalNotThere {
            at,
            band,
            metal,
            help,
        },
    }
}

fn no_part(meets: &Meets, part: &str, band: &str) -> crate::model::ModelError {
    crate::model::ModelError::UnknownName {
        at: meets.band.span,
        name: part.to_owned(),
        kind: "the part",
        help: format!("`{band}` is solid: it has neither shell nor sleeve"),
        nearest: None,
    }
}
