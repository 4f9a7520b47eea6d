//! What a path below `fineness` asks of a rulebook's judgement.

use rust_decimal::Decimal;

use super::judgement::Judgement;

/// What is read of a judgement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FinenessRead {
    /// The highest figure that may be carried: `fineness.UK`.
    Mark,
    /// What it has to spare: `fineness.UK.margin`.
    Margin,
    /// The verdict in words: `fineness.UK.verdict`.
    Verdict,
}

impl FinenessRead {
    /// What stands behind a rulebook's word, shortest first.
    const ALL: [(&'static str, Self); 3] = [
        ("", Self::Mark),
        (".margin", Self::Margin),
        (".verdict", Self::Verdict),
    ];

    /// The word of the rulebook, and what is read of it; none for other paths.
    #[must_use]
    pub fn of(path: &str) -> Option<(&str, Self)> {
        let rest = path.strip_prefix("fineness.")?;
        let (word, what) = rest.split_at(rest.find('.').unwrap_or(rest.len()));
        let known = Self::ALL.into_iter().find(|(known, _)| *known == what);
        known.map(|(_, read)| (word, read))
    }

    /// The paths of a rulebook's word.
    pub fn paths(word: &str) -> impl Iterator<Item = String> {
        let all = Self::ALL.into_iter();
        all.map(move |(rest, _)| format!("fineness.{word}{rest}"))
    }
}

impl Judgement {
    /// A figure of it; none for words, and where there is no verdict.
    #[must_use]
    pub fn number(&self, read: FinenessRead) -> Option<Decimal> {
        match read {
            FinenessRead::Mark => self.mark(),
            FinenessRead::Margin => self.passes().and(self.margin()),
            FinenessRead::Verdict => None,
        }
    }
}
