//! The parts of an article by the metal that they are sold as.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use super::article::{Article, Fine};
use super::precious::{Portion, Portions, Precious};
use super::thresholds::{Facts, Thresholds};

/// Parts of one metal, each with its parts per thousand.
pub(super) struct Group<'a> {
    pub metal: Precious,
    pub parts: SmallVec<[(Fine<'a>, Decimal); 2]>,
    /// Its parts are not mixed to one fineness; what an assay finds of a lot makes no other quality.
    pub differs: bool,
}

impl Group<'_> {
    /// The least of its parts.
    pub fn least(&self) -> Option<Decimal> {
        self.parts.iter().map(|(_, found)| *found).min()
    }

    pub fn portions(&self) -> Portions {
        self.parts
            .iter()
            .map(|(fine, _)| fine.part.portion)
            .collect()
    }
}

/// An article's parts by metal, in the order of the parts.
pub(super) struct Groups<'a> {
    pub of: SmallVec<[Group<'a>; 2]>,
    /// Parts of base metal.
    pub base: Portions,
}

impl<'a> Groups<'a> {
    pub fn of(article: &'a Article, rules: &Thresholds) -> Self {
        let mut of: SmallVec<[Group<'a>; 2]> = SmallVec::new();
        let mut base: SmallVec<[Portion; 2]> = SmallVec::new();
        for part in &article.parts {
            let fine = Fine::of(part);
            let Some(metal) = fine.metal(rules) else {
                base.push(part.portion);
                continue;
            };
            let held = (fine, fine.fineness(metal, rules));
            match of.iter_mut().find(|group| group.metal == metal) {
                Some(group) => {
                    let mixed = fine.composed(metal, rules);
                    let first = group.parts.first();
                    let first = first.map(|(first, _)| first.composed(metal, rules));
                    group.differs |= first != Some(mixed);
                    group.parts.push(held);
                }
                None => of.push(Group {
                    metal,
                    differs: false,
                    parts: SmallVec::from_iter([held]),
                }),
            }
        }
        Self {
            of,
            base: base.into_iter().collect(),
        }
    }

    pub fn holds(&self, metal: Precious) -> bool {
        self.of.iter().any(|group| group.metal == metal)
    }

    pub fn differ(&self) -> bool {
        self.of.iter().any(|group| group.differs)
    }

    /// What is so of the article.
    pub fn facts(&self, article: &Article) -> Facts {
        let mut facts = Facts::default();
        for group in &self.of {
            facts.add(Facts::metal(group.metal), true);
        }
        facts.add(Facts::CAVITY, article.cavity);
        facts.add(Facts::TWO_PART, article.parts.len() > 1);
        facts.add(Facts::COLD, article.solder.is_none());
        facts.add(Facts::SOLDERED, article.solder.is_some());
        facts.add(Facts::FINENESSES_DIFFER, self.differ());
        facts.add(Facts::METALS_DIFFER, self.of.len() > 1);
        facts.add(Facts::BASE, !self.base.is_empty());
        facts
    }
}
