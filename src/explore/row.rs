//! One row after the other: the quickest of the three ways that its values allow.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::sync::Arc;

use smallvec::{SmallVec, smallvec};

use crate::evaluate::{self, Evaluation};
use crate::model::{Band, FieldValue, Move, Moved, Recipe, Value};
use crate::quantity::{Number, Quantity};

use super::engine::{Base, Engine, Patch};
use super::lengths::Lengths;
use super::reading::{Came, Cell, Compared, Condition, Meant, Readout, What, lies};
use super::stepping::{Stepped, Stepping};

/// Reads rows one after the other; each thread has its own.
pub struct RowReader<'e, 'a> {
    engine: &'e Engine<'a>,
    /// The recipe of the last row, and the places of what is no number in it.
    base: Option<(SmallVec<[u64; 4]>, Arc<Base>)>,
    /// Its lengths, where lengths alone move.
    stepping: Option<Stepping>,
    /// The last row, and the places of its values along the axes.
    row: Option<u64>,
    places: SmallVec<[u64; 4]>,
}

/// The bands of one row.
struct OneRow<'s> {
    base: &'s Base,
    recipe: &'s Recipe,
    moved: SmallVec<[(usize, Arc<Band>); 2]>,
    /// Bands of which nothing moved but their money.
    paid: SmallVec<[usize; 2]>,
    lets: Option<Moved>,
    /// What the kernel takes of the only band that is read, where it is known.
    lengths: Option<&'s Lengths>,
    /// Nothing of that band may be off.
    nothing_off: bool,
    read: SmallVec<[OnceCell<Option<Box<Evaluation>>>; 2]>,
}

impl<'e, 'a> RowReader<'e, 'a> {
    /// A reader of an engine's rows.
    #[must_use]
    pub fn new(engine: &'e Engine<'a>) -> Self {
        Self {
            engine,
            base: None,
            stepping: None,
            row: None,
            places: SmallVec::new(),
        }
    }

    /// How many cells a row has.
    #[must_use]
    pub fn width(&self) -> usize {
        self.engine.readings.len()
    }

