//! A figure over one axis, ready to be drawn.

use std::collections::HashSet;

use crate::evaluate::Evaluation;
use crate::explore::{Axis, Cell, Chosen, Engine, Readout, SizeRun, What};
use crate::finding::Weight;
use crate::model::{Value, check};
use crate::quantity::{Number, to_f64};
use crate::report::number::{Digits, shown_in};
use crate::schema::{FieldId, ResultId};

/// A figure over one axis.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    /// What is drawn upward.
    pub up: String,
    /// Its unit.
    pub unit: String,
    /// What it is drawn over.
    pub across: String,
    /// The unit of that; empty where its places have names or the path says it.
    pub across_unit: String,
    /// The first and the last value over which it is drawn, as written.
    pub ends: (String, String),
    /// Names of the places along the axis, where they are no numbers.
    pub names: Vec<String>,
    /// Its points, along the axis.
    pub points: Vec<CurvePoint>,
    /// Numbers along the axis that have no figure: left out, or what cannot be made.
    pub missing: Vec<f64>,
    /// Limits were judged at each point.
    pub judged: bool,
    /// The point that is marked, along the axis and upward.
    pub now: Option<(f64, f64)>,
    /// What that mark means.
    pub marks: &'static str,
}

/// A point of a curve.
#[derive(Clone, Copy, Debug)]
pub(super) struct CurvePoint {
    /// How far along the axis, from 0 to 1.
    pub part: f64,
    /// The number along the axis, or the place where there are none.
    pub x: f64,
    /// The figure, in its unit.
    pub y: f64,
    /// A limit falls short.
    pub short: bool,
}

/// The most values along an axis that are drawn.
const MOST: u64 = 100_000;

/// What a mark means where it is the recipe.
const AS_IT_STANDS: &str = "ring: the recipe as it stands";

/// A number of a reading, in the unit that people read it in.
pub(super) fn plain(reading: &Readout, number: Number) -> f64 {
    reading.read(number).0.to_f64()
}

/// Where among the cells of a row stands whether all limits hold.
pub(super) fn verdict(engine: &Engine<'_>) -> Option<usize> {
    let mut readings = engine.readings.iter();
    readings.position(|one| matches!(one.what, What::Holds(_)))
}

/// Whether the cells of a row say that a limit falls short.
pub(super) fn is_short(cells: &[Cell], verdict: Option<usize>) -> bool {
    let holds = verdict.and_then(|place| cells.get(place));
    matches!(holds, Some(Cell::Text(said)) if said == "no")
}

/// A number as labels show it.
pub(super) fn shown(value: f64, unit: &str) -> String {
    shown_in(Number::Computed(value), unit, Digits::Useful).text
}

/// How far along so many places one is.
fn part(place: u64, count: u64) -> f64 {
    let number = |one: u64| u32::try_from(one).map_or(f64::from(u32::MAX), f64::from);
    number(place) / number(count.saturating_sub(1).max(1))
}

impl Curve {
    /// A reading over the only axis of an engine; none where no row has it.
    pub fn of_rows(engine: &Engine<'_>, rows: &[(u64, Vec<Cell>)], place: usize) -> Option<Self> {
        let [axis] = engine.axes.as_slice() else {
            return None;
        };
        let reading = engine.readings.get(place)?;
        let verdict = verdict(engine);
        let count = axis.count();
        if count > MOST {
            return None;
        }
        let numbers = axis.ends().is_some();
        // Numbers stand to scale, in whatever order they are listed.
        let (first, last) = match numbers {
            true => {
                let by = |one: &u64, other: &u64| axis.decimal(*one).cmp(&axis.decimal(*other));
                ((0..count).min_by(by)?, (0..count).max_by(by)?)
            }
            false => (0, count.checked_sub(1)?),
        };
        let (least, most) = (
            axis.decimal(first).map(to_f64),
            axis.decimal(last).map(to_f64),
        );
        let points: Vec<CurvePoint> = rows
            .iter()
            .filter_map(|(row, cells)| {
                let along = part(*row, count);
                let (along, at) = match numbers {
                    true => {
                        let (at, least) = (to_f64(axis.decimal(*row)?), least?);
                        let wide = most? - least;
                        (if wide > 0.0 { (at - least) / wide } else { 0.0 }, at)
                    }
                    false => (along, along * part(count.saturating_sub(1), 2)),
                };
                Some(CurvePoint {
                    part: along,
                    x: at,
                    y: plain(reading, cells.get(place)?.number()?),
                    short: is_short(cells, verdict),
                })
            })
            .collect();
        points.first()?;
        let has =
            |(_, cells): &&(u64, Vec<Cell>)| cells.get(place).and_then(Cell::number).is_some();
        let there: HashSet<u64> = rows.iter().filter(has).map(|(row, _)| *row).collect();
        let gone = (0..count).filter(|place| numbers && !there.contains(place));
        let missing = gone.filter_map(|place| axis.decimal(place)).map(to_f64);
        let written = |place| Some(check::written(&axis.value(place)?));
        let names = match numbers {
            true => Vec::new(),
            false => (0..count).map_while(written).collect(),
        };
        Some(Self {
            up: reading.name.clone(),
            unit: reading.read(Number::ZERO).1.to_owned(),
            across: axis.path.clone(),
            across_unit: axis.unit.clone(),
            ends: (written(first)?, written(last)?),
            names,
            points,
            missing: missing.collect(),
            judged: verdict.is_some(),
            now: None,
            marks: AS_IT_STANDS,
        })
    }

