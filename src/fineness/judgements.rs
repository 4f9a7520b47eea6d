//! The judgements of one article: each rulebook judges it once, when it is first asked.

use std::sync::{Arc, OnceLock};

use crate::model::Marking;

use super::article::Article;
use super::compile::compiled;
use super::judge::judge;
use super::judgement::Judgement;
use super::thresholds::Thresholds;

/// What one rulebook asks and says.
#[derive(Clone, Debug)]
pub struct RulesAsked {
    /// What it asks.
    pub rules: Arc<Thresholds>,
    /// What it says of the article, without any claim.
    pub judgement: Judgement,
}

/// An article with the judgements of the rulebooks asked so far.
#[derive(Clone, Debug)]
pub struct Judgements {
    article: Article,
    /// In the order of [`Marking::words`].
    asked: Box<[OnceLock<Box<RulesAsked>>]>,
}

impl Judgements {
    /// None asked so far.
    #[must_use]
    pub fn of(article: Article, marking: &Marking) -> Self {
        let asked = marking.words().map(|_| OnceLock::new()).collect();
        Self { article, asked }
    }

    /// The article.
    #[must_use]
    pub fn article(&self) -> &Article {
        &self.article
    }

    /// What the rulebook of a word asks and says; none for a word that no rulebook has.
    #[must_use]
    pub fn asked(&self, word: &str, marking: &Marking) -> Option<&RulesAsked> {
        let place = marking.words().position(|known| known == word)?;
        let asked = self.asked.get(place)?;
        if let Some(known) = asked.get() {
            return Some(known);
        }
        let rules = compiled(marking.rulebook(word)?);
        let judgement = judge(&self.article, &rules, None);
        Some(asked.get_or_init(|| Box::new(RulesAsked { rules, judgement })))
    }
}
