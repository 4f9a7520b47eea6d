//! Values tried one beside the other: a row each, its first figures, and a bar.

use crate::evaluate::Evaluation;
use crate::explore::HEADLINES;
use crate::schema::ResultRow;
use crate::source::cells;

use super::change::answer;
use super::page::{TextLayout, flowed};
use super::table::{fitted, table};

/// One value that was tried.
#[derive(Clone, Debug)]
pub struct TriedValue {
    /// As it is written.
    pub value: String,
    /// What the band comes to with it; none where it cannot be made.
    pub evaluation: Option<Evaluation>,
    /// What falls short, or why it cannot be made.
    pub said: Vec<String>,
}

/// Figures shown beside each value.
const COLUMNS: usize = 4;

/// Cells of the longest bar, and of the shortest that says something.
const BAR: (usize, usize) = (24, 8);

/// The table of some values of a path.
#[must_use]
pub fn tried_values(path: &str, rows: &[TriedValue], layout: TextLayout) -> String {
    let shown = columns(rows);
    let mut head = vec![path.to_owned()];
    head.extend(shown.iter().map(|entry| entry.path.to_owned()));
    head.push("limits".to_owned());
    let mut lines = vec![head];
    for row in rows {
        let mut line = vec![row.value.clone()];
        line.extend(shown.iter().map(|entry| {
            let found = row.evaluation.as_ref().and_then(|one| one.value(entry));
            found.map_or("\u{2013}".to_owned(), |found| {
                answer(entry.path, &found, layout.digits)
            })
        }));
        line.push(verdict(row).to_owned());
        lines.push(line);
    }
    let plain = table(&lines, 2, layout.width);
    let widest = plain.lines().map(cells).max().unwrap_or(0);
    let has_columns = plain.lines().count() == lines.len();
    let room = layout.width.saturating_sub(widest + 2).min(BAR.0);
    let mut text = match shown.first() {
        Some(first) if has_columns && room >= BAR.1 => {
            for (line, bar) in lines.iter_mut().zip(bars(rows, first, room)) {
                line.push(bar);
            }
            table(&lines, 2, layout.width)
        }
        _ if has_columns => plain,
        _ => fitted(&lines, 2, layout.width),
    };
    for row in rows {
        for said in &row.said {
            for line in flowed(&format!("{}: {said}", row.value), layout.width - 2) {
                text.push_str(&format!("  {line}\n"));
            }
        }
    }
    text
}

fn verdict(row: &TriedValue) -> &'static str {
    match (&row.evaluation, row.said.is_empty()) {
        (None, _) => "cannot be made",
        (Some(_), true) => "holds",
        (Some(_), false) => "falls short",
    }
}

/// What differs between the values, of what a maker looks at first.
fn columns(rows: &[TriedValue]) -> Vec<&'static ResultRow> {
    let evaluations = || rows.iter().filter_map(|row| row.evaluation.as_ref());
    let differs = |entry: &&ResultRow| {
        let mut all = evaluations().map(|one| one.number(entry.id));
        let first = all.next();
        all.any(|number| Some(number) != first)
    };
    let named = HEADLINES.iter().map(|id| id.row());
    named.filter(differs).take(COLUMNS).collect()
}

/// A head and a bar for each row, from the least to the greatest of a figure.
fn bars(rows: &[TriedValue], entry: &ResultRow, room: usize) -> Vec<String> {
    let number = |row: &TriedValue| {
        let found = row.evaluation.as_ref()?.number(entry.id)?;
        Some(found.to_f64())
    };
    let all = || rows.iter().filter_map(number);
    let (least, greatest) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    let span = greatest - least;
    let bar = |row: &TriedValue| {
        let share = match number(row) {
            Some(found) if span > 0.0 => (found - least) / span,
            Some(_) => 0.0,
            None => return String::new(),
        };
        let long = 1 + (share * (room - 1) as f64).round() as usize;
        "\u{2588}".repeat(long.min(room))
    };
    std::iter::once(entry.path.to_owned())
        .chain(rows.iter().map(bar))
        .collect()
}
