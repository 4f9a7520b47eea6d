//! Curves of lines and circular arcs, and exact integrals along them.
//!
//! A curve runs from the left face to the right one and gives one height for every place `x` on the width.
//! What a section needs of it are the area under it and the moment of that area about the finger's axis,
//! both closed form: a chord's trapezium and the circular segment on it.

use smallvec::SmallVec;

/// A place on a section: `x` axial, `y` the height over the smallest bore, both in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Axial, 0 at mid width.
    pub x: f64,
    /// Height over the smallest bore.
    pub y: f64,
}

/// A line, or a circular arc of at most a half circle, from left to right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Left end.
    pub from: Point,
    /// Right end.
    pub to: Point,
    /// Radius in mm: positive where the arc bulges away from the finger, negative where it bulges towards
    /// it, 0 for a line.
    pub radius: f64,
}

/// Pieces from left to right, each starting where the one before ends.
pub type Pieces = SmallVec<[Piece; 12]>;

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
    /// The volume under the curve, turned round the axis at distance `radius` below height 0, mm3.
    ///
    /// # Formula
    /// `pi * integral of (radius + y)^2 dx`, by Pappus and Guldinus.
    #[must_use]
    #[inline]
    pub fn revolved(&self, radius: f64) -> f64 {
        std::f64::consts::PI
            * (radius * radius * self.width + 2.0 * radius * self.area + self.square)
    }

    /// The integrals under a constant height.
    #[must_use]
    #[inline]
    pub fn level(width: f64, height: f64) -> Self {
        Self {
            width,
            area: width * height,
            square: width * height * height,
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
            radius: 0.0,
        }
    }

    /// An arc that rises `rise` over the middle of its chord (negative: dips).
    #[must_use]
    pub fn arch(from: Point, to: Point, rise: f64) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let half_squared = (dx * dx + dy * dy) / 4.0;
        // So flat that the radius would overflow: a line to the last digit.
        if rise.abs() < 1e-12 {
            return Self::line(from, to);
        }
        Self {
            from,
            to,
            radius: (half_squared + rise * rise) / (2.0 * rise),
        }
    }

    /// The arc from one point over a second to a third, from left to right; a line where they lie on one.
    #[must_use]
    pub fn through(from: Point, over: Point, to: Point) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let chord = (dx * dx + dy * dy).sqrt();
        // Twice the area of the triangle: positive where the middle lies above the chord.
        let above = dx * (over.y - from.y) - dy * (over.x - from.x);
        if above.abs() <= 1e-13 * chord {
            return Self::line(from, to);
        }
        let away = |end: Point| {
            let (x, y) = (over.x - end.x, over.y - end.y);
            (x * x + y * y).sqrt()
        };
        Self {
            from,
            to,
            radius: chord * away(from) * away(to) / (2.0 * above),
        }
    }

    /// Its integrals, exact to rounding.
    ///
    /// # Formula
    /// Trapezium of the chord, plus the circular segment by its area and its centroid on the chord's normal.
    #[must_use]
    pub fn integrals(&self) -> Integrals {
        let (dx, dy) = (self.to.x - self.from.x, self.to.y - self.from.y);
        let (a, b) = (self.from.y, self.to.y);
        let mut sum = Integrals {
            width: dx,
            area: dx * (a + b) / 2.0,
            square: dx * (a * a + a * b + b * b) / 3.0,
        };
        let half = 0.5 * (dx * dx + dy * dy).sqrt();
        if self.radius != 0.0 && half > 0.0 {
            let (area, moment) = segment(self.bulge(half));
            let sign = self.radius.signum();
            let height = (a + b) / 2.0 + sign * moment / area * dx / 2.0;
            let area = sign * area * half * half;
            sum.area += area;
            // Twice the first moment of the segment about height 0.
            sum.square += 2.0 * area * height;
        }
        sum
    }

    /// Height of the arc over its chord, in half chords: the tangent of a quarter of its angle; positive where it bulges
    /// away from the finger, 0 for a line.
    #[must_use]
    pub fn bulged(&self) -> f64 {
        let (dx, dy) = (self.to.x - self.from.x, self.to.y - self.from.y);
        match self.radius {
            0.0 => 0.0,
            radius => self.bulge(0.5 * (dx * dx + dy * dy).sqrt()) * radius.signum(),
        }
    }

    /// Height of the arc over its chord, in half chords: the tangent of a quarter of its angle.
    fn bulge(&self, half: f64) -> f64 {
        let radius = self.radius.abs();
        half / (radius + off_centre(radius, half))
    }

    /// Centre of the arc; for a line, nothing that means anything.
    #[must_use]
    pub fn centre(&self) -> Point {
        let (dx, dy) = (self.to.x - self.from.x, self.to.y - self.from.y);
        let length = (dx * dx + dy * dy).sqrt();
        let off = off_centre(self.radius.abs(), length / 2.0) * self.radius.signum();
        let (x, y) = (
            (self.from.x + self.to.x) / 2.0,
            (self.from.y + self.to.y) / 2.0,
        );
        Point {
            x: x + off * dy / length,
            y: y - off * dx / length,
        }
    }

    /// Unit normals towards the finger at both ends.
    #[must_use]
    pub fn normals(&self) -> (Point, Point) {
        if self.radius == 0.0 {
            let (dx, dy) = (self.to.x - self.from.x, self.to.y - self.from.y);
            let length = (dx * dx + dy * dy).sqrt();
            let normal = Point {
                x: dy / length,
                y: -dx / length,
            };
            return (normal, normal);
        }
        let centre = self.centre();
        let towards = |end: Point| Point {
            x: (centre.x - end.x) / self.radius,
            y: (centre.y - end.y) / self.radius,
        };
        (towards(self.from), towards(self.to))
    }

    /// Height at a place between its ends.
    #[must_use]
    pub fn height(&self, x: f64) -> f64 {
        self.heights()(x)
    }

    /// Its heights at places between its ends, for whoever reads many of them.
    fn heights(&self) -> impl Fn(f64) -> f64 + use<> {
        let Self { from, to, radius } = *self;
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let centre = match radius {
            0.0 => from.x,
            _ => self.centre().x,
        };
        let root = move |x: f64| {
            (radius * radius - (x - centre) * (x - centre))
                .max(0.0)
                .sqrt()
        };
        let there = root(from.x);
        move |x| {
            if radius == 0.0 {
                return from.y + dy * (x - from.x) / dx;
            }
            let sum = root(x) + there;
            if sum <= 0.0 {
                return from.y;
            }
            // The difference of the two roots, without losing digits on flat arcs.
            let rise = (from.x - x) * (from.x + x - 2.0 * centre) / sum;
            from.y + radius.signum() * rise
        }
    }

    /// The part between two places.
    #[must_use]
    pub fn clipped(&self, low: f64, high: f64) -> Option<Self> {
        if high <= self.from.x || low >= self.to.x {
            return None;
        }
        let at = |x: f64| Point {
            x,
            y: self.height(x),
        };
        let from = if low > self.from.x {
            at(low)
        } else {
            self.from
        };
        let to = if high < self.to.x { at(high) } else { self.to };
        (to.x > from.x).then_some(Self {
            from,
            to,
            radius: self.radius,
        })
    }

    /// The piece moved up, or down by a negative amount.
    #[must_use]
    pub fn lifted(&self, by: f64) -> Self {
        let lift = |point: Point| Point {
            x: point.x,
            y: point.y + by,
        };
        Self {
            from: lift(self.from),
            to: lift(self.to),
            radius: self.radius,
        }
    }

    /// The piece mirrored upside down.
    #[must_use]
    pub fn flipped(&self) -> Self {
        let flip = |point: Point| Point {
            x: point.x,
            y: -point.y,
        };
        Self {
            from: flip(self.from),
            to: flip(self.to),
            radius: -self.radius,
        }
    }

    /// Where it reaches its greatest height, or its least with `up` false.
    #[must_use]
    pub fn extreme(&self, up: bool) -> Point {
        let higher = |a: Point, b: Point| if (a.y > b.y) == up { a } else { b };
        let ends = higher(self.from, self.to);
        if self.radius == 0.0 || (self.radius > 0.0) != up {
            return ends;
        }
        let centre = self.centre();
        if centre.x > self.from.x && centre.x < self.to.x {
            Point {
                x: centre.x,
                y: centre.y + self.radius,
            }
        } else {
            ends
        }
    }
}

