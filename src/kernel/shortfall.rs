//! What of a band's metal falls short, or cannot be: numbers and ids alone.

use crate::schema::FieldId;

use super::cut_short::{CutShort, CutTold};
use super::section::Misfit;
use super::thin::ThinWall;

/// A limit that the metal does not keep, or a bound that makes it impossible; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum KernelShortfall {
    /// A length that is more, or less, than the others allow: the band cannot be.
    DoesNotFit {
        /// The bound that is broken.
        misfit: Misfit,
        /// The value of its field that would just fit, with every wall thick enough where that can be.
        fits: Option<f64>,
    },
    /// A length that follows from others, and is stated all the same: the band cannot be.
    OverStated {
        /// What is stated.
        field: FieldId,
        /// What it follows from.
        from: FieldId,
        /// The value that is stated.
        stated: f64,
        /// The value that follows.
        follows: f64,
    },
    /// A wall that exists, but is thinner than it may be.
    ThinWall(ThinWall),
    /// Of one drawn cut.
    Cut(CutShort),
}

impl KernelShortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::DoesNotFit { .. } => "geometry::does_not_fit",
            Self::OverStated { .. } => "geometry::over_stated",
            Self::ThinWall(_) => "evaluate::thin_wall",
            Self::Cut(short) => match short.what {
                CutTold::Through { .. } => "geometry::cut_through",
                CutTold::Beyond { .. } => "evaluate::cut_beyond",
                CutTold::Gap(_) => "evaluate::cut_gap",
                CutTold::NoRoom { .. } => "evaluate::cut_no_room",
                CutTold::Nothing => "evaluate::cut_nothing",
            },
        }
    }

    /// The field that it is pointed out at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match self {
            Self::DoesNotFit { misfit, .. } => misfit.field,
            Self::OverStated { field, .. } => *field,
            Self::ThinWall(thin) => thin.field,
            Self::Cut(short) => match short.what {
                CutTold::Through { field, .. } => field.unwrap_or(FieldId::Pattern),
                _ => FieldId::Pattern,
            },
        }
    }

    /// The length that is wrong, mm; of a wall what is left at worst.
    #[must_use]
    pub fn found(&self) -> Option<f64> {
        Some(match self {
            Self::Cut(short) => match short.what {
                CutTold::Through { depth, .. } => depth,
                CutTold::Beyond { over, .. } => over,
                CutTold::Gap(gap) => gap,
                CutTold::NoRoom { wide } => wide,
                CutTold::Nothing => return None,
            },
            Self::DoesNotFit { misfit, .. } => misfit.found,
            Self::OverStated { stated, .. } => *stated,
            Self::ThinWall(thin) => thin.left(),
        })
    }

    /// What it is compared with, mm.
    #[must_use]
    pub fn wanted(&self) -> Option<f64> {
        match self {
            Self::DoesNotFit { misfit, .. } => misfit.allows.length(),
            Self::OverStated { follows, .. } => Some(*follows),
            Self::ThinWall(thin) => Some(thin.limit),
            Self::Cut(_) => None,
        }
    }

    /// The field that would mend it alone, and its value in mm.
    #[must_use]
    pub fn fits(&self) -> Option<(FieldId, f64)> {
        match self {
            Self::DoesNotFit { misfit, fits } => fits.map(|value| (misfit.field, value)),
            Self::OverStated { field, follows, .. } => Some((*field, *follows)),
            Self::ThinWall(thin) => thin.mends.into_iter().flatten().next(),
            Self::Cut(short) => match short.what {
                CutTold::Through {
                    field: Some(field),
                    fits: Some(fits),
                    ..
                } => Some((field, fits)),
                _ => None,
            },
        }
    }
}
