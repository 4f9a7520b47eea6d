//! What can be wrong with the meaning of a drawn cut.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// A cut that cannot be understood.
#[derive(Debug, Error, Diagnostic)]
#[error("{message}")]
#[diagnostic(code(model::cut), help("{help}"))]
pub struct CutError {
    /// The cut, or its faulty part.
    #[label("this cut")]
    pub at: Span,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: String,
}

impl Problem for CutError {}
