//! The verdict in a line, what a path of a rulebook comes to, and the reasons behind it.

use crate::evaluate::{Evaluation, Why, WhyPlace};
use crate::fineness::{FineMark, FinenessRead, OfficialMark, ReasonKind, Test};
use crate::model::Value;
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::Subject;

use super::claim::short;
use super::judged::Judged;
use super::reasons::{ReasonSaid, cite, memory, official, statement};

/// What closes every verdict.
pub const CLOSING: &str =
    "The assay office decides; check the current text; this is not legal advice.";

impl Judged<'_> {
    /// Everything that it says, what weighs most first.
    pub fn statements(&self) -> impl Iterator<Item = ReasonSaid> {
        let said = self.judgement.said();
        said.map(|reason| statement(reason, self))
    }

    /// Why it is refused whatever its fineness.
    #[must_use]
    pub fn refused(&self) -> Option<ReasonSaid> {
        let mut refused = self.judgement.refused();
        refused.next().map(|reason| statement(reason, self))
    }

    /// Why there is no verdict; empty where there is one.
    #[must_use]
    pub fn open(&self) -> String {
        let mut undecided = self.judgement.undecided();
        let first = undecided.next().map(|reason| statement(reason, self));
        first.map(|said| said.text).unwrap_or_default()
    }

    /// The values used that are from memory.
    pub fn memory(&self) -> impl Iterator<Item = String> {
        let rows = self.judgement.memory.iter();
        rows.map(|clause| memory(*clause, self.book))
    }

    /// Where a test stands in the texts.
    #[must_use]
    pub fn cite(&self, test: &Test) -> String {
        cite(test.clause, self.book)
    }

    /// The clause on the official mark; empty where the rulebook says nothing.
    #[must_use]
    pub fn official(&self) -> String {
        official(self)
    }

    /// It in one line, as `ask` and reports give it.
    #[must_use]
    pub fn verdict_line(&self) -> String {
        let judgement = self.judgement;
        let Some(passes) = judgement.passes() else {
            return format!("no verdict: {}", self.open());
        };
        let marks = judgement.marks.iter();
        let marks: Vec<String> = marks.map(|mark| self.mark(mark)).collect();
        let marks = marks.join(", ");
        let verdict = match (passes, self.refused()) {
            (_, Some(refused)) => format!("refused: {}", refused.text),
            (true, None) => marks,
            (false, None) => {
                let missing = judgement.deciding().map(|test| {
                    format!(
                        ", the {} falls short by {}",
                        test.what.word(),
                        short(-test.margin())
                    )
                });
                format!("{marks}{}", missing.unwrap_or_default())
            }
        };
        let need = match judgement.official {
            OfficialMark::Office => "; official mark needed".to_owned(),
            OfficialMark::Exempt => self.exempt(),
            OfficialMark::Own => "; maker's own mark needed".to_owned(),
            OfficialMark::Voluntary => "; marking is voluntary".to_owned(),
            OfficialMark::Unsaid => String::new(),
        };
        format!("{verdict}{need}{}", self.rests_on_memory())
    }

    /// What it is light enough to do without.
    fn exempt(&self) -> String {
        let mut weighed = self.judgement.weighed.iter();
        let row = weighed.find_map(|row| self.book.exempt.get(row.metal.word()));
        let mark = row.and_then(|row| row.mark.as_deref());
        if self.is_own_mark() {
            format!("; light enough to need no {}", mark.unwrap_or("mark"))
        } else {
            let mark = mark.unwrap_or("official mark");
            format!("; exempt from the {mark} by weight")
        }
    }

    fn is_own_mark(&self) -> bool {
        let system = self.book.system.as_ref();
        system.is_some_and(|row| row.value == "own-mark")
    }

    fn mark(&self, mark: &FineMark) -> String {
        let free = if mark.free { "its own figure, " } else { "" };
        let metal = mark.metal.word();
        match mark.figure {
            Some(figure) if self.judgement.marks.len() > 1 => {
                let parts: Vec<&str> = mark.parts.iter().map(|part| part.word()).collect();
                format!(
                    "{free}{metal} {} on the {}",
                    figure.normalize(),
                    parts.join(" and the ")
                )
            }
            Some(figure) => format!("{free}{metal} {}", figure.normalize()),
            None => format!("no standard of {metal}"),
        }
    }

    /// What a verdict ends with that rests on values from memory.
    #[must_use]
    pub(super) fn rests_on_memory(&self) -> &'static str {
        if self.judgement.memory.is_empty() {
            ""
        } else {
            "; rests on values from memory, not read"
        }
    }

    /// Tests, conditions and sources, each with its clause.
    #[must_use]
    pub fn reasons(&self) -> Vec<WhyPlace> {
        let judgement = self.judgement;
        let mut all = Vec::new();
        let mut add = |place: &str, text: String| {
            all.push(WhyPlace {
                place: place.to_owned(),
                text,
            });
        };
        for mark in judgement.marks.iter().chain(&judgement.each) {
            for test in &mark.tests {
                add(&self.cite(test), compared(test, mark));
            }
        }
        let official = self.official();
        if !official.is_empty() {
            add("official mark", official);
        }
        for said in self.statements() {
            let place = if said.cite.is_empty() {
                "note"
            } else {
                &said.cite
            };
            add(place, format!("{}: {}", label(said.kind), said.text));
        }
        for value in self.memory() {
            add("from memory, not read", value);
        }
        if !judgement.nominal.is_empty() {
            let parts: Vec<&str> = judgement.nominal.iter().map(|part| part.word()).collect();
            add("nominal, not assayed", parts.join(", "));
        }
        add("always", CLOSING.to_owned());
        all
    }
}

