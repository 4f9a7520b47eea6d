//! Where the centre of a tool's round nose runs, so that it touches a surface and cuts nowhere into it.

use crate::kernel::join::root;
use crate::kernel::section::curve::{Piece, Pieces, Point};
use crate::kernel::section::offset;

/// The path of the centre of a nose of a radius, below a surface; between two runs it goes straight in or out.
///
/// # Formula
/// The least of the parallels of all runs, each with arcs about its ends: what a disc touches first.
pub(super) fn below(runs: &[Pieces], nose: f64) -> Vec<Pieces> {
    let parallels: Vec<Pieces> = runs.iter().map(|run| offset(run, nose, true)).collect();
    lowest(&parallels)
}

/// The surface that the nose leaves when its centre has gone along a path.
pub(super) fn left_by(path: &[Pieces], nose: f64) -> Vec<Pieces> {
    flipped(&below(&flipped(path), nose))
}

/// Runs mirrored upside down.
pub(super) fn flipped(runs: &[Pieces]) -> Vec<Pieces> {
    let flip = |run: &Pieces| run.iter().map(Piece::flipped).collect();
    runs.iter().map(flip).collect()
}

/// The lowest of all runs at every place.
fn lowest(runs: &[Pieces]) -> Vec<Pieces> {
    let pieces: Vec<Piece> = runs.iter().flatten().copied().collect();
    let mut marks: Vec<f64> = pieces
        .iter()
        .flat_map(|piece| [piece.from.x, piece.to.x])
        .collect();
    sort(&mut marks);
    let mut crossings = Vec::new();
    for (from, to) in marks.iter().copied().zip(marks.iter().copied().skip(1)) {
        let there: Vec<&Piece> = covering(&pieces, from, to).collect();
        for (place, one) in there.iter().enumerate() {
            for other in there.iter().skip(place + 1) {
                crossed(one, other, from, to, &mut crossings);
            }
        }
    }
    marks.extend(crossings);
    sort(&mut marks);
    let mut all: Vec<Pieces> = Vec::new();
    let mut source: Option<&Piece> = None;
    for (from, to) in marks.iter().copied().zip(marks.iter().copied().skip(1)) {
        // Hairs between arcs that stand for one curve.
        if to - from < HAIR {
            continue;
        }
        let middle = (from + to) / 2.0;
        let least = covering(&pieces, from, to)
            .min_by(|one, other| one.height(middle).total_cmp(&other.height(middle)));
        let Some((least, piece)) = least.and_then(|least| Some((least, least.clipped(from, to)?)))
        else {
            source = None;
            continue;
        };
        let joins =
            |end: Point| (end.x - from).abs() < 4.0 * HAIR && (end.y - piece.from.y).abs() < 1e-7;
        match all.last_mut() {
            Some(run) if run.last().is_some_and(|last| joins(last.to)) => {
                match run
                    .last_mut()
                    .filter(|_| source.is_some_and(|one| std::ptr::eq(one, least)))
                {
                    Some(last) => last.to = piece.to,
                    None => run.push(piece),
                }
            }
            _ => all.push(Pieces::from_slice(&[piece])),
        }
        source = Some(least);
    }
    all
}

/// Places closer than this are one, in mm.
const CLOSE: f64 = 1e-10;

/// What is narrower than this is no part of a path, in mm.
const HAIR: f64 = 1e-7;

fn sort(marks: &mut Vec<f64>) {
    marks.sort_unstable_by(f64::total_cmp);
    marks.dedup_by(|later, before| *later - *before < CLOSE);
}

fn covering(pieces: &[Piece], from: f64, to: f64) -> impl Iterator<Item = &Piece> {
    pieces
        .iter()
        .filter(move |piece| piece.from.x <= from + CLOSE && piece.to.x >= to - CLOSE)
}

/// Where two pieces cross between two places.
fn crossed(one: &Piece, other: &Piece, from: f64, to: f64, found: &mut Vec<f64>) {
    const PARTS: u32 = 8;
    let gap = |x: f64| one.height(x) - other.height(x);
    let at = |part: u32| from + (to - from) * f64::from(part) / f64::from(PARTS);
    for part in 0..PARTS {
        let (low, high) = (at(part), at(part + 1));
        if gap(low) * gap(high) < 0.0 {
            found.extend(root(gap, low, high));
        }
    }
}
