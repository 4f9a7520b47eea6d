//! A band with every field resolved: what is chosen, and its values by field, each with its place.

use std::sync::Arc;

use rust_decimal::Decimal;

pub use crate::kernel::section::Roof;
use crate::quantity::{Length, Number, Quantity, RingSize, from_f64};
use crate::schema::{self, Field, FieldId};
use crate::source::Span;

use super::alloy::Alloy;
use super::cuts::{BandCut, Cutter};
use super::expression::diameter_of;
use super::marking::Marking;
use super::money::Terms;
use super::outline::Outline;
use super::value::Value;
use super::values::{FieldValue, Values};

/// A band, ready to be drawn and evaluated.
#[derive(Clone, Debug)]
pub struct Band {
    /// Its name in the recipe.
    pub name: String,
    /// It comes from a used file: it defines, and is not reported.
    pub used: bool,
    /// Where the lines stand that it takes over from what it is made of; nothing where it is made of none.
    pub inherits: std::sync::Arc<[Span]>,
    /// Its header.
    pub at: Span,
    /// The kind of outside curve.
    pub profile: Profile,
    /// The metal.
    pub alloy: Arc<Alloy>,
    /// Its state.
    pub temper: String,
    /// The two-part build.
    pub hollow: Option<Build>,
    /// Prices, the workshop, stock and sale, where the recipe says something of them.
    pub terms: Option<Arc<Terms>>,
    /// The band that break-even figures compare with; none: the solid of the same look.
    pub against: Option<Arc<Band>>,
    /// Assay lines, solder, marks and the rulebooks that stand for it.
    pub marking: Marking,
    /// Its numbers stand at a point of their ranges, so that none of them may be off any more.
    pub settled: bool,
    /// The drawn cuts of its pattern.
    pub cuts: Arc<[BandCut]>,
    /// Every field that has a value.
    pub fields: Values,
}

/// The smallest inside of the finished ring.
#[derive(Clone, Copy, Debug)]
pub struct Inside {
    /// The size, when the recipe gives one.
    pub size: Option<RingSize>,
    /// The inside diameter in mm; exact when the recipe gives it.
    pub diameter: Number,
}

impl Inside {
    /// One step of its size system as a circumference, mm; of a plain diameter 1 mm, the step of ISO 8653.
    #[must_use]
    pub fn step(&self) -> f64 {
        let Some(size) = self.size else {
            return 1.0;
        };
        let here = size.circumference().to_f64();
        let up = size
            .stepped(1.into())
            .map(|size| size.circumference().to_f64());
        let down = size
            .stepped((-1).into())
            .map(|size| size.circumference().to_f64());
        match (up, down) {
            (Ok(up), _) => up - here,
            (_, Ok(down)) => here - down,
            _ => 1.0,
        }
    }
}

/// The kind of an outside curve; its lengths are fields.
#[derive(Clone, Debug, PartialEq)]
pub enum Profile {
    /// A cylinder.
    Flat,
    /// A circular arc through the edges and the crown.
    Domed,
    /// A flat with straight chamfers.
    Bevelled,
    /// Two straight flanks, tangent to a rounded crown.
    KnifeEdge,
    /// An arc that dips at mid width.
    Concave,
    /// Points and arcs.
    Custom(Outline),
}

impl Profile {
    /// The word that a recipe uses.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Domed => "domed",
            Self::Bevelled => "bevelled",
            Self::KnifeEdge => "knife-edge",
            Self::Concave => "concave",
            Self::Custom(_) => "custom",
        }
    }
}

/// What is chosen for the two-part build: an outer shell that carries the pattern, and an inner sleeve.
#[derive(Clone, Debug)]
pub struct Build {
    /// Roof of the cavity.
    pub roof: Roof,
    /// The shell's metal.
    pub shell: Metal,
    /// The sleeve's metal.
    pub sleeve: Metal,
    /// What catches the shell.
    pub caught: Caught,
    /// The ring is built to turn.
    pub turning: bool,
}

/// An alloy in a state.
#[derive(Clone, Debug)]
pub struct Metal {
    /// The alloy.
    pub alloy: Arc<Alloy>,
    /// Its state.
    pub temper: String,
}

/// What keeps the parts together beside grip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caught {
    /// Nothing.
    Nowhere,
    /// Raised rings on the sleeve.
    ByRidges,
    /// The shell's inward lips.
    ByLips,
}

impl Band {
    /// The alloys that it is made of: its own, those of its parts, the solder.
    pub fn metals(&self) -> impl Iterator<Item = &Arc<Alloy>> {
        let parts = self.hollow.iter();
        let parts = parts.flat_map(|build| [&build.shell.alloy, &build.sleeve.alloy]);
        let solder = self.marking.solder.iter().map(|solder| &solder.alloy);
        std::iter::once(&self.alloy).chain(parts).chain(solder)
    }

    /// The same, to put others in their place.
    pub(super) fn metals_mut(&mut self) -> impl Iterator<Item = &mut Arc<Alloy>> {
        let parts = self.hollow.iter_mut();
        let parts = parts.flat_map(|build| [&mut build.shell.alloy, &mut build.sleeve.alloy]);
        let solder = self.marking.solder.iter_mut();
        let solder = solder.map(|solder| &mut solder.alloy);
        std::iter::once(&mut self.alloy).chain(parts).chain(solder)
    }

