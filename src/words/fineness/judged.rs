//! A judgement with what its sentences name.

use crate::catalogue::Rulebook;
use crate::evaluate::Evaluation;
use crate::fineness::{Article, Judgement};

/// A judgement with what its sentences name.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// The judgement.
    pub judgement: &'a Judgement,
    /// Its rulebook.
    pub book: &'a Rulebook,
    /// What was judged.
    pub article: &'a Article,
}

impl<'a> Judged<'a> {
    /// What a rulebook says of a band, without any claim; none for a word that no rulebook has.
    #[must_use]
    pub fn of(evaluation: &'a Evaluation, word: &str) -> Option<Self> {
        Some(Self {
            judgement: evaluation.fineness(word)?,
            book: evaluation.band.marking.rulebook(word)?,
            article: evaluation.article(),
        })
    }
}
