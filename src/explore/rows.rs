//! Rows of many what-ifs, block by block, with the count of those that are not there and the best of them.

use std::ops::Range;

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
    /// The first row of these, for each reading.
    pub first_empty: Vec<Option<u64>>,
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
        let wide = self.first_empty.len().max(behind.first_empty.len());
        self.first_empty.resize(wide, None);
        for (all, one) in self.first_empty.iter_mut().zip(&behind.first_empty) {
            *all = all.or(*one);
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
        first_empty: vec![None; width],
        ..Tally::default()
    };
    let count = usize::try_from(to.saturating_sub(from))
        .unwrap_or(0)
        .min(4096);
    rows.kept.reserve(count);
    rows.cells.reserve(count * width);
    let mut row = from;
    while row < to {
        let ahead = to.min(row.saturating_add(LOOKED));
        let mut next = row;
        let Rows { kept, cells, tally } = &mut *rows;
        row = reader.read_along(row, ahead, cells, |came, count, cells| {
            tally.take(next..next + count, came, (cells, width), barred, kept);
            next += count;
        });
        if row < ahead {
            let begin = rows.cells.len();
            let came = reader.read(row, &mut rows.cells);
            // What came of the row in which it was told to end means nothing.
            if stopped() {
                rows.cells.truncate(begin);
                break;
            }
            let Rows { kept, cells, tally } = &mut *rows;
            tally.take(row..row + 1, came, (cells, width), barred, kept);
            row += 1;
        } else if stopped() {
            break;
        }
    }
    let firsts = rows.tally.first_empty.iter_mut();
    for (place, (empty, first)) in rows.tally.empty.iter_mut().zip(firsts).enumerate() {
        let column = rows.cells.iter().skip(place).step_by(width).enumerate();
        let mut lacking = column.filter(|(_, cell)| matches!(cell, Cell::Empty));
        let Some((at, _)) = lacking.next() else {
            continue;
        };
        *first = rows.kept.get(at).copied();
        *empty = 1 + lacking.count() as u64;
    }
}

/// How many rows of which only metal is read are between two looks at whether to end.
const LOOKED: u64 = 64;

impl Tally {
    /// Takes in what became of some rows, whose cells are the last: they stay where the rows do.
    fn take(
        &mut self,
        rows: Range<u64>,
        came: Came,
        (cells, width): (&mut Vec<Cell>, usize),
        barred: Unmade,
        kept: &mut Vec<u64>,
    ) {
        let count = rows.end - rows.start;
        self.rows += count;
        match came {
            Came::Kept => {}
            Came::Dropped => {
                self.dropped += count;
                return;
            }
            Came::Unknown => {
                self.unknown += count;
                return;
            }
            Came::Barred => {
                self.barred += count;
                self.first_barred.get_or_insert(rows.start);
                if barred == Unmade::Dropped {
                    return;
                }
                cells.resize(cells.len() + width * count as usize, Cell::Empty);
            }
        }
        self.kept += count;
        kept.extend(rows);
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
        let column = rows.cells.iter().skip(self.aim.place);
        let column = column.step_by(width.max(1)).zip(&rows.kept);
        for (at, (cell, row)) in column.enumerate() {
            let Some(number) = cell.number() else {
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
            let cells = rows.cells.get(at * width..(at + 1) * width);
            let place = self.rows.partition_point(|known| !better(known));
            let cells = cells.unwrap_or_default().to_vec();
            self.rows.insert(place, (number, *row, cells));
            self.rows.truncate(self.count);
        }
    }
}
