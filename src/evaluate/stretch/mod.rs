//! Stretch and cold join: what to machine so that the ring locks at the ordered size, and what it then bears.
//!
//! Input: the kernel's [`super::Input`]. Output: [`Stretch`], computed when a figure of it is first read.

mod early;
mod findings;
pub mod grip;
mod hollow;
mod input;
mod judged;
mod kinematics;
pub mod limits;
mod made;
mod results;
mod root;
mod sections;
mod solid;
pub mod strength;
mod thinned;

pub use early::{Early, early};
pub(super) use findings::{findings, impossible};
pub use hollow::{Boundary, HOLD, Joined, MachinedShell, MachinedSleeve, Verdict, joined};
pub(super) use input::temper_deviations;
pub use input::{Lazily, POISSON, Start, Strength, StretchInput};
pub use judged::{Strain, strains};
pub use kinematics::{Kinematics, Pair, State};
pub use made::{Blank, Made, Measured, Under};
pub(super) use results::computed;
pub use root::root;
pub use solid::{Small, small};

use crate::kernel::Figures;
use crate::kernel::Input;

/// Everything about stretch and join of one band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// A solid band before its stretch.
    pub solid: Option<Small>,
    /// A hollow band from parts to ring.
    pub hollow: Option<Joined>,
    /// What the parts as they came off the machine come to.
    pub made: Option<Made>,
    /// What a solid blank as it came off the machine comes to.
    pub blank: Option<Blank>,
    /// What it bears between two opposed forces.
    pub bears: Option<strength::Bears>,
}

/// Stretch and join of a band, computed once for each input.
#[must_use]
pub fn of<'a>(input: &'a Input, figures: &Figures) -> &'a Stretch {
    input.computed.get(|| {
        let hollow = joined(input, figures);
        Stretch {
            solid: small(input),
            hollow,
            made: hollow.and_then(|hollow| made::made(input, figures, &hollow)),
            blank: made::blank(input, figures),
            bears: strength::bears(input),
        }
    })
}
