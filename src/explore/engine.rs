//! Recipes with some of their numbers moved, read row after row; nothing is read or resolved twice that need not be.
//!
//! Three ways, each as exact as the next, tried from the quickest: where the moved numbers are lengths of the band's
//! section and only its metal is asked, they are put into what the kernel takes; where no value follows from two of
//! them, the fields that each moves are put into the band; else the recipe's program is run for all of them. What is
//! no number has the recipe resolved anew, once for each set of such values.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock};

use smallvec::SmallVec;

use crate::evaluate::{self, Evaluation};
use crate::finding::Finding;
use crate::kernel::Input;
use crate::model::{Band, FieldValue, Key, Move, Moved, Recipe, Value};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId, Room};
use crate::words;

use super::axis::Axis;
use super::reading::{Cell, Compared, Condition, Meant, Readout, What, lies};

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
    /// Limits or money are asked, so that a band is judged whole.
    whole: bool,
    bases: Mutex<HashMap<Vec<String>, Arc<Base>>>,
}

/// How many recipes that were resolved anew are kept.
const KEPT: usize = 512;

/// How many values of an axis have what they move kept.
const PATCHES: u64 = 200_000;

/// What a row came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Came {
    /// It is there.
    Kept,
    /// A condition does not hold.
    Dropped,
    /// Something that a condition rests on is not there.
    Unknown,
    /// Its band cannot be made.
    Barred,
}

/// The recipe with all that is no number settled.
pub struct Base {
    recipe: Result<Arc<Recipe>, Vec<Finding>>,
    /// The places of the bands that are read.
    places: Vec<Option<usize>>,
    /// Those bands as they stand, evaluated.
    known: Vec<OnceLock<Option<Evaluation>>>,
    /// The fields that the axes move and from which nothing follows, with the places of their bands.
    direct: Vec<Option<(usize, Arc<FieldValue>)>>,
    /// What each value of each axis moves, where no value follows from two of them.
    patches: Option<Vec<Vec<OnceLock<Patch>>>>,
    /// What the kernel takes of the only band that is read, where every moved number is a length in there.
    lengths: Option<Input>,
}

