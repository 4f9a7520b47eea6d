//! What is claimed of an article: a figure in parts per thousand, exact, in a metal.

use rust_decimal::Decimal;

use crate::catalogue::Rulebook;
use crate::model::{Figure, Meets};
use crate::source::Span;
use crate::suggest::listed;

use super::article::{Article, content};

/// A claim.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// The metal that it is made of.
    pub metal: String,
    /// The figure times [`Claim::under`]; karats are whole 24ths of 1000, which no decimal holds.
    pub over: Decimal,
    /// 1, or 24 for karats.
    pub under: Decimal,
    /// As a person says it: `750`, `18 karat`, `sterling`.
    pub said: String,
}

/// Why a claim makes no sense.
#[derive(Clone, Debug, PartialEq)]
pub enum ClaimError {
    /// The rulebook has no such standard.
    Unknown {
        /// The figure.
        at: Span,
        /// What was written.
        said: String,
        /// The metal.
        metal: String,
        /// What to write.
        help: String,
    },
    /// No part holds the metal.
    NotThere {
        /// The metal's word, or the figure.
        at: Span,
        /// The metal.
        metal: String,
        /// What the parts hold.
        help: String,
    },
}

impl Claim {
    /// A claim of parts per thousand.
    #[must_use]
    pub fn parts(metal: &str, figure: Decimal) -> Self {
        let figure = figure.normalize();
        Self {
            metal: metal.to_owned(),
            over: figure,
            under: Decimal::ONE,
            said: figure.to_string(),
        }
    }

    /// A claim of karats: 1000/24 parts per thousand each, by common practice.
    ///
    /// # Example
    /// ```
    /// use annulet::evaluate::fineness::Claim;
    /// use rust_decimal::dec;
    /// let claim = Claim::karats("gold", dec!(14));
    /// // 583.333…: 583.3 falls short, 583.4 does not.
    /// assert!(claim.spare(dec!(583.3)).is_sign_negative());
    /// assert!(claim.spare(dec!(583.4)).is_sign_positive());
    /// ```
    #[must_use]
    pub fn karats(metal: &str, karats: Decimal) -> Self {
        Self {
            metal: metal.to_owned(),
            over: karats * Decimal::from(1000),
            under: Decimal::from(24),
            said: format!("{} karat", karats.normalize()),
        }
    }

    /// By how much a fineness exceeds the claim; negative where it falls short. The sign is exact; the amount
    /// has as many digits as a decimal holds.
    #[must_use]
    pub fn spare(&self, found: Decimal) -> Decimal {
        let times = found * self.under - self.over;
        times.checked_div(self.under).unwrap_or(times).normalize()
    }

    /// The figure, to as many digits as a decimal holds.
    #[must_use]
    pub fn figure(&self) -> Decimal {
        let figure = self.over.checked_div(self.under).unwrap_or(self.over);
        figure.normalize()
    }

