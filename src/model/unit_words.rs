//! Words of units in an expression: looked up, or refused with what to write instead.

use crate::quantity::unit::{self, Refused, Scale};
use crate::quantity::{Dimension, foreign};
use crate::source::{Span, Spanned};
use crate::suggest::listed;

use super::error::ModelError;
use super::expression::{Evaluator, bare};

impl Evaluator<'_> {
    /// Looks up a unit; a slip is answered with the nearest unit of the dimension due.
    pub fn unit(&mut self, unit: &Spanned<String>, due: Option<Dimension>) -> Option<Scale> {
        let (refused, start, length) = match unit::scale(&unit.value) {
            Ok(scale) => return Some(scale),
            Err(refused) => refused,
        };
        let clamp = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        let start = unit.span.start.saturating_add(clamp(start));
        let at = Span {
            start,
            end: start.saturating_add(clamp(length)),
        };
        let word = unit
            .value
            .get((start - unit.span.start) as usize..)
            .unwrap_or("");
        let word = word.split('/').next().unwrap_or(word).to_owned();
        let problem = match refused {
            Refused::Ounce => ambiguous(
                at,
                "an ounce can be troy or avoirdupois",
                "write `ozt` for the troy ounce of 31.1034768 g that metal is sold in, or `ozav` for 28.349523125 g",
            ),
            Refused::GramOrGrain => {
                ambiguous(at, "`gr` can be gram or grain", "write `g` or `grain`")
            }
            Refused::Exponent => ambiguous(
                at,
                "numbers are written without exponent",
                "write all the digits, as in `1000` or `0.001`",
            ),
            Refused::Carat if due == Some(Dimension::MASS) || due.is_none() => ambiguous(
                at,
                "a carat is the weight of a stone (0.2 g); metal is not weighed in it",
                "write the weight in `g`; the fineness of gold, in 24ths, is `karat`",
            ),
            Refused::Carat if due == Some(Dimension::FINENESS) => ambiguous(
                at,
                "a carat is the weight of a stone (0.2 g), not a fineness",
                "write the fineness of gold, in 24ths, as `karat`, or in parts per thousand",
            ),
            Refused::Carat => {
                let due = due.unwrap_or(Dimension::NONE);
                ambiguous(
                    at,
                    &format!(
                        "a carat is the weight of a stone (0.2 g), not {}",
                        due.named()
                    ),
                    &units_of(due),
                )
            }
            Refused::Unknown | Refused::Currencies => {
                let known = due.filter(|due| *due != Dimension::NONE);
                let nearest = foreign::meant(&word, known).map(str::to_owned);
                let units = || units_of(due.unwrap_or(Dimension::NONE));
                let help = match (&nearest, foreign::explained(&word)) {
                    (Some(near), _) => format!("did you mean `{near}`?"),
                    (None, Some(says)) => format!("{says}; {}", units()),
                    (None, None) => units(),
                };
                ModelError::UnknownUnit {
                    at,
                    word,
                    help,
                    nearest,
                }
            }
        };
        self.report(problem)
    }
}

fn ambiguous(at: Span, message: &str, help: &str) -> ModelError {
    ModelError::AmbiguousUnit {
        at,
        message: message.to_owned(),
        help: help.to_owned(),
    }
}

/// The units that would do for a dimension, as help.
fn units_of(dimension: Dimension) -> String {
    let words = unit::of_dimension(dimension);
    if dimension == Dimension::NONE || words.is_empty() {
        return "`annulet list units` shows all of them".to_owned();
    }
    format!("units of {}: {}", bare(&dimension.named()), listed(words))
}
