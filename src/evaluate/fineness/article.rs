//! What a rulebook judges: parts with their contents and weights, solder, and what the eye sees.

use rust_decimal::Decimal;

use crate::catalogue::Rulebook;

/// Precious metals, the dearest first. Source of the order: Hallmarking Act 1973, Sch.2 para 15.
pub const PRECIOUS: [&str; 4] = ["platinum", "gold", "palladium", "silver"];

/// Least finenesses that a metal is taken for, where a rulebook has no standards of it. Source: Hallmarking
/// Act 1973, s.22(1).
const LEAST: [(&str, i64); 4] = [
    ("platinum", 850),
    ("gold", 375),
    ("palladium", 500),
    ("silver", 800),
];

/// An article as a rulebook sees it. Parts per thousand and grams, exact.
#[derive(Clone, Debug, Default)]
pub struct Article {
    /// The band, or its shell and sleeve.
    pub parts: Vec<Part>,
    /// Solder that joins it; none where it is joined cold or is of one piece.
    pub solder: Option<Soldered>,
    /// Whether the recipe says anything of solder.
    pub solder_stated: bool,
    /// Fineness of the whole melted with its solder, found by assay.
    pub whole: Option<Decimal>,
    /// Total weight of the metal in grams.
    pub weight: Decimal,
    /// There is an empty space inside.
    pub cavity: bool,
    /// Whether the eye tells its parts apart; none where nobody said.
    pub apart: Option<bool>,
    /// The parts that carry a struck mark; none where nobody said.
    pub marked: Option<Vec<String>>,
    /// The words that it is sold under.
    pub tag: Option<String>,
}

/// One part of an article.
#[derive(Clone, Debug, Default)]
pub struct Part {
    /// `band`, `shell` or `sleeve`.
    pub name: String,
    /// Element and parts per thousand by mass.
    pub contents: Vec<(String, Decimal)>,
    /// Weight in grams.
    pub weight: Decimal,
    /// Its metal is white.
    pub white: bool,
    /// What an assay found of its metal; it decides over the contents.
    pub assay: Option<Assayed>,
}

/// What an assay found.
#[derive(Clone, Debug, PartialEq)]
pub struct Assayed {
    /// Parts per thousand of the part's metal.
    pub figure: Decimal,
    /// The day, and the lot, as the recipe gives them.
    pub note: String,
}

/// Solder.
#[derive(Clone, Debug, Default)]
pub struct Soldered {
    /// Element and parts per thousand by mass.
    pub contents: Vec<(String, Decimal)>,
    /// Weight in grams, where it is stated.
    pub weight: Option<Decimal>,
    /// Whether solder of a lower fineness is authorised; none where nobody said.
    pub authorised: Option<bool>,
}

/// Parts per thousand of an element.
pub(super) fn content(contents: &[(String, Decimal)], element: &str) -> Decimal {
    let found = contents.iter().filter(|(name, _)| name == element);
    found.map(|(_, part)| *part).sum()
}

/// Least fineness at which a part is taken for a metal.
fn least(book: &Rulebook, metal: &str) -> Decimal {
    let standard = book
        .standards
        .get(metal)
        .and_then(|standards| standards.value.first().copied());
    let usual = LEAST.iter().find(|(name, _)| *name == metal);
    standard
        .or(usual.map(|(_, least)| Decimal::from(*least)))
        .unwrap_or_default()
}

impl Part {
    /// The precious metal that it is sold as: the dearest that comes to nine tenths of its least standard, else
    /// the one of which it holds most; none for base metal. The nine tenths are this program's reading, so
    /// that metal a little short of a standard is still judged as what it was meant to be.
    #[must_use]
    pub fn metal(&self, book: &Rulebook) -> Option<&'static str> {
        let near = |metal: &&&str| {
            let found = self.fineness(metal, book);
            !found.is_zero() && found * Decimal::from(10) >= least(book, metal) * Decimal::from(9)
        };
        PRECIOUS.iter().find(near).copied().or_else(|| {
            let most = PRECIOUS
                .iter()
                .max_by_key(|metal| content(&self.contents, metal))?;
            (!content(&self.contents, most).is_zero()).then_some(*most)
        })
    }

    /// Parts per thousand of a metal by composition, with what the rulebook counts as it.
    fn composed(&self, metal: &str, book: &Rulebook) -> Decimal {
        let with = book.standards.get(metal).map(|row| row.with.as_slice());
        let others = with.unwrap_or_default().iter();
        others
            .map(|other| content(&self.contents, other))
            .sum::<Decimal>()
            + content(&self.contents, metal)
    }

    /// The same; an assay decides where there is one, of the metal of which the part holds most.
    #[must_use]
    pub fn fineness(&self, metal: &str, book: &Rulebook) -> Decimal {
        let composed = self.composed(metal, book);
        match &self.assay {
            Some(assay) if self.assayed_metal() == Some(metal) => assay.figure,
            _ => composed,
        }
    }

    /// The precious metal that an assay line speaks of: the dearest that makes a third of the part, else the
    /// one of which it holds most.
    #[must_use]
    pub fn assayed_metal(&self) -> Option<&'static str> {
        let third = Decimal::from(330);
        let dear = PRECIOUS
            .iter()
            .find(|metal| content(&self.contents, metal) >= third);
        dear.or_else(|| {
            PRECIOUS
                .iter()
                .max_by_key(|metal| content(&self.contents, metal))
        })
        .copied()
    }
}

impl Soldered {
    /// Parts per thousand of a metal, or of all precious metals together.
    #[must_use]
    pub fn fineness(&self, metal: &str, sum: bool) -> Decimal {
        if sum {
            return PRECIOUS
                .iter()
                .map(|metal| content(&self.contents, metal))
                .sum();
        }
        content(&self.contents, metal)
    }
}

impl Article {
    /// Fineness of some parts melted with the solder: assayed, or by weights; none where the solder's weight
    /// is not known.
    ///
    /// # Formula
    /// `sum of (weight * fineness) / sum of weights`, exact decimals to 28 digits.
    #[must_use]
    pub fn melted(&self, parts: &[&Part], metal: &str, book: &Rulebook) -> Option<Decimal> {
        if let Some(whole) = self.whole {
            return Some(whole);
        }
        let mut weight = Decimal::ZERO;
        let mut fine = Decimal::ZERO;
        let mut all = Vec::new();
        for part in parts {
            let found = part.fineness(metal, book);
            all.push(found);
            weight += part.weight;
            fine += part.weight.checked_mul(found)?;
        }
        if let Some(solder) = &self.solder {
            let found = solder.fineness(metal, false);
            all.push(found);
            weight += solder.weight?;
            fine += solder.weight?.checked_mul(found)?;
        }
        // Of one fineness throughout the weights do not matter, and must not leave a digit behind.
        if let [first, rest @ ..] = all.as_slice()
            && rest.iter().all(|other| other == first)
        {
            return Some(*first);
        }
        fine.checked_div(weight)
    }
}
