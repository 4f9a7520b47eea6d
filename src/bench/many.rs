//! Many what-ifs at the bench: `sweep`, `solve`, `choose`.

use crate::evaluate::stopped;
use crate::explore::{Best, Cell, RowReader, Tally, Unmade, rows};
use crate::report::{self, RowWriter, grouped};
use crate::session::{MANY_ROWS, Resolver};

use super::{Bench, Reply};

/// How many rows are read between two looks at whether to stop.
const BLOCK: u64 = 256;

/// The most rows that are shown, and that are drawn.
const SHOWN: usize = 200;
const DRAWN: usize = 100_000;

impl Bench {
    /// Has told, by `tell`, how far a long line has come; nothing ends it.
    pub fn tell_progress(&mut self, tell: fn(&str)) {
        self.progress = Some(tell);
    }

    /// Tells each twentieth of many rows that is reached.
    fn rows_done(&self, done: u64, all: u64, told: &mut u64) {
        let part = done * 20 / all.max(1);
        if let Some(tell) = self.progress.filter(|_| all > MANY_ROWS && part > *told) {
            *told = part;
            tell(&match done == all {
                true => String::new(),
                false => format!("{} % of {} rows", part * 5, grouped(all)),
            });
        }
    }

    /// `sweep AXES …`.
    pub(super) fn sweep(&mut self, text: &str) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let (found, findings) = self.session.sweep(&self.prepared, &request, &outcome, text);
        let Some(found) = found else {
            return Reply::refused(findings);
        };
        let anew = Resolver::new(
            &self.session,
            &self.prepared,
            &request,
            &outcome,
            &found.bands,
        );
        let engine = found.engine(&anew);
        let writer = RowWriter::new(&engine, "", self.digits);
        let width = engine.readings.len();
        let unmade = match found.conditions.is_empty() {
            true => Unmade::Kept,
            false => Unmade::Dropped,
        };
        let most = if found.plot.is_some() { DRAWN } else { SHOWN };
        let mut best = found.best.map(|(aim, count)| Best::new(aim, count));
        let mut reader = RowReader::new(&engine);
        let mut tally = Tally::default();
        let (mut kept, mut left): (Vec<(u64, Vec<Cell>)>, u64) = (Vec::new(), 0);
        let (mut from, mut told) = (0, 0);
        if let Some(tell) = self.progress.filter(|_| found.rows > MANY_ROWS) {
            tell(&format!("this sweep has {} rows", grouped(found.rows)));
        }
        while from < found.rows && !stopped() {
            let to = (from + BLOCK).min(found.rows);
            let block = rows(&mut reader, from, to, unmade);
            from += block.tally.rows;
            tally.add(&block.tally);
            self.rows_done(from, found.rows, &mut told);
            match &mut best {
                Some(best) => best.take(&block, width),
                None => {
                    let cells = block.cells.chunks(width.max(1));
                    for (row, cells) in block.kept.iter().zip(cells) {
                        match kept.len() < most {
                            true => kept.push((*row, cells.to_vec())),
                            false => left += 1,
                        }
                    }
                }
            }
        }
        if let Some(tell) = self.progress.filter(|_| from < found.rows) {
            tell("");
        }
        if let Some(best) = best {
            let rows = best.rows.into_iter();
            kept = rows.map(|(_, row, cells)| (row, cells)).collect();
        }
        let drawn = found
            .plot
            .and_then(|place| report::plot(&engine, &kept, place, self.width));
        let mut text = drawn.unwrap_or_else(|| writer.table(&engine, &kept, self.width));
        let mut note = |note: &str| text.push_str(&format!("  {note}\n"));
        if left > 0 {
            note(&format!(
                "{} more rows; `least PATH` shows the best",
                grouped(left)
            ));
        }
        if tally.kept == 0 {
            note("no row is left");
        }
        for one in report::of_rows(&engine, &tally, found.best.map(|(aim, _)| aim.place)) {
            note(&one);
        }
        if from < found.rows {
            let (done, all) = (grouped(from), grouped(found.rows));
            note(&format!("interrupted after {done} of {all} rows"));
        }
        Reply {
            text,
            findings,
            stopped: from < found.rows,
            ..Reply::default()
        }
    }

    /// `solve FIELD … for PATH = VALUE`.
    pub(super) fn solve(&mut self, text: &str) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let (found, findings) = self.session.solve(&self.prepared, &request, &outcome, text);
        let Some(found) = found else {
            return Reply::refused(findings);
        };
        let unmet = found.roots.is_empty();
        let mut text = report::solution(&found, self.digits);
        if let [only] = found.roots.as_slice() {
            text.push_str(&format!(
                "  `try {}` lays it over the band\n",
                found.axis.line(&only.at)
            ));
        }
        Reply {
            text,
            findings,
            unmet,
            ..Reply::default()
        }
    }

    /// `choose FIELDS … least PATH where …`.
    pub(super) fn choose_best(&mut self, text: &str) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let (found, findings) = self
            .session
            .choose(&self.prepared, &request, &outcome, text);
        match found {
            None => Reply::refused(findings),
            Some(found) => Reply {
                text: report::chosen(&found, self.digits, self.width),
                unmet: found.best.is_none(),
                findings,
                ..Reply::default()
            },
        }
    }
}
