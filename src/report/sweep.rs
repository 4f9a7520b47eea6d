//! Rows of many what-ifs as CSV, as JSON lines, as a document, as a table.
//!
//! What decides how long a million rows take is how numbers are written, not how they are computed. A computed number
//! is rounded to a whole number of millionths (nanometres, micrograms), or of thousand-millionths where it is a bare share, and
//! written as that whole number with a point in it; trailing zeros are left out.

use rust_decimal::Decimal;
use serde_json::{Map, Value as Json, json};

use crate::explore::{Axis, Cell, Engine, Readout, Rows, Tally, still};
use crate::model::{Value, check};
use crate::quantity::Number;

use super::csv::{LINE_END, quoted};
use super::json::quantity_json;
use super::number::{Digits, shown_in};
use super::table::banks;

/// From how many values on those of an axis are written anew in each row.
const WRITTEN: u64 = 65_536;

/// How many digits stand behind the point of a computed number of a unit.
#[must_use]
pub fn cell_places(unit: &str) -> u32 {
    match unit {
        "" => 9,
        _ => 6,
    }
}

/// Writes a computed number rounded to some places behind the point, trailing zeros left out.
///
/// # Example
/// ```
/// use annulet::report::push_fixed;
/// let mut text = Vec::new();
/// push_fixed(&mut text, 0.300_000_04, 6);
/// assert_eq!(text, b"0.3");
/// ```
pub fn push_fixed(out: &mut Vec<u8>, value: f64, places: u32) {
    /// Beyond, a whole number of the last place is no longer told exactly.
    const MOST: f64 = 9_007_199_254_740_992.0;
    let unit = 10_u64.pow(places.min(15));
    let scaled = rounded(value * to_f64(unit));
    if scaled.is_nan() || scaled.abs() >= MOST {
        out.extend_from_slice(value.to_string().as_bytes());
        return;
    }
    #[allow(
        clippy::cast_possible_truncation,
        reason = "it is whole and less than 2^53"
    )]
    let whole = scaled as i64;
    push_scaled(out, whole < 0, whole.unsigned_abs(), places.min(15));
}

/// To a whole number, halves to even.
fn rounded(value: f64) -> f64 {
    /// Beside it a float holds whole numbers alone, so that a sum with it is rounded; 1.5 times 2^52.
    const WHOLE: f64 = 6_755_399_441_055_744.0;
    match value.abs() < 1e15 {
        true => (value + WHOLE) - WHOLE,
        false => value.round_ties_even(),
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "powers of ten up to 15 are exact"
)]
fn to_f64(whole: u64) -> f64 {
    whole as f64
}

/// Writes a whole number of the last place with its point, trailing zeros left out.
fn push_scaled(out: &mut Vec<u8>, negative: bool, whole: u64, places: u32) {
    let (mut whole, mut places) = (whole, places);
    if whole == 0 {
        places = 0;
    }
    while places > 0 && whole % 10 == 0 {
        whole /= 10;
        places -= 1;
    }
    if negative && whole != 0 {
        out.push(b'-');
    }
    // The digits from the last to the first, with the point between them and at least one before it.
    let mut text = [0_u8; 40];
    let mut from = text.len();
    let mut written = 0;
    while whole > 0 || written <= places {
        if written == places && places > 0 {
            from -= 1;
            set(&mut text, from, b'.');
        }
        from -= 1;
        set(&mut text, from, b'0' + (whole % 10) as u8);
        whole /= 10;
        written += 1;
    }
    out.extend_from_slice(text.get(from..).unwrap_or_default());
}

fn set(text: &mut [u8], place: usize, byte: u8) {
    if let Some(place) = text.get_mut(place) {
        *place = byte;
    }
}

/// Writes a number as a cell.
fn push_number(out: &mut Vec<u8>, number: Number, unit: &str, digits: Digits) {
    match (number, digits) {
        (Number::Computed(value), Digits::Useful) => push_fixed(out, value, cell_places(unit)),
        (Number::Exact(value), _) => push_decimal(out, value),
        (number, Digits::All) => {
            out.extend_from_slice(number.to_string().as_bytes());
        }
    }
}

