//! From one row to the next, where lengths alone move: only those of the axes that moved are put in anew.

use smallvec::SmallVec;

use crate::kernel::Figures;
use crate::schema::FieldId;

use super::engine::{Base, Engine, Patch};
use super::lengths::Lengths;
use super::reading::{Came, Cell};

/// What the kernel takes of a band, with the lengths of one row put in.
pub(super) struct Stepping {
    lengths: Lengths,
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
    /// Nothing is put in yet.
    pub fn of(lengths: &Lengths) -> Self {
        Self {
            lengths: lengths.clone(),
            room: Figures::NONE,
            places: SmallVec::new(),
            fields: SmallVec::new(),
        }
    }

    /// Steps to a row.
    pub fn step(&mut self, engine: &Engine<'_>, base: &Base, places: &[u64]) -> Stepped {
        if self.places.len() != places.len() {
            return self.anew(engine, base, places);
        }
        for (at, place) in places.iter().enumerate() {
            if self.places.get(at) == Some(place) {
                continue;
            }
            let patch = engine.patch(base, at, *place);
            let Patch::Fields(fields) = &*patch else {
                return self.anew(engine, base, places);
            };
            let band = self.lengths.band;
            let own = || fields.iter().filter(|(of, ..)| *of == band);
            let put = own().map(|(_, field, _)| field.field.id);
            let same = |known: &SmallVec<_>| put.eq(known.iter().copied());
            if !self.fields.get(at).is_some_and(same) {
                return self.anew(engine, base, places);
            }
            for (_, field, number) in own() {
                self.lengths.put(field.field.id, *number);
            }
            if let Some(known) = self.places.get_mut(at) {
                *known = *place;
            }
        }
        Stepped::There
    }

    fn anew(&mut self, engine: &Engine<'_>, base: &Base, places: &[u64]) -> Stepped {
        let Some(lengths) = &base.lengths else {
            return Stepped::Beyond;
        };
        *self = Self::of(lengths);
        let mut all = SmallVec::new();
        for (at, place) in places.iter().enumerate() {
            let patch = engine.patch(base, at, *place);
            let mut put = SmallVec::new();
            match &*patch {
                Patch::Fields(fields) => {
                    let own = fields.iter().filter(|(of, ..)| *of == lengths.band);
                    for (_, field, number) in own {
                        self.lengths.put(field.field.id, *number);
                        put.push(field.field.id);
                    }
                }
                Patch::Beyond => {}
                Patch::Barred => return Stepped::Barred,
                Patch::Anew => return Stepped::Beyond,
            }
            all.push(put);
        }
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
