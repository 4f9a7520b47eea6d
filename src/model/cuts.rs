//! Drawn cuts of a pattern and the cutters that make them: what is stated, by field.

use std::sync::Arc;

use crate::schema::{CutKind, FieldId};
use crate::source::Span;

use super::drawings::DrawnPart;
use super::values::{FieldValue, Values};

/// A cutter.
#[derive(Clone, Debug)]
pub struct Cutter {
    /// Its name.
    pub name: String,
    /// Its form.
    pub kind: CutterKind,
    /// Where it is defined.
    pub at: Span,
    /// Its sizes and speeds.
    pub values: Values,
}

/// The form of a cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutterKind {
    /// A cone.
    Vee,
    /// A ball.
    Ball,
    /// A flat end.
    Flat,
    /// What leaves a plane.
    Facet,
}

impl CutterKind {
    /// The word that a recipe writes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Vee => "vee",
            Self::Ball => "ball",
            Self::Flat => "flat",
            Self::Facet => "facet",
        }
    }
}

/// One drawn cut.
#[derive(Clone, Debug)]
pub struct BandCut {
    /// Its kind.
    pub kind: CutKind,
    /// Its name, where it bears one.
    pub name: Option<String>,
    /// Where it is written.
    pub at: Span,
    /// What a cut with a name states; one without states its fields as the band's own.
    pub own: Option<Values>,
    /// The points and arcs of a path or a pocket.
    pub nodes: Vec<PathNode>,
    /// What of a drawing it cuts.
    pub drawing: Option<Arc<DrawnPart>>,
    /// With what it is cut; a facet may leave it open.
    pub cutter: Option<Arc<Cutter>>,
}

/// A point of a path or of an outline, on the strip; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PathNode {
    /// Along the repeat, and axial from mid width.
    pub at: (f64, f64),
    /// The point that an arc to it goes by.
    pub by: Option<(f64, f64)>,
}

impl BandCut {
    /// What it states of a field of its own; `of_band`: the fields of its band, where one without a name states it.
    #[must_use]
    pub fn value<'a>(&'a self, of_band: &'a Values, id: FieldId) -> Option<&'a FieldValue> {
        self.own.as_ref().unwrap_or(of_band).get(id)
    }

    /// Its depth: its own, or that of the pattern.
    #[must_use]
    pub fn depth<'a>(&'a self, of_band: &'a Values) -> Option<&'a FieldValue> {
        let own = self.value(of_band, self.kind.depth);
        own.or_else(|| of_band.get(FieldId::PatternDepth))
    }

    /// The depth at its end, where it is a path that is ramped.
    #[must_use]
    pub fn ramp<'a>(&'a self, of_band: &'a Values) -> Option<&'a FieldValue> {
        let is_path = self.kind.block == FieldId::PatternPath;
        self.value(of_band, FieldId::PatternPathRamp)
            .filter(|_| is_path)
    }

    /// The path of one of its fields behind the band's name, as a recipe says it.
    #[must_use]
    pub fn path(&self, id: FieldId) -> String {
        let block = self.kind.block.path();
        match &self.name {
            Some(name) => format!("{block}.{name}.{}", id.word()),
            None => format!("{block}.{}", id.word()),
        }
    }

    /// What it is called: its kind, and its name.
    #[must_use]
    pub fn called(&self) -> String {
        match &self.name {
            Some(name) => format!("{} {name}", self.kind.block.word()),
            None => self.kind.block.word().to_owned(),
        }
    }
}