/// What one value of one axis moves.
#[derive(Clone, Debug)]
pub enum Patch {
    /// Fields of bands, by the bands' places in the recipe.
    Fields(SmallVec<[(usize, Arc<FieldValue>, f64); 2]>),
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
        let of_row = |id: ResultId| matches!(id.row().room, Room::Money | Room::Fineness);
        let of_names = |what: &Meant| matches!(what, Meant::Result(_, id) if of_row(*id));
        let asked = readings.iter().any(|reading| match &reading.what {
            What::Result(_, id) => of_row(*id),
            What::Holds(_) => true,
            What::Field(..) => false,
            What::Worked(worked) => worked.names.values().any(of_names),
        });
        let judged = conditions.iter().any(|one| match &one.what {
            Compared::Result { id, .. } => of_row(*id),
            Compared::Holds(_) => true,
            Compared::Worked(worked) => worked.names.values().any(of_names),
        });
        Self {
            anew,
            axes,
            bands,
            readings,
            conditions,
            whole: asked || judged,
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
    fn base(&self, lines: Vec<String>) -> Arc<Base> {
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
                let kept = axis.count() <= PATCHES && axis.key.is_some();
                let kept = if kept { axis.count() } else { 0 };
                (0..kept).map(|_| OnceLock::new()).collect()
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
        let names =
            |reading: &Readout| matches!(&reading.what, What::Worked(one) if one.reads_let());
        let compared =
            |one: &Condition| matches!(&one.what, Compared::Worked(one) if one.reads_let());
        !self.readings.iter().any(names) && !self.conditions.iter().any(compared)
    }

    /// What the kernel takes of the only band that is read, where each axis moves lengths in there and nothing else, and only metal
    /// is asked.
    fn lengths(&self, base: &Base) -> Option<Input> {
        let metal = |id: ResultId| id.row().room == Room::Metal;
        let read = self
            .readings
            .iter()
            .all(|reading| matches!(reading.what, What::Result(_, id) if metal(id)));
        let judged = self
            .conditions
            .iter()
            .all(|one| matches!(one.what, Compared::Result { id, .. } if metal(id)));
        let [Some(place)] = base.places.as_slice() else {
            return None;
        };
        if !read || !judged {
            return None;
        }
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
                    if of != place || !lengths.shape.put(field.field.id, *number) {
                        return None;
                    }
                    moved.put(Arc::clone(field));
                }
                if evaluate::input_of(&moved) != lengths {
                    return None;
                }
            }
        }
        Some(input)
    }

    /// What a value of an axis moves.
    fn patch<'s>(&self, base: &'s Base, at: usize, place: u64) -> Cow<'s, Patch> {
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

    /// The field that an axis moves, where nothing follows from it, and a number is all that it is.
    fn direct(&self, base: &Base, axis: &Axis) -> Option<(usize, Arc<FieldValue>)> {
        let recipe = base.recipe.as_ref().ok()?;
        let key = axis.key.filter(|key| recipe.reached(*key).len() == 1)?;
        let Key::Field(written, id) = key else {
            return None;
        };
        // Whatever may be said against moving it is said of the first value too.
        let one = axis.moved(axis.value(0)?)?;
        let moved = recipe.moved([&one], &evaluate::Results).ok()??;
        let Patch::Fields(fields) = fields_of(recipe, &moved)? else {
            return None;
        };
        let place = recipe.program.band_place(written)?;
        let [(of, field, _)] = fields.as_slice() else {
            return None;
        };
        (*of == place && field.field.id == id).then(|| (place, Arc::clone(field)))
    }

    /// What a value moves by itself.
    fn moves(&self, base: &Base, at: usize, axis: &Axis, value: Value) -> Patch {
        // All values of an axis are within the range of its field.
        if let Some(Some((place, field))) = base.direct.get(at)
            && let Some(number) = number_of(&value)
        {
            let field = FieldValue {
                value,
                ..(**field).clone()
            };
            return Patch::Fields(smallvec::smallvec![(*place, Arc::new(field), number)]);
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
                fields.push((*place, Arc::clone(new), number_of(&new.value)?));
            }
        }
    }
    Some(Patch::Fields(fields))
}

/// A quantity in base units; of a size its diameter.
fn number_of(value: &Value) -> Option<f64> {
    match value {
        Value::Quantity { quantity, .. } => Some(quantity.number.to_f64()),
        Value::Size { size, .. } => Some(size.diameter()),
        _ => None,
    }
}

/// Reads rows one after the other; each thread has its own.
pub struct RowReader<'e, 'a> {
    engine: &'e Engine<'a>,
    /// The recipe of the last row, and the places of what is no number in it.
    base: Option<(SmallVec<[u64; 4]>, Arc<Base>)>,
}

/// The bands of one row.
struct OneRow<'s> {
    base: &'s Base,
    recipe: &'s Recipe,
    moved: SmallVec<[(usize, Arc<Band>); 2]>,
    /// Bands of which nothing moved but their money.
    paid: SmallVec<[usize; 2]>,
    lets: Option<Moved>,
    read: SmallVec<[OnceCell<Option<Evaluation>>; 2]>,
    whole: bool,
}

impl<'e, 'a> RowReader<'e, 'a> {
    /// A reader of an engine's rows.
    #[must_use]
    pub fn new(engine: &'e Engine<'a>) -> Self {
        Self { engine, base: None }
    }

    /// How many cells a row has.
    #[must_use]
    pub fn width(&self) -> usize {
        self.engine.readings.len()
    }

