//! A finding said a little otherwise: of other places, of the text that a text was made from; or with another help.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, Severity};

use crate::finding::{Finding, Problem, Repair, Weight};
use crate::source::Span;

/// What another finding says, at other places or with another help.
#[derive(Debug)]
pub struct Repointed {
    inner: Finding,
    labels: Option<Vec<(Span, String)>>,
    help: Option<String>,
}

impl Repointed {
    /// A finding with other labels in place of its own.
    #[must_use]
    pub fn of(finding: &Finding, labels: Vec<(Span, String)>) -> Finding {
        Finding::from(Self {
            inner: finding.clone(),
            labels: Some(labels),
            help: None,
        })
    }

    /// A finding with another help, of what it was.
    #[must_use]
    pub fn helped(finding: Finding, help: String) -> Finding {
        let identity = finding.identity().cloned();
        let said = Finding::from(Self {
            inner: finding,
            labels: None,
            help: Some(help),
        });
        match identity {
            Some(identity) => said.of(identity),
            None => said,
        }
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
        match &self.help {
            Some(help) => Some(Box::new(help)),
            None => self.inner.problem().help(),
        }
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let Some(labels) = &self.labels else {
            return self.inner.problem().labels();
        };
        let label =
            |(at, text): &(Span, String)| LabeledSpan::new_with_span(Some(text.clone()), *at);
        Some(Box::new(labels.iter().map(label)))
    }
}

impl Problem for Repointed {
    fn repair(&self) -> Option<Repair> {
        match self.labels {
            Some(_) => None,
            None => self.inner.repair(),
        }
    }

    fn meant(&self) -> Option<&str> {
        self.inner.meant()
    }
}