fn push_decimal(out: &mut Vec<u8>, value: Decimal) {
    let mantissa = value.mantissa();
    match u64::try_from(mantissa.unsigned_abs()) {
        Ok(whole) => push_scaled(out, mantissa < 0, whole, value.scale()),
        Err(_) => out.extend_from_slice(value.normalize().to_string().as_bytes()),
    }
}

/// Writes rows of one engine; what is the same in many of them is kept.
pub struct RowWriter<'e> {
    axes: &'e [Axis],
    readings: &'e [Readout],
    /// The values of each axis as they are written; nothing where there are too many.
    written: Vec<Vec<String>>,
    /// What stands before each row.
    file: String,
    digits: Digits,
}

impl<'e> RowWriter<'e> {
    /// Ready to write.
    #[must_use]
    pub fn new(engine: &'e Engine<'_>, file: &str, digits: Digits) -> Self {
        let written = |axis: &Axis| -> Vec<String> {
            let count = if axis.count() <= WRITTEN {
                axis.count()
            } else {
                0
            };
            (0..count).map(|place| cell(axis, place)).collect()
        };
        Self {
            axes: &engine.axes,
            readings: &engine.readings,
            written: engine.axes.iter().map(written).collect(),
            file: quoted(file),
            digits,
        }
    }

    /// The header of the table.
    #[must_use]
    pub fn header(&self) -> String {
        let axes = self.axes.iter().map(|axis| (&axis.path, &axis.unit));
        let readings = self.readings.iter().map(|one| (&one.name, &one.unit));
        let names = axes.chain(readings).map(|(name, unit)| {
            quoted(&match unit.as_str() {
                "" => name.clone(),
                unit => format!("{name} ({unit})"),
            })
        });
        let names: Vec<String> = names.collect();
        format!("file,{}{LINE_END}", names.join(","))
    }

    /// A value as a cell.
    fn push_value(&self, out: &mut Vec<u8>, at: usize, place: u64) {
        let known = usize::try_from(place).ok();
        let known = known.and_then(|place| self.written.get(at)?.get(place));
        match (known, self.axes.get(at)) {
            (Some(text), _) => out.extend_from_slice(text.as_bytes()),
            (None, Some(axis)) => match axis.decimal(place) {
                Some(number) => push_decimal(out, number),
                None => out.extend_from_slice(cell(axis, place).as_bytes()),
            },
            (None, None) => {}
        }
    }

    fn push_cell(&self, out: &mut Vec<u8>, at: usize, cell: &Cell) {
        match cell {
            Cell::Empty => {}
            Cell::Number(number) => {
                let unit = self.readings.get(at).map_or("", |one| &one.unit);
                push_number(out, *number, unit, self.digits);
            }
            Cell::Text(text) | Cell::Size { text, .. } => {
                out.extend_from_slice(quoted(text).as_bytes());
            }
        }
    }

    /// Rows as lines of the table. What stands before the value of the last axis is written once for all rows that have it.
    pub fn csv(&self, engine: &Engine<'_>, rows: &Rows, out: &mut Vec<u8>) {
        let width = self.readings.len();
        let mut cells = rows.cells.chunks(width.max(1));
        let last = self.axes.len().saturating_sub(1);
        let count = self.axes.last().map_or(0, Axis::count);
        let (mut head, mut before) = (Vec::new(), None);
        for row in &rows.kept {
            let place = match before {
                Some((known, place)) if known + 1 == *row && place + 1 < count => place + 1,
                _ => {
                    let places = engine.places(*row);
                    head.clear();
                    head.extend_from_slice(self.file.as_bytes());
                    for (at, place) in places.iter().enumerate().take(last) {
                        head.push(b',');
                        self.push_value(&mut head, at, *place);
                    }
                    head.push(b',');
                    places.last().copied().unwrap_or(0)
                }
            };
            before = Some((*row, place));
            out.extend_from_slice(&head);
            self.push_value(out, last, place);
            for (at, cell) in cells.next().unwrap_or(&[]).iter().enumerate() {
                out.push(b',');
                self.push_cell(out, at, cell);
            }
            out.extend_from_slice(LINE_END.as_bytes());
        }
    }

