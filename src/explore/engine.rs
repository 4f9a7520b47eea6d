//! Recipes with some of their numbers moved, read row after row; nothing is read or resolved twice that need not be.
//!
//! Three ways, each as exact as the next, tried from the quickest: where the moved numbers are lengths of the band's
//! section and only its metal is asked, they are put into what the kernel takes; where no value follows from two of
//! them, the fields that each moves are put into the band; else the recipe's program is run for all of them. What is
//! no number has the recipe resolved anew, once for each set of such values.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock};

use smallvec::SmallVec;

use crate::evaluate::{self, Evaluation};
use crate::finding::Finding;
use crate::kernel::FiguresWanted;
use crate::model::{Band, FieldValue, Key, Moved, Recipe, Value};
use crate::schema::{FieldId, ResultId, Room};
use crate::words;

use super::axis::Axis;
use super::lengths::Lengths;
use super::reading::{Compared, Condition, Readout, What};

/// Resolves a recipe anew with lines laid over it.
pub trait Anew: Sync {
    /// The recipe with these lines laid over it.
    ///
    /// # Errors
    /// What is wrong with it then.
    fn anew(&self, lines: &[String]) -> Result<Arc<Recipe>, Vec<Finding>>;
}

/// What is varied and what is read, over one recipe.
pub struct Engine<'a> {
    /// What resolves anew.
    pub anew: &'a dyn Anew,
    /// What is varied.
    pub axes: Vec<Axis>,
    /// The bands that are read, by name.
    pub bands: Vec<String>,
    /// What is read.
    pub readings: Vec<Readout>,
    /// What must hold.
    pub conditions: Vec<Condition>,
    bases: Mutex<HashMap<Vec<String>, Arc<Base>>>,
}

/// How many recipes that were resolved anew are kept.
const KEPT: usize = 512;

/// The recipe with all that is no number settled.
pub struct Base {
    pub(super) recipe: Result<Arc<Recipe>, Vec<Finding>>,
    /// The places of the bands that are read.
    pub(super) places: Vec<Option<usize>>,
    /// Those bands as they stand, evaluated.
    pub(super) known: Vec<OnceLock<Option<Evaluation>>>,
    /// The fields that take each axis's value as it is, where that is all that it moves, with the places of their bands.
    pub(super) direct: Vec<Option<Taking>>,
    /// What each value of each axis moves, where no value follows from two of them.
    pub(super) patches: Option<Vec<Vec<OnceLock<Patch>>>>,
    /// What the kernel takes of the only band that is read, where every moved number is a length in there.
    pub(super) lengths: Option<Lengths>,
}

/// Fields of bands that take one value, by the bands' places in the recipe.
type Taking = Vec<(usize, Arc<FieldValue>)>;

/// Fields of bands with their values as plain numbers too.
type Put = SmallVec<[(usize, Arc<FieldValue>, f64); 2]>;

/// What one value of one axis moves.
#[derive(Clone, Debug)]
pub enum Patch {
    /// Fields of bands, by the bands' places in the recipe.
    Fields(Put),
    /// Nothing of a band that is read.
    Beyond,
    /// It is out of range alone.
    Barred,
    /// More than numbers follows from it.
    Anew,
}

impl<'a> Engine<'a> {
    /// Ready to be read.
    #[must_use]
    pub fn new(
        anew: &'a dyn Anew,
        axes: Vec<Axis>,
        bands: Vec<String>,
        readings: Vec<Readout>,
        conditions: Vec<Condition>,
    ) -> Self {
        Self {
            anew,
            axes,
            bands,
            readings,
            conditions,
            bases: Mutex::default(),
        }
    }

    /// How many rows there are; none where they are beyond counting.
    #[must_use]
    pub fn count(&self) -> Option<u64> {
        let mut counts = self.axes.iter().map(Axis::count);
        counts.try_fold(1_u64, u64::checked_mul)
    }

    /// The places of the values of a row along the axes; the last axis moves first.
    #[must_use]
    pub fn places(&self, row: u64) -> SmallVec<[u64; 4]> {
        let mut rest = row;
        let mut places: SmallVec<[u64; 4]> = SmallVec::from_elem(0, self.axes.len());
        for (place, axis) in places.iter_mut().zip(&self.axes).rev() {
            let count = axis.count().max(1);
            *place = rest % count;
            rest /= count;
        }
        places
    }

