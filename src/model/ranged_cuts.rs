//! What may be off of drawn cuts and of the cutters that make them.

use std::sync::Arc;

use crate::source::Span;

use super::band::Band;
use super::cuts::Cutter;
use super::ranged::shifted;
use super::values::{FieldValue, Values};

impl Band {
    /// What named cuts state of their own, and what their cutters are, each with its path; a cutter once.
    pub(super) fn of_cuts(&self) -> Vec<(String, &FieldValue)> {
        let own = self.cuts.iter().flat_map(|cut| {
            let values = cut.own.iter().flat_map(Values::iter);
            values.map(|field| {
                let path = format!("{}.{}", self.name, cut.path(field.field.id));
                (path, field)
            })
        });
        let mut all: Vec<_> = own.collect();
        for cutter in self.cutters() {
            let values = cutter.values.iter();
            all.extend(values.map(|field| {
                let path = format!("cutter.{}.{}", cutter.name, field.field.word());
                (path, field)
            }));
        }
        all
    }

    /// Puts the values of cuts and cutters where they stand at a point of the ranges.
    pub(super) fn put_cuts_at(&self, band: &mut Self, point: &dyn Fn(Span) -> f64) {
        let moves =
            |field: &FieldValue| self.off(field).iter().any(|one| point(one.variable) != 0.0);
        if !self.of_cuts().iter().any(|(_, field)| moves(field)) {
            return;
        }
        for cut in Arc::make_mut(&mut band.cuts).iter_mut() {
            if let Some(own) = &mut cut.own {
                self.put_at(own, point);
            }
            if let Some(cutter) = &mut cut.cutter {
                let mut moved = Cutter::clone(cutter);
                self.put_at(&mut moved.values, point);
                *cutter = Arc::new(moved);
            }
        }
    }

    fn put_at(&self, values: &mut Values, point: &dyn Fn(Span) -> f64) {
        let moved = values.iter().filter_map(|field| {
            let value = shifted(&field.value, &self.off(field), field.field.takes, point)?;
            Some(FieldValue {
                value,
                ..field.clone()
            })
        });
        for field in moved.collect::<Vec<_>>() {
            values.put(field);
        }
    }
}
