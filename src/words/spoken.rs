//! A shortfall in sentences.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, Severity};

use crate::finding::{Problem, Weight};
use crate::source::Span;

/// One thing to say: message, labels on its places, help, code and weight.
#[derive(Debug)]
pub struct Spoken {
    /// Its stable code.
    pub code: &'static str,
    /// How much it weighs.
    pub weight: Weight,
    /// What is wrong, in one sentence.
    pub message: String,
    /// The places it speaks of with a word on each, the main one first.
    pub labels: Vec<(Span, String)>,
    /// One thing to do about it.
    pub help: String,
}

impl fmt::Display for Spoken {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.message)
    }
}

impl std::error::Error for Spoken {}

impl Diagnostic for Spoken {
    fn code(&self) -> Option<Box<dyn fmt::Display + '_>> {
        Some(Box::new(self.code))
    }

    fn severity(&self) -> Option<Severity> {
        Some(match self.weight {
            Weight::Note => Severity::Advice,
            Weight::Short => Severity::Warning,
            Weight::Wrong => Severity::Error,
        })
    }

    fn help(&self) -> Option<Box<dyn fmt::Display + '_>> {
        Some(Box::new(&self.help))
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label =
            |(at, text): &(Span, String)| LabeledSpan::new_with_span(Some(text.clone()), *at);
        Some(Box::new(self.labels.iter().map(label)))
    }
}

impl Problem for Spoken {}
