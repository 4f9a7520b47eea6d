//! Cuts as they lie on the finished strip, which a stretch has made longer and narrower than it was when cut.

use crate::kernel::pattern::stroke::{Stop, StripPlace, Stroke, StrokeRun};
use crate::kernel::pattern::{Facet, Layout, Pocket, StripOutside};

/// How near the chords of a moved curve lie to it, mm.
const SAG: f64 = 1e-3;

/// The layout of the strip as cut, moved to the finished outside.
pub(super) fn layout(cut: &Layout, from: &StripOutside, to: &StripOutside) -> Layout {
    let along = to.length() / from.length();
    let across = to.width() / from.width();
    let moved = |at: StripPlace| StripPlace {
        u: at.u * along,
        v: at.v * across,
    };
    let stop = |stop: &Stop| Stop {
        at: moved(stop.at),
        depth: stop.depth,
    };
    let stroke = |one: &Stroke| {
        // An arc or a wave is none of its kind any more once it is stretched.
        let straight = one.runs.iter().all(|(run, _)| *run == StrokeRun::Line);
        let runs = if straight {
            let runs = one.runs.iter();
            runs.map(|(run, to)| (*run, stop(to))).collect()
        } else {
            let stops = one.stops(SAG);
            stops
                .iter()
                .skip(1)
                .map(|to| (StrokeRun::Line, stop(to)))
                .collect()
        };
        Stroke {
            from: stop(&one.from),
            runs,
            ..one.clone()
        }
    };
    let facet = |one: &Facet| Facet {
        u: one.u * along,
        row: one.row * across,
        radius: one.radius * along,
        falls: one.falls * along / across,
        ..*one
    };
    let pocket = |one: &Pocket| Pocket {
        outline: one.outline.iter().copied().map(moved).collect(),
        loops: one
            .loops
            .iter()
            .map(|round| round.iter().copied().map(moved).collect())
            .collect(),
        ..one.clone()
    };
    Layout {
        spans: cut.spans,
        length: cut.length * along,
        strokes: cut.strokes.iter().map(stroke).collect(),
        facets: cut.facets.iter().map(facet).collect(),
        pockets: cut.pockets.iter().map(pocket).collect(),
        told: cut.told.clone(),
    }
}