    /// The values of a row.
    #[must_use]
    pub fn values(&self, row: u64) -> Vec<Value> {
        let places = self.places(row);
        let values = self.axes.iter().zip(places);
        values
            .filter_map(|(axis, place)| axis.value(place))
            .collect()
    }

    /// The recipe with lines laid over it that are no numbers.
    pub(super) fn base(&self, lines: Vec<String>) -> Arc<Base> {
        let known = match self.bases.lock() {
            Ok(bases) => bases.get(&lines).cloned(),
            Err(_) => None,
        };
        if let Some(known) = known {
            return known;
        }
        let base = Arc::new(self.new_base(&lines));
        if let Ok(mut bases) = self.bases.lock() {
            if bases.len() >= KEPT {
                bases.clear();
            }
            bases.insert(lines, Arc::clone(&base));
        }
        base
    }

    fn new_base(&self, lines: &[String]) -> Base {
        let recipe = self.anew.anew(lines);
        let place = |name: &String| {
            let bands = &recipe.as_ref().ok()?.bands;
            bands.iter().position(|band| band.name == *name)
        };
        let mut base = Base {
            places: self.bands.iter().map(place).collect(),
            known: self.bands.iter().map(|_| OnceLock::new()).collect(),
            recipe,
            direct: Vec::new(),
            patches: None,
            lengths: None,
        };
        if self.is_apart(&base) {
            let of_axis = |axis: &Axis| -> Vec<OnceLock<Patch>> {
                (0..axis.kept()).map(|_| OnceLock::new()).collect()
            };
            base.direct = self
                .axes
                .iter()
                .map(|axis| self.direct(&base, axis))
                .collect();
            base.patches = Some(self.axes.iter().map(of_axis).collect());
            base.lengths = self.lengths(&base);
        }
        base
    }

    /// Whether no value follows from two axes, and each moves fields of bands alone.
    fn is_apart(&self, base: &Base) -> bool {
        let Ok(recipe) = &base.recipe else {
            return false;
        };
        let keys: Vec<Key> = self.axes.iter().filter_map(|axis| axis.key).collect();
        let mut seen = std::collections::HashSet::new();
        for key in keys {
            let reached = recipe.reached(key);
            let plain = |key: &Key| matches!(key, Key::Let(_) | Key::Field(..));
            if !reached.iter().all(plain) || !reached.iter().all(|key| seen.insert(*key)) {
                return false;
            }
        }
        let names = |reading: &Readout| matches!(&reading.what, What::Worked(one) | What::Off(one) if one.reads_let());
        let compared =
            |one: &Condition| matches!(&one.what, Compared::Worked(one) if one.reads_let());
        !self.readings.iter().any(names) && !self.conditions.iter().any(compared)
    }

    /// What the kernel takes of the only band that is read, where each axis moves lengths in there and nothing else.
    fn lengths(&self, base: &Base) -> Option<Lengths> {
        let metal = |id: ResultId| id.row().room == Room::Metal;
        let read = self.readings.iter().all(|reading| match &reading.what {
            What::Result(_, id) => metal(*id),
            What::Same(_) => true,
            _ => false,
        });
        let judged = self
            .conditions
            .iter()
            .all(|one| matches!(one.what, Compared::Result { id, .. } if metal(id)));
        let [Some(place)] = base.places.as_slice() else {
            return None;
        };
        let band = base.recipe.as_ref().ok()?.bands.get(*place)?;
        let input = evaluate::input_of(band);
        // What a field does to what the kernel takes is asked of both ways, at the first and the last value.
        for (at, axis) in self.axes.iter().enumerate() {
            for value in [0, axis.count().checked_sub(1)?] {
                let patch = self.patch(base, at, value);
                let Patch::Fields(fields) = &*patch else {
                    return None;
                };
                let mut moved = (**band).clone();
                let mut lengths = input.clone();
                for (of, field, number) in fields {
                    let id = field.field.id;
                    if of != place {
                        // What decides whether another band is worn at all is judged with it.
                        if matches!(id, FieldId::Size | FieldId::Outside) {
                            return None;
                        }
                        continue;
                    }
                    if !lengths.shape.put(id, *number) {
                        return None;
                    }
                    moved.put(Arc::clone(field));
                }
                if evaluate::input_of(&moved) != lengths {
                    return None;
                }
            }
        }
        let stated = evaluate::stated_of(band);
        let metal = (read && judged).then(|| self.wanted());
        Some(Lengths {
            band: *place,
            to_size: !evaluate::is_stretched(&input),
            input,
            stated,
            metal,
        })
    }