/// Distance of an arc's centre from its chord.
///
/// A half circle's radius is half its chord but for the last bits; their root would be some nanometres.
fn off_centre(radius: f64, half: f64) -> f64 {
    let over = radius - half;
    if over <= 8.0 * f64::EPSILON * radius {
        return 0.0;
    }
    (over * (radius + half)).sqrt()
}

/// Sum over pieces.
#[must_use]
pub fn integrals(pieces: &[Piece]) -> Integrals {
    let mut sum = Integrals::default();
    for piece in pieces {
        let part = piece.integrals();
        sum.width += part.width;
        sum.area += part.area;
        sum.square += part.square;
    }
    sum
}

/// The part of a curve between two places.
#[must_use]
pub fn clipped(pieces: &[Piece], low: f64, high: f64) -> Pieces {
    pieces
        .iter()
        .filter_map(|piece| piece.clipped(low, high))
        .collect()
}

/// Height of a curve at a place; the nearest end's outside its width.
#[must_use]
pub fn height(pieces: &[Piece], x: f64) -> f64 {
    heights(pieces, x)(x)
}

/// Heights of a curve about a place, as far as one piece of it goes; outside its width that of the nearest end.
pub(super) fn heights(pieces: &[Piece], about: f64) -> impl Fn(f64) -> f64 + use<> {
    let (level, piece) = match (pieces.first(), pieces.last()) {
        (Some(first), _) if about <= first.from.x => (first.from.y, None),
        (_, Some(last)) if about >= last.to.x => (last.to.y, None),
        _ => (0.0, pieces.iter().find(|piece| about <= piece.to.x)),
    };
    let piece = piece.map(Piece::heights);
    move |x| piece.as_ref().map_or(level, |height| height(x))
}

/// Area and first moment about its chord of a circular segment with half chord 1 and height `bulge`.
///
/// With `t` half the arc's angle: area `(t - sin t cos t) / sin^2 t`, moment
/// `(sin t - sin^3 t / 3 - t cos t) / sin^3 t`. For flat arcs these lose digits, and the heights over the
/// chord are integrated by Gauss and Legendre's rule instead, which is exact to rounding there.
fn segment(bulge: f64) -> (f64, f64) {
    if bulge < FLAT {
        let square = bulge * bulge;
        let mut sum = (0.0, 0.0);
        for (node, weight) in NODES {
            let place = node * node;
            let root = ((1.0 + square) * (1.0 + square) - 4.0 * square * place).sqrt();
            let height = 2.0 * bulge * (1.0 - place) / (root + 1.0 - square);
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
#[allow(clippy::excessive_precision)]
pub(in crate::kernel) const NODES: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];
