//! A band as an article: contents, assays and weights of its parts; and the figures that results read.

use rust_decimal::Decimal;

use crate::model::{Alloy, Assay, Band, Roof};
use crate::quantity::from_f64;

use super::super::evaluation::Evaluation;
use super::article::{Article, Assayed, Part, Soldered};
use super::judge::{Judgement, Need, judge};

/// What closes every verdict.
pub const CLOSING: &str =
    "The assay office decides; check the current text; this is not legal advice.";

impl Evaluation {
    /// The band as a rulebook sees it. Weights are those of the finished parts, to 1e-6 g, half to even.
    #[must_use]
    pub fn article(&self) -> Article {
        let (band, marking) = (&self.band, &self.band.marking);
        let parts = match (&band.hollow, &self.figures.hollow) {
            (Some(hollow), Some(figures)) => vec![
                part(
                    "shell",
                    &hollow.shell.alloy,
                    figures.shell_weight - self.figures.weight_cut,
                    marking.shell.as_ref().or(marking.assay.as_ref()),
                ),
                part(
                    "sleeve",
                    &hollow.sleeve.alloy,
                    figures.sleeve_weight,
                    marking.sleeve.as_ref().or(marking.assay.as_ref()),
                ),
            ],
            _ => vec![part(
                "band",
                &band.alloy,
                self.figures.weight,
                marking.assay.as_ref(),
            )],
        };
        let marked = marking.mark.as_ref().and_then(|mark| mark.on.as_deref());
        let marked = marked.map(|on| match on {
            "both" => Vec::new(),
            one => vec![one.to_owned()],
        });
        let solder = marking.solder.as_ref().map(|solder| Soldered {
            contents: solder.alloy.parts.clone(),
            weight: solder.amount,
            authorised: solder.authorised,
        });
        Article {
            weight: parts.iter().map(|part| part.weight).sum(),
            cavity: has_cavity(band),
            parts,
            solder,
            solder_stated: marking.solder_stated,
            whole: marking.whole,
            apart: marking.apart,
            marked,
            tag: marking.tag.clone(),
        }
    }

    /// What a rulebook says of the band, without any claim; none for a word that no rulebook has.
    #[must_use]
    pub fn fineness(&self, word: &str) -> Option<Judgement> {
        let book = self.band.marking.rulebook(word)?;
        Some(judge(&self.article(), &book, None))
    }
}

/// Whether there is an empty space inside: a full shell leaves none.
fn has_cavity(band: &Band) -> bool {
    band.hollow
        .as_ref()
        .is_some_and(|hollow| hollow.roof != Roof::Full)
}

fn part(name: &str, alloy: &Alloy, weight: f64, assay: Option<&Assay>) -> Part {
    let lot = alloy.assay.as_ref().map(|(figure, note)| Assayed {
        figure: *figure,
        note: note.clone(),
    });
    let own = assay.map(|assay| Assayed {
        figure: assay.figure,
        note: assay.note.clone(),
    });
    Part {
        name: name.to_owned(),
        contents: alloy.parts.clone(),
        weight: from_f64(weight).unwrap_or_default().round_dp(6),
        white: alloy.is_white(),
        assay: own.or(lot),
    }
}

/// The highest figure that a band may carry under a rulebook; 0 for none; nothing where there is no verdict.
#[must_use]
pub fn mark(evaluation: &Evaluation, word: &str) -> Option<Decimal> {
    let judged = evaluation.fineness(word)?;
    match judged.passes? {
        true => judged.best(),
        false => Some(
            judged
                .best()
                .filter(|_| judged.refused.is_empty())
                .unwrap_or_default(),
        ),
    }
}

/// What the tightest test has to spare at that figure; negative where even the least standard is missed.
#[must_use]
pub fn margin(evaluation: &Evaluation, word: &str) -> Option<Decimal> {
    let judged = evaluation.fineness(word)?;
    judged.passes?;
    judged.margin()
}

/// A judgement in one line, as `ask` and reports give it.
#[must_use]
pub fn verdict_line(judged: &Judgement) -> String {
    let Some(passes) = judged.passes else {
        let why = judged
            .undecided
            .first()
            .map_or("", |said| said.text.as_str());
        return format!("no verdict: {why}");
    };
    let marks: Vec<String> = judged
        .marks
        .iter()
        .map(|mark| {
            let free = if mark.free { "any figure up to " } else { "" };
            match mark.figure {
                Some(figure) if judged.marks.len() > 1 => {
                    format!(
                        "{free}{} {} on the {}",
                        mark.metal,
                        figure.normalize(),
                        mark.parts.join(" and the ")
                    )
                }
                Some(figure) => format!("{free}{} {}", mark.metal, figure.normalize()),
                None => format!("no standard of {}", mark.metal),
            }
        })
        .collect();
    let marks = marks.join(", ");
    let refused = judged
        .refused
        .first()
        .map(|said| format!("refused: {}", said.text));
    let verdict = match (passes, refused) {
        (_, Some(refused)) => refused,
        (true, None) => marks,
        (false, None) => {
            let missing = judged
                .deciding()
                .map(|test| format!(", the {} falls short by {}", test.what, -test.spare));
            format!("{marks}{}", missing.unwrap_or_default())
        }
    };
    let need = match judged.need {
        Need::Office => "; official mark needed",
        Need::Exempt => "; exempt from the official mark by weight",
        Need::Own => "; maker's own mark needed",
        Need::Voluntary => "; marking is voluntary",
        Need::Unsaid => "",
    };
    let memory = if judged.memory.is_empty() {
        ""
    } else {
        "; rests on values from memory, not read"
    };
    format!("{verdict}{need}{memory}")
}
