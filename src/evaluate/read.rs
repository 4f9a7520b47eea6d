//! Results of an evaluated band as they are asked for: with unit and `±`, and every wall with its worst case.

use crate::kernel::{NamedWall, WallId, walls};
use crate::model::Value;
use crate::quantity::{Number, Quantity, to_f64, unit};
use crate::schema::{self, ResultId, ResultRow, Subject};

use super::evaluation::Evaluation;
use super::results::number;
use crate::source::Span;

use super::spread::{range, shares_of, spread};

impl Evaluation {
    /// A result in the unit of its row: exact where it can be; none where the band has no such result.
    #[must_use]
    pub fn number(&self, id: ResultId) -> Option<Number> {
        number(id, self)
    }

    /// A result as a quantity in base units.
    #[must_use]
    pub fn result(&self, entry: &ResultRow) -> Option<Quantity> {
        let number = self.number(entry.id)?;
        let unit = self.unit(entry);
        let scale = unit::scale(&unit).ok();
        let one = scale
            .and_then(|scale| scale.of_base(Number::Computed(1.0)))
            .map_or(1.0, Number::to_f64);
        let number = match (number, scale) {
            // What has more digits than are kept, as a third of a minute, is computed.
            (Number::Exact(value), Some(scale)) => match scale.to_base(value) {
                Some(base) => Number::Exact(base),
                None => Number::Computed(to_f64(value) / one),
            },
            (Number::Computed(value), Some(_)) => Number::Computed(value / one),
            (number, None) => number,
        };
        let dimension = self
            .currency()
            .map_or(entry.dimension, |of| entry.dimension.in_currency(of));
        let mut quantity = Quantity::new(number, dimension);
        for share in shares_of(self, entry) {
            quantity = quantity.deviating(
                share.variable,
                Number::Computed(share.amount.to_f64() / one),
            );
        }
        Some(quantity)
    }

    /// A result as a value with the unit that it is read in.
    #[must_use]
    pub fn value(&self, entry: &ResultRow) -> Option<Value> {
        let unit = Some(self.unit(entry).into_owned()).filter(|unit| !unit.is_empty());
        self.result(entry)
            .map(|quantity| Value::Quantity { quantity, unit })
    }

    /// What is meant where a path is both: what is computed of drawn cuts is stated of others.
    #[must_use]
    pub fn meant(&self, subject: Subject) -> Subject {
        let stated = match subject {
            Subject::Result(id) if self.number(id).is_none() => schema::find(id.path()),
            _ => None,
        };
        let stated = stated.filter(|field| self.band.field(field.id).is_some());
        stated.map_or(subject, |field| Subject::Field(field.id))
    }

    /// Where the variables stand at which a wall is thinnest.
    #[must_use]
    pub fn thinnest(&self, id: WallId) -> Vec<(Span, f64)> {
        let read = |of: &Self| {
            let walls = walls(&of.input, &of.figures);
            let wall = walls.iter().find(|wall| wall.id == id)?;
            Some(wall.thickness)
        };
        range(self, &read).map_or_else(Vec::new, |range| range.lowest)
    }

    /// Every wall, and how much thinner it may be in the worst case.
    #[must_use]
    pub fn walls(&self) -> Vec<(NamedWall, f64)> {
        let worst = |id: WallId| {
            let read = |of: &Evaluation| {
                let walls = walls(&of.input, &of.figures);
                let wall = walls.iter().find(|wall| wall.id == id)?;
                Some(wall.thickness)
            };
            spread(self, &read).map_or(0.0, |spread| -spread.low)
        };
        let walls = walls(&self.input, &self.figures).into_iter();
        walls.map(|wall| (wall, worst(wall.id))).collect()
    }
}
