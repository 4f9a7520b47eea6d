//! What is claimed of an article: a figure in parts per thousand, exact, in a metal.

use rust_decimal::Decimal;

use crate::catalogue::Rulebook;
use crate::model::{Figure, Meets};

use super::article::{Article, Fine, content};
use super::precious::{Portion, Precious};
use super::shortfall::FinenessShortfall;
use super::thresholds::Thresholds;

/// A claim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Claim {
    /// The metal that it is made of.
    pub metal: Precious,
    /// The figure times [`Claim::under`]; karats are whole 24ths of 1000, which no decimal holds.
    pub over: Decimal,
    /// 1, or 24 for karats.
    pub under: Decimal,
}

impl Claim {
    /// A claim of parts per thousand.
    #[must_use]
    pub fn parts(metal: Precious, figure: Decimal) -> Self {
        Self {
            metal,
            over: figure.normalize(),
            under: Decimal::ONE,
        }
    }

    /// A claim of karats: 1000/24 parts per thousand each, by common practice.
    ///
    /// # Example
    /// ```
    /// use annulet::fineness::{Claim, Precious};
    /// use rust_decimal::dec;
    /// let claim = Claim::karats(Precious::Gold, dec!(14));
    /// // 583.333…: 583.3 falls short, 583.4 does not.
    /// assert!(claim.spare(dec!(583.3)).is_sign_negative());
    /// assert!(claim.spare(dec!(583.4)).is_sign_positive());
    /// ```
    #[must_use]
    pub fn karats(metal: Precious, karats: Decimal) -> Self {
        Self {
            metal,
            over: karats * Decimal::ONE_THOUSAND,
            under: Decimal::from(24),
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

    /// Whether it is one that the trade goes by: a standard, a whole karat of gold, or a recommended figure.
    pub(super) fn is_designation(&self, rules: &Thresholds) -> bool {
        let (of, figure) = (rules.of(self.metal), self.figure());
        let is_karat = || {
            let all = (1..=24).map(|karats| Decimal::from(karats * 1000));
            let twenty_four = Decimal::from(24);
            all.into_iter().any(|exact| {
                // 583 is how 14 karat, 583.33, is struck.
                let struck = (exact / twenty_four).floor();
                self.over * twenty_four == exact * self.under || figure == struck
            })
        };
        of.standards.contains(&figure)
            || of.usual.contains(&figure)
            || (self.metal == Precious::Gold && is_karat())
    }

    /// Whether a part, or all parts of its metal, are mixed to it.
    pub(super) fn is_mixed_in(&self, what: Portion, article: &Article, rules: &Thresholds) -> bool {
        let parts = article.parts.iter();
        let mut parts = parts.filter(|part| what == Portion::Whole || part.portion == what);
        parts.all(|part| {
            let fine = Fine::of(part);
            let mixed = fine.composed(self.metal, rules);
            fine.metal(rules) != Some(self.metal) || !self.spare(mixed).is_sign_negative()
        })
    }

    /// Reads what a requirement claims; none where it names no figure.
    ///
    /// # Errors
    /// Why the figure means nothing in the rulebook, or nothing of the article.
    pub fn of(
        meets: &Meets,
        book: &Rulebook,
        rules: &Thresholds,
        article: &Article,
    ) -> Result<Option<Self>, FinenessShortfall> {
        let named = meets.metal.as_ref().map(|metal| metal.value.as_str());
        if let Some(named) = named {
            let mut parts = article.parts.iter();
            if !parts.any(|part| !content(&part.contents, named).is_zero()) {
                return Err(FinenessShortfall::MetalNotThere { metal: None });
            }
        }
        let Some((figure, _)) = &meets.figure else {
            return Ok(None);
        };
        // Of a metal that is not precious no figure can be stated.
        let metals = match named {
            Some(named) => Precious::of(named).into_iter().collect(),
            None => metals(article, rules),
        };
        let first = match named {
            Some(_) => None,
            None => Some(metals.first().copied().unwrap_or(Precious::Gold)),
        };
        let there = |metal: Precious| match metals.contains(&metal) {
            true => Ok(metal),
            false => Err(FinenessShortfall::MetalNotThere { metal: Some(metal) }),
        };
        let unknown = |metal, figure| Err(FinenessShortfall::UnknownStandard { metal, figure });
        match figure {
            Figure::Word(word) => {
                let known = book.words.iter().find(|known| known.word == *word);
                let meant = known.and_then(|row| Some((Precious::of(&row.metal)?, row.figure)));
                match meant {
                    Some((metal, figure)) => Ok(Some(Self::parts(there(metal)?, figure))),
                    None => unknown(first, None),
                }
            }
            Figure::Karats(karats) => {
                let gold = there(Precious::Gold)?;
                let meant = book.karats.as_ref();
                let meant = meant.and_then(|row| row.value.get(&karats.normalize().to_string()));
                let claim = match meant {
                    Some(figure) => Self::parts(gold, *figure),
                    None => Self::karats(gold, *karats),
                };
                // A karat may mean a little more than the mark that stands for it (916.6 and 916).
                let near = |standard: &Decimal| {
                    let over = claim.figure() - standard;
                    !over.is_sign_negative() && over < Decimal::ONE
                };
                let known = rules.of(gold);
                let free = known.free.is_some_and(|least| claim.figure() >= least);
                if free || known.standards.iter().any(near) {
                    Ok(Some(claim))
                } else {
                    unknown(Some(gold), Some(claim.figure()))
                }
            }
            Figure::Parts(parts) => {
                let fits = |metal: &&Precious| rules.of(**metal).admits(*parts);
                match metals.iter().find(fits) {
                    Some(metal) => Ok(Some(Self::parts(*metal, *parts))),
                    None => unknown(first, Some(*parts)),
                }
            }
        }
    }
}

/// The metals that the parts are sold as, in the order of the parts.
fn metals(article: &Article, rules: &Thresholds) -> Vec<Precious> {
    let mut metals = Vec::new();
    for (metal, _) in article.parts.iter().filter_map(|part| part.sold_as(rules)) {
        if !metals.contains(&metal) {
            metals.push(metal);
        }
    }
    metals
}
