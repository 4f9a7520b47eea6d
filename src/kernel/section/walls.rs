//! The walls of a shell and its sleeve, and what is left under a cut surface.

use super::cavity::ROUNDING;
use super::curve::{Pieces, Point, clipped, height};
use super::curves::Curves;
use super::distance::{Wall, from_point, shortest};
use super::shape::{Hollow, Shape};

/// Every wall of a hollow band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walls {
    /// Shell over cavity and sleeve, under the cut.
    pub under_cut: Wall,
    /// Shell at the thinner side face, radial.
    pub side_face: f64,
    /// Shell's roof and side walls, normal; none for a full shell.
    pub shell: Option<f64>,
    /// Sleeve at its edge, radial.
    pub sleeve_edge: f64,
    /// Sleeve where it is turned down, radial.
    pub relief: Option<f64>,
}

/// Every wall of the two parts.
pub(super) fn walls(
    curves: &Curves<'_>,
    hollow: &Hollow,
    under_cut: impl FnOnce() -> Wall,
) -> Walls {
    let foot = hollow.foot();
    let ends = |curve: &Pieces| {
        [
            curve.first().map(|piece| piece.from),
            curve.last().map(|piece| piece.to),
        ]
    };
    let side_face = ends(&curves.outside)
        .into_iter()
        .flatten()
        .map(|end| end.y - foot)
        .fold(f64::INFINITY, f64::min);
    Walls {
        under_cut: under_cut(),
        side_face,
        shell: curves.cavity().map(|_| hollow.wall),
        sleeve_edge: hollow.sleeve - curves.shape.comfort,
        relief: hollow.relief,
    }
}

/// What lies under a shell's outside: its feet on the sleeve and the roof between them; heights over the smallest
/// bore, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Underside {
    /// Half the width.
    pub half: f64,
    /// Height of the feet.
    pub foot: f64,
    /// Where the left foot ends and the right one begins.
    pub between: (f64, f64),
    /// The roof between the feet; none for a full shell.
    pub roof: Option<Pieces>,
    /// How far from the outside the roof usually is.
    pub near: f64,
    /// How far from the outside it can be.
    pub reach: f64,
}

impl Underside {
    /// That of a shape; `None` for a solid band.
    ///
    /// # Range
    /// Shapes without anything impossible.
    #[must_use]
    pub fn of(shape: &Shape) -> Option<Self> {
        let hollow = shape.hollow.as_ref()?;
        Some(Self::with(&Curves::of(shape), hollow))
    }

    /// That of a shape whose curves are drawn.
    #[must_use]
    pub fn with(curves: &Curves<'_>, hollow: &Hollow) -> Self {
        let (shape, cavity) = (curves.shape, curves.cavity());
        Self {
            half: shape.half(),
            foot: hollow.foot(),
            between: cavity.map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right)),
            roof: cavity.map(|cavity| clipped(&cavity.roof, cavity.left, cavity.right)),
            // Corners rounded by the nose can be all further.
            near: hollow.wall * 1.001 + ROUNDING,
            reach: shape.thickness,
        }
    }

    /// Thinnest metal under a cut surface: over the cavity, and down to the sleeve where the shell stands on it.
    #[must_use]
    pub fn under(&self, surface: &Pieces) -> Wall {
        let (left, right) = self.between;
        let feet = clipped(surface, -self.half, left)
            .into_iter()
            .chain(clipped(surface, right, self.half));
        let mut under = Wall {
            thickness: f64::INFINITY,
            x: 0.0,
        };
        for piece in feet {
            let low = piece.extreme(false);
            under = under.thinner(Wall {
                thickness: low.y - self.foot,
                x: low.x,
            });
        }
        if let Some(roof) = &self.roof {
            let near = shortest(surface, roof, self.near);
            if let Some(wall) = near.or_else(|| shortest(surface, roof, self.reach)) {
                under = under.thinner(wall);
            }
        }
        under
    }
}

impl Underside {
    /// Metal under one place of a cut, in any direction down to cavity or sleeve; 0 or less where the cut has gone
    /// through.
    #[must_use]
    pub fn under_place(&self, place: Point) -> f64 {
        let (left, right) = self.between;
        let over_foot = place.x <= left || place.x >= right;
        let foot = if over_foot {
            place.y - self.foot
        } else {
            f64::INFINITY
        };
        match &self.roof {
            Some(roof) => foot.min(above(place, roof, !over_foot)),
            None => foot,
        }
    }
}

/// How far a place is above a curve, in any direction; 0 or less below it, where it lies over it.
fn above(place: Point, curve: &Pieces, over: bool) -> f64 {
    let high = place.y - height(curve, place.x);
    if over && high <= 0.0 {
        return high;
    }
    from_point(place, curve)
}

/// Metal under one place of a cut down to the bore of a solid band; 0 or less where the cut has gone through.
#[must_use]
pub fn over_bore(inside: &Pieces, place: Point) -> f64 {
    above(place, inside, true)
}

/// Thinnest metal between two curves over the whole width, the upper one an outside; 0 where they meet.
#[must_use]
pub fn thinnest(outside: &Pieces, inside: &Pieces) -> Wall {
    let gone = |x: f64| height(outside, x) <= height(inside, x);
    let ends = outside.iter().flat_map(|piece| [piece.from.x, piece.to.x]);
    if let Some(x) = ends.chain([0.0]).find(|x| gone(*x)) {
        return Wall { thickness: 0.0, x };
    }
    shortest(outside, inside, f64::INFINITY).unwrap_or(Wall {
        thickness: 0.0,
        x: 0.0,
    })
}

/// Thinnest metal under a cut surface that is not the outside lowered by the depth: heights over the smallest bore.
///
/// # Range
/// Shapes without anything impossible; the surface reaches over the whole width.
#[must_use]
pub fn wall_under(shape: &Shape, surface: &Pieces) -> Wall {
    match Underside::of(shape) {
        None => shortest(surface, &shape.inside_curve(), shape.thickness + 1e-9).unwrap_or(Wall {
            thickness: 0.0,
            x: 0.0,
        }),
        Some(underside) => underside.under(surface),
    }
}
