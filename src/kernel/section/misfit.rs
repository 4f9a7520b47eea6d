//! A bound that a shape breaks: what is wrong, by how much, and which field is best changed.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::curve::Pieces;
use super::slices::Body;

/// Sums of written lengths are compared within this, in mm.
pub(super) const WRITTEN: f64 = 1e-12;

/// Computed lengths are compared within this, in mm.
pub(super) const COMPUTED: f64 = 1e-9;

/// Broken bounds in the order that they are told; more than four allocate.
pub type Misfits = SmallVec<[Misfit; 4]>;

/// A bound that a shape breaks; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// The field that is best changed.
    pub field: FieldId,
    /// What is wrong.
    pub reason: MisfitReason,
    /// The length that is wrong.
    pub found: f64,
    /// What it is compared with.
    pub allows: Allows,
    /// Where on the width it is, when it is at one place.
    pub x: Option<f64>,
}

impl Misfit {
    pub(super) fn new(field: FieldId, reason: MisfitReason, found: f64, allows: Allows) -> Self {
        Self {
            field,
            reason,
            found,
            allows,
            x: None,
        }
    }

    pub(super) fn at(self, x: f64) -> Self {
        Self { x: Some(x), ..self }
    }

    /// Whether the field must become smaller.
    #[must_use]
    pub fn less(&self) -> bool {
        !matches!(self.allows, Allows::AtLeast(_) | Allows::MoreThan(_))
    }
}

/// What the other lengths allow; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Allows {
    /// So much or less.
    AtMost(f64),
    /// So much or less, at the place that is named.
    AtMostHere(f64),
    /// Less than this.
    LessThan(f64),
    /// So much or more.
    AtLeast(f64),
    /// More than this.
    MoreThan(f64),
    /// So much less than there is, at the place that is named.
    LessBy(f64),
    /// Nothing: no metal is left at the place that is named.
    Nothing,
    /// Nothing that comes through the roof, which is so high over the smallest bore.
    Under(f64),
    /// A roof that stays above the sleeve; heights over the smallest bore.
    RoofOver {
        /// The roof.
        roof: f64,
        /// The sleeve.
        sleeve: f64,
    },
}

impl Allows {
    /// The length that the found one is compared with, mm; none where the place has no metal at all.
    #[must_use]
    pub fn length(self) -> Option<f64> {
        match self {
            Self::AtMost(length)
            | Self::AtMostHere(length)
            | Self::LessThan(length)
            | Self::AtLeast(length)
            | Self::MoreThan(length)
            | Self::Under(length)
            | Self::RoofOver { sleeve: length, .. } => Some(length),
            Self::LessBy(_) | Self::Nothing => None,
        }
    }
}

/// Why a shape cannot be; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum MisfitReason {
    /// The bore opens by more than half the width.
    BoreOpens,
    /// The outside rises from edge to crown by more than half the width.
    Rises,
    /// The edge is higher than the crown.
    EdgeOverCrown {
        /// Opening of the bore.
        comfort: f64,
        /// Thickness of the band.
        thickness: f64,
    },
    /// The profile's chamfer reaches over mid width.
    ChamferAcross,
    /// The profile's chamfer takes the whole edge.
    ChamferDown,
    /// The crown's radius leaves no flank.
    NoFlank,
    /// The outside dips by more than half the width.
    Dips,
    /// The mean depth is more than the greatest.
    MeanDepth,
    /// Outside and bore meet or cross.
    Gone,
    /// Two broken edges meet at mid width.
    EasesMeet,
    /// A broken edge takes the whole edge of a part.
    EaseTakes(Body),
    /// The pattern leaves no metal under it.
    CutThrough,
    /// The pattern leaves no shell under it.
    CutThroughShell {
        /// Where the shell stands on the sleeve, not at its wall.
        over_sleeve: bool,
    },
    /// The bore's opening leaves no sleeve at its edge.
    SleeveGone,
    /// The sleeve leaves no shell at the side faces.
    NoShell {
        /// Height of the side faces over the smallest bore.
        edge: f64,
    },
    /// The sleeve is turned down to more than it is thick.
    ReliefOverSleeve,
    /// A lip reaches through the sleeve.
    LipThrough,
    /// A lip leaves the shell nothing to stand on.
    LipFills,
    /// Two side walls fill the width.
    WallsFill {
        /// Width of the band.
        width: f64,
    },
    /// The cavity's corners are rounded by more than it is wide.
    NoseFills {
        /// Width of the cavity.
        wide: f64,
    },
    /// The roof comes down to the sleeve between the feet.
    RoofSplits,
    /// The roof is nowhere over the sleeve.
    NoCavity {
        /// The roof's highest place, over the smallest bore.
        roof: f64,
        /// The sleeve's outside, over the smallest bore.
        sleeve: f64,
    },
    /// A broken edge opens the cavity.
    EaseOpens,
    /// A ridge stands higher than the roof anywhere.
    RidgeOverRoof,
    /// Two ridges run into each other.
    RidgesMeet,
    /// A ridge is wider than the feet are apart.
    RidgeFills,
    /// A ridge meets the roof.
    RidgeMeets {
        /// Left face of the ridge, axial.
        from: f64,
        /// Right face of the ridge, axial.
        to: f64,
    },
}

/// The height over the smallest bore of the lower of both side faces.
pub(super) fn lower_edge(outside: &Pieces) -> f64 {
    let ends = [
        outside.first().map(|piece| piece.from.y),
        outside.last().map(|piece| piece.to.y),
    ];
    ends.into_iter().flatten().fold(f64::INFINITY, f64::min)
}
