//! Everything about stretch and join of one band, stage after stage.

use crate::kernel::{Figures, Input};

use super::join::{Joined, Parted, Small, Strain, joined, small, strains};
use super::made::{Blank, MadeRing, blank, made};
use super::section::Curves;
use smallvec::SmallVec;

/// Stretch and join of one band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StretchFigures {
    /// A solid band before its stretch.
    pub solid: Option<Small>,
    /// A hollow band from parts to ring.
    pub hollow: Option<Joined>,
    /// What the parts as they came off the machine come to.
    pub made: Option<MadeRing>,
    /// What a solid blank as it came off the machine comes to.
    pub blank: Option<Blank>,
}

impl StretchFigures {
    /// Those of a band.
    ///
    /// # Range
    /// Bands of a shape that can be. `parted`: the parts of a hollow one, where they are worked back already.
    #[must_use]
    pub fn of(input: &Input, figures: &Figures, parted: Option<Parted>) -> Self {
        let curves = Curves::of(&input.shape);
        let hollow = joined(input, figures, &curves, parted);
        Self {
            solid: small(input),
            hollow,
            made: hollow.and_then(|hollow| made(input, figures, &hollow)),
            blank: blank(input, figures),
        }
    }

    /// Every part that is stretched, against what it bears.
    #[must_use]
    pub fn strains(&self, input: &Input) -> SmallVec<[Strain; 2]> {
        strains(input, self.solid.as_ref(), self.hollow.as_ref())
    }
}
