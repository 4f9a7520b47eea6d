//! Shortest distances between curves: how thick a wall is, and where.

use smallvec::SmallVec;

use super::curve::{Piece, Point};

/// A shortest distance and the place on the upper curve where it is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Thickness, mm.
    pub thickness: f64,
    /// Where, axial, mm.
    pub x: f64,
}

impl Wall {
    /// The thinner of two.
    #[must_use]
    pub fn thinner(self, other: Self) -> Self {
        if other.thickness < self.thickness {
            other
        } else {
            self
        }
    }
}

/// A piece with its centre and the box around it, worked out once.
#[derive(Clone, Copy)]
struct Drawn<'a> {
    piece: &'a Piece,
    centre: Point,
    low: f64,
    high: f64,
}

impl<'a> Drawn<'a> {
    fn new(piece: &'a Piece) -> Self {
        let (low, high) = (piece.from.y.min(piece.to.y), piece.from.y.max(piece.to.y));
        if piece.radius == 0.0 {
            return Self {
                piece,
                centre: piece.from,
                low,
                high,
            };
        }
        let centre = piece.centre();
        let top = centre.y + piece.radius;
        let tops = centre.x > piece.from.x && centre.x < piece.to.x;
        let (low, high) = if tops {
            (low.min(top), high.max(top))
        } else {
            (low, high)
        };
        Self {
            piece,
            centre,
            low,
            high,
        }
    }

    /// No two points of the pieces are nearer than this.
    fn apart(&self, other: &Self) -> f64 {
        let dx = (other.piece.from.x - self.piece.to.x)
            .max(self.piece.from.x - other.piece.to.x)
            .max(0.0);
        let dy = (other.low - self.high).max(self.low - other.high).max(0.0);
        (dx * dx + dy * dy).sqrt()
    }

    /// Whether a point of the piece's circle or line lies on the piece: its arcs are single-valued in `x`.
    fn spans(&self, point: Point) -> bool {
        let inside = point.x >= self.piece.from.x && point.x <= self.piece.to.x;
        inside && (self.piece.radius == 0.0 || (point.y - self.centre.y) * self.piece.radius >= 0.0)
    }

    /// The foot of the normal from a point on the line through a straight piece.
    fn foot(&self, point: Point) -> Point {
        let (dx, dy) = (
            self.piece.to.x - self.piece.from.x,
            self.piece.to.y - self.piece.from.y,
        );
        let along = ((point.x - self.piece.from.x) * dx + (point.y - self.piece.from.y) * dy)
            / (dx * dx + dy * dy);
        Point {
            x: self.piece.from.x + along * dx,
            y: self.piece.from.y + along * dy,
        }
    }

    /// The shortest distance from a point to the piece, and the nearest point on it.
    fn nearest(&self, point: Point) -> (f64, Point) {
        let (from, to) = (square(point, self.piece.from), square(point, self.piece.to));
        let ends = if from <= to {
            (from.sqrt(), self.piece.from)
        } else {
            (to.sqrt(), self.piece.to)
        };
        if self.piece.radius == 0.0 {
            let foot = self.foot(point);
            return if self.spans(foot) {
                (square(point, foot).sqrt(), foot)
            } else {
                ends
            };
        }
        let length = square(point, self.centre).sqrt();
        if length <= 0.0 {
            return (self.piece.radius.abs().min(ends.0), ends.1);
        }
        let scale = self.piece.radius.abs() / length;
        let (dx, dy) = (point.x - self.centre.x, point.y - self.centre.y);
        let inner = Point {
            x: self.centre.x + dx * scale,
            y: self.centre.y + dy * scale,
        };
        let distance = (length - self.piece.radius.abs()).abs();
        if self.spans(inner) && distance < ends.0 {
            (distance, inner)
        } else {
            ends
        }
    }
}

/// The shortest distance from an upper curve to a lower one, both from left to right and not crossing.
///
/// Nothing where they are nowhere as near as `reach`: pieces further apart are passed over, so that what is left of
/// them need not be the shortest.
#[must_use]
pub fn shortest(upper: &[Piece], lower: &[Piece], reach: f64) -> Option<Wall> {
    let lower: SmallVec<[Drawn<'_>; 16]> = lower.iter().map(Drawn::new).collect();
    let mut least: Option<Wall> = None;
    let mut bound = reach;
    let mut first = 0;
    for piece in upper {
        let piece = Drawn::new(piece);
        while lower
            .get(first)
            .is_some_and(|under| under.piece.to.x < piece.piece.from.x - reach)
        {
            first += 1;
        }
        for under in lower.iter().skip(first) {
            if under.piece.from.x > piece.piece.to.x + bound {
                break;
            }
            if piece.apart(under) > bound {
                continue;
            }
            let found = between(&piece, under);
            if least.is_none_or(|least| found.thickness < least.thickness) {
                least = Some(found);
                bound = bound.min(found.thickness);
            }
        }
    }
    least.filter(|least| least.thickness <= reach)
}

/// The shortest distance from a point to a curve; infinite where the curve has no piece.
#[must_use]
pub fn from_point(point: Point, curve: &[Piece]) -> f64 {
    let distances = curve.iter().map(|piece| Drawn::new(piece).nearest(point).0);
    distances.fold(f64::INFINITY, f64::min)
}

/// The shortest distance between two pieces that do not cross.
fn between(upper: &Drawn<'_>, lower: &Drawn<'_>) -> Wall {
    let from_upper = |point: Point| Wall {
        thickness: lower.nearest(point).0,
        x: point.x,
    };
    let from_lower = |point: Point| {
        let (thickness, near) = upper.nearest(point);
        Wall {
            thickness,
            x: near.x,
        }
    };
    let mut least = from_upper(upper.piece.from).thinner(from_upper(upper.piece.to));
    least = least
        .thinner(from_lower(lower.piece.from))
        .thinner(from_lower(lower.piece.to));
    // Two arcs, or an arc and a line, can also be nearest inside both: on the line through their centres,
    // or on the normal through the arc's centre.
    for point in inner(upper, lower).into_iter().flatten() {
        least = least.thinner(from_upper(point));
    }
    least
}

/// Points of the upper piece that may be nearest to the inside of the lower one.
fn inner(upper: &Drawn<'_>, lower: &Drawn<'_>) -> [Option<Point>; 2] {
    let radius = upper.piece.radius.abs();
    let on_circle = |towards: Point| {
        let length = square(upper.centre, towards).sqrt();
        if length <= 0.0 {
            return [None, None];
        }
        let (dx, dy) = (
            (towards.x - upper.centre.x) / length * radius,
            (towards.y - upper.centre.y) / length * radius,
        );
        let ends = [
            Point {
                x: upper.centre.x + dx,
                y: upper.centre.y + dy,
            },
            Point {
                x: upper.centre.x - dx,
                y: upper.centre.y - dy,
            },
        ];
        ends.map(|point| Some(point).filter(|point| upper.spans(*point)))
    };
    match (upper.piece.radius != 0.0, lower.piece.radius != 0.0) {
        (true, true) => on_circle(lower.centre),
        (true, false) => on_circle(lower.foot(upper.centre)),
        (false, true) => [
            Some(upper.foot(lower.centre)).filter(|foot| upper.spans(*foot)),
            None,
        ],
        (false, false) => [None, None],
    }
}

/// Square of the distance between two points.
fn square(a: Point, b: Point) -> f64 {
    let (dx, dy) = (a.x - b.x, a.y - b.y);
    dx * dx + dy * dy
}
