//! Sections of bands and the volumes of the bodies they sweep, solid and in two parts.
//!
//! Input: a [`Shape`], lengths in mm. Output: [`Bodies`]: exact areas, volumes and wall thicknesses. What
//! is impossible is found before anything is computed ([`impossible`], [`check`]), each with the value
//! that would just fit. Nothing here knows of metal, money or the form of a report.

mod bodies;
mod check;
pub mod curve;
mod distance;
mod error;
mod impossible;
mod impossible_parts;
mod nearest;
mod offset;
mod shape;
mod sketch;
mod slices;
mod walls;

pub use bodies::{Bodies, NamedWall, Parts, Walls, bodies};
pub use check::{check, shape_of};
pub use distance::Wall;
pub use error::GeometryError;
pub use impossible::{Impossible, fitting, fitting_from, impossible};
pub use nearest::{Stands, nearest};
pub use offset::offset;
pub use shape::{Catch, Cut, Hollow, Outside, Roof, Shape};
pub use sketch::{Sketch, sketch};
pub use slices::{Body, Slice, Slices, area, slices};
pub use walls::{Underside, thinnest, wall_under};