    /// Reads a row by its number into cells, one for each reading; they are empty where it is not kept.
    pub fn read(&mut self, row: u64, cells: &mut Vec<Cell>) -> Came {
        self.step_to(row);
        self.stand_on_base();
        let (engine, places) = (self.engine, &self.places);
        let Some((_, base)) = &self.base else {
            return Came::Barred;
        };
        let Ok(recipe) = &base.recipe else {
            return Came::Barred;
        };
        if let Some(stepping) = &mut self.stepping {
            match stepping.step(engine, base, places) {
                Stepped::There => return stood(engine, base, recipe, stepping, cells),
                Stepped::Barred => return Came::Barred,
                Stepped::Beyond => {}
            }
        }
        if base.patches.is_none() {
            return self.read_moved(base, recipe, &engine.values(row), cells);
        }
        let mut patches: SmallVec<[Cow<'_, Patch>; 4]> = SmallVec::new();
        for (at, place) in places.iter().enumerate() {
            patches.push(engine.patch(base, at, *place));
        }
        let values = || engine.values(row);
        self.read_patched(base, recipe, &patches, &values, cells)
    }

    /// Reads rows behind the last one, up to another, as long as nothing but lengths on the last axis moves and only metal is
    /// read: what became of them is handed on, some at once, their cells behind those before. The first row that is not read.
    pub(super) fn read_along(
        &mut self,
        from: u64,
        to: u64,
        cells: &mut Vec<Cell>,
        each: impl FnMut(Came, u64, &mut Vec<Cell>),
    ) -> u64 {
        let engine = self.engine;
        let stands = self.row.is_some() && self.row == from.checked_sub(1);
        let (Some(stepping), Some((_, base)), Some(axis), Some(place)) = (
            &mut self.stepping,
            &self.base,
            engine.axes.last(),
            self.places.last_mut(),
        ) else {
            return from;
        };
        if !stands {
            return from;
        }
        let begin = *place + 1;
        let end = axis.count().min(begin.saturating_add(to - from));
        let read = stepping.read_along(engine, base, begin..end, cells, each);
        *place += read;
        self.row = Some(from - 1 + read);
        from + read
    }

    /// Goes to the places of a row: the next one moves the last axis, and the one before it when that begins again.
    fn step_to(&mut self, row: u64) {
        let next = self.row.and_then(|last| last.checked_add(1)) == Some(row);
        self.row = Some(row);
        if !next {
            self.places = self.engine.places(row);
            return;
        }
        for (place, axis) in self.places.iter_mut().zip(&self.engine.axes).rev() {
            *place += 1;
            if *place < axis.count() {
                return;
            }
            *place = 0;
        }
    }

    /// Reads a row of values that need not be among those of the axes.
    pub fn read_values(&mut self, values: &[Value], cells: &mut Vec<Cell>) -> Came {
        if evaluate::stopped() {
            return Came::Barred;
        }
        let engine = self.engine;
        self.row = None;
        let words = engine.axes.iter().zip(values);
        let words = words.filter(|(axis, _)| axis.key.is_none());
        let lines: Vec<String> = words.map(|(axis, value)| axis.line(value)).collect();
        let is_known = |(known, _): &(SmallVec<_>, _)| lines.is_empty() && known.is_empty();
        if !self.base.as_ref().is_some_and(is_known) {
            // Such words are at no place of their axis.
            self.stand_on(SmallVec::from_elem(u64::MAX, lines.len()), lines);
        }
        let Some((_, base)) = &self.base else {
            return Came::Barred;
        };
        let Ok(recipe) = &base.recipe else {
            return Came::Barred;
        };
        if base.patches.is_none() {
            return self.read_moved(base, recipe, values, cells);
        }
        let axes = engine.axes.iter().zip(values).enumerate();
        let patches: SmallVec<[Cow<'_, Patch>; 4]> = axes
            .map(|(at, (axis, value))| Cow::Owned(engine.moves(base, at, axis, value.clone())))
            .collect();
        if let Some(stepping) = &mut self.stepping {
            match stepping.step_to(base, &patches) {
                Stepped::There => return stood(engine, base, recipe, stepping, cells),
                Stepped::Barred => return Came::Barred,
                Stepped::Beyond => {}
            }
        }
        self.read_patched(base, recipe, &patches, &|| values.to_vec(), cells)
    }

    /// Finds the recipe of the places that are no numbers.
    fn stand_on_base(&mut self) {
        let engine = self.engine;
        let axes = || engine.axes.iter().zip(&self.places);
        let words = || axes().filter(|(axis, _)| axis.key.is_none());
        let same = |known: &[u64]| known.iter().eq(words().map(|(_, place)| place));
        if let Some((known, _)) = &self.base
            && same(known)
        {
            return;
        }
        let lines = words().filter_map(|(axis, place)| Some(axis.line(&axis.value(*place)?)));
        let lines = lines.collect();
        self.stand_on(words().map(|(_, place)| *place).collect(), lines);
    }

    fn stand_on(&mut self, known: SmallVec<[u64; 4]>, lines: Vec<String>) {
        let base = self.engine.base(lines);
        self.stepping = Stepping::of(&base);
        self.base = Some((known, base));
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
        row.cells(self.engine, cells)
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
                row.cells(self.engine, cells)
            }
            Ok(None) => {
                let lines = axes.map(|(axis, value)| axis.line(value)).collect();
                let base = self.engine.base(lines);
                let Ok(recipe) = &base.recipe else {
                    return Came::Barred;
                };
                let row = OneRow::new(self.engine, &base, recipe, SmallVec::new());
                row.cells(self.engine, cells)
            }
        }
    }
}