    /// Reads a row by its number into cells, one for each reading; they are empty where it is not kept.
    pub fn read(&mut self, row: u64, cells: &mut Vec<Cell>) -> Came {
        let places = self.engine.places(row);
        let base = self.base_at(&places);
        let Ok(recipe) = &base.recipe else {
            return Came::Barred;
        };
        if base.patches.is_none() {
            return self.read_moved(&base, recipe, &self.engine.values(row), cells);
        }
        let mut patches: SmallVec<[Cow<'_, Patch>; 4]> = SmallVec::new();
        for (at, place) in places.iter().enumerate() {
            patches.push(self.engine.patch(&base, at, *place));
        }
        let values = || self.engine.values(row);
        self.read_patched(&base, recipe, &patches, &values, cells)
    }

    /// Reads a row of values that need not be among those of the axes.
    pub fn read_values(&mut self, values: &[Value], cells: &mut Vec<Cell>) -> Came {
        let engine = self.engine;
        let words = engine.axes.iter().zip(values);
        let words = words.filter(|(axis, _)| axis.key.is_none());
        let lines: Vec<String> = words.map(|(axis, value)| axis.line(value)).collect();
        let base = match &self.base {
            Some((known, base)) if lines.is_empty() && known.is_empty() => Arc::clone(base),
            _ => {
                let base = engine.base(lines.clone());
                if lines.is_empty() {
                    self.base = Some((SmallVec::new(), Arc::clone(&base)));
                }
                base
            }
        };
        let Ok(recipe) = &base.recipe else {
            return Came::Barred;
        };
        if base.patches.is_none() {
            return self.read_moved(&base, recipe, values, cells);
        }
        let axes = engine.axes.iter().zip(values).enumerate();
        let patches: SmallVec<[Cow<'_, Patch>; 4]> = axes
            .map(|(at, (axis, value))| Cow::Owned(engine.moves(&base, at, axis, value.clone())))
            .collect();
        self.read_patched(&base, recipe, &patches, &|| values.to_vec(), cells)
    }

    fn base_at(&mut self, places: &[u64]) -> Arc<Base> {
        let engine = self.engine;
        let axes = || engine.axes.iter().zip(places);
        let words = || axes().filter(|(axis, _)| axis.key.is_none());
        let same = |known: &[u64]| known.iter().eq(words().map(|(_, place)| place));
        if let Some((known, base)) = &self.base
            && same(known)
        {
            return Arc::clone(base);
        }
        let lines = words().filter_map(|(axis, place)| Some(axis.line(&axis.value(*place)?)));
        let base = engine.base(lines.collect());
        let known = words().map(|(_, place)| *place).collect();
        self.base = Some((known, Arc::clone(&base)));
        base
    }

    fn read_patched(
        &self,
        base: &Base,
        recipe: &Recipe,
        patches: &[Cow<'_, Patch>],
        values: &dyn Fn() -> Vec<Value>,
        cells: &mut Vec<Cell>,
    ) -> Came {
        let mut fields: SmallVec<[&(usize, Arc<FieldValue>, f64); 4]> = SmallVec::new();
        for patch in patches {
            match &**patch {
                Patch::Fields(all) => fields.extend(all),
                Patch::Beyond => {}
                Patch::Barred => return Came::Barred,
                Patch::Anew => {
                    return self.read_moved(base, recipe, &values(), cells);
                }
            }
        }
        if let Some(input) = &base.lengths {
            return self.read_lengths(base, recipe, input, &fields, cells);
        }
        let mut moved: SmallVec<[(usize, Arc<Band>); 2]> = SmallVec::new();
        for (place, field, _) in fields {
            let known = moved.iter_mut().find(|(known, _)| known == place);
            let band = match known {
                Some((_, band)) => band,
                None => {
                    let Some(band) = recipe.bands.get(*place) else {
                        continue;
                    };
                    moved.push((*place, Arc::clone(band)));
                    match moved.last_mut() {
                        Some((_, band)) => band,
                        None => continue,
                    }
                }
            };
            Arc::make_mut(band).put(Arc::clone(field));
        }
        if moved.iter().any(|(_, band)| !band.is_workable()) {
            return Came::Barred;
        }
        let row = OneRow::new(self.engine, base, recipe, moved);
        self.cells(&row, cells)
    }

    /// Metal alone, by the kernel.
    fn read_lengths(
        &self,
        base: &Base,
        recipe: &Recipe,
        input: &Input,
        fields: &[&(usize, Arc<FieldValue>, f64)],
        cells: &mut Vec<Cell>,
    ) -> Came {
        let mut input = input.clone();
        for (_, field, number) in fields {
            input.shape.put(field.field.id, *number);
        }
        let band = base.places.first().copied().flatten();
        let band = band.and_then(|place| recipe.bands.get(place));
        let stated = |id: FieldId| {
            let moved = fields.iter().find(|(_, field, _)| field.field.id == id);
            match moved {
                Some((_, _, number)) => Some(*number),
                None => band?.length(id),
            }
        };
        let Some(figures) = evaluate::metal(&input, &stated) else {
            return Came::Barred;
        };
        let read =
            |id: ResultId| evaluate::metal_result(id, &input, &figures).map(Number::computed);
        for one in &self.engine.conditions {
            if let Compared::Result {
                id,
                operator,
                number,
                ..
            } = one.what
            {
                match read(id) {
                    None => return Came::Unknown,
                    Some(found) if !lies(id, found, operator, number) => return Came::Dropped,
                    Some(_) => {}
                }
            }
        }
        cells.extend(
            self.engine
                .readings
                .iter()
                .map(|reading| match reading.what {
                    What::Result(_, id) => read(id).map_or(Cell::Empty, Cell::Number),
                    _ => Cell::Empty,
                }),
        );
        Came::Kept
    }

    /// Any values, by the recipe's program, or else resolved anew.
    fn read_moved(
        &self,
        base: &Base,
        recipe: &Recipe,
        values: &[Value],
        cells: &mut Vec<Cell>,
    ) -> Came {
        let axes = self.engine.axes.iter().zip(values);
        let moves: Vec<Move> = axes
            .clone()
            .filter_map(|(axis, value)| axis.moved(value.clone()))
            .collect();
        match recipe.moved(&moves, &evaluate::Results) {
            Err(_) => Came::Barred,
            Ok(Some(moved)) => {
                let bands = moved.bands.iter();
                let bands = bands.map(|(place, band)| (*place, Arc::clone(band)));
                let mut row = OneRow::new(self.engine, base, recipe, bands.collect());
                let paid = moved
                    .bands
                    .keys()
                    .filter(|place| !moved.shaped.contains(place));
                row.paid = paid.copied().collect();
                row.lets = Some(moved);
                self.cells(&row, cells)
            }
            Ok(None) => {
                let lines = axes.map(|(axis, value)| axis.line(value)).collect();
                let base = self.engine.base(lines);
                let Ok(recipe) = &base.recipe else {
                    return Came::Barred;
                };
                let row = OneRow::new(self.engine, &base, recipe, SmallVec::new());
                self.cells(&row, cells)
            }
        }
    }

    /// The cells of a row whose conditions hold.
    fn cells(&self, row: &OneRow<'_>, cells: &mut Vec<Cell>) -> Came {
        let engine = self.engine;
        for one in &engine.conditions {
            match row.holds(one) {
                Err(came) => return came,
                Ok(false) => return Came::Dropped,
                Ok(true) => {}
            }
        }
        // A row in which nothing that is asked can be made is none.
        let mut bands = 0..engine.bands.len();
        if bands.len() > 0 && bands.all(|band| row.evaluation(band).is_none()) {
            return Came::Barred;
        }
        cells.extend(engine.readings.iter().map(|reading| row.cell(reading)));
        Came::Kept
    }
}

impl<'s> OneRow<'s> {
    fn new(
        engine: &Engine<'_>,
        base: &'s Base,
        recipe: &'s Recipe,
        moved: SmallVec<[(usize, Arc<Band>); 2]>,
    ) -> Self {
        Self {
            base,
            recipe,
            moved,
            paid: SmallVec::new(),
            lets: None,
            read: engine.bands.iter().map(|_| OnceCell::new()).collect(),
            whole: engine.whole,
        }
    }

    fn evaluated(&self, band: &Arc<Band>) -> Option<Evaluation> {
        match self.whole {
            true => evaluate::evaluate(band).ok(),
            false => evaluate::possible(band).ok(),
        }
    }

    /// A band that is read, evaluated; none where it cannot be made.
    fn evaluation(&self, at: usize) -> Option<&Evaluation> {
        let place = self.base.places.get(at).copied().flatten()?;
        let known = || {
            let band = self.recipe.bands.get(place)?;
            let known = self.base.known.get(at)?;
            known.get_or_init(|| self.evaluated(band)).as_ref()
        };
        let Some((_, band)) = self.moved.iter().find(|(moved, _)| *moved == place) else {
            return known();
        };
        let compute = || match self.paid.contains(&place) {
            true => Some(known()?.with_money_of(Arc::clone(band))),
            false => self.evaluated(band),
        };
        self.read.get(at)?.get_or_init(compute).as_ref()
    }

    fn band(&self, at: usize) -> Option<&Arc<Band>> {
        let place = self.base.places.get(at).copied().flatten()?;
        let moved = self.moved.iter().find(|(moved, _)| *moved == place);
        moved.map_or_else(|| self.recipe.bands.get(place), |(_, band)| Some(band))
    }

    fn value(&self, meant: &Meant) -> Option<Value> {
        match meant {
            Meant::Let(name) => {
                let mut lets = self.recipe.lets.iter();
                let place = lets.position(|one| one.name == *name)?;
                let moved = self.lets.as_ref().and_then(|moved| moved.lets.get(&place));
                let one = moved.or_else(|| self.recipe.lets.get(place))?;
                Some(one.value.clone())
            }
            Meant::Field(band, id) => Some(self.band(*band)?.field(*id)?.value.clone()),
            Meant::Result(band, id) => self.evaluation(*band)?.value(id.row()),
            Meant::Fixed(value) => Some(value.clone()),
        }
    }

    fn holds(&self, condition: &Condition) -> Result<bool, Came> {
        match &condition.what {
            Compared::Result {
                band,
                id,
                operator,
                number,
            } => {
                let evaluation = self.evaluation(*band).ok_or(Came::Barred)?;
                let found = evaluation.number(*id).ok_or(Came::Unknown)?;
                Ok(lies(*id, found, *operator, *number))
            }
            Compared::Holds(band) => Ok(self.evaluation(*band).ok_or(Came::Barred)?.holds()),
            Compared::Worked(worked) => match worked.value(&|meant| self.value(meant)) {
                Some(Value::Truth(holds)) => Ok(holds),
                _ => Err(Came::Unknown),
            },
        }
    }

    fn cell(&self, reading: &Readout) -> Cell {
        match &reading.what {
            What::Result(band, id) => {
                let number = self.evaluation(*band).and_then(|one| one.number(*id));
                number.map_or(Cell::Empty, Cell::Number)
            }
            What::Field(band, id) => {
                let value = self.value(&Meant::Field(*band, *id));
                Cell::of(value, &reading.unit)
            }
            What::Holds(band) => match self.evaluation(*band) {
                Some(one) if one.holds() => Cell::Text("yes".to_owned()),
                Some(_) => Cell::Text("no".to_owned()),
                None => Cell::Empty,
            },
            What::Worked(worked) => {
                Cell::of(worked.value(&|meant| self.value(meant)), &reading.unit)
            }
        }
    }
}

impl Engine<'_> {
    /// Why the band of a row cannot be made, in words; none where it can.
    #[must_use]
    pub fn why_not(&self, row: u64) -> Option<String> {
        self.why_not_with(&self.values(row))
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
