//! Radius and centre of the arcs that a band is drawn from, finished and as machined.

use crate::kernel::Input;
use crate::kernel::section::curve::Piece;
use crate::kernel::section::{Cavity, Roof};
use crate::kernel::stretch::StretchFigures;

use super::image::{Image, LatheState, Part};

/// An arc that is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// The outside at mid width.
    Dome,
    /// The channel's roof at mid width.
    Roof,
    /// The comfort bore.
    Comfort,
}

/// A circular arc about a centre at mid width; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Its radius.
    pub radius: f64,
    /// Distance of its centre from the finger's axis; negative beyond it.
    pub centre: f64,
    /// How far the true curve departs from it at most.
    pub departure: f64,
}

/// Places between the ends of a curve at which its departure is looked at, on one side of mid width.
const PLACES: u32 = 24;

/// Half widths at which an arc that departs least crosses the curve: the error of the best even parabola of a curve of
/// the fourth order goes as the fourth Chebyshev polynomial, whose zeros are cos(3 pi / 8) and cos(pi / 8).
const CROSSINGS: (f64, f64) = (0.382_683_432_365_089_8, 0.923_879_532_511_286_7);

/// The arc of a curve; none where it is no arc about mid width, or the band has no such curve.
#[must_use]
pub fn arc(
    input: &Input,
    stretch: &StretchFigures,
    curve: Curve,
    state: LatheState,
) -> Option<Arc> {
    let piece = drawn(input, curve)?;
    let radius = input.shape.radius;
    let part = match (curve, input.shape.hollow) {
        (_, None) => Part::Band,
        (Curve::Comfort, Some(_)) => Part::Sleeve,
        (Curve::Dome | Curve::Roof, Some(_)) => Part::Shell,
    };
    let finished = Arc {
        radius: piece.radius.abs(),
        centre: radius + piece.centre().y,
        departure: 0.0,
    };
    if state == LatheState::Finished {
        return Some(finished);
    }
    let image = Image::of(input, stretch, part, state)?;
    let reach = piece.to.x;
    let place = |share: f64| {
        let x = share * reach;
        let at = radius + piece.height(x);
        let at = match curve {
            Curve::Dome => image.outside(at),
            Curve::Roof => image.radius(at),
            Curve::Comfort => image.bore(at),
        };
        (image.along(x), at)
    };
    fitted(place, piece.radius.signum())
}

/// The arc about mid width that departs least from an even curve, which bulges outwards (1) or inwards (-1).
fn fitted(place: impl Fn(f64) -> (f64, f64), outwards: f64) -> Option<Arc> {
    let ((x1, y1), (x2, y2)) = (place(CROSSINGS.0), place(CROSSINGS.1));
    let drop = y1 - y2;
    if drop == 0.0 {
        return None;
    }
    // Both are as far from the centre: x1^2 + (y1 - c)^2 = x2^2 + (y2 - c)^2.
    let centre = (y1 + y2) / 2.0 - (x2 - x1) * (x2 + x1) / (2.0 * drop);
    let distance = |(x, y): (f64, f64)| (x * x + (y - centre) * (y - centre)).sqrt();
    let radius = distance((x1, y1));
    let departure = (0..=PLACES)
        .map(|part| (distance(place(f64::from(part) / f64::from(PLACES))) - radius).abs())
        .fold(0.0, f64::max);
    (drop.signum() == outwards).then_some(Arc {
        radius,
        centre,
        departure,
    })
}

/// The piece of a curve that lies over mid width, where it is an arc about it.
fn drawn(input: &Input, curve: Curve) -> Option<Piece> {
    let shape = &input.shape;
    let pieces = match curve {
        Curve::Dome => shape.outside_curve(),
        Curve::Comfort => shape.inside_curve(),
        Curve::Roof => {
            let hollow = shape.hollow.filter(|hollow| hollow.roof != Roof::Full)?;
            Cavity::of(shape, &hollow, &shape.outside_curve())?.roof
        }
    };
    pieces.into_iter().find(|piece| {
        let even = (piece.from.x + piece.to.x).abs() < 1e-9;
        piece.radius != 0.0 && even && (piece.from.y - piece.to.y).abs() < 1e-9
    })
}
