//! `choose FIELD [FROM .. TO], … least PATH | most PATH [where LIMITS] [against least PATH | most PATH]`: several fields
//! at once for an aim under limits.

use crate::explore::{
    Axis, Came, Cell, Choice, Chosen, Engine, LeftOut, Merit, Readout, RowReader, Seat, What, best,
    still,
};
use crate::finding::Finding;
use crate::model::Value;
use crate::syntax::ast::Operator;

use super::anew::Resolver;
use super::clauses::{clauses, listed_parts};
use super::exploring::Asking;
use super::limit::{Limit, limit};
use super::{Outcome, Prepared, Request, Session};

/// The words of a choice.
pub const CHOOSE_WORDS: &[&str] = &["least", "most", "where", "against"];

/// The most sets of stepped values that are gone through.
const MOST_SETS: u64 = 2_000;

/// How many places the way from one aim to another is shown in.
const TRADED: u32 = 7;

impl Session {
    /// Chooses the values of some fields.
    ///
    /// # Errors
    /// None, with findings that say why.
    pub fn choose(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        text: &str,
    ) -> (Option<Chosen>, Vec<Finding>) {
        let mut asking = Asking::new(self, prepared, request, outcome);
        let asked = read(&mut asking, text);
        let (bands, findings) = (asking.bands.clone(), std::mem::take(&mut asking.findings));
        let Some((asked, typed)) = asked else {
            return (None, findings);
        };
        let anew = Resolver::new(self, prepared, request, outcome, &bands);
        let readings = asked.readings.clone();
        let engine = Engine::new(&anew, asked.axes.clone(), bands, readings, Vec::new());
        let mut chosen = asked.chosen(&engine);
        chosen.reorder(&typed.axes, &typed.limits);
        (Some(chosen), findings)
    }
}

/// What is asked of a choice; fields and limits in the order of their names, so that the same is found however they are typed.
#[derive(Clone)]
pub(super) struct Asked {
    pub axes: Vec<Axis>,
    pub readings: Vec<Readout>,
    pub aim: (usize, bool),
    pub second: Option<(usize, bool)>,
    pub limits: Vec<Limit>,
}

/// Paths of fields and texts of limits in the order in which they were typed.
struct Typed {
    axes: Vec<String>,
    limits: Vec<String>,
}

fn read(asking: &mut Asking<'_>, text: &str) -> Option<(Asked, Typed)> {
    const HELP: &str =
        "as in `choose shell, sleeve 0.2 mm .. 0.5 mm least weight where wall.least >= 0.2 mm`";
    let said = clauses(text, CHOOSE_WORDS);
    for part in listed_parts(said.first) {
        asking.axis(part, true)?;
    }
    if asking.axes.is_empty() {
        return asking.lacks(text, "no field to choose is stated", HELP);
    }
    let (mut readings, mut limits) = (Vec::new(), Vec::new());
    let (mut aim, mut second, mut against) = (None, None, false);
    for (word, behind) in &said.rest {
        match *word {
            "against" if behind.is_empty() => against = true,
            "where" => {
                asking.said_behind(word, behind)?;
                for part in listed_parts(behind) {
                    limits.push(limit(asking, part, &mut readings)?);
                }
            }
            "least" | "most" if listed_parts(behind).len() > 1 => {
                let help = "a second aim stands after `against`, as in `least weight against most wall.least`; limits after `where`";
                return asking.lacks(behind, "this is more than one aim", help);
            }
            "least" | "most" => {
                let place = readings.len();
                readings.push(asking.numbers(behind)?);
                let found = Some((place, *word == "most"));
                match (aim.is_none(), against) {
                    (true, false) => aim = found,
                    (false, true) if second.is_none() => second = found,
                    _ => {
                        let help = "a second aim stands after `against`, as in `least weight against most wall.least`";
                        return asking.lacks(behind, "there is an aim already", help);
                    }
                }
            }
            _ => return asking.lacks(behind, "`against` stands before `least` or `most`", HELP),
        }
    }
    let Some(aim) = aim else {
        return asking.lacks(text, "no aim is stated", HELP);
    };
    asking.is_sound().then_some(())?;
    let mut sets = asking
        .axes
        .iter()
        .filter(|axis| !axis.free())
        .map(Axis::count);
    let sets = sets.try_fold(1_u64, u64::checked_mul);
    if sets.is_none_or(|sets| sets > MOST_SETS) {
        let help = "take longer steps, or leave a step out: then any number between both ends may be chosen";
        return asking.lacks(
            text,
            "there are too many combinations of stepped values",
            help,
        );
    }
    let mut axes = asking.axes.clone();
    let typed = Typed {
        axes: axes.iter().map(|axis| axis.path.clone()).collect(),
        limits: limits.iter().map(|limit| limit.text.clone()).collect(),
    };
    axes.sort_by(|one, other| one.path.cmp(&other.path));
    limits.sort_by(|one, other| one.text.cmp(&other.text));
    let asked = Asked {
        axes,
        readings,
        aim,
        second,
        limits,
    };
    Some((asked, typed))
}

