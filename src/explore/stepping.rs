//! From one row to the next, where lengths alone move: only those of the axes that moved are put in anew.

use std::sync::Arc;

use smallvec::SmallVec;

use crate::kernel::Figures;
use crate::model::{Band, FieldValue};
use crate::schema::FieldId;

use super::engine::{Base, Engine, Patch};
use super::lengths::Lengths;
use super::reading::{Came, Cell};

/// What the kernel takes of a band, with the lengths of one row put in.
pub(super) struct Stepping {
    pub lengths: Lengths,
    /// The band with them put in too; none where only metal is read.
    pub band: Option<Arc<Band>>,
    /// Nothing of that band may be off.
    pub nothing_off: bool,
    /// Where its figures are computed.
    room: Figures,
    /// The places of the axes, and the fields that each has put.
    places: SmallVec<[u64; 4]>,
    fields: SmallVec<[SmallVec<[FieldId; 2]>; 4]>,
}

/// What a step to a row came to.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Stepped {
    /// Its lengths are in.
    There,
    /// One of its values is out of range.
    Barred,
    /// More than lengths follows from one of them.
    Beyond,
}

impl Stepping {
    /// Nothing is put in yet; none where more than lengths may move.
    pub fn of(base: &Base) -> Option<Self> {
        let lengths = base.lengths.clone()?;
        let band = || base.recipe.as_ref().ok()?.bands.get(lengths.band);
        Some(Self {
            band: match lengths.metal {
                Some(_) => None,
                None => Some(Arc::clone(band()?)),
            },
            lengths,
            nothing_off: false,
            room: Figures::NONE,
            places: SmallVec::new(),
            fields: SmallVec::new(),
        })
    }

    fn put(&mut self, field: &Arc<FieldValue>, number: f64) {
        self.lengths.put(field.field.id, number);
        if let Some(band) = &mut self.band {
            Arc::make_mut(band).put(Arc::clone(field));
            self.nothing_off &= !field.value.is_off();
        }
    }

    /// Steps to a row.
    pub fn step(&mut self, engine: &Engine<'_>, base: &Base, places: &[u64]) -> Stepped {
        if self.places.len() != places.len() {
            return self.anew(engine, base, places);
        }
        for (at, place) in places.iter().enumerate() {
            if self.places.get(at) != Some(place) && !self.move_axis(engine, base, at, *place) {
                return self.anew(engine, base, places);
            }
        }
        Stepped::There
    }

    /// Puts in what an axis moves at a place; false, with nothing put in, where that is not what it moved before.
    pub fn move_axis(&mut self, engine: &Engine<'_>, base: &Base, at: usize, place: u64) -> bool {
        let patch = engine.patch(base, at, place);
        let Patch::Fields(fields) = &*patch else {
            return false;
        };
        let band = self.lengths.band;
        let own = || fields.iter().filter(|(of, ..)| *of == band);
        let put = own().map(|(_, field, _)| field.field.id);
        let same = |known: &SmallVec<_>| put.eq(known.iter().copied());
        if !self.fields.get(at).is_some_and(same) {
            return false;
        }
        for (_, field, number) in own() {
            self.put(field, *number);
        }
        if let Some(known) = self.places.get_mut(at) {
            *known = place;
        }
        true
    }

    fn anew(&mut self, engine: &Engine<'_>, base: &Base, places: &[u64]) -> Stepped {
        let Some(anew) = Self::of(base) else {
            return Stepped::Beyond;
        };
        *self = anew;
        let mut all = SmallVec::new();
        for (at, place) in places.iter().enumerate() {
            let patch = engine.patch(base, at, *place);
            let mut put = SmallVec::new();
            match &*patch {
                Patch::Fields(fields) => {
                    let band = self.lengths.band;
                    for (_, field, number) in fields.iter().filter(|(of, ..)| *of == band) {
                        self.put(field, *number);
                        put.push(field.field.id);
                    }
                }
                Patch::Beyond => {}
                Patch::Barred => return Stepped::Barred,
                Patch::Anew => return Stepped::Beyond,
            }
            all.push(put);
        }
        // Which numbers may be off does not depend on how large they are.
        self.nothing_off = self
            .band
            .as_ref()
            .is_some_and(|band| band.ranged().is_empty());
        self.fields = all;
        self.places = SmallVec::from_slice(places);
        Stepped::There
    }

    /// The cells of the row that it stands at.
    pub fn read(&mut self, engine: &Engine<'_>, cells: &mut Vec<Cell>) -> Came {
        self.lengths
            .read(&engine.conditions, &engine.readings, &mut self.room, cells)
    }
}