    /// Reads what a requirement claims; none where it names no figure.
    ///
    /// # Errors
    /// Why the figure means nothing in the rulebook, or nothing of the article.
    pub fn of(
        meets: &Meets,
        book: &Rulebook,
        article: &Article,
    ) -> Result<Option<Self>, ClaimError> {
        let metal = match &meets.metal {
            Some(metal) => {
                let there = |part: &super::Part| !content(&part.contents, &metal.value).is_zero();
                if !article.parts.iter().any(there) {
                    return Err(not_there(metal.span, &metal.value, book, article));
                }
                Some(metal.value.clone())
            }
            None => None,
        };
        let Some((figure, at)) = &meets.figure else {
            return Ok(None);
        };
        let metals: Vec<&str> = match &metal {
            Some(metal) => vec![metal.as_str()],
            None => metals(article, book),
        };
        let first = metals.first().copied().unwrap_or("gold");
        match figure {
            Figure::Word(word) => match book.words.iter().find(|known| known.word == *word) {
                Some(known) if metals.contains(&known.metal.as_str()) => Ok(Some(Self {
                    said: word.clone(),
                    ..Self::parts(&known.metal, known.figure)
                })),
                Some(known) => Err(not_there(*at, &known.metal, book, article)),
                None => Err(unknown(*at, word, None, book, first)),
            },
            Figure::Karats(karats) => {
                if !metals.contains(&"gold") {
                    return Err(not_there(*at, "gold", book, article));
                }
                let said = format!("{} karat", karats.normalize());
                let meant = book.karats.as_ref();
                let meant = meant.and_then(|row| row.value.get(&karats.normalize().to_string()));
                let claim = match meant {
                    Some(figure) => Self {
                        said: said.clone(),
                        ..Self::parts("gold", *figure)
                    },
                    None => Self::karats("gold", *karats),
                };
                // A karat may mean a little more than the mark that stands for it (916.6 and 916).
                let near = |standard: &Decimal| {
                    let over = claim.figure() - standard;
                    !over.is_sign_negative() && over < Decimal::ONE
                };
                let known = book.any.contains_key("gold")
                    || book
                        .standards
                        .get("gold")
                        .is_some_and(|row| row.value.iter().any(near));
                if known {
                    Ok(Some(claim))
                } else {
                    Err(unknown(*at, &said, Some(claim.figure()), book, "gold"))
                }
            }
            Figure::Parts(parts) => {
                let fits = |metal: &&&str| is_standard(book, metal, *parts);
                match metals.iter().find(fits) {
                    Some(metal) => Ok(Some(Self::parts(metal, *parts))),
                    None => Err(unknown(
                        *at,
                        &parts.normalize().to_string(),
                        Some(*parts),
                        book,
                        first,
                    )),
                }
            }
        }
    }
}

/// The metals that the parts are sold as, in the order of the parts.
pub(super) fn metals<'a>(article: &'a Article, book: &Rulebook) -> Vec<&'a str> {
    let mut metals = Vec::new();
    for metal in article.parts.iter().filter_map(|part| part.metal(book)) {
        if !metals.contains(&metal) {
            metals.push(metal);
        }
    }
    metals
}

/// Whether a figure may be stated of a metal at all.
fn is_standard(book: &Rulebook, metal: &str, figure: Decimal) -> bool {
    let free = book.any.get(metal).is_some_and(|row| figure >= row.value)
        // A karat of gold is no figure in parts per thousand.
        && figure > Decimal::from(24);
    let listed = book.standards.get(metal).is_some_and(|row| {
        let above = row.above && row.value.last().is_some_and(|last| figure > *last);
        above || row.value.contains(&figure)
    });
    let whole = figure <= Decimal::from(1000);
    whole && (free || listed)
}

fn not_there(at: Span, metal: &str, book: &Rulebook, article: &Article) -> ClaimError {
    let parts: Vec<String> = article
        .parts
        .iter()
        .map(|part| match part.metal(book) {
            Some(metal) => format!(
                "the {} is {metal} {}",
                part.name,
                part.fineness(metal, book).normalize()
            ),
            None => format!("the {} is base metal", part.name),
        })
        .collect();
    ClaimError::NotThere {
        at,
        metal: metal.to_owned(),
        help: parts.join(", "),
    }
}

fn unknown(
    at: Span,
    said: &str,
    figure: Option<Decimal>,
    book: &Rulebook,
    metal: &str,
) -> ClaimError {
    let standards = book.standards.get(metal).map(|row| row.value.as_slice());
    let standards = standards.unwrap_or_default();
    let mut known: Vec<String> = standards.iter().map(ToString::to_string).collect();
    let words = book.words.iter().filter(|word| word.metal == metal);
    known.extend(words.map(|word| word.word.clone()));
    let all = if known.is_empty() {
        "any figure up to 1000".to_owned()
    } else {
        listed(known.iter().map(String::as_str))
    };
    // Another figure is another fineness, however near; only a word can be misspelt.
    let words = known.iter().map(String::as_str);
    let near = match figure {
        Some(_) => None,
        None => crate::suggest::nearest(said, words),
    };
    let help = match near {
        Some(near) => format!("did you mean `{near}`? {metal} has {all}"),
        None => format!("{metal} has {all}"),
    };
    ClaimError::Unknown {
        at,
        said: said.to_owned(),
        metal: metal.to_owned(),
        help,
    }
}
