//! Stretch and cold join: what to machine so that the ring locks at the ordered size.

mod back;
mod early;
mod grip;
mod input;
mod joined;
mod judge;
mod kinematics;
mod limits;
mod machined;
mod metal;
mod root;
mod shortfall;
mod solid;
mod strains;
mod thinned;

pub use early::{Early, early};
pub(super) use early::{as_cut, carried};
pub use grip::{Fit, Grip, Press};
pub use input::{ROUNDING, Start, Stated, StretchInput};
pub use joined::{HOLD, Joined, joined};
pub use judge::{impossible, judge};
pub use kinematics::{Carried, Kinematics, Pair, stretch};
pub use limits::{Allowed, HardeningLaw, LimitBasis, UNSTATED, WORKING, allowed, pulls};
pub use machined::{Boundary, MachinedShell, MachinedSleeve};
pub use metal::{POISSON, Strength, Unstated};
pub use root::root;
pub use shortfall::Shortfall;
pub(super) use solid::before;
pub use solid::{Small, small};
pub use strains::{Strain, strains};
pub(super) use thinned::Thinned;
