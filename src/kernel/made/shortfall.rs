//! What is wrong with parts as made, or falls short of the ring that they come to.

use crate::kernel::join::{Allowed, MachinedSleeve};
use crate::kernel::section::Body;
use crate::schema::FieldId;

use super::again::Again;
use super::clash::Clash;

/// A wall of parts as made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thin {
    /// Under the cut.
    UnderCut,
    /// At the shell's feet, axial.
    Foot,
    /// The sleeve at its side faces.
    SleeveEdge,
    /// The sleeve where it is turned down.
    SleeveRelief,
}

/// What a band has not that a measured figure speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lacks {
    /// Two parts: it is solid.
    Parts,
    /// A blank: it is hollow.
    Blank,
    /// Lips.
    Lips,
    /// A channel.
    Channel,
    /// Ridges.
    Ridges,
}

/// A figure of a ring that can be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OffSize {
    /// Its bore.
    Bore,
    /// Its largest outside.
    Outside,
    /// Its width.
    Width,
}

/// One thing about parts as made that cannot be, or falls short; lengths in mm, strains true ones.
///
/// `field` is the measured figure that it is told at, `fits` the value of that figure that would just do.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum MadeShortfall {
    /// Measured figures contradict each other.
    Contradicts {
        /// What against what.
        clash: Clash,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
        /// The least set of figures without which the others agree, where no one figure would do.
        again: Again,
    },
    /// A measured figure of what the band has not.
    Unused {
        /// The figure.
        field: FieldId,
        /// What it has not.
        lacks: Lacks,
    },
    /// A wall under the least one.
    Thin {
        /// Which wall.
        place: Thin,
        /// How thick it is; negative where the cut comes through.
        wall: f64,
        /// The least wall.
        least: f64,
        /// The deepest cut that leaves it, in whole micrometres; none where no cut does, or it is not the cut's.
        deepest: Option<f64>,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
    },
    /// A stretch past what the metal bears in one pull, where the part worked back stays within.
    StretchLimit {
        /// The sleeve, or the solid band.
        part: Body,
        /// True strain of its bore.
        strain: f64,
        /// What it bears.
        allowed: Allowed,
        /// The pulls that it takes; none where no number of them will do.
        pulls: Option<u32>,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
    },
    /// The planned sleeve does not suit the shell as made, and none is measured.
    Turn {
        /// What against what.
        clash: Clash,
        /// The sleeve to turn.
        turn: MachinedSleeve,
        /// Where.
        field: FieldId,
        /// With what the planned one would do.
        fits: Option<f64>,
    },
    /// The ring comes to another size than ordered.
    Off {
        /// Which figure of it.
        what: OffSize,
        /// What it comes to.
        is: f64,
        /// What is ordered.
        ordered: f64,
        /// How far it may be off.
        limit: f64,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
    },
    /// A turning ring wanders along the finger by more than it may, where the one ordered does not.
    Float {
        /// By how much, in all.
        float: f64,
        /// By how much it may.
        most: f64,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
    },
    /// The parts are caught by less than keeps them together.
    NoTurningWindow {
        /// Seated, of parts that should turn before; else done, of a ring that is built to turn.
        seated: bool,
        /// What catches them, on the diameter.
        overlap: f64,
        /// What should.
        hold: f64,
        /// Where.
        field: FieldId,
        /// What would just do.
        fits: Option<f64>,
    },
}

impl MadeShortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Contradicts { .. } => "evaluate::made_contradicts",
            Self::Unused { .. } => "evaluate::made_unused",
            Self::Thin { .. } => "evaluate::made_thin",
            Self::StretchLimit { .. } => "evaluate::stretch_limit",
            Self::Turn { .. } => "evaluate::made_turn",
            Self::Off { .. } => "evaluate::made_off",
            Self::Float { .. } => "evaluate::float",
            Self::NoTurningWindow { .. } => "evaluate::no_turning_window",
        }
    }

    /// The measured figure that it is told at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match *self {
            Self::Contradicts { field, .. }
            | Self::Unused { field, .. }
            | Self::Thin { field, .. }
            | Self::StretchLimit { field, .. }
            | Self::Turn { field, .. }
            | Self::Off { field, .. }
            | Self::Float { field, .. }
            | Self::NoTurningWindow { field, .. } => field,
        }
    }

    /// What is found, where one figure says it.
    #[must_use]
    pub fn found(&self) -> Option<f64> {
        match *self {
            Self::Contradicts { clash, .. } | Self::Turn { clash, .. } => {
                clash.figures().map(|(found, _)| found)
            }
            Self::Unused { .. } => None,
            Self::Thin { wall, .. } => Some(wall),
            Self::StretchLimit { strain, .. } => Some(strain),
            Self::Off { is, .. } => Some(is),
            Self::Float { float, .. } => Some(float),
            Self::NoTurningWindow { overlap, .. } => Some(overlap),
        }
    }

    /// What it should be, or what it clashes with, where one figure says it.
    #[must_use]
    pub fn wanted(&self) -> Option<f64> {
        match *self {
            Self::Contradicts { clash, .. } | Self::Turn { clash, .. } => {
                clash.figures().map(|(_, other)| other)
            }
            Self::Unused { .. } => None,
            Self::Thin { least, .. } => Some(least),
            Self::StretchLimit { allowed, .. } => Some(allowed.strain),
            Self::Off { ordered, .. } => Some(ordered),
            Self::Float { most, .. } => Some(most),
            Self::NoTurningWindow { hold, .. } => Some(hold),
        }
    }

    /// The field that would mend it alone, and its value, mm.
    #[must_use]
    pub fn fits(&self) -> Option<(FieldId, f64)> {
        let fits = match *self {
            Self::Unused { .. } => None,
            Self::Contradicts { fits, .. }
            | Self::Thin { fits, .. }
            | Self::StretchLimit { fits, .. }
            | Self::Turn { fits, .. }
            | Self::Off { fits, .. }
            | Self::Float { fits, .. }
            | Self::NoTurningWindow { fits, .. } => fits,
        };
        fits.map(|value| (self.field(), value))
    }
}
