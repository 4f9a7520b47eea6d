//! What falls short of a band, of whichever science.

use crate::finding::Finding;
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

    /// What is found, where one figure says it, in the base unit of its field.
    #[must_use]
    pub fn found(&self) -> Option<f64> {
        match self {
            Self::Metal(short) => short.found(),
        }
    }

    /// What it should be, where one figure says it.
    #[must_use]
    pub fn wanted(&self) -> Option<f64> {
        match self {
            Self::Metal(short) => short.wanted(),
        }
    }

    /// The field that would mend it alone, and its value.
    #[must_use]
    pub fn fits(&self) -> Option<(FieldId, f64)> {
        match self {
            Self::Metal(short) => short.fits(),
        }
    }
}

impl From<kernel::Shortfall> for Shortfall {
    fn from(short: kernel::Shortfall) -> Self {
        Self::Metal(short)
    }
}

/// Why a band cannot be made.
#[derive(Clone, Debug)]
pub enum Barred {
    /// Its shape cannot be: each bound that it breaks, with the value that would just fit.
    Shape(Vec<kernel::Shortfall>),
    /// No stretch joins its parts, or they contradict what was measured.
    Parts(Vec<Finding>),
}
