//! `sweep AXES [show PATHS] [where CONDITIONS] [least PATH | most PATH] [best COUNT] [plot PATH]`: read from text.

use crate::explore::Anew;
use crate::explore::{Aim, Axis, Condition, Engine, Readout, What};
use crate::finding::Finding;
use crate::model::ModelError;
use crate::schema::ResultId;

use super::clauses::{clauses, listed_parts};
use super::exploring::{Asking, SOURCE};
use super::{Outcome, Prepared, Request, Session};

/// The words of a sweep.
pub const SWEEP_WORDS: &[&str] = &["show", "where", "least", "most", "best", "plot"];

/// The most rows of one sweep.
pub const MOST_ROWS: u64 = 1_000_000_000_000;

/// From how many rows on their count is announced.
pub const MANY_ROWS: u64 = 1_000_000;

/// How many of the best rows are shown where it is not said.
const BEST: usize = 10;

/// What is varied, what is read, and which rows are wanted.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// What is varied.
    pub axes: Vec<Axis>,
    /// The bands that are read.
    pub bands: Vec<String>,
    /// The columns.
    pub readings: Vec<Readout>,
    /// What must hold.
    pub conditions: Vec<Condition>,
    /// What is aimed at, where only the best rows are wanted, and how many of them.
    pub best: Option<(Aim, usize)>,
    /// The place of the reading that is drawn, where a plot is wanted.
    pub plot: Option<usize>,
    /// How many rows there are.
    pub rows: u64,
}

impl Sweep {
    /// What reads its rows.
    #[must_use]
    pub fn engine<'a>(&self, anew: &'a dyn Anew) -> Engine<'a> {
        Engine::new(
            anew,
            self.axes.clone(),
            self.bands.clone(),
            self.readings.clone(),
            self.conditions.clone(),
        )
    }
}

/// What a band's rows show where it is not said, those that it has.
const SHOWN: &[ResultId] = &[
    ResultId::Weight,
    ResultId::Saving,
    ResultId::WallLeast,
    ResultId::Cost,
    ResultId::Price,
];

impl Session {
    /// Reads a sweep.
    ///
    /// # Errors
    /// None, with findings that say why; notes are among the findings where there is one.
    pub fn sweep(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        text: &str,
    ) -> (Option<Sweep>, Vec<Finding>) {
        let mut asking = Asking::new(self, prepared, request, outcome);
        let sweep = read(&mut asking, text);
        (sweep, asking.findings)
    }
}

