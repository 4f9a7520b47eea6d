//! What a lathe needs of a band's curves: arcs with their centres, and the contour of each part as points.
//!
//! Input: an [`Input`](super::Input), and its stretch for the parts as machined. Output: arcs, diameters at the ends of
//! curves, and paths of points exact on the curve. Arrows inside point one way: how a part lies in a state, its surfaces,
//! the nose that follows them, the points.

mod arcs;
mod edges;
mod image;
mod nose;
mod path;
mod results;
mod straight;
mod surfaces;

pub use arcs::{Arc, Curve};
pub use image::{LatheState, Part};
pub use path::{Contour, ContourPoint, FINEST, contour};
pub use results::computed;
pub use straight::{BoredStraight, bored_straight};
pub use surfaces::SurfaceId;