    /// Which figures readings and conditions rest on, where each is a result.
    fn wanted(&self) -> FiguresWanted {
        let read = self.readings.iter().filter_map(|one| match &one.what {
            What::Result(_, id) => Some(Some(*id)),
            What::Same(_) => None,
            _ => Some(None),
        });
        let judged = self.conditions.iter().map(|one| match one.what {
            Compared::Result { id, .. } => Some(id),
            _ => None,
        });
        let all: Vec<Option<ResultId>> = read.chain(judged).collect();
        let any = |rests: fn(ResultId) -> bool| all.iter().any(|id| id.is_none_or(rests));
        match (
            any(evaluate::rests_on_walls),
            any(evaluate::rests_on_dimensions),
        ) {
            (true, _) => FiguresWanted::All,
            (false, true) => FiguresWanted::Volumes,
            (false, false) => FiguresWanted::Weights,
        }
    }

    /// What a value of an axis moves.
    pub(super) fn patch<'s>(&self, base: &'s Base, at: usize, place: u64) -> Cow<'s, Patch> {
        let kept = base.patches.as_ref().and_then(|patches| {
            let place = usize::try_from(place).ok()?;
            patches.get(at)?.get(place)
        });
        let axis = self.axes.get(at);
        let compute = || {
            let value = axis.and_then(|axis| axis.value(place));
            match (axis, value) {
                (Some(axis), Some(value)) => self.moves(base, at, axis, value),
                _ => Patch::Beyond,
            }
        };
        match kept {
            Some(kept) => Cow::Borrowed(kept.get_or_init(compute)),
            None => Cow::Owned(compute()),
        }
    }

    /// The fields that take an axis's value as it is, where that is all that it moves.
    fn direct(&self, base: &Base, axis: &Axis) -> Option<Taking> {
        let recipe = base.recipe.as_ref().ok()?;
        let key = axis.key?;
        let moved = |place: u64| -> Option<(Value, Put)> {
            let value = axis.value(place)?;
            let one = axis.moved(value.clone())?;
            let moved = recipe.moved([&one], &evaluate::Results).ok()??;
            match fields_of(recipe, &moved)? {
                Patch::Fields(fields) => Some((value, fields)),
                _ => None,
            }
        };
        if let Key::Field(written, id) = key
            && recipe.reached(key).len() == 1
        {
            // Whatever may be said against moving it is said of the first value too.
            let (_, fields) = moved(0)?;
            let place = recipe.program.band_place(written)?;
            let [(of, field, _)] = fields.as_slice() else {
                return None;
            };
            return (*of == place && field.field.id == id)
                .then(|| vec![(place, Arc::clone(field))]);
        }
        if !axis.free() || !recipe.is_copied(key) {
            return None;
        }
        // What both ends pass, all between them does.
        let ends = [moved(0)?, moved(1)?];
        let takes = |(value, fields): &(Value, Put)| {
            fields.iter().all(|(_, field, _)| field.value == *value)
        };
        let [(_, fields), _] = &ends;
        let all = fields.iter().map(|(of, field, _)| (*of, Arc::clone(field)));
        ends.iter().all(takes).then(|| all.collect())
    }

    /// What a value moves by itself.
    pub(super) fn moves(&self, base: &Base, at: usize, axis: &Axis, value: Value) -> Patch {
        // All values of an axis are within the range of its field.
        if let Some(Some(taking)) = base.direct.get(at)
            && let Some(number) = value.bare()
        {
            let fields = taking.iter().map(|(place, field)| {
                let field = FieldValue {
                    value: value.clone(),
                    ..(**field).clone()
                };
                (*place, Arc::new(field), number)
            });
            return Patch::Fields(fields.collect());
        }
        let Ok(recipe) = &base.recipe else {
            return Patch::Barred;
        };
        let Some(one) = axis.moved(value) else {
            return Patch::Beyond;
        };
        match recipe.moved([&one], &evaluate::Results) {
            Err(_) => Patch::Barred,
            Ok(None) => Patch::Anew,
            Ok(Some(moved)) => fields_of(recipe, &moved).unwrap_or(Patch::Anew),
        }
    }
}

