//! `B meets UK 750` in words: what decides, what is to spare, and what is wrong with the claim.

use rust_decimal::Decimal;

use crate::catalogue::Rulebook;
use crate::fineness::{
    Article, FinenessShortfall, Judgement, Portion, Precious, Ruling, Thresholds,
};
use crate::model::{Figure, Meets};
use crate::source::Span;
use crate::suggest::listed;

use super::error::FinenessError;
use super::judged::Judged;

/// What is claimed, as a person says it: `750`, `18 karat`, `sterling`, `any mark`.
#[must_use]
pub fn claimed(meets: &Meets) -> String {
    match meets.figure.as_ref().map(|(figure, _)| figure) {
        Some(Figure::Parts(parts)) => parts.normalize().to_string(),
        Some(Figure::Karats(karats)) => format!("{} karat", karats.normalize()),
        Some(Figure::Word(word)) => word.clone(),
        None => "any mark".to_owned(),
    }
}

/// What is to spare, or missing; empty where nothing could be tested, and where a broken claim misses nothing.
#[must_use]
pub fn margin(judgement: &Judgement) -> String {
    let allowed = judgement.deciding().map(|test| test.allowed);
    let allowed = allowed.unwrap_or_default();
    match judgement.margin() {
        None => String::new(),
        Some(margin) if judgement.ruling != Ruling::Passes && !margin.is_sign_negative() => {
            String::new()
        }
        Some(margin) if judgement.ruling == Ruling::Passes && margin.is_sign_negative() => {
            format!(
                "{} per thousand short, of {} that may be found short on control",
                short(-margin),
                allowed.normalize()
            )
        }
        Some(margin) if margin.is_sign_negative() && !allowed.is_zero() => format!(
            "{} per thousand missing, and {} may be found short",
            short(-margin),
            allowed.normalize()
        ),
        Some(margin) if margin.is_zero() => "nothing to spare".to_owned(),
        Some(margin) if margin.is_sign_negative() => {
            format!("{} per thousand missing", short(-margin))
        }
        Some(margin) => format!("{} per thousand to spare", short(margin)),
    }
}

/// An exact margin as a person reads it: thirds of a karat have no end.
pub(super) fn short(margin: Decimal) -> String {
    // Six places, or as many as the first digit takes: what is missing is never shown as nothing.
    let first = (6..28).find(|places| !margin.round_dp(*places).is_zero());
    let shown = margin.round_dp(first.unwrap_or(28)).normalize();
    let mark = if shown == margin { "" } else { "\u{2248} " };
    format!("{mark}{shown}")
}

/// What decides, in one line with its clause.
#[must_use]
pub fn found(judged: &Judged<'_>, said: &str) -> String {
    if let Some(refused) = judged.refused() {
        return match refused.cite.as_str() {
            "" => refused.text,
            cite => format!("{} ({cite})", refused.text),
        };
    }
    let judgement = judged.judgement;
    let Some(test) = judgement.deciding() else {
        return "nothing to test".to_owned();
    };
    let allowed = if test.allowed.is_zero() {
        String::new()
    } else {
        format!(", {} allowed short", test.allowed.normalize())
    };
    let failing = judgement.marks.first();
    let failing = failing.filter(|_| judgement.ruling == Ruling::Fails);
    let best = failing.and_then(|mark| Some((mark.metal.word(), mark.figure?)));
    let best = best.map(|(metal, best)| format!("; it may carry {metal} {}", best.normalize()));
    let mut parts = judged.article.parts.iter();
    let part = parts.find(|part| part.portion == test.what);
    let known = match part.and_then(|part| part.assay.as_ref()) {
        Some(assay) if assay.note.is_empty() => "assayed".to_owned(),
        Some(assay) => format!("assayed {}", assay.note),
        None if test.what == Portion::Whole && judged.article.whole.is_some() => {
            "assayed".to_owned()
        }
        None => "nominal, not assayed".to_owned(),
    };
    format!(
        "{} {} against {said}{allowed}, {known}; {}{}{}",
        test.what.word(),
        short(test.found),
        judged.cite(test),
        judged.rests_on_memory(),
        best.unwrap_or_default()
    )
}

/// What is wrong with a claim, or keeps a requirement from a verdict; none for what is no claim's fault.
#[must_use]
pub fn problem(
    shortfall: FinenessShortfall,
    at: Span,
    meets: &Meets,
    judged: &Judged<'_>,
    rules: &Thresholds,
) -> Option<FinenessError> {
    let Judged { book, article, .. } = *judged;
    let named = meets.metal.as_ref();
    let figure_at = meets.figure.as_ref().map(|(_, at)| *at);
    let word = |metal: Option<Precious>| match (metal, named) {
        (Some(metal), _) => metal.word().to_owned(),
        (None, Some(named)) => named.value.clone(),
        (None, None) => String::new(),
    };
    match shortfall {
        FinenessShortfall::MetalNotThere { metal } => Some(FinenessError::MetalNotThere {
            at: match metal {
                Some(_) => figure_at?,
                None => named?.span,
            },
            band: subject(meets),
            metal: word(metal),
            help: held(article, rules),
        }),
        FinenessShortfall::UnknownStandard { metal, figure } => {
            let (metal, said) = (word(metal), claimed(meets));
            Some(FinenessError::UnknownStandard {
                at: figure_at?,
                book: book.word.clone(),
                help: standards(&said, figure.is_none(), book, &metal),
                said,
                metal,
            })
        }
        FinenessShortfall::NoVerdict => Some(FinenessError::NoVerdict {
            at,
            book: book.word.clone(),
            band: subject(meets),
            why: judged.open(),
            help: format!(
                "`annulet list rules {}` shows what was read; ask the assay office, which decides",
                book.word
            ),
        }),
        _ => None,
    }
}

/// The band, or the part of it that is meant.
#[must_use]
pub fn subject(meets: &Meets) -> String {
    match &meets.part {
        Some(part) => format!("{}.{part}", meets.band.value),
        None => meets.band.value.clone(),
    }
}

/// What the parts hold.
fn held(article: &Article, rules: &Thresholds) -> String {
    let parts = article.parts.iter().map(|part| {
        let name = part.portion.word();
        match part.sold_as(rules) {
            Some((metal, found)) => {
                format!("the {name} is {} {}", metal.word(), found.normalize())
            }
            None => format!("the {name} is base metal"),
        }
    });
    parts.collect::<Vec<String>>().join(", ")
}

/// What may be claimed of a metal.
fn standards(said: &str, is_word: bool, book: &Rulebook, metal: &str) -> String {
    let standards = book.standards.get(metal).map(|row| row.value.as_slice());
    let standards = standards.unwrap_or_default();
    let mut known: Vec<String> = standards.iter().map(ToString::to_string).collect();
    let words = book.words.iter().filter(|word| word.metal == metal);
    known.extend(words.map(|word| word.word.clone()));
    let words = || known.iter().map(String::as_str);
    let least = book.any.get(metal).filter(|row| !row.value.is_zero());
    let all = match least {
        Some(least) => format!("any figure from {} to 1000", least.value),
        None if known.is_empty() => "any figure up to 1000".to_owned(),
        None => listed(words()),
    };
    // Another figure is another fineness, however near; only a word can be misspelt.
    let near = Some(said).filter(|_| is_word);
    match near.and_then(|said| crate::suggest::nearest(said, words())) {
        Some(near) => format!("did you mean `{near}`? {metal} has {all}"),
        None => format!("{metal} has {all}"),
    }
}
