//! A finding said of other places: of the text that a text was made from.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, Severity};

use crate::finding::{Finding, Problem, Weight};
use crate::source::Span;

/// What another finding says, at other places.
#[derive(Debug)]
pub struct Repointed {
    inner: Finding,
    labels: Vec<(Span, String)>,
}

impl Repointed {
    /// A finding with other labels in place of its own.
    #[must_use]
    pub fn of(finding: &Finding, labels: Vec<(Span, String)>) -> Finding {
        let inner = finding.clone();
        Finding::from(Self { inner, labels })
    }
}

impl fmt::Display for Repointed {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.inner.message())
    }
}

impl std::error::Error for Repointed {}

impl Diagnostic for Repointed {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.inner.problem().code()
    }

    fn severity(&self) -> Option<Severity> {
        Some(match self.inner.weight() {
            Weight::Note => Severity::Advice,
            Weight::Short => Severity::Warning,
            Weight::Wrong => Severity::Error,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.inner.problem().help()
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label =
            |(at, text): &(Span, String)| LabeledSpan::new_with_span(Some(text.clone()), *at);
        Some(Box::new(self.labels.iter().map(label)))
    }
}

impl Problem for Repointed {}
