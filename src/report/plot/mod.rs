//! Figures drawn over what they depend on: rows of many what-ifs, one aim against another, a band over its sizes.
//!
//! What is drawn is a [`curve`] over one axis or a [`map`] over two; each in characters for a terminal, or as SVG.

mod curve;
mod map;
mod svg;
mod terminal;

use crate::evaluate::Evaluation;
use crate::explore::{Cell, Chosen, Engine, SizeRun};
use crate::model::Value;

use curve::Curve;
use map::Map;

/// A plot of a reading over one axis or two, for a terminal; none over more, over too many values, or where nothing is
/// there.
#[must_use]
pub fn plot(
    engine: &Engine<'_>,
    rows: &[(u64, Vec<Cell>)],
    place: usize,
    width: usize,
) -> Option<String> {
    match engine.axes.as_slice() {
        [axis] => {
            let count = usize::try_from(axis.count()).ok()?;
            let curve = Curve::of_rows(engine, rows, place)?;
            Some(terminal::curve(&curve, count, width))
        }
        [_, _] => terminal::map(&Map::of_rows(engine, rows, place)?, width),
        _ => None,
    }
}

/// The same as SVG; `now`: the row of the recipe as it stands, marked where it lies between what is drawn.
#[must_use]
pub fn plot_svg(
    engine: &Engine<'_>,
    rows: &[(u64, Vec<Cell>)],
    place: usize,
    now: Option<(Vec<Value>, Vec<Cell>)>,
) -> Option<String> {
    match engine.axes.as_slice() {
        [axis] => {
            let mut curve = Curve::of_rows(engine, rows, place)?;
            curve.mark(axis, now.as_ref(), place, engine);
            svg::curve(&curve)
        }
        [_, _] => {
            let mut map = Map::of_rows(engine, rows, place)?;
            map.mark(engine, now.as_ref().map(|(values, _)| values.as_slice()));
            svg::map(&map)
        }
        _ => None,
    }
}

/// What one aim costs of the other, for a terminal; none where fewer than two points are there.
#[must_use]
pub fn traded_plot(chosen: &Chosen, width: usize) -> Option<String> {
    let curve = Curve::of_trade(chosen)?;
    Some(terminal::curve(&curve, curve.points.len(), width))
}

/// The same as SVG.
#[must_use]
pub fn traded_svg(chosen: &Chosen) -> Option<String> {
    svg::curve(&Curve::of_trade(chosen)?)
}

/// The weight of a band over its sizes as SVG, its own size marked; none where no size can be made.
#[must_use]
pub fn sizes_svg(run: &SizeRun, own: Option<&Evaluation>) -> Option<String> {
    svg::curve(&Curve::of_sizes(run, own)?)
}
