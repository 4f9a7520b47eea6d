//! Bands that cannot be: what is impossible, where, and the value that would just fit.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::{Problem, Repair};
use crate::source::Span;

/// Impossible geometry.
#[derive(Debug, Error, Diagnostic)]
pub enum GeometryError {
    /// A length that is more than the others allow.
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
        /// The value that would just fit.
        fits: Option<String>,
    },
    /// A pattern that cuts through the wall.
    #[error(
        "the pattern is cut {depth} mm deep, and the metal under it is {wall} mm at its thinnest"
    )]
    #[diagnostic(code(geometry::cut_through), help("{help}"))]
    CutThrough {
        /// The depth.
        #[label("no metal would be left")]
        at: Span,
        /// The depth.
        depth: String,
        /// The wall.
        wall: String,
        /// What would fit.
        help: String,
        /// The depth that leaves the least wall.
        fits: Option<String>,
    },
}

impl Problem for GeometryError {
    fn repair(&self) -> Option<Repair> {
        let (Self::DoesNotFit { at, fits, .. } | Self::CutThrough { at, fits, .. }) = self;
        fits.as_ref().map(|text| Repair {
            span: *at,
            text: text.clone(),
        })
    }
}
