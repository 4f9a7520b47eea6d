//! A band with every field resolved: what the recipe states, typed, with the place of each value.

use std::sync::Arc;

use crate::quantity::{Length, Number, Ratio, RingSize};
use crate::source::Span;

use super::alloy::Alloy;
use super::fields::Field;
use super::value::Value;

/// A band, ready to be drawn and evaluated.
#[derive(Clone, Debug)]
pub struct Band {
    /// Its name in the recipe.
    pub name: String,
    /// Its header.
    pub at: Span,
    /// What the maker calls it.
    pub title: Option<String>,
    /// The finished inside.
    pub inside: Inside,
    /// Axial width.
    pub width: Length,
    /// (Largest outside diameter - inside diameter) / 2.
    pub thickness: Length,
    /// Outside curve.
    pub profile: Profile,
    /// Radial opening of the bore at its edges.
    pub comfort: Length,
    /// The metal.
    pub alloy: Arc<Alloy>,
    /// Its state.
    pub temper: String,
    /// What is cut.
    pub pattern: Option<Pattern>,
    /// The wall that must remain.
    pub least_wall: Length,
    /// Every field that has a value, in the order of the vocabulary.
    pub fields: Vec<FieldValue>,
}

/// The smallest inside of the finished ring.
#[derive(Clone, Copy, Debug)]
pub struct Inside {
    /// The size, when the recipe gives one.
    pub size: Option<RingSize>,
    /// The inside diameter in mm; exact when the recipe gives it.
    pub diameter: Number,
}

/// An outside curve with its own fields.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Profile {
    /// A cylinder.
    Flat,
    /// A circular arc through the edges and the crown.
    Domed {
        /// Radial thickness at the side faces.
        edge: Length,
    },
}

impl Profile {
    /// The word that a recipe uses.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Domed { .. } => "domed",
        }
    }
}

/// A pattern given by its cover and depths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pattern {
    /// Repeats round the band.
    pub repeats: Option<u32>,
    /// Greatest radial depth.
    pub depth: Length,
    /// Mean radial depth over the covered part.
    pub mean_depth: Length,
    /// Part of the outside that is cut.
    pub cover: Ratio,
}

/// The value of one field and where it comes from.
#[derive(Clone, Debug)]
pub struct FieldValue {
    /// Which field.
    pub field: &'static Field,
    /// Its value.
    pub value: Value,
    /// Where the value is written; none for a default.
    pub at: Option<Span>,
    /// Every place that set it, weakest first.
    pub places: Vec<Span>,
}

impl Band {
    /// The value of a field by its full path.
    #[must_use]
    pub fn field(&self, path: &str) -> Option<&FieldValue> {
        self.fields.iter().find(|value| value.field.path == path)
    }

    /// Where a field is written, or the band's header when it is a default.
    #[must_use]
    pub fn place(&self, path: &str) -> Span {
        self.field(path)
            .and_then(|value| value.at)
            .unwrap_or(self.at)
    }
}
