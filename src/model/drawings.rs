//! The drawings that a recipe names, read with it.

use std::sync::Arc;

use crate::motif::{Motif, MotifError};
use crate::source::Span;

/// A drawing, by where its name is written.
#[derive(Clone, Debug)]
pub struct NamedDrawing {
    /// Where its name is written.
    pub at: Span,
    /// How findings call its file.
    pub name: String,
    /// What it holds, or why it cannot be taken.
    pub motif: Result<Arc<Motif>, MotifError>,
}

/// The drawings of a recipe and of the files that it uses.
#[derive(Clone, Debug, Default)]
pub struct Drawings(pub Vec<NamedDrawing>);

impl Drawings {
    /// The one whose name is written at a place.
    #[must_use]
    pub fn at(&self, at: Span) -> Option<&NamedDrawing> {
        self.0.iter().find(|drawing| drawing.at == at)
    }
}

/// What is cut of a drawing: places along the repeat and axial ones, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DrawnPart {
    /// How wide the drawing is.
    pub wide: f64,
    /// Centre lines.
    pub lines: Vec<Vec<(f64, f64)>>,
    /// Outlines of pockets.
    pub outlines: Vec<Vec<(f64, f64)>>,
}
