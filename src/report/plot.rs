//! Rows of many what-ifs drawn in a terminal: a line over one field, a shaded map over two.

use crate::explore::{Axis, Cell, Engine, What};
use crate::model::check;
use crate::quantity::Number;

use super::number::{Digits, shown_in};

/// Lines of a plot.
const HIGH: usize = 12;

/// Columns that few points are spread over.
const ROOMY: usize = 60;

/// From the least to the greatest.
const SHADES: [char; 5] = ['\u{B7}', '\u{2591}', '\u{2592}', '\u{2593}', '\u{2588}'];

/// Where a limit is not kept, or a condition does not hold.
const SHORT: char = 'x';

/// A plot of a reading over one axis or two; none over more, over too many values, or where nothing is there.
#[must_use]
pub fn plot(
    engine: &Engine<'_>,
    rows: &[(u64, Vec<Cell>)],
    place: usize,
    width: usize,
) -> Option<String> {
    let found = |cells: &[Cell]| Some(cells.get(place)?.number()?.to_f64());
    let all = rows.iter().filter_map(|(_, cells)| found(cells));
    let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
        (least.min(one), most.max(one))
    });
    if least > most {
        return None;
    }
    let reading = engine.readings.get(place)?;
    let shown = |value: f64| {
        let (number, unit) = reading.read(Number::Computed(value));
        shown_in(number, unit, Digits::Useful).text
    };
    let title = format!("{} {}", reading.name, reading.read(Number::ZERO).1);
    let title = title.trim_end();
    let holds = engine
        .readings
        .iter()
        .position(|one| matches!(one.what, What::Holds(_)));
    let is_short = |cells: &[Cell]| {
        let holds = holds.and_then(|holds| cells.get(holds));
        matches!(holds, Some(Cell::Text(said)) if said == "no")
    };
    match engine.axes.as_slice() {
        [axis] => {
            let label = shown(least)
                .chars()
                .count()
                .max(shown(most).chars().count());
            let room = width.saturating_sub(label + 4).max(10);
            let count = usize::try_from(axis.count()).ok()?;
            // Few points stand apart, so that a slope is seen.
            let wide = count.max(room.min(ROOMY)).min(room);
            let mut grid = vec![vec![' '; wide]; HIGH];
            for (row, cells) in rows {
                let Some(value) = found(cells) else { continue };
                let column = scaled(*row, axis.count(), wide);
                let part = if most > least {
                    (value - least) / (most - least)
                } else {
                    0.5
                };
                let line = HIGH - 1 - level(part, HIGH);
                if let Some(cell) = grid.get_mut(line).and_then(|line| line.get_mut(column)) {
                    *cell = if is_short(cells) { SHORT } else { '\u{2022}' };
                }
            }
            let mut text = format!("{title}\n");
            for (line, cells) in grid.iter().enumerate() {
                let side = match line {
                    0 => shown(most),
                    line if line == HIGH - 1 => shown(least),
                    _ => String::new(),
                };
                let cells: String = cells.iter().collect();
                text.push_str(&format!("{side:>label$} \u{2502} {}\n", cells.trim_end()));
            }
            let (from, to) = ends(axis)?;
            let gap = wide
                .saturating_sub(from.chars().count() + to.chars().count())
                .max(1);
            text.push_str(&format!(
                "{:label$} \u{2514}{}\n",
                "",
                "\u{2500}".repeat(wide + 1)
            ));
            text.push_str(&format!(
                "{:label$}   {from}{}{to}   {}\n",
                "",
                " ".repeat(gap),
                axis.path
            ));
            text.push_str(&legend(rows.iter().any(|(_, cells)| is_short(cells))));
            Some(text)
        }
        [down, across] => {
            let (high, wide) = (
                usize::try_from(down.count()).ok()?,
                usize::try_from(across.count()).ok()?,
            );
            let label = (0..down.count())
                .filter_map(|place| Some(check::written(&down.value(place)?).chars().count()));
            let label = label.take(60).max().unwrap_or(0);
            if high > 40 || wide + label + 3 > width {
                return None;
            }
            let mut grid = vec![vec![' '; wide]; high];
            for (row, cells) in rows {
                let places = engine.places(*row);
                let (Some(line), Some(column)) = (places.first(), places.get(1)) else {
                    continue;
                };
                let shade = match found(cells) {
                    None => continue,
                    Some(_) if is_short(cells) => SHORT,
                    Some(value) => {
                        let part = if most > least {
                            (value - least) / (most - least)
                        } else {
                            0.0
                        };
                        SHADES
                            .get(level(part, SHADES.len()))
                            .copied()
                            .unwrap_or(' ')
                    }
                };
                let line = usize::try_from(*line)
                    .ok()
                    .and_then(|line| grid.get_mut(line));
                let column = usize::try_from(*column).ok();
                if let Some(cell) = line
                    .zip(column)
                    .and_then(|(line, column)| line.get_mut(column))
                {
                    *cell = shade;
                }
            }
            let mut text = format!(
                "{title}: {} {} to {} {}; blank: left out or cannot be made\n",
                SHADES.first().copied().unwrap_or(' '),
                shown(least),
                SHADES.last().copied().unwrap_or(' '),
                shown(most)
            );
            for (place, cells) in (0_u64..).zip(&grid) {
                let side = down
                    .value(place)
                    .map_or_else(String::new, |value| check::written(&value));
                let cells: String = cells.iter().collect();
                text.push_str(&format!("{side:>label$} \u{2502} {}\n", cells.trim_end()));
            }
            let (from, to) = ends(across)?;
            text.push_str(&format!(
                "{:label$} \u{2514}{}\n",
                "",
                "\u{2500}".repeat(wide + 1)
            ));
            text.push_str(&format!(
                "{:label$}   {from} to {to}, {}; down: {}\n",
                "", across.path, down.path
            ));
            text.push_str(&legend(rows.iter().any(|(_, cells)| is_short(cells))));
            Some(text)
        }
        _ => None,
    }
}

fn legend(is_short: bool) -> String {
    match is_short {
        true => format!("{SHORT}: a limit falls short\n"),
        false => String::new(),
    }
}

fn ends(axis: &Axis) -> Option<(String, String)> {
    let last = axis.count().checked_sub(1)?;
    let written = |place| Some(check::written(&axis.value(place)?));
    Some((written(0)?, written(last)?))
}

/// The column of one of many values.
fn scaled(place: u64, count: u64, wide: usize) -> usize {
    let last = u128::try_from(wide.saturating_sub(1)).unwrap_or(0);
    let found = u128::from(place) * last / u128::from(count.saturating_sub(1).max(1));
    usize::try_from(found).unwrap_or(0)
}

/// The level of a part of the whole, of so many.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a few levels, and a part from 0 to 1"
)]
fn level(part: f64, count: usize) -> usize {
    let last = count.saturating_sub(1);
    ((part.clamp(0.0, 1.0) * last as f64).round() as usize).min(last)
}
