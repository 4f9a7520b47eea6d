//! Rows in which lengths of one band's section move and nothing else: they are put into what the kernel takes; where only
//! metal is read, what the kernel need not compute for it it does not.

use crate::evaluate;
use crate::kernel::section::Level;
use crate::kernel::{self, Figures, FiguresWanted, Input, SaidTwice};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};

use super::reading::{Came, Cell, Compared, Condition, Readout, What, lies};

/// What the kernel takes of the only band that is read, before anything is moved.
#[derive(Clone)]
pub(super) struct Lengths {
    /// The place of that band in the recipe.
    pub band: usize,
    pub input: Input,
    pub stated: SaidTwice,
    /// Only its metal is read, and of that so much.
    pub metal: Option<FiguresWanted>,
    /// It is of a band that is made to size, without stretch.
    pub to_size: bool,
}

impl Lengths {
    /// Puts one length in.
    pub fn put(&mut self, field: FieldId, number: f64) {
        self.input.shape.put(field, number);
        self.stated.put(field, number);
    }

    /// Puts the same length into some fields.
    pub fn put_all(&mut self, fields: &[FieldId], number: f64) {
        for field in fields {
            self.put(*field, number);
        }
    }

    /// The cells of a row of which only metal is read, if its band can be made and all conditions hold; the figures are
    /// computed where there is room for them.
    pub fn read(
        &self,
        conditions: &[Condition],
        readings: &[Readout],
        room: &mut Figures,
        cells: &mut Vec<Cell>,
    ) -> Came {
        match self.compute(room) {
            true => self.told(conditions, readings, room, cells),
            false => Came::Barred,
        }
    }

    /// The same with figures that are there.
    #[inline]
    pub fn told(
        &self,
        conditions: &[Condition],
        readings: &[Readout],
        figures: &Figures,
        cells: &mut Vec<Cell>,
    ) -> Came {
        if !conditions.is_empty() {
            match self.judged(conditions, figures) {
                Came::Kept => {}
                came => return came,
            }
        }
        for reading in readings {
            cells.push(match &reading.what {
                // Mostly that is what is read.
                What::Result(_, ResultId::Weight) => Cell::Number(Number::computed(figures.weight)),
                What::Result(_, id) => self.result(*id, figures).map_or(Cell::Empty, Cell::Number),
                What::Same(cell) => cell.clone(),
                _ => Cell::Empty,
            });
        }
        Came::Kept
    }

    /// What becomes of a row by its conditions.
    fn judged(&self, conditions: &[Condition], figures: &Figures) -> Came {
        for one in conditions {
            if let Compared::Result {
                id,
                operator,
                number,
                ..
            } = one.what
            {
                match self.result(id, figures) {
                    None => return Came::Unknown,
                    Some(found) if !lies(id, found, operator, number) => return Came::Dropped,
                    Some(_) => {}
                }
            }
        }
        Came::Kept
    }

    fn result(&self, id: ResultId, figures: &Figures) -> Option<Number> {
        evaluate::metal_result(id, &self.input, figures).map(Number::computed)
    }

    /// A solid band of level outside and bore, where nothing but its volumes and weights is read.
    pub fn level(&self) -> Option<Level> {
        let light = self.to_size && self.metal == Some(FiguresWanted::Weights);
        match light && kernel::is_said_once(&self.input.shape, &self.stated) {
            true => kernel::level(&self.input),
            false => None,
        }
    }

    /// Computes what is wanted; false where the band cannot be made.
    fn compute(&self, room: &mut Figures) -> bool {
        let wanted = self.metal.unwrap_or(FiguresWanted::All);
        let (input, stated) = (&self.input, &self.stated);
        if self.to_size
            && wanted != FiguresWanted::All
            && kernel::is_consistent(&input.shape, stated)
            && let Some(level) = kernel::level(input)
            && room.weigh_level(input, &level)
        {
            room.measure_level(input);
            return true;
        }
        match evaluate::metal(input, stated, wanted) {
            Some(figures) => {
                *room = figures;
                true
            }
            None => false,
        }
    }
}