/// A limit with a part of it given way, in the unit of its left side.
pub(super) type Given = Option<(usize, f64)>;

impl Asked {
    /// The values of a place: stepped ones by their places, the others between their ends.
    pub(super) fn values(&self, set: &[u64], at: &[f64]) -> Option<Vec<Value>> {
        let (mut set, mut at) = (set.iter(), at.iter());
        let axes = self.axes.iter().map(|axis| match axis.free() {
            true => axis.between(*at.next()?),
            false => axis.value(*set.next()?),
        });
        axes.collect()
    }

    /// What some values come to.
    pub(super) fn judged(
        &self,
        reader: &mut RowReader<'_, '_>,
        values: &[Value],
        aim: Option<(usize, bool)>,
        without: Option<usize>,
        given: Given,
    ) -> Option<(Merit, Vec<Cell>)> {
        let mut cells = Vec::new();
        if reader.read_values(values, &mut cells) != Came::Kept {
            return None;
        }
        let number = |place: usize| Some(cells.get(place)?.number()?.to_f64());
        let mut spare = Vec::new();
        for (place, limit) in self.limits.iter().enumerate() {
            if without == Some(place) {
                continue;
            }
            let given = given
                .filter(|(of, _)| *of == place)
                .map_or(0.0, |(_, by)| by);
            spare.push(limit.spare(&cells, given)?);
        }
        let aim = match aim {
            Some((place, most)) => {
                let value = number(place)?;
                if most { -value } else { value }
            }
            // How far the limit that is left out is broken.
            None => -without
                .and_then(|place| self.limits.get(place))?
                .spare(&cells, 0.0)?
                .min(0.0),
        };
        Some((Merit { aim, spare }, cells))
    }

    /// The best place over all sets of stepped values.
    pub(super) fn best(
        &self,
        reader: &mut RowReader<'_, '_>,
        aim: Option<(usize, bool)>,
        without: Option<usize>,
        given: Given,
        near: &[(Vec<u64>, Vec<f64>)],
        left_out: &mut Vec<Vec<u64>>,
    ) -> Option<(Vec<u64>, Seat)> {
        let free = self.axes.iter().filter(|axis| axis.free()).count();
        let mut found: Option<(Vec<u64>, Seat)> = None;
        for set in self.sets() {
            let mut judge = |at: &[f64]| {
                let values = self.values(&set, at)?;
                Some(self.judged(reader, &values, aim, without, given)?.0)
            };
            let near = near.iter().filter(|(known, _)| *known == set);
            let near: Vec<Vec<f64>> = near.map(|(_, at)| at.clone()).collect();
            let Some(place) = best(free, &mut judge, &near, false) else {
                left_out.push(set);
                continue;
            };
            if found
                .as_ref()
                .is_none_or(|(_, known)| place.judged.beats(&known.judged))
            {
                found = Some((set, place));
            }
        }
        found
    }

    /// All sets of stepped values.
    fn sets(&self) -> Vec<Vec<u64>> {
        let stepped = self.axes.iter().filter(|axis| !axis.free());
        stepped.fold(vec![Vec::new()], |sets, axis| {
            let counts = 0..axis.count();
            let longer = sets.iter().flat_map(|set: &Vec<u64>| {
                counts
                    .clone()
                    .map(move |place| set.iter().copied().chain([place]).collect())
            });
            longer.collect()
        })
    }

