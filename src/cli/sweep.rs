//! `annulet sweep`: many what-ifs at once, as a table, as CSV or as JSON lines, row after row.

use std::io::IsTerminal as _;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc;

use crate::evaluate::until;
use crate::explore::{Best, Came, Cell, Engine, RowReader, Rows, Tally, Unmade, What, rows_into};
use crate::model::{Recipe, Value};
use crate::report::{RowWriter, document, grouped, of_rows, plot, plot_svg};
use crate::session::{MANY_ROWS, Resolver, SWEEP_WORDS};

use super::batch::{Evaluated, cores};
use super::common::Laid;
use super::output::{Output, SafeRows};
use super::recipes::{asked, one};
use super::sought_calls::{RowForm, Sweep};
use super::status::Status;

/// Rows of the first block, so that it comes at once; each is twice as long as the one before, so many times.
const FIRST: u64 = 32;
const DOUBLED: u64 = 7;

/// The most rows of a table for people, and of a document.
const SHOWN: usize = 200;
const DOCUMENT: u64 = 100_000;

/// The most rows of a plot.
const DRAWN: usize = 100_000;

pub(super) fn run(sweep: &Sweep, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = sweep.digits.beside(&[(sweep.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    if let Err(message) = sweep.plot.check() {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(sweep.file.as_deref(), &sweep.words, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let request = asked(laid).request;
    let text = statement(&sweep.words, SWEEP_WORDS);
    let (found, findings) = session.sweep(&prepared, &request, &outcome, &text);
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    let anew = Resolver::new(&session, &prepared, &request, &outcome, &found.bands);
    let engine = found.engine(&anew);
    let (form, draws_here) = (sweep.form(), !sweep.plot.is_wanted());
    if found.plot.is_some() && draws_here && (form != RowForm::Table || output.is_machine()) {
        output.complain(
            "`plot` draws instead of the rows; leave it out, or `--csv`, `--lines`, `--json`",
        );
        return Status::Wrong;
    }
    if found.rows > MANY_ROWS {
        output.note(&format!("this sweep has {} rows", grouped(found.rows)));
    }
    if output.is_machine() && found.best.is_none() && found.rows > DOCUMENT {
        output.complain(&format!(
            "a document holds at most {} rows; `--lines` writes each by itself, `least PATH` keeps the best",
            grouped(DOCUMENT)
        ));
        return Status::Wrong;
    }
    let file = prepared.files().first().map_or("", |file| file);
    let writer = RowWriter::new(&engine, file, sweep.digits.into());
    let streamed = found.best.is_none() && form != RowForm::Table && !output.is_machine();
    let mut kept: Vec<(u64, Vec<Cell>)> = Vec::new();
    let mut best = found.best.map(|(aim, count)| Best::new(aim, count));
    let width = engine.readings.len();
    if streamed {
        output.result(&match form {
            RowForm::Lines => writer.first_line(),
            _ => writer.header(),
        });
    }
    let made = |rows: &mut Rows, room: Made| {
        if !streamed {
            return Made {
                rows: std::mem::replace(rows, room.rows),
                ..Made::default()
            };
        }
        let mut room = room.text.room();
        match form {
            RowForm::Lines => writer.lines(&engine, rows, &mut room),
            _ => writer.csv(&engine, rows, &mut room),
        }
        Made {
            rows: Rows {
                tally: std::mem::take(&mut rows.tally),
                ..Rows::default()
            },
            text: SafeRows::of(room),
        }
    };
    let stop = interrupts(output);
    let mut tally = Tally::default();
    let mut left = 0;
    let jobs = sweep.jobs.map_or_else(cores, Into::into);
    let barred = match found.conditions.is_empty() {
        true => Unmade::Kept,
        false => Unmade::Dropped,
    };
    let talks = found.rows > MANY_ROWS && std::io::stderr().is_terminal();
    let mut shown = 0;
    let draws = found.plot.is_some() || sweep.plot.is_wanted();
    let most = if draws { DRAWN } else { SHOWN };
    blocks(
        &engine,
        found.rows,
        jobs,
        barred,
        &stop,
        &made,
        &mut |made| {
            let rows = &made.rows;
            tally.add(&rows.tally);
            if let Some(best) = &mut best {
                best.take(rows, width);
            } else if streamed {
                output.rows(&made.text);
            } else {
                let cells = rows.cells.chunks(width.max(1));
                for (row, cells) in rows.kept.iter().zip(cells) {
                    match output.is_machine() || kept.len() < most {
                        true => kept.push((*row, cells.to_vec())),
                        false => left += 1,
                    }
                }
            }
            let part = tally.rows * 20 / found.rows.max(1);
            if talks && part > shown {
                shown = part;
                output.progress(&format!("{} % of {} rows", part * 5, grouped(found.rows)));
            }
            !output.is_broken() && !stop.load(Ordering::Relaxed)
        },
    );
    if talks {
        output.progress("");
    }
    if let Some(best) = best {
        kept = best
            .rows
            .into_iter()
            .map(|(_, row, cells)| (row, cells))
            .collect();
        if form != RowForm::Table && !output.is_machine() {
            output.result(&match form {
                RowForm::Lines => writer.first_line(),
                _ => writer.header(),
            });
            let rows = Rows {
                kept: kept.iter().map(|(row, _)| *row).collect(),
                cells: kept.iter().flat_map(|(_, cells)| cells.clone()).collect(),
                tally: Tally::default(),
            };
            let mut bytes = Vec::new();
            match form {
                RowForm::Lines => writer.lines(&engine, &rows, &mut bytes),
                _ => writer.csv(&engine, &rows, &mut bytes),
            }
            output.rows(&SafeRows::of(bytes));
        }
    }
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            sweeps: vec![writer.json(&engine, &kept, &tally)],
            ..document::RecipePart::of(prepared.files())
        });
    } else if form == RowForm::Table {
        let drawn = found
            .plot
            .and_then(|place| plot(&engine, &kept, place, output.page()));
        if found.plot.is_some() && drawn.is_none() {
            output.note("a plot takes one or two fields, with no more values than fit the page; here is the table");
        }
        output.result(&drawn.unwrap_or_else(|| writer.table(&engine, &kept, output.table())));
    }
    let lacks = "there is nothing to plot: figures over one field of at most 100,000 values, or over two of at most 400 each";
    let drawn = || {
        let place = found.plot.or_else(|| first_figure(&engine))?;
        plot_svg(
            &engine,
            &kept,
            place,
            as_it_stands(&engine, &outcome.recipe),
        )
    };
    if let Err(message) = sweep.plot.write(drawn, lacks, output) {
        output.complain(&message);
        return Status::Wrong;
    }
    if left > 0 {
        output.note(&format!(
            "{} more rows; `--csv` writes all, `least PATH` the best",
            grouped(left)
        ));
    }
    for note in of_rows(&engine, &tally, found.best.map(|(aim, _)| aim.place)) {
        output.note(&note);
    }
    if stop.load(Ordering::Relaxed) {
        output.note(&format!(
            "interrupted after {} rows of {}",
            grouped(tally.rows),
            grouped(found.rows)
        ));
        return Status::Interrupted;
    }
    if tally.kept == 0 {
        output.note("no row is left");
    }
    // Nothing is left, or nothing of it can be made.
    match tally.kept == 0 || tally.barred == tally.rows {
        true => Status::Short,
        false => Status::Well,
    }
}

/// The place of the first reading that is a figure.
fn first_figure(engine: &Engine<'_>) -> Option<usize> {
    let mut readings = engine.readings.iter();
    readings.position(|one| !matches!(one.what, What::Holds(_)))
}

/// The present values of what is varied, with their row; none where one of them is no number.
fn as_it_stands(engine: &Engine<'_>, recipe: &Recipe) -> Option<(Vec<Value>, Vec<Cell>)> {
    let axes = engine.axes.iter();
    let values: Option<Vec<Value>> = axes.map(|axis| recipe.value_of(axis.key?)).collect();
    let values = values?;
    let mut cells = Vec::new();
    let came = RowReader::new(engine).read_values(&values, &mut cells);
    (came == Came::Kept).then_some((values, cells))
}

/// The words of a call as one statement: what is quoted by itself is a part by itself.
pub(super) fn statement(words: &[String], clauses: &[&str]) -> String {
    let begins = |word: &str| clauses.contains(&word.split_whitespace().next().unwrap_or(""));
    let mut text = String::new();
    let mut before: Option<&str> = None;
    for word in words {
        if let Some(before) = before {
            let apart = before.contains(char::is_whitespace) || word.contains(char::is_whitespace);
            let joins = !apart || begins(word) || clauses.contains(&before);
            text.push_str(if joins { " " } else { ", " });
        }
        text.push_str(word);
        before = Some(word);
    }
    text
}

/// A flag that an interrupt raises: rows that are written stay whole.
pub(super) fn interrupts(output: &Output) -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let caught = signal_hook::flag::register(signal_hook::consts::SIGINT, Arc::clone(&stop));
    if let Err(error) = caught {
        output.note(&format!("Ctrl-C cannot be caught: {error}"));
    }
    stop
}

/// Where a block of rows begins.
fn begin(block: u64) -> u64 {
    let doubled = block.min(DOUBLED);
    FIRST * ((1 << doubled) - 1 + ((block - doubled) << DOUBLED))
}

/// What a block of rows came to; once that is handed on, room for another.
#[derive(Default)]
struct Made {
    /// The rows, but for those that are written already.
    rows: Rows,
    /// As they are written, where they are as they come.
    text: SafeRows,
}

/// Makes blocks of rows, one after the other, into the same room.
struct Maker<'m, 'e, 'a> {
    reader: RowReader<'e, 'a>,
    rows: Rows,
    count: u64,
    barred: Unmade,
    stop: &'m Arc<AtomicBool>,
    made: &'m MadeOf<'m>,
}

