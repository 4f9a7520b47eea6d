//! From one row to the next, where lengths alone move: only those of the axes that moved are put in anew.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use smallvec::SmallVec;

use crate::kernel::Figures;
use crate::model::{Band, FieldValue};
use crate::schema::FieldId;

use super::axis::Axis;
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
    /// The places of the axes, where it stands at a row, and the fields that each has put.
    places: SmallVec<[u64; 4]>,
    fields: SmallVec<[SmallVec<[FieldId; 2]>; 4]>,
    /// What the last axis puts.
    ahead: Ahead,
}

/// What a step came to.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Stepped {
    /// The lengths are in.
    There,
    /// One of the values is out of range.
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
            ahead: Ahead::default(),
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
        let mut axes = places.iter().enumerate();
        let is_there = axes.all(|(at, place)| {
            self.places.get(at) == Some(place) || self.put_axis(at, &engine.patch(base, at, *place))
        });
        let stepped = match is_there {
            true => Stepped::There,
            false => {
                let axes = places.iter().enumerate();
                let patches = axes.map(|(at, place)| engine.patch(base, at, *place));
                self.anew(base, patches)
            }
        };
        self.places = match stepped {
            Stepped::There => SmallVec::from_slice(places),
            Stepped::Barred | Stepped::Beyond => SmallVec::new(),
        };
        stepped
    }

    /// Steps to what values move that need not be among those of the axes.
    pub fn step_to(&mut self, base: &Base, patches: &[Cow<'_, Patch>]) -> Stepped {
        self.places.clear();
        let mut axes = patches.iter().enumerate();
        match axes.all(|(at, patch)| self.put_axis(at, patch)) {
            true => Stepped::There,
            false => self.anew(base, patches.iter().map(|patch| Cow::Borrowed(&**patch))),
        }
    }

    /// Puts in what a value of an axis moves; false, with nothing put in, where that is not what it moved before.
    fn put_axis(&mut self, at: usize, patch: &Patch) -> bool {
        let Patch::Fields(fields) = patch else {
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
        true
    }

    fn anew<'p>(&mut self, base: &Base, patches: impl Iterator<Item = Cow<'p, Patch>>) -> Stepped {
        let Some(anew) = Self::of(base) else {
            return Stepped::Beyond;
        };
        let ahead = std::mem::take(&mut self.ahead);
        *self = Self { ahead, ..anew };
        let mut all = SmallVec::new();
        for patch in patches {
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
        Stepped::There
    }

    /// The cells of the row that it stands at.
    pub fn read(&mut self, engine: &Engine<'_>, cells: &mut Vec<Cell>) -> Came {
        self.lengths
            .read(&engine.conditions, &engine.readings, &mut self.room, cells)
    }

    /// Reads the rows at some places of the last axis, while it takes its values as they are and metal alone is read: what
    /// became of them is handed on, as many as are kept behind each other at once. How many they were.
    pub fn read_along(
        &mut self,
        engine: &Engine<'_>,
        base: &Base,
        places: Range<u64>,
        cells: &mut Vec<Cell>,
        mut each: impl FnMut(Came, u64, &mut Vec<Cell>),
    ) -> u64 {
        let stands = self.band.is_none() && self.places.len() == engine.axes.len();
        let is_direct = base.direct.last().is_some_and(Option::is_some);
        let (Some(axis), Some(place)) = (engine.axes.last(), self.places.last_mut()) else {
            return 0;
        };
        if !stands || !is_direct {
            return 0;
        }
        let numbers = self.ahead.of(axis, places);
        let (Some(fields), Some(last)) = (self.fields.last(), numbers.last()) else {
            return 0;
        };
        let (conditions, readings) = (&engine.conditions, &engine.readings);
        let (lengths, room) = (&mut self.lengths, &mut self.room);
        let mut level = lengths.level();
        let mut kept = 0;
        for number in numbers {
            let light = level.as_mut().is_some_and(|level| {
                fields.iter().all(|field| level.put(*field, *number))
                    && room.weigh_level(&lengths.input, level)
            });
            let came = match light {
                true => lengths.told(conditions, readings, room, cells),
                false => {
                    lengths.put_all(fields, *number);
                    lengths.read(conditions, readings, room, cells)
                }
            };
            if came == Came::Kept {
                kept += 1;
                continue;
            }
            each(Came::Kept, std::mem::take(&mut kept), cells);
            each(came, 1, cells);
        }
        each(Came::Kept, kept, cells);
        lengths.put_all(fields, *last);
        *place += numbers.len() as u64;
        numbers.len() as u64
    }
}

/// What an axis puts at its places.
#[derive(Default)]
struct Ahead {
    /// By all places; no number where that is not known yet, nor where it is none. Where they are too many to be kept, by
    /// those last asked for.
    numbers: Vec<f64>,
}

impl Ahead {
    /// The numbers at some places, up to one that is none.
    fn of(&mut self, axis: &Axis, places: Range<u64>) -> &[f64] {
        let number = |place: u64| axis.plain(place).unwrap_or(f64::NAN);
        let kept = axis.kept();
        let count = (places.end - places.start) as usize;
        let begin = match kept {
            0 => {
                self.numbers.clear();
                self.numbers.extend(places.clone().map(number));
                0
            }
            _ => {
                self.numbers.resize(kept, f64::NAN);
                places.start as usize
            }
        };
        let numbers = self
            .numbers
            .get_mut(begin..begin + count)
            .unwrap_or_default();
        for (known, place) in numbers.iter_mut().zip(places) {
            if known.is_nan() {
                *known = number(place);
            }
        }
        let count = numbers.iter().take_while(|one| !one.is_nan()).count();
        numbers.get(..count).unwrap_or_default()
    }
}
