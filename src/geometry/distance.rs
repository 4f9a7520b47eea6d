//! Shortest distances between curves: how thick a wall is, and where.

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

/// The shortest distance from an upper curve to a lower one, both from left to right.
///
/// `reach` bounds what is looked at: pieces further apart along the axis are passed by, so that the
/// result is right where it is at most `reach`, and at least `reach` where it is not.
#[must_use]
pub fn shortest(upper: &[Piece], lower: &[Piece], reach: f64) -> Option<Wall> {
    let mut least: Option<Wall> = None;
    let mut first = 0;
    for piece in upper {
        while lower
            .get(first)
            .is_some_and(|under| under.to.x < piece.from.x - reach)
        {
            first += 1;
        }
        for under in lower.iter().skip(first) {
            if under.from.x > piece.to.x + reach {
                break;
            }
            let found = between(piece, under);
            least = Some(least.map_or(found, |least| least.thinner(found)));
        }
    }
    least
}

/// The shortest distance between two pieces that do not cross.
fn between(upper: &Piece, lower: &Piece) -> Wall {
    let from_upper = |point: Point| Wall {
        thickness: to_piece(point, lower).0,
        x: point.x,
    };
    let from_lower = |point: Point| {
        let (thickness, near) = to_piece(point, upper);
        Wall {
            thickness,
            x: near.x,
        }
    };
    let mut least = from_upper(upper.from).thinner(from_upper(upper.to));
    least = least
        .thinner(from_lower(lower.from))
        .thinner(from_lower(lower.to));
    // Two arcs, or an arc and a line, can also be nearest inside both: on the line through their centres,
    // or on the normal through the arc's centre.
    for point in inner(upper, lower).into_iter().flatten() {
        least = least.thinner(from_upper(point));
    }
    least
}

/// Points of the upper piece that may be nearest to the inside of the lower one.
fn inner(upper: &Piece, lower: &Piece) -> [Option<Point>; 2] {
    let towards = |from: Point, to: Point, radius: f64| {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let length = (dx * dx + dy * dy).sqrt();
        (length > 0.0).then(|| Point {
            x: from.x + dx / length * radius,
            y: from.y + dy / length * radius,
        })
    };
    match (upper.radius != 0.0, lower.radius != 0.0) {
        (true, true) => {
            let (a, b) = (upper.centre(), lower.centre());
            let radius = upper.radius.abs();
            [towards(a, b, radius), towards(a, b, -radius)]
                .map(|point| point.filter(|point| spans(upper, *point)))
        }
        (true, false) => {
            let centre = upper.centre();
            let (_, foot) = to_line(centre, lower);
            let radius = upper.radius.abs();
            [
                towards(centre, foot, radius),
                towards(centre, foot, -radius),
            ]
            .map(|point| point.filter(|point| spans(upper, *point)))
        }
        (false, true) => {
            let (_, foot) = to_line(lower.centre(), upper);
            [Some(foot).filter(|foot| spans(upper, *foot)), None]
        }
        (false, false) => [None, None],
    }
}

/// Whether a point of the piece's circle or line lies on the piece: its arcs are single-valued in `x`.
fn spans(piece: &Piece, point: Point) -> bool {
    let inside = point.x >= piece.from.x && point.x <= piece.to.x;
    inside && (piece.radius == 0.0 || (point.y - piece.centre().y) * piece.radius >= 0.0)
}

/// The shortest distance from a point to a piece, and the nearest point on it.
fn to_piece(point: Point, piece: &Piece) -> (f64, Point) {
    let from = distance(point, piece.from);
    let to = distance(point, piece.to);
    let mut best = if from <= to {
        (from, piece.from)
    } else {
        (to, piece.to)
    };
    let inner = if piece.radius == 0.0 {
        to_line(point, piece).1
    } else {
        let centre = piece.centre();
        let length = distance(point, centre);
        if length <= 0.0 {
            return (piece.radius.abs().min(best.0), best.1);
        }
        let scale = piece.radius.abs() / length;
        Point {
            x: centre.x + (point.x - centre.x) * scale,
            y: centre.y + (point.y - centre.y) * scale,
        }
    };
    if spans(piece, inner) {
        let found = distance(point, inner);
        if found < best.0 {
            best = (found, inner);
        }
    }
    best
}

/// Distance to the line through a straight piece, and the foot of the normal on it.
fn to_line(point: Point, piece: &Piece) -> (f64, Point) {
    let (dx, dy) = (piece.to.x - piece.from.x, piece.to.y - piece.from.y);
    let along =
        ((point.x - piece.from.x) * dx + (point.y - piece.from.y) * dy) / (dx * dx + dy * dy);
    let foot = Point {
        x: piece.from.x + along * dx,
        y: piece.from.y + along * dy,
    };
    (distance(point, foot), foot)
}

fn distance(a: Point, b: Point) -> f64 {
    let (dx, dy) = (a.x - b.x, a.y - b.y);
    (dx * dx + dy * dy).sqrt()
}
