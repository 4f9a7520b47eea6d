//! Words among what is varied that nothing bears: a slip in a list is a mistake, no row that is empty.

use crate::finding::{Finding, Weight};
use crate::source::{Sources, Span};
use crate::words::Repointed;

use super::Tried;
use super::exploring::Asking;

/// What a word that nothing bears is told by.
const UNKNOWN: [&str; 2] = ["model::unknown_name", "model::no_word"];

/// Whether a finding says of just this word that it is not known.
#[must_use]
pub fn is_misspelt(finding: &Finding, word: &str, sources: &Sources) -> bool {
    let is_there = |span: Span| sources.slice(span) == word;
    finding.weight() == Weight::Wrong
        && UNKNOWN.contains(&finding.code().as_str())
        && finding.span().is_some_and(is_there)
}

impl Asking<'_> {
    /// Tells each word among the values that is not known, whatever is varied beside it: a temper may be one of another
    /// alloy's in the list beside.
    pub(super) fn tell_misspelt(&mut self) {
        let words: Vec<(usize, String, Span)> = self
            .axes
            .iter()
            .enumerate()
            .flat_map(|(axis, of)| {
                let words = of.words.iter();
                words.map(move |(word, at)| (axis, of.line(word), *at))
            })
            .collect();
        let mut told = Vec::new();
        for (axis, line, at) in &words {
            let Some(unknown) = self.unknown(&[line], *at) else {
                continue;
            };
            let mut beside = words.iter().filter(|(other, ..)| other != axis);
            if beside.all(|(_, other, _)| self.unknown(&[other, line], *at).is_some()) {
                told.push(unknown);
            }
        }
        self.findings.extend(told);
    }

    /// That the word of the last of these lines is not known, told where it stands among the values.
    fn unknown(&self, lines: &[&String], at: Span) -> Option<Finding> {
        let mut session = self.session.clone();
        let mut request = self.request.clone();
        let tries = lines.iter().map(|line| Tried {
            line: (*line).clone(),
            band: request.band.clone(),
            typed: None,
        });
        let tries: Vec<Tried> = tries.collect();
        request.tries.extend(tries);
        let word = self.session.sources.slice(at);
        let outcome = session.outcome(self.prepared, &request);
        let mut found = outcome.findings.iter();
        let found = found.find(|finding| is_misspelt(finding, word, &session.sources))?;
        Some(Repointed::of(found, vec![(at, "not known".to_owned())]))
    }
}
