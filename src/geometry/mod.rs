//! Sections of bands and the volumes of the bodies they sweep.
//!
//! Input: a band's figures. Output: exact areas, moments, volumes and wall thicknesses, in mm. What is
//! impossible is found before anything is computed ([`check`]), each with the value that would just fit.
//! Nothing here knows of metal, money or the shape of a report.

mod check;
mod curve;
mod error;
mod section;

pub use check::{check, solid_wall};
pub use curve::{Curve, Integrals, Piece, Point};
pub use error::GeometryError;
pub use section::{Cut, Outside, Section};
