//! The contour of a part as points that a turning program goes through from one to the next.

use crate::kernel::Input;
use crate::kernel::section::curve::{Piece, Pieces, Point};
use crate::kernel::stretch::StretchFigures;

use super::image::{LatheState, Part};
use super::nose::{below, flipped, left_by};
use super::surfaces::{SurfaceId, surfaces};

/// A point of a path: places on the surface, or of the nose's centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContourPoint {
    /// Along the axis from mid width, mm.
    pub x: f64,
    /// Diameter, mm.
    pub diameter: f64,
}

/// A surface, or the way of a nose along it, as points from left to right.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// The surface.
    pub surface: SurfaceId,
    /// Radius of the nose whose centre goes through the points; none: points of the surface.
    pub nose: Option<f64>,
    /// The points.
    pub rows: Vec<ContourPoint>,
    /// How far the straight way between two points is from the curve at most, mm.
    pub chord: f64,
    /// Metal that the nose leaves where a corner is tighter than it, at most, radial, mm.
    pub leaves: f64,
}

/// The finest step along the axis, mm.
pub const FINEST: f64 = 0.001;

/// Points closer together where the way between them would depart more than this from the curve, mm (a tenth of what
/// a small lathe repeats; common practice, no source).
const CHORD: f64 = 0.001;

/// The paths of a part: each of its surfaces, and the way of the nose along it where one is known. The channel's
/// corners are cut with the nose that the recipe states for them; all else, and a channel without one, with `nose`.
///
/// `None` where the band has no such part.
///
/// # Range
/// Steps not under [`FINEST`], noses above 0.
#[must_use]
pub fn contour(
    input: &Input,
    stretch: &StretchFigures,
    part: Part,
    state: LatheState,
    step: f64,
    nose: Option<f64>,
) -> Option<Vec<Contour>> {
    let stated = input.shape.hollow.map(|hollow| hollow.nose);
    let stated = stated.filter(|nose| *nose > 0.0);
    let mut paths = Vec::new();
    for surface in surfaces(input, stretch, part, state)? {
        let id = surface.id;
        let (rows, chord) = points(&surface.runs, step);
        paths.push(Contour {
            surface: id,
            nose: None,
            rows,
            chord,
            leaves: 0.0,
        });
        let nose = match id {
            SurfaceId::Channel => stated.or(nose),
            SurfaceId::Outside | SurfaceId::Bore => nose,
        };
        let Some(nose) = nose.filter(|nose| *nose > 0.0) else {
            continue;
        };
        let (way, reached) = match id {
            SurfaceId::Outside => {
                let way = below(&flipped(&surface.runs), nose);
                let reached = left_by(&way, nose);
                (flipped(&way), flipped(&reached))
            }
            SurfaceId::Bore | SurfaceId::Channel => {
                let way = below(&surface.runs, nose);
                let reached = left_by(&way, nose);
                (way, reached)
            }
        };
        let (rows, chord) = points(&way, step);
        paths.push(Contour {
            surface: id,
            nose: Some(nose),
            rows,
            chord,
            leaves: farthest(&surface.runs, &reached),
        });
    }
    Some(paths)
}

/// How far two surfaces are apart at most, a hair off the steps of either.
fn farthest(one: &[Pieces], other: &[Pieces]) -> f64 {
    const PLACES: u32 = 8;
    const OFF: f64 = 1e-6;
    let mut most: f64 = 0.0;
    for piece in one.iter().flatten() {
        for part in 0..=PLACES {
            let share = f64::from(part) / f64::from(PLACES);
            let x = piece.from.x + (piece.to.x - piece.from.x) * share;
            let x = x.clamp(piece.from.x + OFF, piece.to.x - OFF);
            let there = other.iter().flatten();
            let there = there.filter(|piece| piece.from.x <= x && piece.to.x >= x);
            let gap = there.map(|other| (other.height(x) - piece.height(x)).abs());
            let gap = gap.fold(f64::INFINITY, f64::min);
            most = most.max(if gap.is_finite() { gap } else { 0.0 });
        }
    }
    most
}

/// The points of runs: every corner and end, even steps from mid width, and between them as the chord wants.
fn points(runs: &[Pieces], step: f64) -> (Vec<ContourPoint>, f64) {
    let mut rows: Vec<ContourPoint> = Vec::new();
    let mut chord: f64 = 0.0;
    let mut add = |at: Point| {
        let row = ContourPoint {
            x: if at.x.abs() < 1e-9 { 0.0 } else { at.x },
            diameter: 2.0 * at.y,
        };
        let same = |last: &ContourPoint| {
            (last.x - row.x).abs() < 1e-9 && (last.diameter - row.diameter).abs() < 1e-9
        };
        if !rows.last().is_some_and(same) {
            rows.push(row);
        }
    };
    for run in runs {
        let mut last = None;
        for (place, piece) in run.iter().enumerate() {
            let start = last.unwrap_or(piece.from);
            if last.is_none() {
                add(start);
            }
            let mut from = start;
            for x in between(from.x, piece.to.x, step) {
                let to = Point {
                    x,
                    y: piece.height(x),
                };
                chord = chord.max(way(piece, from, to, &mut add));
                from = to;
            }
            // Arcs that stand for one curve have no corner between them.
            let goes_on = run.get(place + 1).is_some_and(|next| smooth(piece, next));
            if goes_on {
                last = Some(from);
            } else {
                chord = chord.max(way(piece, from, piece.to, &mut add));
                last = Some(piece.to);
            }
        }
    }
    (rows, chord)
}

/// The even places between two others.
fn between(from: f64, to: f64, step: f64) -> impl Iterator<Item = f64> {
    let first = (from / step).floor() as i64 + 1;
    let last = (to / step).ceil() as i64 - 1;
    (first..=last)
        .map(move |at| (at as f64 * step * 1e12).round() / 1e12)
        .filter(move |x| *x > from + 1e-9 && *x < to - 1e-9)
}

/// Adds what lies between two points of a piece, and the second; how far the way departs from the curve.
fn way(piece: &Piece, from: Point, to: Point, add: &mut impl FnMut(Point)) -> f64 {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let half = (dx * dx + dy * dy).sqrt() / 2.0;
    let radius = piece.radius.abs();
    if radius == 0.0 || half == 0.0 {
        add(to);
        return 0.0;
    }
    let off = (radius * radius - half * half).max(0.0).sqrt();
    // Without losing digits on flat arcs.
    let rise = half * half / (radius + off);
    if rise <= CHORD {
        add(to);
        return rise;
    }
    let sign = piece.radius.signum() * rise / (2.0 * half);
    let middle = Point {
        x: (from.x + to.x) / 2.0 - sign * dy,
        y: (from.y + to.y) / 2.0 + sign * dx,
    };
    let first = way(piece, from, middle, add);
    first.max(way(piece, middle, to, add))
}

/// Whether two pieces are parts of one curve: no corner, and bent alike.
fn smooth(one: &Piece, next: &Piece) -> bool {
    let (_, end) = one.normals();
    let (start, _) = next.normals();
    let bend = |piece: &Piece| match piece.radius {
        0.0 => 0.0,
        radius => 1.0 / radius,
    };
    let (one, next) = (bend(one), bend(next));
    let corner = (end.x - start.x).abs().max((end.y - start.y).abs());
    corner < 1e-4 && (one - next).abs() <= 1e-3 + 0.05 * one.abs().max(next.abs())
}
