//! What every layer says when something is wrong, short or not evaluated: a finding.
//!
//! Each layer has its own list of problems (`syntax::SyntaxError`, `model::ModelError`, …), an enum
//! whose variants carry spans and figures. A [`Finding`] holds one of them, so that all travel in one
//! list, in the order of the text. How a finding is drawn is the outermost layer's business.

use std::collections::HashSet;
use std::fmt;
use std::sync::Arc;

use miette::{Diagnostic, Severity};
use thiserror::Error;

use crate::source::{Span, printable};

/// A problem of some layer: message, labels, help and code by `miette`'s trait, and a repair where one is certain.
pub trait Problem: Diagnostic + Send + Sync {
    /// The text that would put it right, when it cannot be wrong: no guess, and never another metal, fineness,
    /// dimension or magnitude. What is only probable belongs into the help.
    fn repair(&self) -> Option<Repair> {
        None
    }

    /// What is named is there, and has no value as things stand; with other numbers it may have one.
    fn lacks_value(&self) -> bool {
        false
    }

    /// The word that was probably meant, so that what it would have said is not reported as missing too.
    fn meant(&self) -> Option<&str> {
        None
    }
}

/// Text to put in place of a span.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// What is replaced.
    pub span: Span,
    /// By what.
    pub text: String,
}

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Something worth knowing; changes no status.
    Note,
    /// The recipe is sound, but something falls short: status 1.
    Short,
    /// The recipe, a file or the call is wrong: status 2.
    Wrong,
}

/// What a finding is of, whatever its figures: with its code the same for the same mistake.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Identity {
    /// The band.
    pub band: Option<Arc<str>>,
    /// The path of the field.
    pub field: Option<&'static str>,
    /// The word of the wall.
    pub wall: Option<&'static str>,
}

/// One problem, ready to be listed with others.
#[derive(Clone)]
pub struct Finding {
    problem: Arc<dyn Problem>,
    identity: Option<Box<Identity>>,
}

impl fmt::Debug for Finding {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}: {}", self.code(), self.message())
    }
}

impl<P: Problem + 'static> From<P> for Finding {
    fn from(problem: P) -> Self {
        Self {
            problem: Arc::new(problem),
            identity: None,
        }
    }
}

impl Finding {
    /// The problem itself.
    #[must_use]
    pub fn problem(&self) -> &dyn Problem {
        &*self.problem
    }

    /// The same, said to be of this.
    #[must_use]
    pub fn of(self, identity: Identity) -> Self {
        Self {
            identity: Some(Box::new(identity)),
            ..self
        }
    }

    /// What it is of, where whoever found it says so.
    #[must_use]
    pub fn identity(&self) -> Option<&Identity> {
        self.identity.as_deref()
    }

    /// Its stable code, `layer::name`.
    #[must_use]
    pub fn code(&self) -> String {
        self.problem
            .code()
            .map_or_else(String::new, |code| code.to_string())
    }

    /// What is wrong, in one sentence. Like every text of a finding it may repeat some of the recipe, but
    /// never a character that could upset a terminal.
    #[must_use]
    pub fn message(&self) -> String {
        printable(&self.problem.to_string())
    }

    /// One thing to do about it.
    #[must_use]
    pub fn help(&self) -> Option<String> {
        self.problem.help().map(|help| printable(&help.to_string()))
    }

    /// How much it weighs.
    #[must_use]
    pub fn weight(&self) -> Weight {
        match self.problem.severity() {
            None | Some(Severity::Error) => Weight::Wrong,
            Some(Severity::Warning) => Weight::Short,
            Some(Severity::Advice) => Weight::Note,
        }
    }

    /// The places it speaks of with a word on each, the main one first.
    #[must_use]
    pub fn labels(&self) -> Vec<(Span, String)> {
        let clamp = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        let labels = self.problem.labels().into_iter().flatten();
        labels
            .map(|label| {
                let span = Span {
                    start: clamp(label.offset()),
                    end: clamp(label.offset() + label.len()),
                };
                (span, printable(label.label().unwrap_or_default()))
            })
            .collect()
    }

    /// Where it is: the first of its places.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.labels().first().map(|(span, _)| *span)
    }

    /// Whether another finding says the same of the same place.
    #[must_use]
    pub fn says_as(&self, other: &Self) -> bool {
        self.span() == other.span()
            && self.code() == other.code()
            && self.message() == other.message()
    }

    /// The repair, when it cannot be wrong.
    #[must_use]
    pub fn repair(&self) -> Option<Repair> {
        self.problem.repair()
    }

    /// Whether what is named has no value as things stand.
    #[must_use]
    pub fn lacks_value(&self) -> bool {
        self.problem.lacks_value()
    }

    /// The word that was probably meant.
    #[must_use]
    pub fn meant(&self) -> Option<&str> {
        self.problem.meant()
    }
}

/// The most findings that are kept of one text. Who has more has no recipe at hand, or one slip too many to
/// read of; a limit keeps a heap of junk from becoming a heap of findings.
pub const MOST: usize = 1000;

/// Whether a list is so full that what is added need not say which word was meant: to seek it among all names for
/// findings that nobody is shown would make the work grow with the square of the text.
#[must_use]
pub fn is_full(findings: &[Finding]) -> bool {
    findings.len() > SOUGHT
}

/// How many findings say which word was meant.
const SOUGHT: usize = 200;

/// Adds a finding to a list that is not full; one more than [`MOST`] tells that there were more.
pub fn add(findings: &mut Vec<Finding>, problem: impl Into<Finding>) {
    if findings.len() <= MOST {
        findings.push(problem.into());
    }
}

/// Said behind the last finding that is listed, when there are more.
#[derive(Debug, Error, Diagnostic)]
#[error("there are more findings than the {MOST} listed")]
#[diagnostic(
    code(finding::too_many),
    severity(advice),
    help("put these right first; is it a recipe?")
)]
struct TooMany {
    /// The last that is listed.
    #[label("more from here")]
    at: Span,
}

impl Problem for TooMany {}

/// Puts findings in the order of the text, drops what was said twice of the same place, and keeps no more of
/// them than [`MOST`], the heaviest before the others.
pub fn settle(findings: &mut Vec<Finding>) {
    findings.sort_by_key(|finding| finding.span().map(|span| (span.start, span.end)));
    let mut said = HashSet::new();
    findings.retain(|finding| said.insert((finding.span(), finding.code(), finding.message())));
    if findings.len() <= MOST {
        return;
    }
    let heaviest = findings.iter().map(Finding::weight).max();
    findings.retain(|finding| Some(finding.weight()) == heaviest);
    findings.truncate(MOST);
    if let Some(at) = findings.last().and_then(Finding::span) {
        findings.push(TooMany { at }.into());
    }
}
