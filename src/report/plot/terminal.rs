//! Plots in characters: a line of points, or a shaded map.

use super::curve::{Curve, shown};
use super::map::Map;

/// Lines of a plot.
const HIGH: usize = 12;

/// Columns that few points are spread over.
const ROOMY: usize = 60;

/// Lines of a map at most.
const TALL: usize = 40;

/// Where a limit is not kept, or a condition does not hold.
const SHORT: char = 'x';

/// From the least to the greatest.
const SHADES: [char; 5] = ['\u{B7}', '\u{2591}', '\u{2592}', '\u{2593}', '\u{2588}'];

/// A curve; `count`: how many places lie along its axis.
pub(super) fn curve(curve: &Curve, count: usize, width: usize) -> String {
    let (least, most) = curve.range();
    let label = |value: f64| shown(value, &curve.unit);
    let side = label(least)
        .chars()
        .count()
        .max(label(most).chars().count());
    let room = width.saturating_sub(side + 4).max(10);
    // Few points stand apart, so that a slope is seen.
    let wide = count.max(room.min(ROOMY)).min(room);
    let mut grid = vec![vec![' '; wide]; HIGH];
    for point in &curve.points {
        let part = match most > least {
            true => (point.y - least) / (most - least),
            false => 0.5,
        };
        let line = HIGH - 1 - level(part, HIGH);
        let column = column(point.part, wide);
        if let Some(cell) = grid.get_mut(line).and_then(|line| line.get_mut(column)) {
            *cell = if point.short { SHORT } else { '\u{2022}' };
        }
    }
    let mut text = format!("{}\n", title(&curve.up, &curve.unit));
    for (line, cells) in grid.iter().enumerate() {
        let said = match line {
            0 => label(most),
            line if line == HIGH - 1 => label(least),
            _ => String::new(),
        };
        text.push_str(&lined(&said, side, cells));
    }
    let (from, to) = &curve.ends;
    let gap = wide.saturating_sub(from.chars().count() + to.chars().count());
    let gap = " ".repeat(gap.max(1));
    text.push_str(&foot(side, wide));
    text.push_str(&format!(
        "{:side$}   {from}{gap}{to}   {}\n",
        "", curve.across
    ));
    text.push_str(&legend(curve.points.iter().any(|point| point.short)));
    text
}

/// A map; none where it does not fit the page.
pub(super) fn map(map: &Map, width: usize) -> Option<String> {
    let (least, most) = map.range();
    let names = map.down.1.iter().map(|name| name.chars().count());
    let side = names.max().unwrap_or(0);
    let wide = map.across.1.len();
    if map.cells.len() > TALL || wide + side + 3 > width {
        return None;
    }
    let ends = (SHADES.first(), SHADES.last());
    let (light, dark) = (ends.0.unwrap_or(&' '), ends.1.unwrap_or(&' '));
    let mut text = format!(
        "{}: {light} {} to {dark} {}; blank: left out or cannot be made\n",
        title(&map.up, &map.unit),
        shown(least, &map.unit),
        shown(most, &map.unit),
    );
    for (name, cells) in map.down.1.iter().zip(&map.cells) {
        let shade = |value: f64| {
            let part = match most > least {
                true => (value - least) / (most - least),
                false => 0.0,
            };
            let place = level(part, SHADES.len());
            SHADES.get(place).copied().unwrap_or(' ')
        };
        let shaded = cells.iter().map(|cell| match cell {
            None => ' ',
            Some(cell) if cell.short => SHORT,
            Some(cell) => shade(cell.value),
        });
        text.push_str(&lined(name, side, &shaded.collect::<Vec<char>>()));
    }
    let (from, to) = (map.across.1.first()?, map.across.1.last()?);
    text.push_str(&foot(side, wide));
    text.push_str(&format!(
        "{:side$}   {from} to {to}, {}; down: {}\n",
        "", map.across.0, map.down.0
    ));
    let mut cells = map.cells.iter().flatten().flatten();
    text.push_str(&legend(cells.any(|cell| cell.short)));
    Some(text)
}

fn title(up: &str, unit: &str) -> String {
    format!("{up} {unit}").trim_end().to_owned()
}

fn lined(said: &str, side: usize, cells: &[char]) -> String {
    let cells: String = cells.iter().collect();
    format!("{said:>side$} \u{2502} {}\n", cells.trim_end())
}

fn foot(side: usize, wide: usize) -> String {
    format!("{:side$} \u{2514}{}\n", "", "\u{2500}".repeat(wide + 1))
}

fn legend(is_short: bool) -> String {
    match is_short {
        true => format!("{SHORT}: a limit falls short\n"),
        false => String::new(),
    }
}

/// The column of a part of the way across so many: the one that it has come to.
fn column(part: f64, wide: usize) -> usize {
    // A place that falls on a column stays on it, whatever its last digit.
    step(part, wide, 1e-9)
}

/// The level of a part of the whole, of so many: the nearest.
fn level(part: f64, count: usize) -> usize {
    step(part, count, 0.5)
}

/// The last of so many steps that a part of the way has come to, with so much of a step more.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a few steps, and a part from 0 to 1"
)]
fn step(part: f64, count: usize, more: f64) -> usize {
    let last = count.saturating_sub(1);
    ((part.clamp(0.0, 1.0) * last as f64 + more).floor() as usize).min(last)
}