    /// Rows as JSON lines: an object each, numbers in the units of the first line.
    pub fn lines(&self, engine: &Engine<'_>, rows: &Rows, out: &mut Vec<u8>) {
        let width = self.readings.len();
        let mut cells = rows.cells.chunks(width.max(1));
        let name = |out: &mut Vec<u8>, first: bool, name: &str| {
            out.extend_from_slice(if first { b"{" } else { b"," });
            out.extend_from_slice(Json::from(name).to_string().as_bytes());
            out.push(b':');
        };
        for row in &rows.kept {
            for (at, (place, axis)) in engine.places(*row).iter().zip(self.axes).enumerate() {
                name(out, at == 0, &axis.path);
                match axis.decimal(*place) {
                    Some(_) => self.push_value(out, at, *place),
                    None => {
                        let text = Json::from(written(axis, *place)).to_string();
                        out.extend_from_slice(text.as_bytes());
                    }
                }
            }
            let of_row = cells.next().unwrap_or(&[]).iter().zip(self.readings);
            for (at, (cell, reading)) in of_row.enumerate() {
                name(out, false, &reading.name);
                match cell {
                    Cell::Empty => out.extend_from_slice(b"null"),
                    Cell::Number(_) => self.push_cell(out, at, cell),
                    Cell::Text(text) | Cell::Size { text, .. } => {
                        out.extend_from_slice(Json::from(text.as_str()).to_string().as_bytes());
                    }
                }
            }
            out.extend_from_slice(b"}\n");
        }
    }

    /// The first of the JSON lines: what the columns are.
    #[must_use]
    pub fn first_line(&self) -> String {
        let axes = self.axes.iter().map(|axis| (&axis.path, &axis.unit));
        let readings = self.readings.iter().map(|one| (&one.name, &one.unit));
        let columns = axes.chain(readings);
        let columns: Vec<Json> = columns
            .map(|(path, unit)| json!({ "path": path, "unit": unit }))
            .collect();
        let line = json!({ "version": super::document::VERSION, "columns": columns });
        format!("{line}\n")
    }

    /// The rows of a document.
    #[must_use]
    pub fn json(&self, engine: &Engine<'_>, rows: &[(u64, Vec<Cell>)], tally: &Tally) -> Json {
        let row = |(row, cells): &(u64, Vec<Cell>)| {
            let mut said = Map::new();
            for (axis, place) in self.axes.iter().zip(engine.places(*row)) {
                said.insert(axis.path.clone(), Json::from(said_value(axis, place)));
            }
            let mut results = Map::new();
            for (reading, cell) in self.readings.iter().zip(cells) {
                let value = match cell {
                    Cell::Empty => Json::Null,
                    Cell::Number(number) => Json::Object(quantity_json(*number, &reading.unit)),
                    Cell::Text(text) | Cell::Size { text, .. } => Json::from(text.as_str()),
                };
                results.insert(reading.name.clone(), value);
            }
            json!({ "values": said, "results": results })
        };
        json!({
            "varied": self.axes.iter().map(|axis| axis.path.as_str()).collect::<Vec<_>>(),
            "rows": rows.iter().map(row).collect::<Vec<_>>(),
            "read": tally.rows,
            "kept": tally.kept,
            "dropped": tally.dropped,
            "unknown": tally.unknown,
            "impossible": tally.barred,
        })
    }

