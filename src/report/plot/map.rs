//! A figure over two axes, ready to be drawn.

use crate::explore::{Cell, Engine};
use crate::model::{Value, check};
use crate::quantity::Number;

use super::curve::{is_short, plain, verdict};

/// A figure over two axes.
#[derive(Clone, Debug)]
pub(super) struct Map {
    /// The figure.
    pub up: String,
    /// Its unit.
    pub unit: String,
    /// The axis that is drawn downward, and its values as written.
    pub down: (String, Vec<String>),
    /// The axis that is drawn across, and its values as written.
    pub across: (String, Vec<String>),
    /// The cells, line by line; none where nothing is there.
    pub cells: Vec<Vec<Option<MapCell>>>,
    /// The line and the column of the recipe as it stands.
    pub now: Option<(usize, usize)>,
}

/// A cell of a map.
#[derive(Clone, Copy, Debug)]
pub(super) struct MapCell {
    /// The figure, in its unit.
    pub value: f64,
    /// A limit falls short.
    pub short: bool,
}

/// The most values along an axis that are drawn.
const MOST: u64 = 400;

impl Map {
    /// A reading over the two axes of an engine; none where no row has it, or over too many values.
    pub fn of_rows(engine: &Engine<'_>, rows: &[(u64, Vec<Cell>)], place: usize) -> Option<Self> {
        let [down, across] = engine.axes.as_slice() else {
            return None;
        };
        if down.count() > MOST || across.count() > MOST {
            return None;
        }
        let reading = engine.readings.get(place)?;
        let verdict = verdict(engine);
        let names = |axis: &crate::explore::Axis| -> Vec<String> {
            let values = (0..axis.count()).map_while(|place| axis.value(place));
            values.map(|value| check::written(&value)).collect()
        };
        let (lines, columns) = (names(down), names(across));
        let mut cells = vec![vec![None; columns.len()]; lines.len()];
        for (row, found) in rows {
            let places = engine.places(*row);
            let at = |place: usize| {
                places
                    .get(place)
                    .and_then(|place| usize::try_from(*place).ok())
            };
            let Some((line, column)) = at(0).zip(at(1)) else {
                continue;
            };
            let value = found.get(place).and_then(Cell::number);
            let cell = cells.get_mut(line).and_then(|line| line.get_mut(column));
            if let Some((cell, value)) = cell.zip(value) {
                *cell = Some(MapCell {
                    value: plain(reading, value),
                    short: is_short(found, verdict),
                });
            }
        }
        let any = cells.iter().flatten().any(Option::is_some);
        any.then(|| Self {
            up: reading.name.clone(),
            unit: reading.read(Number::ZERO).1.to_owned(),
            down: (down.path.clone(), lines),
            across: (across.path.clone(), columns),
            cells,
            now: None,
        })
    }

    /// Marks the recipe as it stands, where it is one of what is drawn.
    pub fn mark(&mut self, engine: &Engine<'_>, now: Option<&[Value]>) {
        let Some((values, axes)) = now.zip(Some(&engine.axes)) else {
            return;
        };
        let mut found = axes.iter().zip(values).map(|(axis, value)| {
            let same = |known: Value| match (known.quantity(), value.quantity()) {
                (Some(known), Some(value)) => known.number == value.number,
                _ => check::written(&known) == check::written(value),
            };
            let place = (0..axis.count()).find(|place| axis.value(*place).is_some_and(same));
            place.and_then(|place| usize::try_from(place).ok())
        });
        let line = found.next().flatten();
        self.now = line.zip(found.next().flatten());
    }

    /// The least and the greatest figure.
    pub fn range(&self) -> (f64, f64) {
        let all = self.cells.iter().flatten().flatten();
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), cell| {
            (least.min(cell.value), most.max(cell.value))
        })
    }
}
