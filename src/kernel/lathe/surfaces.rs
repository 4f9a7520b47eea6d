//! The surfaces of a part that are turned, as lines and arcs from the left face to the right one.

use crate::kernel::Input;
use crate::kernel::join::root;
use crate::kernel::section::curve::{Piece, Pieces, Point, clipped, height};
use crate::kernel::section::{Catch, Cavity, Hollow, Roof, Shape};
use crate::kernel::stretch::StretchFigures;

use super::image::{Image, LatheState, Part};

/// A surface that is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SurfaceId {
    /// From outside, the tool above it.
    Outside,
    /// The bore of a band or sleeve, the tool below it.
    Bore,
    /// The inside of a shell: feet or lips and the channel between them, the tool below it.
    Channel,
}

/// A surface in one state: `x` along the axis from mid width, `y` the radius, mm. Between two runs it steps straight
/// in or out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Surface {
    pub id: SurfaceId,
    pub runs: Vec<Pieces>,
}

/// Arcs that stand for the image of a piece: each departs from it by the fourth power of their number less.
const SPLIT: u32 = 16;

/// The surfaces of a part; `None` where the band has no such part.
pub(super) fn surfaces(
    input: &Input,
    stretch: &StretchFigures,
    part: Part,
    state: LatheState,
) -> Option<Vec<Surface>> {
    let shape = &input.shape;
    let image = Image::of(input, stretch, part, state)?;
    let carried = |id: SurfaceId, runs: Vec<Pieces>| {
        let place = |point: Point| {
            let radius = shape.radius + point.y;
            Point {
                x: image.along(point.x),
                y: match (id, part) {
                    (SurfaceId::Outside, Part::Band | Part::Shell) => image.outside(radius),
                    (SurfaceId::Bore, _) => image.bore(radius),
                    _ => image.radius(radius),
                },
            }
        };
        let mut runs: Vec<Pieces> = runs.iter().map(|run| moved(run, place)).collect();
        widened(&mut runs, image.on_faces());
        Surface { id, runs }
    };
    let outside = || vec![shape.eased(&shape.outside_curve(), shape.ease_outer, -1.0)];
    let bore = || shape.eased(&shape.inside_curve(), shape.ease_bore, 1.0);
    Some(match (part, shape.hollow) {
        (Part::Band, _) => vec![
            carried(SurfaceId::Outside, outside()),
            carried(SurfaceId::Bore, vec![bore()]),
        ],
        (Part::Shell, Some(hollow)) => vec![
            carried(SurfaceId::Outside, outside()),
            carried(SurfaceId::Channel, channel(shape, &hollow)),
        ],
        (Part::Sleeve, Some(hollow)) => {
            let half = sleeve_half(shape, &hollow);
            vec![
                carried(SurfaceId::Outside, floor(shape, &hollow)),
                carried(SurfaceId::Bore, vec![clipped(&bore(), -half, half)]),
            ]
        }
        _ => return None,
    })
}

fn level(from: f64, to: f64, y: f64) -> Option<Pieces> {
    let at = |x: f64| Point { x, y };
    (to - from > 1e-9).then(|| Pieces::from_slice(&[Piece::line(at(from), at(to))]))
}

fn cavity(shape: &Shape, hollow: &Hollow) -> Option<Cavity> {
    let hollow = Some(hollow).filter(|hollow| hollow.roof != Roof::Full)?;
    Cavity::of(shape, hollow, &shape.outside_curve())
}

fn sleeve_half(shape: &Shape, hollow: &Hollow) -> f64 {
    match hollow.catch {
        Catch::Lip { wide, play, .. } => shape.half() - wide - play / 2.0,
        _ => shape.half(),
    }
}

/// The inside of a shell: lips where it has them, feet, and the roof between.
fn channel(shape: &Shape, hollow: &Hollow) -> Vec<Pieces> {
    let (half, foot) = (shape.half(), hollow.foot());
    let cavity = cavity(shape, hollow);
    let (left, right) = cavity
        .as_ref()
        .map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right));
    let mut runs = Vec::new();
    let inner = match hollow.catch {
        Catch::Lip { height, wide, .. } => {
            runs.extend(level(-half, wide - half, hollow.sleeve - height));
            half - wide
        }
        _ => half,
    };
    match &cavity {
        Some(cavity) => {
            runs.extend(level(-inner, left, foot));
            runs.push(clipped(&cavity.roof, left.max(-inner), right.min(inner)));
            runs.extend(level(right, inner, foot));
        }
        None => runs.extend(level(-inner, inner, foot)),
    }
    if let Catch::Lip { height, wide, .. } = hollow.catch {
        runs.extend(level(half - wide, half, hollow.sleeve - height));
    }
    runs
}

