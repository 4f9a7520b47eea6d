//! What a maker is left with who bores the channel straight, where its roof follows the outside.

use crate::kernel::Input;
use crate::kernel::section::curve::{Piece, Pieces, Point, height};
use crate::kernel::section::{Underside, shortest};
use crate::kernel::stretch::StretchFigures;

use super::edges::{roof_heights, sharp_roof};
use super::image::{Image, LatheState, Part};

/// A channel bored straight to the greater of its two diameters; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoredStraight {
    /// That diameter, as machined.
    pub to: f64,
    /// Whether it is the one at mid width.
    pub at_mid: bool,
    /// Thinnest metal of roof that would be left, in the finished ring, under the cut; 0 where it breaks through.
    pub wall: f64,
    /// The same with the roof as drawn.
    pub ordered: f64,
    /// Whether a cut is in it.
    pub cut: bool,
}

/// That of a band whose channel is not level; `None` for the others.
#[must_use]
pub fn bored_straight(input: &Input, stretch: &StretchFigures) -> Option<BoredStraight> {
    let shape = &input.shape;
    let image = Image::of(input, stretch, Part::Shell, LatheState::Machined)?;
    let (_, roof) = sharp_roof(input)?;
    let (mid, walls) = roof_heights(input)?;
    let tops = roof.iter().map(|piece| piece.extreme(true).y);
    let highest = tops.fold(f64::NEG_INFINITY, f64::max);
    let lowest = roof.iter().map(|piece| piece.extreme(false).y);
    if highest - lowest.fold(f64::INFINITY, f64::min) < 1e-6 {
        return None;
    }
    let depth = shape.cut.map_or(0.0, |cut| cut.depth);
    let outside = shape.outside_curve();
    let surface: Pieces = outside.iter().map(|piece| piece.lifted(-depth)).collect();
    let (left, right) = (roof.first()?.from.x, roof.last()?.to.x);
    let at = |x: f64| Point { x, y: highest };
    let level = Pieces::from_slice(&[Piece::line(at(left), at(right))]);
    let places = [left, right].into_iter();
    let places = places.chain(surface.iter().map(|piece| piece.extreme(false).x));
    let mut inside = places.filter(|x| *x >= left && *x <= right);
    let through = inside.any(|x| height(&surface, x) <= highest);
    let wall = match through {
        true => 0.0,
        false => shortest(&surface, &level, shape.thickness).map_or(0.0, |wall| wall.thickness),
    };
    Some(BoredStraight {
        to: 2.0 * image.radius(shape.radius + highest),
        at_mid: mid >= walls,
        wall,
        ordered: Underside::of(shape)?.under(&surface).thickness,
        cut: depth > 0.0,
    })
}
