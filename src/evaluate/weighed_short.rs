//! What readings of the scale contradict, as numbers and fields.

use crate::schema::FieldId;

/// What readings contradict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WeighedShort {
    /// A reading that the recipe cannot give.
    Apart {
        /// The reading.
        field: FieldId,
        /// What the scale shows, g.
        found: f64,
        /// What the recipe gives, g.
        nominal: f64,
    },
    /// A reading of a part that the band has not.
    NoPart {
        /// The reading.
        field: FieldId,
    },
    /// A ring that grew heavier where metal comes off.
    Heavier {
        /// The reading that is too heavy.
        field: FieldId,
        /// By how much, g.
        by: f64,
    },
    /// More came out than was issued.
    More {
        /// The reading of what came back.
        field: FieldId,
        /// By how much, g.
        by: f64,
    },
}

impl WeighedShort {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Apart { .. } => "weighed::apart",
            Self::NoPart { .. } => "weighed::no_part",
            Self::Heavier { .. } => "weighed::heavier",
            Self::More { .. } => "weighed::more",
        }
    }

    /// The reading that it is told at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match self {
            Self::Apart { field, .. }
            | Self::NoPart { field }
            | Self::Heavier { field, .. }
            | Self::More { field, .. } => *field,
        }
    }

    /// What is found, and what it should be, g.
    #[must_use]
    pub fn figures(&self) -> Option<(f64, f64)> {
        match self {
            Self::Apart { found, nominal, .. } => Some((*found, *nominal)),
            _ => None,
        }
    }
}
