//! Solid bands whose outside and bore are level: their volumes without drawing a curve.

use super::bodies::Bodies;
use super::curve::Integrals;
use super::misfit::{COMPUTED, WRITTEN};
use super::shape::{Outside, Shape};

/// Puts the volumes of a solid band of level outside and bore into bodies that are at hand; false where a shape is of
/// another kind, or cannot be ([`super::impossible`]).
pub fn level_bodies(shape: &Shape, bodies: &mut Bodies) -> bool {
    let level = matches!(shape.outside, Outside::Flat)
        && shape.hollow.is_none()
        && shape.comfort == 0.0
        && shape.ease_outer == 0.0
        && shape.ease_bore == 0.0;
    if !level || shape.thickness <= WRITTEN || shape.half() <= WRITTEN {
        return false;
    }
    if let Some(cut) = &shape.cut {
        let even = cut.drawn || shape.thickness - cut.depth > COMPUTED;
        if !even || cut.mean_depth > cut.depth + WRITTEN {
            return false;
        }
    }
    let outer = Integrals::level(shape.width, shape.thickness);
    let inner = Integrals::level(shape.width, 0.0);
    bodies.fill(shape, outer, inner);
    true
}
