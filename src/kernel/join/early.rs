//! A pattern that is cut before the stretch: its metal and strip as cut, and the wall that is left when stretched.

use std::f64::consts::PI;

use crate::kernel::section::curve::{Piece, Pieces, Point};
use crate::kernel::section::{Body, Curves, Wall, slices, wall_under};

use super::back::shell_before;
use super::kinematics::{Carried, Pair};
use super::solid::before;
use super::thinned::Thinned;
use crate::kernel::Input;

/// What a pattern comes to that is cut before the stretch; mm, mm3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Early {
    /// Volume that it takes off.
    pub cut: f64,
    /// Thinnest metal under it once stretched.
    ///
    /// A stretch brings any two places of a section closer, as long as the bore is wider than the band is thick: the
    /// wall as cut is never the lesser of the two.
    pub under: Wall,
    /// Outside as cut, a diameter.
    pub outside: f64,
    /// Width as cut.
    pub width: f64,
}

/// Parts that each piece of the outside is carried in.
const PARTS: u32 = 4;

/// The pattern in the state that it is cut in; `None` where that is the finished one.
///
/// # Formula
/// `cover * pi * m * integral of (2 r0 - m) dx0` over the outside before the stretch, `m` the mean depth; the cut
/// surface `r0 - depth` carried through the stretch.
#[must_use]
pub fn early(input: &Input) -> Option<Early> {
    let shape = &input.shape;
    let cut = shape.cut?;
    let (done, state) = as_cut(input)?;
    let sum: f64 = slices(&Curves::of(shape), Body::Solid, 0.0)
        .iter()
        .map(|slice| {
            let top = state.carried(&done, shape.radius + slice.to);
            slice.width * state.across * (2.0 * top - cut.mean_depth)
        })
        .sum();
    let surface = surface(input, &done, &state, cut.depth);
    Some(Early {
        cut: cut.cover * PI * cut.mean_depth * sum,
        under: wall_under(shape, &surface),
        outside: 2.0 * state.carried(&done, shape.radius + shape.thickness),
        width: shape.width * state.across,
    })
}

/// The finished surfaces of what is cut, and its state then; `None` where that is the finished one.
pub(in crate::kernel) fn as_cut(input: &Input) -> Option<(Pair, Carried)> {
    let given = &input.stretch;
    if !given.cut_before {
        return None;
    }
    match input.shape.hollow {
        Some(_) => shell_before(input),
        None => {
            given.start?;
            before(input, given.kinematics)
        }
    }
}

/// The cut surface once stretched: heights over the finished bore.
fn surface(input: &Input, done: &Pair, state: &Carried, depth: f64) -> Pieces {
    let shape = &input.shape;
    let thinned = Thinned {
        radius: shape.radius,
        depth,
        cut: Some((*done, *state)),
        share: None,
    };
    let cut = |point: Point| Point {
        x: point.x,
        y: thinned.height(point.y),
    };
    carried(&shape.outside_curve(), cut)
}

/// A curve whose places are moved, arcs by parts of them.
pub(in crate::kernel) fn carried(curve: &Pieces, place: impl Fn(Point) -> Point) -> Pieces {
    let mut moved = Pieces::new();
    for piece in curve {
        if piece.radius == 0.0 && piece.from.y == piece.to.y {
            moved.push(Piece::line(place(piece.from), place(piece.to)));
            continue;
        }
        let at = |part: u32| {
            let along = f64::from(part) / f64::from(2 * PARTS);
            let x = piece.from.x + (piece.to.x - piece.from.x) * along;
            let ends = [(0, piece.from), (2 * PARTS, piece.to)];
            let end = ends.into_iter().find(|(known, _)| *known == part);
            place(end.map_or_else(
                || Point {
                    x,
                    y: piece.height(x),
                },
                |(_, end)| end,
            ))
        };
        for part in 0..PARTS {
            moved.push(Piece::through(
                at(2 * part),
                at(2 * part + 1),
                at(2 * part + 2),
            ));
        }
    }
    moved
}