/// The outside of a sleeve: the floor, ridges on it, turned down between the feet where it has a relief.
fn floor(shape: &Shape, hollow: &Hollow) -> Vec<Pieces> {
    let half = sleeve_half(shape, hollow);
    let floor = hollow.sleeve;
    let cavity = cavity(shape, hollow);
    let ridges = cavity
        .as_ref()
        .map(|cavity| cavity.ridges(hollow))
        .unwrap_or_default();
    let relief = hollow.relief.zip(cavity.as_ref());
    let turned: Pieces = match relief {
        Some((wall, _)) => {
            let inside = shape.inside_curve();
            inside.iter().map(|piece| piece.lifted(wall)).collect()
        }
        None => Pieces::new(),
    };
    let (left, right) = relief.map_or((half, half), |(_, cavity)| (cavity.left, cavity.right));
    let mut marks = vec![-half, left, right, half];
    marks.extend(ridges.iter().flat_map(|(from, to)| [*from, *to]));
    // Where what is turned down comes up to the floor.
    marks.extend(turned.iter().flat_map(|piece| {
        let squeezed = |x: f64| piece.height(x) - floor;
        [(piece.from.x, 0.0), (0.0, piece.to.x)]
            .into_iter()
            .filter_map(move |(from, to)| root(squeezed, from, to))
    }));
    marks.retain(|x| x.abs() <= half);
    marks.sort_unstable_by(f64::total_cmp);
    let mut runs: Vec<Pieces> = Vec::new();
    for (from, to) in marks.iter().copied().zip(marks.iter().copied().skip(1)) {
        let middle = (from + to) / 2.0;
        let on_ridge = ridges
            .iter()
            .any(|(from, to)| middle > *from && middle < *to);
        let run = match hollow.catch {
            Catch::Ridge { height, .. } if on_ridge => level(from, to, floor + height),
            _ if middle > left && middle < right && height(&turned, middle) < floor => {
                (to - from > 1e-9).then(|| clipped(&turned, from, to))
            }
            _ => level(from, to, floor),
        };
        runs.extend(run);
    }
    joined(runs)
}

/// Runs that go on at one height as one.
fn joined(runs: Vec<Pieces>) -> Vec<Pieces> {
    let mut all: Vec<Pieces> = Vec::new();
    for run in runs {
        let goes_on = |before: &Pieces| {
            let (end, start) = (before.last()?.to, run.first()?.from);
            Some((end.y - start.y).abs() < 1e-9)
        };
        match all
            .last_mut()
            .filter(|before| goes_on(before) == Some(true))
        {
            Some(before) => {
                for piece in run {
                    match before.last_mut().filter(|last| flat(last) && flat(&piece)) {
                        Some(last) => last.to = piece.to,
                        None => before.push(piece),
                    }
                }
            }
            None => all.push(run),
        }
    }
    all
}

fn flat(piece: &Piece) -> bool {
    piece.radius == 0.0 && piece.from.y == piece.to.y
}

/// A run with every point moved: level lines stay lines, all else becomes arcs through points of the true curve.
fn moved(run: &Pieces, place: impl Fn(Point) -> Point) -> Pieces {
    let mut pieces = Pieces::new();
    for piece in run {
        if flat(piece) {
            pieces.push(Piece::line(place(piece.from), place(piece.to)));
            continue;
        }
        let wide = piece.to.x - piece.from.x;
        let at = |half_part: u32| {
            let x = piece.from.x + wide * f64::from(half_part) / f64::from(2 * SPLIT);
            place(match half_part {
                0 => piece.from,
                last if last == 2 * SPLIT => piece.to,
                _ => Point {
                    x,
                    y: piece.height(x),
                },
            })
        };
        pieces.extend(
            (0..SPLIT).map(|part| Piece::through(at(2 * part), at(2 * part + 1), at(2 * part + 2))),
        );
    }
    pieces
}

/// Metal left on the faces: the first and the last run go on as far.
fn widened(runs: &mut [Pieces], by: f64) {
    if by <= 0.0 {
        return;
    }
    let beyond = |piece: &Piece, x: f64| Point {
        x,
        y: piece.height(x),
    };
    if let Some(first) = runs.first_mut().and_then(|run| run.first_mut()) {
        first.from = beyond(first, first.from.x - by);
    }
    if let Some(last) = runs.last_mut().and_then(|run| run.last_mut()) {
        last.to = beyond(last, last.to.x + by);
    }
}