    /// Rows as a table for people, its columns in tables one under the other where a line of `width` cells has no room.
    #[must_use]
    pub fn table(&self, engine: &Engine<'_>, rows: &[(u64, Vec<Cell>)], width: usize) -> String {
        let mut header: Vec<String> = self.axes.iter().map(|axis| axis.path.clone()).collect();
        header.extend(self.readings.iter().map(|one| one.name.clone()));
        let mut under: Vec<String> = self.axes.iter().map(|axis| axis.unit.clone()).collect();
        let unit = |one: &Readout| one.read(Number::ZERO).1.to_owned();
        under.extend(self.readings.iter().map(unit));
        let mut all = vec![header, under];
        let mut rounded = false;
        for (row, cells) in rows {
            let places = engine.places(*row);
            let axes = self.axes.iter().zip(places);
            let mut line: Vec<String> = axes.map(|(axis, place)| written(axis, place)).collect();
            for (reading, cell) in self.readings.iter().zip(cells) {
                line.push(match cell {
                    Cell::Empty => super::NO_ANSWER.to_owned(),
                    Cell::Text(text) | Cell::Size { text, .. } => text.clone(),
                    Cell::Number(number) => {
                        let (number, unit) = reading.read(*number);
                        let shown = shown_in(number, unit, self.digits);
                        rounded |= shown.rounded;
                        shown.marked()
                    }
                });
            }
            all.push(line);
        }
        let note = match rounded {
            true => "\n\u{2248} rounded for reading; `--digits all` shows every digit\n",
            false => "",
        };
        format!("{}{note}", banks(&all, self.axes.len(), width))
    }
}

/// A value of an axis as a table has it: a number in the axis' unit, or a word.
fn written(axis: &Axis, place: u64) -> String {
    match axis.decimal(place) {
        Some(number) => {
            let mut text = Vec::new();
            push_decimal(&mut text, number);
            String::from_utf8(text).unwrap_or_default()
        }
        None => axis
            .value(place)
            .map_or_else(String::new, |value| check::written(&value)),
    }
}

/// The same as a cell of CSV.
fn cell(axis: &Axis, place: u64) -> String {
    match (axis.decimal(place), axis.value(place)) {
        (None, Some(Value::Text(text))) => quoted(&text),
        (None, _) => quoted(&written(axis, place)),
        (Some(_), _) => written(axis, place),
    }
}

/// A value of an axis as a recipe says it.
fn said_value(axis: &Axis, place: u64) -> String {
    axis.value(place)
        .map_or_else(String::new, |value| check::written(&value))
}

/// What became of rows that are not there, or not whole, a sentence each; `aim` is the reading without which a row is not
/// among the best.
#[must_use]
pub fn of_rows(engine: &Engine<'_>, tally: &Tally, aim: Option<usize>) -> Vec<String> {
    let mut said = Vec::new();
    let rows = |count: u64| match count {
        1 => "1 row".to_owned(),
        count => format!("{} rows", grouped(count)),
    };
    let line = |row: u64| {
        let values = engine.values(row);
        let lines = engine.axes.iter().zip(&values);
        let lines: Vec<String> = lines.map(|(axis, value)| axis.line(value)).collect();
        lines.join(", ")
    };
    let because = |why: Option<String>| why.map_or_else(String::new, |why| format!(": {why}"));
    if let Some(first) = tally.first_barred {
        said.push(format!(
            "{} of {} cannot be made, first `{}`{}",
            grouped(tally.barred),
            rows(tally.rows),
            line(first),
            because(engine.why_not(first))
        ));
    }
    if tally.unknown > 0 {
        said.push(format!(
            "{} left out, since a condition has no value there",
            rows(tally.unknown)
        ));
    }
    // Rows that cannot be made have been told already, where they stay.
    let told = match tally.empty.iter().min() {
        Some(least) => tally.barred.min(*least),
        None => 0,
    };
    for (place, (reading, empty)) in engine.readings.iter().zip(&tally.empty).enumerate() {
        if *empty <= told {
            continue;
        }
        let mut text = format!("{} has no value in {}", reading.name, rows(empty - told));
        if aim == Some(place) {
            text.push_str(match empty - told {
                1 => ", which is left out",
                _ => ", which are left out",
            });
        }
        let first = tally.first_empty.get(place).copied().flatten();
        if let Some(first) = first.filter(|row| engine.why_not(*row).is_none()) {
            let why = because(engine.why_empty(first, reading));
            text.push_str(&format!(", first `{}`{why}", line(first)));
        }
        said.push(text);
    }
    said.extend(still(engine).into_iter().filter_map(|axis| {
        let path = &engine.axes.get(axis)?.path;
        Some(format!("{path} moves nothing that is asked here"))
    }));
    said
}

/// A count with its thousands set apart.
#[must_use]
pub fn grouped(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
