//! Sections of bands and the volumes of the bodies they sweep, solid and in two parts.
//!
//! Input: a [`Shape`], lengths in mm. Output: [`Bodies`]: exact areas, volumes and wall thicknesses. What
//! is impossible is found before anything is computed ([`impossible`]). Nothing here knows of metal, money or words.

mod bodies;
mod cavity;
pub mod curve;
mod curves;
mod distance;
mod fields;
mod fitting;
mod impossible;
mod impossible_parts;
mod level;
mod misfit;
mod nearest;
mod offset;
mod shape;
mod slices;
mod walls;

pub use bodies::{Bodies, Parts, bodies};
pub use cavity::{Cavity, Stretches};
pub use curves::Curves;
pub use distance::{Wall, shortest};
pub use fitting::{fitting, fitting_from};
pub use impossible::{impossible, impossible_in};
pub use level::Level;
pub use misfit::{Allows, Misfit, MisfitReason, Misfits};
pub use nearest::{Stands, nearest};
pub use offset::offset;
pub use shape::{Catch, Cut, Hollow, Outside, Roof, Shape};
pub use slices::{Body, Slice, Slices, area, area_of, ridges, slices, slices_into};
pub use walls::{Underside, Walls, over_bore, thinnest, wall_under};
