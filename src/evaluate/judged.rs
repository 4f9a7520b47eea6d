//! Fineness of an evaluated band: the masses of its parts are handed over once, and every judgement is kept.

use rust_decimal::Decimal;

use crate::fineness::{Article, FinenessRead, Judgement, Judgements, Portion, RulesAsked};
use crate::schema::ResultId;

use super::evaluation::Evaluation;

impl Evaluation {
    /// The band as a rulebook sees it. Weights are those of the finished parts, to 1e-6 g, half to even.
    #[must_use]
    pub fn article(&self) -> &Article {
        self.judgements().article()
    }

    /// What a rulebook says of the band, without any claim; none for a word that no rulebook has.
    #[must_use]
    pub fn fineness(&self, word: &str) -> Option<&Judgement> {
        self.rules_asked(word).map(|asked| &asked.judgement)
    }

    /// The same with what the rulebook asks.
    #[must_use]
    pub fn rules_asked(&self, word: &str) -> Option<&RulesAsked> {
        self.judgements().asked(word, &self.band.marking)
    }

    fn judgements(&self) -> &Judgements {
        self.judgements.get_or_init(|| {
            let article = Article::of(&self.band, |portion| self.weight_of(portion));
            Box::new(Judgements::of(article, &self.band.marking))
        })
    }

    /// The finished weight of a part, in grams.
    fn weight_of(&self, portion: Portion) -> f64 {
        match (portion, &self.figures.hollow) {
            (Portion::Shell, Some(hollow)) => hollow.shell_weight - self.figures.weight_cut,
            (Portion::Sleeve, Some(hollow)) => hollow.sleeve_weight,
            _ => self.figures.weight - self.input.solder,
        }
    }
}

/// A result of fineness; none where the rulebook gives no verdict.
pub(super) fn exact(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    let (word, read) = FinenessRead::of(id.path())?;
    evaluation.fineness(word)?.number(read)
}
