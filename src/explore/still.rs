//! What is varied without moving anything that is asked, as far as some rows tell.

use crate::model::Value;

use super::engine::Engine;
use super::reading::{Came, Cell};
use super::row::RowReader;

/// How many values of an axis are compared.
const COMPARED: u64 = 9;

/// The places of axes that move nothing of what is read and asked of rows, wherever the others stand that were tried:
/// at their first, middle and last values.
#[must_use]
pub fn still(engine: &Engine<'_>) -> Vec<usize> {
    let mut reader = RowReader::new(engine);
    let places = 0..engine.axes.len();
    let stand = |at: u64| {
        let values = places.clone().map(|axis| value(engine, axis, at, 2));
        values.collect::<Option<Vec<Value>>>()
    };
    let around: Vec<Vec<Value>> = (0..3).filter_map(stand).collect();
    places
        .clone()
        .filter(|axis| moves(engine, &mut reader, *axis, &around) == Some(false))
        .collect()
}

/// Whether an axis moves anything; none where it has one value alone, or nothing is there to be moved.
fn moves(
    engine: &Engine<'_>,
    reader: &mut RowReader<'_, '_>,
    axis: usize,
    around: &[Vec<Value>],
) -> Option<bool> {
    let count = engine.axes.get(axis)?.count();
    let compared = match engine.axes.get(axis)?.free() {
        true => COMPARED,
        false => count.min(COMPARED),
    };
    let parts = compared.checked_sub(1).filter(|parts| *parts > 0)?;
    let mut is_any = false;
    for others in around {
        let mut first: Option<(Came, Vec<Cell>)> = None;
        for at in 0..compared {
            let mut values = others.clone();
            *values.get_mut(axis)? = value(engine, axis, at, parts)?;
            let mut cells = Vec::new();
            let came = reader.read_values(&values, &mut cells);
            is_any |= came == Came::Kept;
            match &first {
                None => first = Some((came, cells)),
                Some(first) if *first == (came, cells) => {}
                Some(_) => return Some(true),
            }
        }
    }
    is_any.then_some(false)
}

/// A value of an axis, so many parts of its way along.
fn value(engine: &Engine<'_>, axis: usize, at: u64, parts: u64) -> Option<Value> {
    let axis = engine.axes.get(axis)?;
    match axis.free() {
        true => axis.between(at as f64 / parts as f64),
        false => axis.value((axis.count().checked_sub(1)?).checked_mul(at)? / parts),
    }
}
