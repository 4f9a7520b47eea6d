//! What is wrong with a claim of fineness, or keeps a rulebook from a verdict.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// What is wrong with a claim of fineness.
#[derive(Debug, Error, Diagnostic)]
pub enum FinenessError {
    /// A figure that is no standard of the rulebook.
    #[error("`{book}` has no standard {said} for {metal}")]
    #[diagnostic(code(evaluate::unknown_standard), help("{help}"))]
    UnknownStandard {
        /// The figure.
        #[label("no standard")]
        at: Span,
        /// The rulebook.
        book: String,
        /// The figure.
        said: String,
        /// The metal.
        metal: String,
        /// What there is.
        help: String,
    },
    /// A claim in a metal that no part holds.
    #[error("`{band}` holds no {metal} to claim")]
    #[diagnostic(code(evaluate::metal_not_there), help("{help}"))]
    MetalNotThere {
        /// The claim.
        #[label("not in it")]
        at: Span,
        /// The band or part.
        band: String,
        /// The metal.
        metal: String,
        /// What the parts hold.
        help: String,
    },
    /// A rulebook that gives no verdict.
    #[error("`{book}` gives no verdict on `{band}`, which counts as broken: {why}")]
    #[diagnostic(code(evaluate::no_verdict), severity(warning), help("{help}"))]
    NoVerdict {
        /// The requirement.
        #[label("not decided")]
        at: Span,
        /// The rulebook.
        book: String,
        /// The band.
        band: String,
        /// Why.
        why: String,
        /// What to do.
        help: String,
    },
}

impl Problem for FinenessError {}
