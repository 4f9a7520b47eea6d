//! Stretch and cold join: what to machine so that the ring locks at the ordered size.

mod back;
mod early;
mod grip;
mod input;
mod joined;
mod judge;
mod kinematics;
mod layers;
mod limits;
mod machined;
mod metal;
mod parted;
mod root;
mod sections;
mod shortfall;
mod solid;
mod strains;
mod thinned;
mod together;

pub use early::{Early, early};
pub(super) use early::{as_cut, carried};
pub use grip::{Filled, Finally, Fit, Grip, Press};
pub use input::{Lock, ROUNDING, Start, Stated, StretchInput};
pub use joined::{HOLD, Joined, joined};
pub use judge::{impossible, judge};
pub use kinematics::{Carried, Kinematics, Pair, stretch};
pub use layers::Layers;
pub use limits::{Allowed, LimitBasis, ONE_PULL, Pull, WORKING, allowed, pulls};
pub use machined::{Boundary, MachinedShell, MachinedSleeve};
pub use metal::{
    End, Flow, Hardening, HardeningLaw, POISSON, Strength, Unstated, YIELD_BY_HARDNESS,
};
pub use parted::Parted;
pub use root::root;
pub use shortfall::JoinShortfall;
pub(super) use solid::before;
pub use solid::{Small, small};
pub use strains::{Strain, strains};
pub(super) use thinned::Thinned;
pub use together::Together;
