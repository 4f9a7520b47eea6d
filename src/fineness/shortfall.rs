//! What of fineness is not kept, or cannot be judged: small values with their figures, no text.

use rust_decimal::Decimal;

use crate::catalogue::SkinLimit;
use crate::schema::FieldId;

use super::precious::{Portion, Precious};
use super::reason::Reason;

/// What is wrong with a band's metal, or with what is claimed of it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum FinenessShortfall {
    /// A part holds more of an element than the law lets the skin meet.
    Restricted {
        /// The part.
        part: Portion,
        /// Parts per thousand that it holds.
        held: Decimal,
        /// Parts per thousand from which on it is banned.
        most: Decimal,
        /// The limit.
        limit: &'static SkinLimit,
    },
    /// The figure is no standard of the rulebook.
    UnknownStandard {
        /// The metal; none: the one that the claim names.
        metal: Option<Precious>,
        /// Parts per thousand; none where a word is claimed.
        figure: Option<Decimal>,
    },
    /// No part holds the metal.
    MetalNotThere {
        /// The metal; none: the one that the claim names.
        metal: Option<Precious>,
    },
    /// The rulebook gives no verdict on what is required.
    NoVerdict,
    /// The words that it is sold under claim more than is there.
    Tag {
        /// What they claim.
        reason: Reason,
    },
}

impl FinenessShortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Restricted { .. } => "evaluate::restricted",
            Self::UnknownStandard { .. } => "evaluate::unknown_standard",
            Self::MetalNotThere { .. } => "evaluate::metal_not_there",
            Self::NoVerdict => "evaluate::no_verdict",
            Self::Tag { .. } => "evaluate::tag",
        }
    }

    /// The field that decides, where it is one of the band.
    #[must_use]
    pub fn field(&self) -> Option<FieldId> {
        match self {
            Self::Restricted { part, .. } => Some(match part {
                Portion::Shell => FieldId::HollowShellAlloy,
                Portion::Sleeve => FieldId::HollowSleeveAlloy,
                Portion::Solder => FieldId::Solder,
                Portion::Band | Portion::Whole => FieldId::Alloy,
            }),
            Self::Tag { .. } => Some(FieldId::Tag),
            _ => None,
        }
    }

    /// Parts per thousand found or claimed, where a figure decides.
    #[must_use]
    pub fn found(&self) -> Option<Decimal> {
        match self {
            Self::Restricted { held, .. } => Some(*held),
            Self::UnknownStandard { figure, .. } => *figure,
            Self::Tag { reason } => reason.found(),
            _ => None,
        }
    }

    /// Parts per thousand that must not be reached, where there is such a limit.
    #[must_use]
    pub fn wanted(&self) -> Option<Decimal> {
        match self {
            Self::Restricted { most, .. } => Some(*most),
            Self::Tag { reason } => reason.wanted(),
            _ => None,
        }
    }
}