fn read(asking: &mut Asking<'_>, text: &str) -> Option<Sweep> {
    let said = clauses(text, SWEEP_WORDS);
    for part in listed_parts(said.first) {
        asking.axis(part, false)?;
    }
    if asking.axes.is_empty() {
        return asking.lacks(
            text,
            "no field to vary is stated",
            "as in `sweep shell 0.30 mm .. 0.60 mm by 0.05 mm`",
        );
    }
    let (mut readings, mut conditions) = (Vec::new(), Vec::new());
    let (mut aim, mut count, mut drawn) = (None, None, None);
    for (word, behind) in &said.rest {
        match *word {
            "show" => {
                asking.said_behind(word, behind)?;
                for part in listed_parts(behind) {
                    readings.push(asking.reading(part)?);
                }
            }
            "where" => {
                asking.said_behind(word, behind)?;
                for part in listed_parts(behind) {
                    conditions.push(asking.condition(part)?);
                }
            }
            "plot" if listed_parts(behind).len() > 1 => {
                let help = "plot one after the other; `show` has several columns";
                return asking.lacks(behind, "a plot has one figure", help);
            }
            "plot" => drawn = Some(*behind),
            "best" => match behind.parse::<usize>() {
                Ok(best) if best > 0 => count = Some(best),
                _ => {
                    let help = "as in `best 5`";
                    return asking.lacks(behind, "`best` takes a count of rows", help);
                }
            },
            word if aim.is_none() && listed_parts(behind).len() < 2 => {
                aim = Some((word == "most", *behind))
            }
            _ => {
                let help = "`choose` shows what two aims cost each other";
                return asking.lacks(behind, "a sweep has one aim", help);
            }
        }
    }
    if readings.is_empty() {
        readings = usual(asking);
    }
    let place_of = |asking: &mut Asking<'_>, readings: &mut Vec<Readout>, text: &str| {
        if let Some(known) = readings.iter().position(|one| one.name == text) {
            return Some(known);
        }
        readings.push(asking.reading(text)?);
        Some(readings.len() - 1)
    };
    let plot = match drawn {
        Some("") => Some(0),
        Some(text) => Some(place_of(asking, &mut readings, text)?),
        None => None,
    };
    let best = match aim {
        Some((most, text)) => {
            asking.numbers(text)?;
            let place = place_of(asking, &mut readings, text)?;
            Some((Aim { place, most }, count.unwrap_or(BEST)))
        }
        None if count.is_some() => {
            let help = "as in `least weight best 5`";
            return asking.lacks(text, "no aim is stated for the best rows", help);
        }
        None => None,
    };
    asking.is_sound().then_some(())?;
    let mut counts = asking.axes.iter().map(Axis::count);
    let rows = counts.try_fold(1_u64, u64::checked_mul);
    let Some(rows) = rows.filter(|rows| *rows <= MOST_ROWS) else {
        let help = "take longer steps, or vary less at once";
        return asking.lacks(text, "a sweep has at most 1,000,000,000,000 rows", help);
    };
    Some(Sweep {
        axes: std::mem::take(&mut asking.axes),
        bands: std::mem::take(&mut asking.bands),
        readings,
        conditions,
        best,
        plot,
        rows,
    })
}

/// What rows show where it is not said: of the band whose fields are varied, or of the one meant.
fn usual(asking: &mut Asking<'_>) -> Vec<Readout> {
    let recipe = &asking.outcome.recipe;
    let band = asking.band.clone();
    let band = band.or_else(|| recipe.names.first().map(|named| named.name.clone()));
    let Some(band) = band else {
        return Vec::new();
    };
    let of_several = recipe.names.len() > 1;
    let known = asking.outcome.evaluations.iter();
    let known = known.clone().find(|one| one.band.name == band);
    let has = |id: &ResultId| match known {
        Some(evaluation) => evaluation.number(*id).is_some(),
        None => *id == ResultId::Weight,
    };
    let ids: Vec<ResultId> = SHOWN.iter().copied().filter(has).collect();
    let place = asking.read(&band);
    let named = |path: &str| match of_several {
        true => format!("{band}.{path}"),
        false => path.to_owned(),
    };
    let results = ids.into_iter();
    let mut readings: Vec<Readout> = results
        .map(|id| asking.result(named(id.path()), place, id))
        .collect();
    readings.push(Readout {
        name: named("holds"),
        unit: String::new(),
        what: What::Holds(place),
    });
    readings
}

impl Asking<'_> {
    /// Refuses a clause behind whose word nothing stands.
    pub fn said_behind(&mut self, word: &str, behind: &str) -> Option<()> {
        match (behind, word) {
            ("", "show") => self.lacks(
                word,
                "nothing stands behind `show`",
                "as in `show weight, cost`",
            ),
            ("", _) => {
                let help = "as in `where wall.least >= 0.25 mm, holds`";
                self.lacks(word, "no condition stands behind `where`", help)
            }
            _ => Some(()),
        }
    }

    /// Says what is missing of a text.
    pub fn lacks<T>(&mut self, text: &str, message: &'static str, help: &'static str) -> Option<T> {
        let id = self.session.sources.add(SOURCE, text);
        let whole = self
            .session
            .sources
            .get(id)
            .map(|source| source.span(0..source.text.len()));
        let at = whole.unwrap_or_default();
        let problem = ModelError::NoResult { at, message, help };
        self.findings.push(problem.into());
        None
    }
}
