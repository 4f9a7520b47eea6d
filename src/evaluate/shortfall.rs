//! What falls short of a band, of whichever science.

use crate::kernel;
use crate::schema::FieldId;

/// A limit that is not kept, or a bound that makes a band impossible.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Shortfall {
    /// Of its metal.
    Metal(kernel::Shortfall),
}

impl Shortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Metal(short) => short.code(),
        }
    }

    /// The field that it is pointed out at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match self {
            Self::Metal(short) => short.field(),
        }
    }

    /// The figure that is wrong, in the base unit of its field.
    #[must_use]
    pub fn found(&self) -> f64 {
        match self {
            Self::Metal(short) => short.found(),
        }
    }

    /// What it is compared with.
    #[must_use]
    pub fn wanted(&self) -> f64 {
        match self {
            Self::Metal(short) => short.wanted(),
        }
    }

    /// The value of its field that would just do.
    #[must_use]
    pub fn fits(&self) -> Option<f64> {
        match self {
            Self::Metal(short) => short.fits(),
        }
    }
}
