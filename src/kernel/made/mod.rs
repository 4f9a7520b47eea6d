//! Parts as they came off the machine, evaluated forward: what ring they come to, and the sleeve for this shell.
//!
//! Any measured subset will do; [`TwoParts::measured`] says what is taken for the rest.

mod again;
mod blank;
mod blank_judge;
mod clash;
mod clashes;
mod cut;
mod judge;
mod measured;
mod mended;
mod metal;
mod off;
mod opened;
mod parts;
mod ring;
mod saves;
mod shortfall;
mod turned;

pub use again::Again;
pub use blank::{Blank, blank};
pub use blank_judge::{contradiction as blank_contradiction, judge as blank_judge};
pub use clash::Clash;
pub use cut::Under;
pub use judge::{contradiction, judge, unused};
pub use measured::Measured;
pub use parts::TwoParts;
pub use ring::{MadeRing, made};
pub use saves::{Saves, saves};
pub use shortfall::{Lacks, MadeShortfall, OffSize, Thin};