    fn chosen(&self, engine: &Engine<'_>) -> Chosen {
        let mut reader = RowReader::new(engine);
        let reader = &mut reader;
        let mut left_out = Vec::new();
        let found = self.best(reader, Some(self.aim), None, None, &[], &mut left_out);
        let readout =
            |(place, most): (usize, bool)| Some((self.readings.get(place)?.clone(), most));
        let mut chosen = Chosen {
            axes: self.axes.clone(),
            aim: readout(self.aim).unwrap_or_else(|| (nothing(), false)),
            second: self.second.and_then(readout),
            best: None,
            binding: Vec::new(),
            at_bounds: Vec::new(),
            gives: Vec::new(),
            traded: Vec::new(),
            left_out: self.left_out(engine, &left_out),
            still: still(engine),
        };
        let Some((set, place)) = found else {
            return chosen;
        };
        if place.judged.broken() > 0.0 {
            chosen.gives = self.gives(engine, reader, &set, &place);
            return chosen;
        }
        chosen.best = self.choice(reader, &set, &place.at);
        chosen.binding = self.binding(engine, reader, &set, &place);
        let free = self.axes.iter().filter(|axis| axis.free());
        let at_bounds = free
            .zip(&place.at)
            .filter(|(_, at)| **at <= 1e-6 || **at >= 1.0 - 1e-6);
        chosen.at_bounds = at_bounds.map(|(axis, _)| axis.path.clone()).collect();
        if let Some(second) = self.second {
            chosen.traded = self.traded(reader, second, (set, place));
        }
        chosen
    }

    /// The sets of stepped values with which nothing could be judged.
    fn left_out(&self, engine: &Engine<'_>, sets: &[Vec<u64>]) -> Option<LeftOut> {
        let free = self.axes.iter().filter(|axis| axis.free()).count();
        let first = self.values(sets.first()?, &vec![0.5; free])?;
        let stepped = self.axes.iter().zip(&first);
        let stepped = stepped.filter(|(axis, _)| !axis.free());
        let said: Vec<String> = stepped.map(|(axis, value)| axis.line(value)).collect();
        Some(LeftOut {
            count: sets.len(),
            of: self.sets().len(),
            why: engine.why_not_with(&first),
            first: said.join(", "),
        })
    }

    /// The way from the best by the first aim to the best by the second, in equal steps of the second.
    fn traded(
        &self,
        reader: &mut RowReader<'_, '_>,
        second: (usize, bool),
        best: (Vec<u64>, Seat),
    ) -> Vec<Choice> {
        let Some((set, far)) = self.best(reader, Some(second), None, None, &[], &mut Vec::new())
        else {
            return Vec::new();
        };
        let near = [best.clone(), (set.clone(), far.clone())];
        let near: Vec<_> = near
            .into_iter()
            .map(|(set, place)| (set, place.at))
            .collect();
        let ends = [&best, &(set, far)].map(|(set, place)| {
            let values = self.values(set, &place.at)?;
            let (_, cells) = self.judged(reader, &values, Some(self.aim), None, None)?;
            Some(cells.get(second.0)?.number()?.to_f64())
        });
        let [Some(from), Some(to)] = ends else {
            return Vec::new();
        };
        let operator = if second.1 {
            Operator::AtLeast
        } else {
            Operator::AtMost
        };
        let steps = (0..TRADED).filter_map(|step| {
            let part = f64::from(step) / f64::from(TRADED - 1);
            let level = from + (to - from) * part;
            // One limit more: the second aim is as good as here.
            let mut asked = self.clone();
            asked.limits.push(Limit {
                text: String::new(),
                left: second.0,
                right: None,
                off: None,
                operator,
            });
            let given = Some((asked.limits.len() - 1, level));
            let (set, place) =
                asked.best(reader, Some(self.aim), None, given, &near, &mut Vec::new())?;
            (place.judged.broken() <= 1e-6).then(|| self.choice(reader, &set, &place.at))?
        });
        steps.collect()
    }
}

fn nothing() -> Readout {
    Readout {
        name: String::new(),
        unit: String::new(),
        what: What::Holds(0),
    }
}
