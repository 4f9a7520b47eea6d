//! The walls of a shell and its sleeve, and what is left under a cut surface.

use super::bodies::{Cavity, ROUNDING, Walls};
use super::curve::{Pieces, clipped};
use super::distance::{Wall, shortest};
use super::shape::{Hollow, Roof, Shape};

/// Every wall of the two parts.
pub(super) fn walls(
    shape: &Shape,
    hollow: &Hollow,
    outside: &Pieces,
    lowered: &Pieces,
    cavity: Option<&Cavity>,
) -> Walls {
    let foot = hollow.foot();
    let ends = |curve: &Pieces| {
        [
            curve.first().map(|piece| piece.from),
            curve.last().map(|piece| piece.to),
        ]
    };
    let side_face = ends(outside)
        .into_iter()
        .flatten()
        .map(|end| end.y - foot)
        .fold(f64::INFINITY, f64::min);
    Walls {
        under_cut: under_cut(shape, hollow, lowered, cavity),
        side_face,
        shell: cavity.map(|_| hollow.wall),
        sleeve_edge: hollow.sleeve - shape.comfort,
        relief: hollow.relief,
    }
}

/// Thinnest metal of the shell under a cut surface: over the cavity, and down to the sleeve.
fn under_cut(shape: &Shape, hollow: &Hollow, lowered: &Pieces, cavity: Option<&Cavity>) -> Wall {
    let half = shape.half();
    let foot = hollow.foot();
    let (left, right) = cavity.map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right));
    // Down to the sleeve, where the shell stands on it.
    let feet = clipped(lowered, -half, left)
        .into_iter()
        .chain(clipped(lowered, right, half));
    let mut under_cut = Wall {
        thickness: f64::INFINITY,
        x: 0.0,
    };
    for piece in feet {
        let low = piece.extreme(false);
        under_cut = under_cut.thinner(Wall {
            thickness: low.y - foot,
            x: low.x,
        });
    }
    if let Some(cavity) = cavity {
        let roof = clipped(&cavity.roof, left, right);
        // The roof is usually a wall away; corners rounded by the nose can be all further.
        let near = shortest(lowered, &roof, hollow.wall * 1.001 + ROUNDING);
        if let Some(wall) = near.or_else(|| shortest(lowered, &roof, shape.thickness)) {
            under_cut = under_cut.thinner(wall);
        }
    }
    under_cut
}

/// Thinnest metal under a cut surface that is not the outside lowered by the depth: heights over the smallest bore.
///
/// # Range
/// Shapes without anything impossible; the surface reaches over the whole width.
#[must_use]
pub fn wall_under(shape: &Shape, surface: &Pieces) -> Wall {
    match &shape.hollow {
        None => shortest(surface, &shape.inside_curve(), shape.thickness + 1e-9).unwrap_or(Wall {
            thickness: 0.0,
            x: 0.0,
        }),
        Some(hollow) => {
            let cavity = (hollow.roof != Roof::Full)
                .then(|| Cavity::of(shape, hollow, &shape.outside_curve()))
                .flatten();
            under_cut(shape, hollow, surface, cavity.as_ref())
        }
    }
}
