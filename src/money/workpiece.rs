//! What the arithmetic of money is told of one ring: the masses of its parts as numbers, and its terms.

use std::sync::Arc;

use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::model::Alloy;
use crate::model::money::{Stock, Terms};
use crate::schema::FieldId;

/// Which part of a ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartOf {
    /// A solid band, whole.
    Band,
    /// The outer part of a hollow one.
    Shell,
    /// The inner part of a hollow one.
    Sleeve,
    /// What joins it.
    Solder,
}

impl PartOf {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Shell => "shell",
            Self::Sleeve => "sleeve",
            Self::Solder => "solder",
        }
    }

    /// The field of a band that says what it is made of; of solder, which is bought as it is, that of its metal.
    #[must_use]
    pub fn stock_field(self) -> FieldId {
        match self {
            Self::Band => FieldId::Stock,
            Self::Shell => FieldId::HollowShellStock,
            Self::Sleeve => FieldId::HollowSleeveStock,
            Self::Solder => FieldId::Solder,
        }
    }

    /// The field of a band that says its metal.
    #[must_use]
    pub fn alloy_field(self) -> FieldId {
        match self {
            Self::Band => FieldId::Alloy,
            Self::Shell => FieldId::HollowShellAlloy,
            Self::Sleeve => FieldId::HollowSleeveAlloy,
            Self::Solder => FieldId::Solder,
        }
    }

    /// What it may be made of, in the order written; nothing where that is not stated.
    #[must_use]
    pub fn stocks(self, terms: &Terms) -> &[Arc<Stock>] {
        match self {
            Self::Band => &terms.solid,
            Self::Shell => &terms.shell,
            Self::Sleeve => &terms.sleeve,
            Self::Solder => &[],
        }
    }
}

/// One ring to be made.
#[derive(Clone, Debug)]
pub struct Workpiece {
    /// The band, or shell and sleeve; and the solder, where there is any.
    pub parts: SmallVec<[WorkPart; 2]>,
    /// Prices, the workshop, stock and sale.
    pub terms: Arc<Terms>,
    /// How long the machine cuts its pattern.
    pub cutting: Cutting,
}

/// How long the machine cuts the pattern of a ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cutting {
    /// So many seconds: none where no pattern is cut, or where nothing tells how long a stated cover takes.
    Seconds(Decimal),
    /// That of a drawn cut, by its place among them, cannot be told for want of a field.
    Unknown(usize, FieldId),
}

impl Cutting {
    /// The time as it is known, s.
    #[must_use]
    pub fn seconds(self) -> Decimal {
        match self {
            Self::Seconds(seconds) => seconds,
            Self::Unknown(..) => Decimal::ZERO,
        }
    }
}

/// One part to be made.
#[derive(Clone, Debug)]
pub struct WorkPart {
    /// Which.
    pub of: PartOf,
    /// Its metal.
    pub alloy: Arc<Alloy>,
    /// Weight before cutting, in g.
    pub uncut: f64,
    /// Weight that the pattern takes off, in g.
    pub cut: f64,
    /// What its stock must hold; none where none is stated.
    pub extent: Option<Extent>,
    /// What it is made of: the first stated that it comes out of, else the first.
    pub stock: Option<Arc<Stock>>,
}

/// The dimensions that a part must come out of, as machined where that is computed, else as finished; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// Largest outside diameter.
    pub outside: f64,
    /// Smallest bore.
    pub bore: f64,
    /// Width that it is parted off to.
    pub width: f64,
}

impl Workpiece {
    /// Whether it is made of shell and sleeve.
    #[must_use]
    pub fn is_hollow(&self) -> bool {
        self.parts.iter().any(|part| part.of == PartOf::Shell)
    }
}