/// A test in words: what is found, against which figure, and what is to spare.
fn compared(test: &Test, mark: &FineMark) -> String {
    let figure = mark.figure.map_or_else(
        || "the least standard".to_owned(),
        |figure| format!("{} {}", mark.metal.word(), figure.normalize()),
    );
    let margin = test.margin();
    let (spare, word) = if margin.is_sign_negative() {
        (-margin, "missing")
    } else {
        (margin, "to spare")
    };
    let control = if test.allowed.is_zero() {
        "nothing may be found short".to_owned()
    } else {
        format!("{} may be found short on control", test.allowed.normalize())
    };
    format!(
        "{} {} against {figure}: {} {word}; {control}",
        test.what.word(),
        short(test.found),
        short(spare)
    )
}

/// What a statement asks for, in a word.
#[must_use]
pub fn label(kind: ReasonKind) -> &'static str {
    match kind {
        ReasonKind::Refused => "refused",
        ReasonKind::Undecided => "undecided",
        ReasonKind::Say => "disclose",
        ReasonKind::Condition => "condition",
        ReasonKind::Ask => "ask first",
        ReasonKind::Note => "note",
    }
}

/// The value of `fineness.WORD`, `fineness.WORD.margin` or `fineness.WORD.verdict`; none for other paths.
#[must_use]
pub fn asked(evaluation: &Evaluation, path: &str) -> Option<Value> {
    let (word, read) = FinenessRead::of(path)?;
    let judged = Judged::of(evaluation, word)?;
    if read == FinenessRead::Verdict {
        return Some(Value::Text(judged.verdict_line()));
    }
    let number = Number::Exact(judged.judgement.number(read)?);
    Some(Value::of(Quantity::new(number, Dimension::FINENESS)))
}

/// Why a value is what it is, with the reasons of the rulebook where it is one of fineness.
#[must_use]
pub fn with_reasons(mut why: Why, subject: Subject, evaluation: &Evaluation) -> Why {
    if let Some((word, _)) = FinenessRead::of(subject.path())
        && let Some(judged) = Judged::of(evaluation, word)
    {
        why.places = judged.reasons();
    }
    why
}

/// Why a rulebook says what it says: every test with its clause and figures, and all that goes with it.
#[must_use]
pub fn explain(evaluation: &Evaluation, path: &str) -> Option<Why> {
    let (word, _) = FinenessRead::of(path)?;
    let judged = Judged::of(evaluation, word)?;
    Some(Why {
        path: format!("{}.{path}", evaluation.band.name),
        value: asked(evaluation, path),
        meaning: format!("{}; {}", judged.book.title, judged.verdict_line()),
        formula: Some(
            "the figure offered is the highest that what is found reaches; a claim is broken where found + allowed shortfall < figure, exactly".to_owned(),
        ),
        is_default: false,
        places: judged.reasons(),
        inputs: Vec::new(),
    })
}

/// The paths of rulebooks' words that [`asked`] answers beside the catalogue of results.
pub fn paths<'a>(words: impl Iterator<Item = &'a str>) -> impl Iterator<Item = String> {
    words.flat_map(FinenessRead::paths)
}
