//! Rows in which lengths of one band's section move and nothing else: they are put into what the kernel takes; where only
//! metal is read, what the kernel need not compute for it it does not.

use crate::evaluate;
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
    /// Volumes alone are wanted, of a band that is made to size.
    pub level: bool,
}

impl Lengths {
    /// Puts one length in.
    pub fn put(&mut self, field: FieldId, number: f64) {
        self.input.shape.put(field, number);
        self.stated.put(field, number);
    }

    /// The cells of a row of which only metal is read, if its band can be made and all conditions hold; the figures are computed where there is room
    /// for them.
    pub fn read(
        &self,
        conditions: &[Condition],
        readings: &[Readout],
        room: &mut Figures,
        cells: &mut Vec<Cell>,
    ) -> Came {
        if !self.compute(room) {
            return Came::Barred;
        }
        let figures = &*room;
        let read =
            |id: ResultId| evaluate::metal_result(id, &self.input, figures).map(Number::computed);
        for one in conditions {
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
        cells.extend(readings.iter().map(|reading| match &reading.what {
            What::Result(_, id) => read(*id).map_or(Cell::Empty, Cell::Number),
            What::Same(cell) => cell.clone(),
            _ => Cell::Empty,
        }));
        Came::Kept
    }
}

impl Lengths {
    /// Computes what is wanted; false where the band cannot be made.
    fn compute(&self, room: &mut Figures) -> bool {
        // A solid band of level outside and bore that needs no stretch.
        if self.level
            && kernel::is_consistent(&self.input.shape, &self.stated)
            && kernel::level_figures(&self.input, room)
        {
            return true;
        }
        let wanted = self.metal.unwrap_or(FiguresWanted::All);
        match evaluate::metal(&self.input, &self.stated, wanted) {
            Some(figures) => {
                *room = figures;
                true
            }
            None => false,
        }
    }
}
