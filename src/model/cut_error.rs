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

/// Something in a drawing that is not understood, so that it is not cut.
#[derive(Debug, Error, Diagnostic)]
#[error("`{what}` ({place}{more}) is not understood, and not cut")]
#[diagnostic(
    code(model::undrawn),
    severity(warning),
    help("draw it as strokes or closed fills, or leave it out of the drawing")
)]
pub struct Undrawn {
    /// The name of the drawing.
    #[label("in this drawing")]
    pub at: Span,
    /// What it is.
    pub what: String,
    /// Its file and line.
    pub place: String,
    /// How many more there are.
    pub more: String,
}

impl Problem for Undrawn {}