/// The fields of bands that moved numbers put; none where more of a band moves than its fields.
fn fields_of(recipe: &Recipe, moved: &Moved) -> Option<Patch> {
    if moved.money.is_some() || moved.orders.is_some() || !moved.alloys.is_empty() {
        return None;
    }
    let mut fields = SmallVec::new();
    for (place, band) in &moved.bands {
        let old = recipe.bands.get(*place)?;
        let same = |one: Option<&Arc<_>>, other: Option<&Arc<_>>| match (one, other) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (None, None) => true,
            _ => false,
        };
        let of_against = match (&band.against, &old.against) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (None, None) => true,
            _ => false,
        };
        if !moved.shaped.contains(place)
            || !of_against
            || !same(band.terms.as_ref(), old.terms.as_ref())
        {
            return None;
        }
        for field in band.fields.iter() {
            let id = field.field.id;
            let (new, old) = (band.fields.shared(id)?, old.fields.shared(id));
            if !old.is_some_and(|old| Arc::ptr_eq(old, new)) {
                fields.push((*place, Arc::clone(new), new.value.bare()?));
            }
        }
    }
    Some(Patch::Fields(fields))
}

impl Engine<'_> {
    /// Why the band of a row cannot be made, in words; none where it can.
    #[must_use]
    pub fn why_not(&self, row: u64) -> Option<String> {
        self.why_not_with(&self.values(row))
    }

    /// Why a reading has no value in a row whose band can be made, in words; none where that is not known.
    #[must_use]
    pub fn why_empty(&self, row: u64, reading: &Readout) -> Option<String> {
        let What::Result(band, id) = reading.what else {
            return None;
        };
        let axes = self.axes.iter();
        let lines = axes
            .zip(self.values(row))
            .map(|(axis, value)| axis.line(&value));
        let recipe = self.anew.anew(&lines.collect::<Vec<_>>()).ok()?;
        let name = self.bands.get(band)?;
        let band = recipe.bands.iter().find(|band| band.name == *name)?;
        let evaluation = evaluate::evaluate(band).ok()?;
        if id.row().dimension.money == 0 {
            return None;
        }
        match evaluation.account() {
            None => Some(words::money::NO_PRICES.to_owned()),
            Some(_) => {
                let missing = words::money::all_missing(&evaluation);
                missing
                    .into_iter()
                    .next()
                    .map(|one| format!("no {}", one.what))
            }
        }
    }

    /// What falls short first with some values, in words; none where nothing does.
    #[must_use]
    pub fn short_with(&self, values: &[Value]) -> Option<String> {
        let axes = self.axes.iter().zip(values);
        let lines: Vec<String> = axes.map(|(axis, value)| axis.line(value)).collect();
        let recipe = self.anew.anew(&lines).ok()?;
        let read = |band: &&Arc<Band>| self.bands.contains(&band.name);
        recipe.bands.iter().filter(read).find_map(|band| {
            let evaluation = evaluate::evaluate(band).ok()?;
            Some(words::findings(&evaluation).first()?.message())
        })
    }

    /// Why the band cannot be made with some values, in words; none where it can.
    #[must_use]
    pub fn why_not_with(&self, values: &[Value]) -> Option<String> {
        let axes = self.axes.iter().zip(values);
        let lines: Vec<String> = axes.map(|(axis, value)| axis.line(value)).collect();
        let recipe = match self.anew.anew(&lines) {
            Ok(recipe) => recipe,
            Err(findings) => return Some(findings.first()?.message()),
        };
        let read = |band: &&Arc<Band>| self.bands.contains(&band.name);
        recipe.bands.iter().filter(read).find_map(|band| {
            let barred = evaluate::evaluate(band).err()?;
            Some(words::barred(band, barred).first()?.message())
        })
    }
}