/// What becomes of rows once they are read, in the room that is handed over.
type MadeOf<'m> = dyn Fn(&mut Rows, Made) -> Made + Sync + 'm;

impl Maker<'_, '_, '_> {
    fn make(&mut self, block: u64, room: Made) -> Made {
        let (from, to) = (begin(block), begin(block + 1).min(self.count));
        until(self.stop, || {
            rows_into(&mut self.reader, from, to, self.barred, &mut self.rows);
        });
        (self.made)(&mut self.rows, room)
    }
}

/// Reads all rows in blocks, on some threads, and hands each on in order, until `each` wants no more.
fn blocks(
    engine: &Engine<'_>,
    count: u64,
    jobs: usize,
    barred: Unmade,
    stop: &Arc<AtomicBool>,
    made: &MadeOf<'_>,
    each: &mut dyn FnMut(&Made) -> bool,
) {
    let maker = || Maker {
        reader: RowReader::new(engine),
        rows: Rows::default(),
        count,
        barred,
        stop,
        made,
    };
    let is_one = |block: u64| begin(block) < count;
    let alone = |each: &mut dyn FnMut(&Made) -> bool| {
        let (mut maker, mut room) = (maker(), Made::default());
        for block in (0..).take_while(|block| is_one(*block)) {
            let made = maker.make(block, room);
            if !each(&made) {
                return;
            }
            room = made;
        }
    };
    if jobs <= 1 || !is_one(1) {
        return alone(each);
    }
    std::thread::scope(|scope| {
        // Each thread has a way of its own, so that what comes is in order and none runs far ahead; the room goes back.
        let (mut ways, mut begins) = (Vec::new(), Vec::new());
        for job in 0..jobs as u64 {
            let (sender, receiver) = mpsc::sync_channel(2);
            let (begin, begun) = mpsc::channel::<u64>();
            let (back, rooms) = mpsc::channel::<Made>();
            let maker = &maker;
            let work = move || {
                let Ok(jobs) = begun.recv() else { return };
                let (mut maker, mut block) = (maker(), job);
                while is_one(block) {
                    let room = rooms.try_recv().unwrap_or_default();
                    if sender.send(maker.make(block, room)).is_err() {
                        return;
                    }
                    block += jobs;
                }
            };
            // Where no more can be started, those that are there do all of it.
            if std::thread::Builder::new()
                .spawn_scoped(scope, work)
                .is_err()
            {
                break;
            }
            ways.push((receiver, back));
            begins.push(begin);
        }
        if ways.is_empty() {
            return alone(each);
        }
        for begin in &begins {
            let _ = begin.send(begins.len() as u64);
        }
        let mut due = ways.iter().cycle();
        for _ in (0..).take_while(|block| is_one(*block)) {
            let Some((way, back)) = due.next() else {
                return;
            };
            let Ok(made) = way.recv() else { return };
            if !each(&made) {
                return;
            }
            let _ = back.send(made);
        }
    });
}