    /// Marks the recipe as it stands.
    pub fn mark(
        &mut self,
        axis: &Axis,
        now: Option<&(Vec<Value>, Vec<Cell>)>,
        place: usize,
        engine: &Engine<'_>,
    ) {
        let Some((values, cells)) = now else { return };
        let number = cells.get(place).and_then(Cell::number);
        let Some((number, reading)) = number.zip(engine.readings.get(place)) else {
            return;
        };
        let Some(value) = values.first() else { return };
        let x = match self.names.is_empty() {
            true => axis.number_of(value).map(to_f64),
            false => {
                let written = check::written(value);
                let place = self.names.iter().position(|name| *name == written);
                place
                    .and_then(|place| u32::try_from(place).ok())
                    .map(f64::from)
            }
        };
        let along = self.points.iter().map(|point| point.x);
        let (least, most) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), x| {
            (least.min(x), most.max(x))
        });
        let inside = x.filter(|x| (least..=most).contains(x));
        self.now = inside.map(|x| (x, plain(reading, number)));
    }

    /// One aim of a choice over the other; none where fewer than two points are there.
    pub fn of_trade(chosen: &Chosen) -> Option<Self> {
        let (second, _) = chosen.second.as_ref()?;
        let (aim, _) = &chosen.aim;
        let along = chosen.traded.iter();
        let found: Vec<(f64, f64)> = along
            .filter_map(|one| Some((plain(second, one.second?), plain(aim, one.aim))))
            .collect();
        let ends = found.iter().fold(
            (f64::INFINITY, f64::NEG_INFINITY),
            |(least, most), (x, _)| (least.min(*x), most.max(*x)),
        );
        if found.len() < 2 || ends.0 >= ends.1 {
            return None;
        }
        let points = found.iter().map(|(x, y)| CurvePoint {
            part: (x - ends.0) / (ends.1 - ends.0),
            x: *x,
            y: *y,
            short: false,
        });
        let unit = second.read(Number::ZERO).1;
        let end = |value: f64| {
            format!("{} {unit}", shown(value, unit))
                .trim_end()
                .to_owned()
        };
        Some(Self {
            up: aim.name.clone(),
            unit: aim.read(Number::ZERO).1.to_owned(),
            across: second.name.clone(),
            across_unit: unit.to_owned(),
            ends: (end(ends.0), end(ends.1)),
            names: Vec::new(),
            points: points.collect(),
            missing: Vec::new(),
            judged: false,
            now: found.first().copied(),
            marks: "ring: what was chosen",
        })
    }

    /// The weight of a band over its sizes, by the inside diameter, with its own size marked.
    pub fn of_sizes(run: &SizeRun, own: Option<&Evaluation>) -> Option<Self> {
        let row = ResultId::Weight.row();
        let inside = |one: &Evaluation| one.band.inside().diameter.to_f64();
        let weight = |one: &Evaluation| Some(one.number(row.id)?.to_f64());
        let (mut points, mut missing): (Vec<CurvePoint>, Vec<f64>) = (Vec::new(), Vec::new());
        let mut unmade = false;
        for row in &run.rows {
            let made = row.evaluation.as_ref();
            let Some((x, y)) = made.and_then(|one| Some((inside(one), weight(one)?))) else {
                unmade = true;
                continue;
            };
            let before = points.last().filter(|_| unmade);
            missing.extend(before.map(|before| f64::midpoint(before.x, x)));
            unmade = false;
            points.push(CurvePoint {
                part: 0.0,
                x,
                y,
                short: row.weight() >= Some(Weight::Short),
            });
        }
        points.first()?;
        let own = own.filter(|own| own.band.field(FieldId::Size).is_some());
        Some(Self {
            up: format!("{} of {}", row.path, run.band),
            unit: row.unit.to_owned(),
            across: "inside diameter".to_owned(),
            across_unit: "mm".to_owned(),
            ends: (
                run.rows.first()?.size.clone(),
                run.rows.last()?.size.clone(),
            ),
            names: Vec::new(),
            points,
            missing,
            judged: true,
            now: own.and_then(|own| Some((inside(own), weight(own)?))),
            marks: AS_IT_STANDS,
        })
    }

    /// Every place along the axis from the least to the greatest: its number and, where it has a figure, its point.
    pub fn places(&self) -> Vec<(f64, Option<&CurvePoint>)> {
        let points = self.points.iter().map(|point| (point.x, Some(point)));
        let missing = self.missing.iter().map(|x| (*x, None));
        let mut all: Vec<_> = points.chain(missing).collect();
        all.sort_by(|one, other| one.0.total_cmp(&other.0));
        all
    }

    /// Whether the parts of the axis over which all limits hold are told apart: between names there is nothing.
    pub fn is_shaded(&self) -> bool {
        self.judged && self.names.is_empty()
    }

    /// The least and the greatest of what is drawn upward.
    pub fn range(&self) -> (f64, f64) {
        let all = self.points.iter().map(|point| point.y);
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), y| {
            (least.min(y), most.max(y))
        })
    }
}
