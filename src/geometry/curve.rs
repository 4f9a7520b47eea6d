//! Curves of lines and circular arcs, and exact integrals along them.
//!
//! A curve runs from the left face to the right one and gives a height for every place `x` on the width.
//! What a section needs of it are the area under it and the moment of that area about a far axis, both
//! closed form: a chord's trapezium and the circular segment on it.

use smallvec::SmallVec;

/// A place on a section: `x` axial, `y` the height from the smallest bore, both in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Axial, 0 at mid width.
    pub x: f64,
    /// Height from the smallest bore.
    pub y: f64,
}

/// A line, or a circular arc, between two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Left end.
    pub from: Point,
    /// Right end.
    pub to: Point,
    /// Height of the arc over its chord in half chords: the tangent of a quarter of its angle.
    /// Positive away from the finger, negative towards it, 0 for a line.
    pub bulge: f64,
}

/// Pieces from left to right, each starting where the one before ends.
#[derive(Clone, Debug, Default)]
pub struct Curve {
    /// The pieces.
    pub pieces: SmallVec<[Piece; 4]>,
}

/// Integrals of a height `y` over a stretch of the width.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Integrals {
    /// Extent along the axis, mm.
    pub width: f64,
    /// Integral of `y dx`, mm2.
    pub area: f64,
    /// Integral of `y * y dx`, mm3.
    pub square: f64,
}

impl Integrals {
    /// The volume under the curve, turned round the axis at distance `radius` below height 0.
    ///
    /// # Formula
    /// `pi * integral of (radius + y)^2 dx`, by Pappus and Guldinus.
    #[must_use]
    pub fn revolved(&self, radius: f64) -> f64 {
        std::f64::consts::PI
            * (radius * radius * self.width + 2.0 * radius * self.area + self.square)
    }

    /// Sum of two stretches.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            width: self.width + other.width,
            area: self.area + other.area,
            square: self.square + other.square,
        }
    }
}

impl Piece {
    /// A straight piece.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self {
            from,
            to,
            bulge: 0.0,
        }
    }

    /// Its integrals, exact to rounding.
    ///
    /// # Formula
    /// Trapezium of the chord, plus the circular segment with its centroid on the chord's normal.
    ///
    /// # Range
    /// Chords that do not run to the left; arcs up to a half circle and beyond.
    #[must_use]
    pub fn integrals(&self) -> Integrals {
        let (dx, dy) = (self.to.x - self.from.x, self.to.y - self.from.y);
        let (a, b) = (self.from.y, self.to.y);
        let mut sum = Integrals {
            width: dx,
            area: dx * (a + b) / 2.0,
            square: dx * (a * a + a * b + b * b) / 3.0,
        };
        if self.bulge != 0.0 {
            let half = 0.5 * (dx * dx + dy * dy).sqrt();
            let (area, moment) = segment(self.bulge.abs());
            let centroid = moment / area * self.bulge.signum();
            let area = area * half * half * self.bulge.signum();
            let height = (a + b) / 2.0 + centroid * dx / 2.0;
            sum.area += area;
            // The segment about height 0 by its centroid: integral of y^2 dx is twice the first moment.
            sum.square += 2.0 * area * height;
        }
        sum
    }
}

impl Curve {
    /// A curve of one piece.
    #[must_use]
    pub fn of(piece: Piece) -> Self {
        Self {
            pieces: SmallVec::from_slice(&[piece]),
        }
    }

    /// Sum over the pieces.
    #[must_use]
    pub fn integrals(&self) -> Integrals {
        self.pieces.iter().fold(Integrals::default(), |sum, piece| {
            sum.plus(&piece.integrals())
        })
    }
}

/// Area and first moment about its chord of a circular segment with half chord 1 and height `bulge`.
///
/// With `t` half the arc's angle: area `(t - sin t cos t) / sin^2 t`, moment
/// `(sin t - sin^3 t / 3 - t cos t) / sin^3 t`. For flat arcs these lose digits, and the heights over the
/// chord are integrated by Gauss and Legendre's rule instead, which is exact to rounding there.
fn segment(bulge: f64) -> (f64, f64) {
    if bulge < FLAT {
        let b = bulge * bulge;
        let mut sum = (0.0, 0.0);
        for (node, weight) in NODES {
            let square = node * node;
            let root = ((1.0 + b) * (1.0 + b) - 4.0 * b * square).sqrt();
            let height = 2.0 * bulge * (1.0 - square) / (root + 1.0 - b);
            // Two nodes, left and right; half the height squared is the moment.
            sum.0 += 2.0 * weight * height;
            sum.1 += weight * height * height;
        }
        return sum;
    }
    let angle = 2.0 * libm::atan(bulge);
    let sine = 2.0 * bulge / (1.0 + bulge * bulge);
    let cosine = (1.0 - bulge * bulge) / (1.0 + bulge * bulge);
    let area = (angle - sine * cosine) / (sine * sine);
    let moment = (sine - sine * sine * sine / 3.0 - angle * cosine) / (sine * sine * sine);
    (area, moment)
}

/// Below this bulge the closed form loses more digits than the rule.
const FLAT: f64 = 0.15;

/// Positive nodes and weights of Gauss and Legendre's rule of eight points.
const NODES: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];
