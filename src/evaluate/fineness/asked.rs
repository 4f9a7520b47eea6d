//! Fineness as it is asked for: paths of rulebooks by their word, and the reasons behind each.

use crate::model::Value;
use crate::quantity::{Dimension, Number, Quantity};
use crate::source::Sources;

use super::super::evaluation::Evaluation;
use super::super::why::{Why, WhyPlace};
use super::judge::Judgement;
use super::of_band::{CLOSING, margin, mark, verdict_line};
use super::sayings::{Kind, Said};

/// The value of `fineness.WORD`, `fineness.WORD.margin` or `fineness.WORD.verdict`; none for other paths.
#[must_use]
pub fn asked(evaluation: &Evaluation, path: &str) -> Option<Value> {
    let (word, rest) = split(path)?;
    let number = |number| Value::of(Quantity::new(Number::Exact(number), Dimension::FINENESS));
    match rest {
        None => mark(evaluation, word).map(number),
        Some("margin") => margin(evaluation, word).map(number),
        Some("verdict") => evaluation
            .fineness(word)
            .map(|judged| Value::Text(verdict_line(&judged))),
        _ => None,
    }
}

/// The paths of a word that [`asked`] answers beside the catalogue of results.
pub fn paths(words: &[String]) -> impl Iterator<Item = String> {
    words
        .iter()
        .flat_map(|word| ["", ".margin", ".verdict"].map(|rest| format!("fineness.{word}{rest}")))
}

/// The word of a rulebook, and what is asked of it.
fn split(path: &str) -> Option<(&str, Option<&str>)> {
    let rest = path.strip_prefix("fineness.")?;
    Some(match rest.split_once('.') {
        Some((word, rest)) => (word, Some(rest)),
        None => (rest, None),
    })
}

/// Why a rulebook says what it says: every test with its clause and figures, and all that goes with it.
#[must_use]
pub fn explain(evaluation: &Evaluation, path: &str, _sources: &Sources) -> Option<Why> {
    let (word, _) = split(path)?;
    let book = evaluation.band.marking.rulebook(word)?;
    let judged = evaluation.fineness(word)?;
    Some(Why {
        path: format!("{}.{path}", evaluation.band.name),
        value: asked(evaluation, path),
        meaning: format!("{}; {}", book.title, verdict_line(&judged)),
        formula: Some(
            "each test holds where found + allowed shortfall >= figure, exact".to_owned(),
        ),
        is_default: false,
        places: reasons(&judged),
        inputs: Vec::new(),
    })
}

/// Tests, conditions and sources of a judgement, each with its clause.
#[must_use]
pub fn reasons(judged: &Judgement) -> Vec<WhyPlace> {
    let mut all = Vec::new();
    let mut add = |place: &str, text: String| {
        all.push(WhyPlace {
            place: place.to_owned(),
            text,
        });
    };
    for mark in judged.marks.iter().chain(&judged.each) {
        for test in &mark.tests {
            let figure = mark.figure.map_or_else(
                || "the least standard".to_owned(),
                |figure| format!("{} {}", mark.metal, figure.normalize()),
            );
            let (spare, word) = if test.holds {
                (test.spare, "to spare")
            } else {
                (-test.spare, "missing")
            };
            let text = format!(
                "{} {} against {figure}, {} allowed short: {} {word}",
                test.what,
                test.found,
                test.allowed.normalize(),
                spare.normalize()
            );
            add(&test.cite, text);
        }
    }
    if !judged.need_cite.is_empty() {
        add("official mark", judged.need_cite.clone());
    }
    for said in all_said(judged) {
        let place = if said.cite.is_empty() {
            "note"
        } else {
            &said.cite
        };
        add(place, format!("{}: {}", label(said.kind), said.text));
    }
    for value in &judged.memory {
        add("from memory, not read", value.clone());
    }
    if !judged.nominal.is_empty() {
        add("nominal, not assayed", judged.nominal.join(", "));
    }
    add("always", CLOSING.to_owned());
    all
}

/// Everything that a judgement says, what weighs most first.
pub fn all_said(judged: &Judgement) -> impl Iterator<Item = &Said> {
    let says = judged.says.iter();
    judged.refused.iter().chain(&judged.undecided).chain(says)
}

/// What a statement asks for, in a word.
#[must_use]
pub fn label(kind: Kind) -> &'static str {
    match kind {
        Kind::Refused => "refused",
        Kind::Undecided => "undecided",
        Kind::Say => "disclose",
        Kind::Condition => "condition",
        Kind::Ask => "ask first",
        Kind::Note => "note",
    }
}
