//! Bands that cannot be: what is impossible, where, and the value that would just fit.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// Impossible geometry.
#[derive(Debug, Error, Diagnostic)]
pub enum GeometryError {
    /// A length that is more, or less, than the others allow.
    #[error("{message}")]
    #[diagnostic(code(geometry::does_not_fit), help("{help}"))]
    DoesNotFit {
        /// The value.
        #[label("{label}")]
        at: Span,
        /// What is wrong, with the figures.
        message: String,
        /// The limit.
        label: String,
        /// What would just fit.
        help: String,
    },
    /// Two lengths that say the same thing and do not agree.
    #[error("`{first_name}` and `{second_name}` do not agree: {message}")]
    #[diagnostic(
        code(geometry::over_stated),
        help("leave one of them out, or write `{fits}`")
    )]
    OverStated {
        /// One of them.
        #[label("this follows from the other lengths")]
        second: Span,
        /// The other one.
        #[label("and this is stated too")]
        first: Span,
        /// Its name.
        first_name: &'static str,
        /// Name of the second.
        second_name: &'static str,
        /// The figures.
        message: String,
        /// What the second would have to be.
        fits: String,
    },
}

// What would just fit is offered in words: which length gives way is for the maker to say.
impl Problem for GeometryError {}
