//! The parallel of a curve at a distance towards the finger: the roof of a cavity under a wall.
//!
//! A point is on the parallel when its least distance to the curve is the wall. Each line and arc has a
//! parallel of its own, each corner that points towards the finger an arc about itself; the parallel of
//! the curve is the lowest of them at every place. Because all are swept by discs of one radius, the
//! piece that is lowest moves to the right as the place does, so one pass with a stack finds it.
//! Arcs smaller than the wall and steps narrower than it vanish, as they do in metal.

use super::curve::{Piece, Pieces, Point};

/// Lengths closer than this are one, in mm.
const ROUNDING: f64 = 1e-12;

/// The parallel at `distance` below a curve; with `ends`, arcs about both end points go on beyond them.
#[must_use]
pub fn offset(curve: &[Piece], distance: f64, ends: bool) -> Pieces {
    let mut lowest = Pieces::new();
    if distance <= 0.0 {
        lowest.extend(curve.iter().copied());
        return lowest;
    }
    let moved = |point: Point, normal: Point| Point {
        x: point.x + normal.x * distance,
        y: point.y + normal.y * distance,
    };
    let mut before = curve
        .first()
        .map(|first| Point {
            x: first.from.x - distance,
            y: first.from.y,
        })
        .filter(|_| ends);
    for piece in curve {
        let (left, right) = piece.normals();
        let (start, end) = (moved(piece.from, left), moved(piece.to, right));
        corner(&mut lowest, before, start, distance);
        let radius = if piece.radius == 0.0 {
            0.0
        } else {
            piece.radius - distance
        };
        let vanishes = piece.radius > 0.0 && radius <= ROUNDING;
        if !vanishes && end.x > start.x + ROUNDING {
            lay(
                &mut lowest,
                Piece {
                    from: start,
                    to: end,
                    radius,
                },
            );
        }
        before = Some(end);
    }
    if let Some(last) = curve.last().filter(|_| ends) {
        corner(
            &mut lowest,
            before,
            Point {
                x: last.to.x + distance,
                y: last.to.y,
            },
            distance,
        );
    }
    lowest
}

/// The arc about a corner that points towards the finger.
fn corner(lowest: &mut Pieces, before: Option<Point>, start: Point, distance: f64) {
    if let Some(end) = before
        && start.x > end.x + ROUNDING
    {
        lay(
            lowest,
            Piece {
                from: end,
                to: start,
                radius: -distance,
            },
        );
    }
}

/// Takes one more piece, from a centre further to the right, into what is lowest so far.
fn lay(lowest: &mut Pieces, piece: Piece) {
    let end = piece.to.x;
    let there = lowest.iter().rev().find(|known| known.from.x < end);
    if let Some(known) = there
        && known.to.x >= end
        && known.height(end) <= piece.to.y
    {
        return;
    }
    while let Some(known) = lowest.last_mut() {
        let low = known.from.x.max(piece.from.x);
        let high = known.to.x.min(end);
        if known.from.x >= end - ROUNDING
            || high > low && known.from.x >= piece.from.x && piece.height(low) <= known.from.y
        {
            lowest.pop();
            continue;
        }
        if high - low <= ROUNDING || piece.height(high) >= known.height(high) {
            break;
        }
        if piece.height(low) <= known.height(low) {
            known.to = piece.from;
            break;
        }
        let x = crossing(known, &piece, low, high);
        let meeting = Point {
            x,
            y: piece.height(x),
        };
        known.to = meeting;
        lowest.push(Piece {
            from: meeting,
            ..piece
        });
        return;
    }
    let from = lowest.last().map_or(piece.from, |known| known.to);
    let from = if from.x > piece.from.x && from.x < end {
        from
    } else {
        piece.from
    };
    lowest.push(Piece { from, ..piece });
}

/// Where two pieces cross between two places, the second above the first at the left one.
fn crossing(first: &Piece, second: &Piece, low: f64, high: f64) -> f64 {
    if first.radius == 0.0 && second.radius == 0.0 {
        let slope = |piece: &Piece| (piece.to.y - piece.from.y) / (piece.to.x - piece.from.x);
        let gap = second.height(low) - first.height(low);
        let closing = slope(first) - slope(second);
        return if closing > 0.0 {
            (low + gap / closing).clamp(low, high)
        } else {
            high
        };
    }
    root(|x| second.height(x) - first.height(x), low, high)
}

/// The root of a function that is positive at `low` and not positive at `high` (the Illinois method, with
/// halving where it stalls).
pub(super) fn root(function: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut below, mut above) = (function(low), function(high));
    let mut side = 0;
    for step in 0..100 {
        if high - low <= 4.0 * f64::EPSILON * high.abs().max(low.abs()).max(1.0) {
            break;
        }
        let slope = below - above;
        let secant = low + (high - low) * below / slope;
        let x = if step % 4 == 3 || !(secant > low && secant < high) {
            0.5 * (low + high)
        } else {
            secant
        };
        let value = function(x);
        if value == 0.0 {
            return x;
        }
        if value > 0.0 {
            (low, below) = (x, value);
            above = if side == 1 { above / 2.0 } else { above };
            side = 1;
        } else {
            (high, above) = (x, value);
            below = if side == -1 { below / 2.0 } else { below };
            side = -1;
        }
    }
    0.5 * (low + high)
}
