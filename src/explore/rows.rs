//! Rows of many what-ifs, block by block, with the count of those that are not there and the best of them.

use crate::evaluate::stopped;
use crate::quantity::Number;

use super::reading::{Came, Cell};
use super::row::RowReader;

/// Some rows that stand behind each other.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    /// The numbers of those that are kept.
    pub kept: Vec<u64>,
    /// Their cells, row after row.
    pub cells: Vec<Cell>,
    /// How many there were, and what became of them.
    pub tally: Tally,
}

/// What became of rows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// All that were read.
    pub rows: u64,
    /// Those that are kept.
    pub kept: u64,
    /// Those of which a condition does not hold.
    pub dropped: u64,
    /// Those of which something that a condition rests on is not there.
    pub unknown: u64,
    /// Those whose band cannot be made.
    pub barred: u64,
    /// The first of these.
    pub first_barred: Option<u64>,
    /// Cells without a value among the rows that are kept, for each reading.
    pub empty: Vec<u64>,
}

impl Tally {
    /// Adds that of the rows behind.
    pub fn add(&mut self, behind: &Self) {
        self.rows += behind.rows;
        self.kept += behind.kept;
        self.dropped += behind.dropped;
        self.unknown += behind.unknown;
        self.barred += behind.barred;
        self.first_barred = self.first_barred.or(behind.first_barred);
        self.empty
            .resize(self.empty.len().max(behind.empty.len()), 0);
        for (all, one) in self.empty.iter_mut().zip(&behind.empty) {
            *all += one;
        }
    }
}

/// Which rows are wanted beside those whose conditions hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unmade {
    /// A row whose band cannot be made stays, with empty cells.
    Kept,
    /// It goes: a condition rests on it.
    Dropped,
}

/// Reads rows from one number up to another, that one left out.
///
/// A row whose band cannot be made stays, with empty cells, unless a condition is asked of it. Fewer are read where the
/// work is told to end.
pub fn rows(reader: &mut RowReader<'_, '_>, from: u64, to: u64, barred: Unmade) -> Rows {
    let mut rows = Rows::default();
    rows_into(reader, from, to, barred, &mut rows);
    rows
}

/// The same into rows at hand, in place of what is in them.
pub fn rows_into(
    reader: &mut RowReader<'_, '_>,
    from: u64,
    to: u64,
    barred: Unmade,
    rows: &mut Rows,
) {
    let width = reader.width();
    rows.kept.clear();
    rows.cells.clear();
    rows.tally = Tally {
        empty: vec![0; width],
        ..Tally::default()
    };
    let count = usize::try_from(to.saturating_sub(from))
        .unwrap_or(0)
        .min(4096);
    rows.kept.reserve(count);
    rows.cells.reserve(count * width);
    for row in from..to {
        let begin = rows.cells.len();
        let came = reader.read(row, &mut rows.cells);
        // What came of the row in which it was told to end means nothing.
        if stopped() {
            rows.cells.truncate(begin);
            break;
        }
        rows.tally.rows += 1;
        let stays = match came {
            Came::Kept => true,
            Came::Dropped => {
                rows.tally.dropped += 1;
                false
            }
            Came::Unknown => {
                rows.tally.unknown += 1;
                false
            }
            Came::Barred => {
                rows.tally.barred += 1;
                rows.tally.first_barred.get_or_insert(row);
                rows.cells.truncate(begin);
                rows.cells.resize(begin + width, Cell::Empty);
                barred == Unmade::Kept
            }
        };
        if !stays {
            rows.cells.truncate(begin);
            continue;
        }
        rows.tally.kept += 1;
        rows.kept.push(row);
        let cells = rows.cells.get(begin..).unwrap_or_default();
        for (cell, empty) in cells.iter().zip(&mut rows.tally.empty) {
            if matches!(cell, Cell::Empty) {
                *empty += 1;
            }
        }
    }
}

/// What is aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aim {
    /// The place of the reading.
    pub place: usize,
    /// The more, the better; else the less.
    pub most: bool,
}

/// The best of all rows by an aim; of two that are as good the earlier first.
#[derive(Clone, Debug)]
pub struct Best {
    aim: Aim,
    count: usize,
    /// The rows, the best first, each with what is aimed at and its cells.
    pub rows: Vec<(Number, u64, Vec<Cell>)>,
}

impl Best {
    /// Ready for so many.
    #[must_use]
    pub fn new(aim: Aim, count: usize) -> Self {
        Self {
            aim,
            count,
            rows: Vec::new(),
        }
    }

    /// Takes in rows that stand behind those before.
    pub fn take(&mut self, rows: &Rows, width: usize) {
        let cells = rows.cells.chunks(width.max(1));
        for (row, cells) in rows.kept.iter().zip(cells) {
            let Some(number) = cells.get(self.aim.place).and_then(Cell::number) else {
                continue;
            };
            let better = |known: &(Number, u64, Vec<Cell>)| {
                let order = known.0.compared(number);
                if self.aim.most {
                    order.is_lt()
                } else {
                    order.is_gt()
                }
            };
            let is_in = self.rows.len() < self.count || self.rows.last().is_some_and(better);
            if !is_in {
                continue;
            }
            let place = self.rows.partition_point(|known| !better(known));
            self.rows.insert(place, (number, *row, cells.to_vec()));
            self.rows.truncate(self.count);
        }
    }
}