    /// Puts the value of a field in its place.
    pub fn put(&mut self, value: impl Into<Arc<FieldValue>>) {
        let value = value.into();
        let of_marking = Marking::says(value.field.id);
        self.fields.put(value);
        if of_marking {
            self.marking.put_numbers(&self.fields);
        }
    }

    /// The value of a field.
    #[must_use]
    pub fn field(&self, id: FieldId) -> Option<&FieldValue> {
        self.fields.get(id)
    }

    /// A cut with a name, and the field of it that a path behind the band's name means: `pattern.ring.border.depth`, or
    /// without the word of its kind.
    #[must_use]
    pub fn cut_field(&self, path: &str) -> Option<(&BandCut, &'static Field)> {
        let inner = path.strip_prefix(FieldId::Pattern.path())?;
        let mut words = inner.strip_prefix('.')?.rsplit('.');
        let (word, name, kind) = (words.next()?, words.next()?, words.next());
        let is_it = |cut: &&BandCut| {
            let of_kind = kind.is_none_or(|kind| cut.kind.block.word() == kind);
            of_kind && cut.name.as_deref() == Some(name)
        };
        let mut cuts = self.cuts.iter().filter(is_it);
        let cut = cuts.next().filter(|_| words.next().is_none())?;
        let mut fields = schema::held_by(cut.kind.block.path());
        let field = fields.find(|field| field.word() == word)?;
        cuts.next().is_none().then_some((cut, field))
    }

    /// What a path behind the band's name holds that is no field of the vocabulary: a value of a cut with a name.
    #[must_use]
    pub fn cut_value(&self, path: &str) -> Option<&FieldValue> {
        let (cut, field) = self.cut_field(path)?;
        match field.id == cut.kind.depth {
            true => cut.depth(&self.fields),
            false => cut.value(&self.fields, field.id),
        }
    }

    /// The cutters that its cuts are made with, each once.
    #[must_use]
    pub fn cutters(&self) -> Vec<&Arc<Cutter>> {
        let mut all: Vec<&Arc<Cutter>> = Vec::new();
        for cutter in self.cuts.iter().filter_map(|cut| cut.cutter.as_ref()) {
            if !all.iter().any(|known| known.name == cutter.name) {
                all.push(cutter);
            }
        }
        all
    }

    /// The same with those of the band that it is compared with.
    #[must_use]
    pub fn cutters_beside(&self) -> Vec<&Arc<Cutter>> {
        let mut all = self.cutters();
        for cutter in self.against.iter().flat_map(|other| other.cutters()) {
            if !all.iter().any(|known| known.name == cutter.name) {
                all.push(cutter);
            }
        }
        all
    }

    /// The length of a field in mm, when it has one.
    #[must_use]
    pub fn length(&self, id: FieldId) -> Option<f64> {
        self.fields.length(id).map(Length::to_mm)
    }

    /// The length of a field as it is written; 0 where it has none.
    #[must_use]
    pub fn written(&self, id: FieldId) -> Decimal {
        let length = self.fields.length(id);
        length.map_or(Decimal::ZERO, |length| length.value().normalize())
    }

    /// Where a field is written, or the band's header when it is a default.
    #[must_use]
    pub fn place(&self, id: FieldId) -> Span {
        self.fields.at(id).unwrap_or(self.at)
    }

    /// What the maker calls it.
    #[must_use]
    pub fn title(&self) -> Option<&str> {
        self.fields.text(FieldId::Title)
    }

    /// Whether a pattern is cut.
    #[must_use]
    pub fn is_cut(&self) -> bool {
        let states = |id| self.fields.get(id).is_some();
        self.is_drawn() || states(FieldId::PatternDepth) && states(FieldId::PatternCover)
    }

    /// Whether the cuts of its pattern are drawn.
    #[must_use]
    pub fn is_drawn(&self) -> bool {
        !self.cuts.is_empty()
    }

    /// The finished inside.
    #[must_use]
    pub fn inside(&self) -> Inside {
        inside_of(self.field(FieldId::Size).map(|field| &field.value))
    }

    /// (Largest outside diameter - inside diameter) / 2: as stated, or as it follows from the outside or the
    /// outline.
    #[must_use]
    pub fn thickness(&self) -> Option<Length> {
        let stated = self.fields.length(FieldId::Thickness);
        let outside = || {
            let outside = self.fields.quantity(FieldId::Outside)?;
            from_outside(outside, self.inside().diameter)
        };
        let outline = || match &self.profile {
            Profile::Custom(outline) => from_f64(outline.crown()).map(Length::mm),
            _ => None,
        };
        stated.or_else(outside).or_else(outline)
    }
}

/// The inside that the value of a size means.
#[must_use]
pub fn inside_of(size: Option<&Value>) -> Inside {
    match size {
        Some(Value::Size { size, .. }) => Inside {
            size: Some(*size),
            diameter: diameter_of(size),
        },
        Some(Value::Quantity { quantity, .. }) => Inside {
            size: None,
            diameter: quantity.number,
        },
        _ => Inside {
            size: None,
            diameter: Number::ZERO,
        },
    }
}

/// Thickness from the largest outside diameter.
fn from_outside(outside: &Quantity, bore: Number) -> Option<Length> {
    let twice = outside.number.minus(bore)?;
    let thickness = twice.over(Number::Exact(Decimal::TWO))?;
    match thickness {
        Number::Exact(value) => Some(Length::mm(value)),
        Number::Computed(value) => from_f64(value).map(Length::mm),
    }
}
