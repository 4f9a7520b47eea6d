//! A band with every field resolved: what the recipe states, typed, with the place of each value.

use crate::schema::{Field, FieldId};
use std::sync::Arc;

use crate::quantity::{Length, Number, Ratio, RingSize};
use crate::source::Span;

use super::alloy::Alloy;
use super::marking::Marking;
use super::money::Terms;
use super::outline::Outline;
use super::value::Value;

/// A band, ready to be drawn and evaluated.
#[derive(Clone, Debug)]
pub struct Band {
    /// Its name in the recipe.
    pub name: String,
    /// It comes from a used file: it defines, and is not reported.
    pub used: bool,
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
    /// Legs of the chamfers on the outer edges.
    pub ease_outer: Length,
    /// Legs of the chamfers on the bore's edges.
    pub ease_bore: Length,
    /// What is cut.
    pub pattern: Option<Pattern>,
    /// The two-part build.
    pub hollow: Option<Hollow>,
    /// The wall that must remain.
    pub least_wall: Length,
    /// Prices, the workshop, stock and sale, where the recipe says something of them.
    pub terms: Option<Arc<Terms>>,
    /// Assay lines, solder, marks and the rulebooks that stand for it.
    pub marking: Marking,
    /// Every field that has a value, in the order of the vocabulary.
    pub fields: Vec<Arc<FieldValue>>,
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
#[derive(Clone, Debug, PartialEq)]
pub enum Profile {
    /// A cylinder.
    Flat,
    /// A circular arc through the edges and the crown.
    Domed {
        /// Radial thickness at the side faces.
        edge: Length,
    },
    /// A flat with straight chamfers.
    Bevelled {
        /// Axial leg of the chamfer.
        across: Length,
        /// Radial leg of the chamfer.
        down: Length,
    },
    /// Two straight flanks, tangent to a rounded crown.
    KnifeEdge {
        /// Radial thickness at the side faces.
        edge: Length,
        /// Radius of the crown; 0 is sharp.
        crown: Length,
    },
    /// An arc that dips at mid width.
    Concave {
        /// How far.
        dip: Length,
    },
    /// Points and arcs.
    Custom(Outline),
}

impl Profile {
    /// The word that a recipe uses.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Domed { .. } => "domed",
            Self::Bevelled { .. } => "bevelled",
            Self::KnifeEdge { .. } => "knife-edge",
            Self::Concave { .. } => "concave",
            Self::Custom(_) => "custom",
        }
    }
}

/// The two-part build: an outer shell that carries the pattern, and an inner sleeve.
#[derive(Clone, Debug)]
pub struct Hollow {
    /// Wall of the shell, normal to its surface; none for a full shell.
    pub wall: Option<Length>,
    /// Roof of the cavity.
    pub roof: Roof,
    /// Radius of the cavity's inner corners.
    pub nose: Length,
    /// The shell's metal.
    pub shell: Metal,
    /// Thickness of the sleeve at mid width.
    pub sleeve: Length,
    /// Wall that the sleeve is turned down to between the feet.
    pub relief: Option<Length>,
    /// The sleeve's metal.
    pub sleeve_metal: Metal,
    /// What catches the shell.
    pub catch: Catch,
    /// Running clearance on the diameter, when the ring is built to turn.
    pub running_play: Option<Length>,
}

/// An alloy in a state.
#[derive(Clone, Debug)]
pub struct Metal {
    /// The alloy.
    pub alloy: Arc<Alloy>,
    /// Its state.
    pub temper: String,
}

/// The roof of the cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Roof {
    /// Parallel to the outside.
    Uniform,
    /// The highest cylinder that keeps the wall.
    Straight,
    /// No cavity.
    Full,
}

/// What keeps the parts together beside grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Catch {
    /// Nothing.
    None,
    /// Raised rings on the sleeve.
    Ridge {
        /// Radial height.
        height: Length,
        /// Axial width.
        wide: Length,
        /// One or two.
        count: u32,
        /// Axial clearance of each of two.
        play: Length,
    },
    /// The shell's inward lips.
    Lip {
        /// Radial height.
        height: Length,
        /// Axial width.
        wide: Length,
        /// Axial clearance of the sleeve, in all.
        play: Length,
    },
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
    /// The value of a field.
    #[must_use]
    pub fn field(&self, id: FieldId) -> Option<&FieldValue> {
        let mut fields = self.fields.iter().map(|value| &**value);
        fields.find(|value| value.field.id == id)
    }

    /// The length of a field in mm, when it has one.
    #[must_use]
    pub fn length(&self, id: FieldId) -> Option<f64> {
        let quantity = self.field(id)?.value.quantity()?;
        Length::from_quantity(quantity).map(Length::to_mm)
    }

    /// Where a field is written, or the band's header when it is a default.
    #[must_use]
    pub fn place(&self, id: FieldId) -> Span {
        self.field(id).and_then(|value| value.at).unwrap_or(self.at)
    }
}
