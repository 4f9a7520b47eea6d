//! The empty space between shell and sleeve: its roof, where it begins and ends, and where ridges stand in it.

use smallvec::SmallVec;

use super::curve::{Piece, Pieces, Point, clipped, height};
use super::offset::{offset, root};
use super::shape::{Catch, Hollow, Outside, Roof, Shape};

/// The empty space between shell and sleeve.
#[derive(Clone, Debug, PartialEq)]
pub struct Cavity {
    /// Its roof over the whole room between the side walls.
    pub roof: Pieces,
    /// Where it begins on the sleeve.
    pub left: f64,
    /// Where it ends.
    pub right: f64,
}

impl Cavity {
    /// The cavity; none where the roof is nowhere above the floor.
    #[must_use]
    pub fn of(shape: &Shape, hollow: &Hollow, outside: &Pieces) -> Option<Self> {
        let roof = roof(shape, hollow, outside);
        let high = above(&roof, hollow.foot());
        let (first, last) = (high.first()?, high.last()?);
        Some(Self {
            left: first.0,
            right: last.1,
            roof,
        })
    }

    /// Where the ridges stand: from and to, left to right.
    #[must_use]
    pub fn ridges(&self, hollow: &Hollow) -> Stretches {
        let Catch::Ridge {
            height,
            wide,
            two,
            play,
        } = hollow.catch
        else {
            return Stretches::new();
        };
        if !two {
            return Stretches::from_slice(&[(-wide / 2.0, wide / 2.0)]);
        }
        let top = hollow.sleeve + height;
        let mut high = above(&self.roof, top);
        if high.is_empty() {
            // As high as a level roof: they touch it.
            high = above(&self.roof, top - ROUNDING);
        }
        match (high.first(), high.last()) {
            (Some(first), Some(last)) => {
                let (left, right) = (first.0 + play, last.1 - play);
                Stretches::from_slice(&[(left, left + wide), (right - wide, right)])
            }
            _ => Stretches::new(),
        }
    }

    /// How far the ridges may wander along the finger, in all, before one meets a wall or the roof.
    #[must_use]
    pub fn float(&self, hollow: &Hollow) -> Option<f64> {
        let Catch::Ridge { height, .. } = hollow.catch else {
            return None;
        };
        let ridges = self.ridges(hollow);
        let (first, last) = (ridges.first()?, ridges.last()?);
        let high = above(&self.roof, hollow.sleeve + height - ROUNDING);
        let at = |x: f64| high.iter().find(|(from, to)| *from <= x && x <= *to);
        let (left, right) = (at(first.0)?, at(last.1)?);
        Some(first.0 - left.0 + right.1 - last.1)
    }
}

/// The roof of the cavity between the side walls, its corners rounded by the nose.
pub(super) fn roof(shape: &Shape, hollow: &Hollow, outside: &Pieces) -> Pieces {
    let room = shape.half() - hollow.wall;
    // Beside a steep step near a face, what the outline's end hides must not be taken for the roof.
    let ends = matches!(shape.outside, Outside::Custom(_));
    let uniform = |distance: f64, room: f64| clipped(&offset(outside, distance, ends), -room, room);
    let eroded = |nose: f64| {
        let inner = room - nose;
        match hollow.roof {
            Roof::Straight => {
                let least = uniform(hollow.wall, room)
                    .iter()
                    .map(|piece| piece.extreme(false).y)
                    .fold(f64::INFINITY, f64::min);
                let at = |x: f64| Point { x, y: least - nose };
                Pieces::from_slice(&[Piece::line(at(-inner), at(inner))])
            }
            Roof::Uniform | Roof::Full => uniform(hollow.wall + nose, inner),
        }
    };
    if hollow.nose <= 0.0 {
        return eroded(0.0);
    }
    // Everything that a disc of the nose's radius can reach inside the sharp cavity.
    let flipped: Pieces = eroded(hollow.nose).iter().map(Piece::flipped).collect();
    let reached: Pieces = offset(&flipped, hollow.nose, true)
        .iter()
        .map(Piece::flipped)
        .collect();
    clipped(&reached, -room, room)
}

/// Stretches closer than this are one, in mm.
pub(super) const ROUNDING: f64 = 1e-9;

/// Parts of the width, from and to, left to right.
pub type Stretches = SmallVec<[(f64, f64); 4]>;

/// Stretches of a curve that lie above a level.
pub(super) fn above(curve: &[Piece], level: f64) -> Stretches {
    let mut found = Stretches::new();
    let mut add = |from: f64, to: f64| match found.last_mut() {
        Some(last) if from <= last.1 + ROUNDING => last.1 = last.1.max(to),
        _ => found.push((from, to)),
    };
    for piece in curve {
        // Between an end and the extreme a piece only rises or only falls.
        let top = piece.extreme(piece.radius >= 0.0);
        let mut stretch = |from: Point, to: Point| match (from.y > level, to.y > level) {
            _ if to.x <= from.x => {}
            (true, true) => add(from.x, to.x),
            (false, false) => {}
            (false, true) => add(root(|x| level - piece.height(x), from.x, to.x), to.x),
            (true, false) => add(from.x, root(|x| piece.height(x) - level, from.x, to.x)),
        };
        stretch(piece.from, top);
        stretch(top, piece.to);
    }
    found
}

/// Whether a rectangle on the floor stands inside the cavity: the lowest that the roof comes down over it.
pub(super) fn head_room(cavity: &Cavity, from: f64, to: f64) -> f64 {
    let over = clipped(&cavity.roof, from, to);
    let whole = over.first().is_some_and(|first| first.from.x <= from)
        && over.last().is_some_and(|last| last.to.x >= to);
    if !whole {
        return f64::NEG_INFINITY;
    }
    let ends = height(&cavity.roof, from).min(height(&cavity.roof, to));
    over.iter()
        .map(|piece| piece.extreme(false).y)
        .fold(ends, f64::min)
}
