//! A curve in millimetres as runs of points, within bounds.

use std::cell::Cell;

use kurbo::{BezPath, PathEl, Point};

/// How near chords lie to a curve, mm.
const SAG: f64 = 1e-3;
/// How far off anything may lie, mm.
const FARTHEST: f64 = 1e4;

/// The points of one line or outline.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    /// They follow each other, none twice.
    pub points: Vec<(f64, f64)>,
    /// Whether it leads back to the first.
    pub closed: bool,
}

/// What a curve comes to.
pub(super) enum Flat {
    /// Its runs, those of one point too.
    Runs(Vec<Run>),
    /// It lies beyond all measure.
    Beyond,
    /// It has more points than may be.
    TooMany,
}

/// Flattens a curve to so many points at most.
pub(super) fn flat(curve: &BezPath, most: usize) -> Flat {
    let near = |at: &Point| at.x.abs() < FARTHEST && at.y.abs() < FARTHEST;
    let sound = curve.iter().all(|element| match element {
        PathEl::MoveTo(at) | PathEl::LineTo(at) => near(&at),
        PathEl::QuadTo(one, at) => near(&one) && near(&at),
        PathEl::CurveTo(one, two, at) => near(&one) && near(&two) && near(&at),
        PathEl::ClosePath => true,
    });
    if !sound {
        return Flat::Beyond;
    }
    let points = Cell::new(0_usize);
    let mut runs: Vec<Run> = Vec::new();
    let bounded = curve.iter().take_while(|_| points.get() <= most);
    kurbo::flatten(bounded, SAG, |element| {
        points.set(points.get() + 1);
        if points.get() > most {
            return;
        }
        match element {
            PathEl::MoveTo(at) => runs.push(Run {
                points: vec![(at.x, at.y)],
                closed: false,
            }),
            PathEl::ClosePath => {
                if let Some(run) = runs.last_mut() {
                    run.closed = true;
                }
            }
            // Flattened curves are lines.
            PathEl::LineTo(at) | PathEl::QuadTo(_, at) | PathEl::CurveTo(_, _, at) => {
                put(&mut runs, (at.x, at.y));
            }
        }
    });
    if points.get() > most {
        return Flat::TooMany;
    }
    Flat::Runs(runs)
}

/// Goes on to a point: behind a closed run from its first one.
fn put(runs: &mut Vec<Run>, at: (f64, f64)) {
    let start = match runs.last() {
        Some(run) if run.closed => run.points.first().copied(),
        _ => None,
    };
    if let Some(start) = start {
        runs.push(Run {
            points: vec![start],
            closed: false,
        });
    }
    if let Some(run) = runs.last_mut()
        && run.points.last() != Some(&at)
    {
        run.points.push(at);
    }
}

/// Whether of several runs one may lie over or inside another.
pub(super) fn over_each_other(runs: &[Run]) -> bool {
    let boxes: Vec<[f64; 4]> = runs
        .iter()
        .map(|run| {
            let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
            run.points
                .iter()
                .fold(start, |[left, low, right, high], (x, y)| {
                    [left.min(*x), low.min(*y), right.max(*x), high.max(*y)]
                })
        })
        .collect();
    let overlap = |a: &[f64; 4], b: &[f64; 4]| {
        let ([al, ab, ar, at], [bl, bb, br, bt]) = (*a, *b);
        al < br && bl < ar && ab < bt && bb < at
    };
    boxes.iter().enumerate().any(|(place, one)| {
        let others = boxes.iter().skip(place + 1);
        others.into_iter().any(|other| overlap(one, other))
    })
}