/// The cells of the row that lengths stand at.
fn stood(
    engine: &Engine<'_>,
    base: &Base,
    recipe: &Recipe,
    stepping: &mut Stepping,
    cells: &mut Vec<Cell>,
) -> Came {
    let Some(band) = &stepping.band else {
        return stepping.read(engine, cells);
    };
    let lengths = &stepping.lengths;
    let moved = smallvec![(lengths.band, Arc::clone(band))];
    let mut row = OneRow::new(engine, base, recipe, moved);
    row.lengths = Some(lengths);
    row.nothing_off = stepping.nothing_off;
    row.cells(engine, cells)
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
            lengths: None,
            nothing_off: false,
            read: engine.bands.iter().map(|_| OnceCell::new()).collect(),
        }
    }

    /// The cells, if all conditions hold.
    fn cells(&self, engine: &Engine<'_>, cells: &mut Vec<Cell>) -> Came {
        for one in &engine.conditions {
            match self.holds(one) {
                Err(came) => return came,
                Ok(false) => return Came::Dropped,
                Ok(true) => {}
            }
        }
        // A row in which nothing that is asked can be made is none.
        let mut bands = 0..engine.bands.len();
        if !bands.is_empty() && bands.all(|band| self.evaluation(band).is_none()) {
            return Came::Barred;
        }
        cells.extend(engine.readings.iter().map(|reading| self.cell(reading)));
        Came::Kept
    }

    /// In a box at once, since it is large to be moved.
    fn evaluated(&self, band: &Arc<Band>) -> Option<Box<Evaluation>> {
        let Some(lengths) = self.lengths else {
            return evaluate::sound(band).map(Box::new);
        };
        let found = evaluate::sound_with(band, lengths.input.clone(), &lengths.stated);
        let mut found = found.map(Box::new)?;
        if self.nothing_off {
            found.set_nothing_off();
        }
        Some(found)
    }

    /// A band that is read, evaluated; none where it cannot be made.
    fn evaluation(&self, at: usize) -> Option<&Evaluation> {
        let place = self.base.places.get(at).copied().flatten()?;
        let known = || {
            let band = self.recipe.bands.get(place)?;
            let known = self.base.known.get(at)?;
            known.get_or_init(|| evaluate::sound(band)).as_ref()
        };
        let Some((_, band)) = self.moved.iter().find(|(moved, _)| *moved == place) else {
            return known();
        };
        let compute = || match self.paid.contains(&place) {
            true => Some(Box::new(known()?.with_money_of(Arc::clone(band)))),
            false => self.evaluated(band),
        };
        let read = self.read.get(at)?;
        read.get_or_init(compute).as_deref()
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
            Meant::Setting(path) => {
                let moved = self.lets.as_ref().and_then(|moved| moved.money.as_ref());
                let money = moved.or(self.recipe.money.as_ref())?;
                Some(money.said.setting(path)?.value.value.clone())
            }
            Meant::Alloy(name, path) => {
                let mut alloys = self.recipe.alloys.iter();
                let place = alloys.position(|one| one.name == *name)?;
                let moved = self
                    .lets
                    .as_ref()
                    .and_then(|moved| moved.alloys.get(&place));
                moved.or_else(|| self.recipe.alloys.get(place))?.value(path)
            }
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
            Compared::Holds(band) => Ok(self.evaluation(*band).ok_or(Came::Barred)?.keeps()),
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
                Some(one) if one.keeps() => Cell::Text("yes".to_owned()),
                Some(_) => Cell::Text("no".to_owned()),
                None => Cell::Empty,
            },
            What::Missing(band) => {
                let missing = self.evaluation(*band).map(Evaluation::missing);
                missing.map_or(Cell::Empty, |by| Cell::Number(Number::Computed(by)))
            }
            What::Same(cell) => cell.clone(),
            What::Off(worked) => {
                let value = worked.value(&|meant| self.value(meant));
                let found = value.as_ref().and_then(Value::measured);
                let off =
                    found.map(|(of, _)| Quantity::new(Number::Computed(of.worst()), of.dimension));
                let off = off.map(|quantity| Value::Quantity {
                    quantity,
                    unit: None,
                });
                Cell::of(off, &reading.unit)
            }
            What::Worked(worked) => {
                Cell::of(worked.value(&|meant| self.value(meant)), &reading.unit)
            }
        }
    }
}
