//! The metal that remains under a struck mark.
//!
//! A mark is struck from outside into the shell, from the bore into the sleeve at mid width; into a solid band
//! from either side. The wall under it is what remains there without the mark, under the cut where there is
//! one, less its depth: the worst place that it can be struck at.

use crate::schema::FieldId;
use smallvec::SmallVec;

use crate::geometry::{Bodies, NamedWall};

use super::input::Input;

/// Depths of struck marks in mm; 0 where none is struck.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Marks {
    /// In the shell; in a solid band the mark itself.
    pub shell: f64,
    /// In the sleeve.
    pub sleeve: f64,
}

/// The walls under the marks of a band.
#[must_use]
pub fn under_marks(input: &Input, bodies: &Bodies) -> SmallVec<[NamedWall; 2]> {
    let mut walls = SmallVec::new();
    let mut add = |name, thickness: f64, deep: f64, x| {
        if deep > 0.0 {
            walls.push(NamedWall {
                name,
                field: FieldId::MarkDeep,
                thickness: thickness - deep,
                x,
            });
        }
    };
    let Marks { shell, sleeve } = input.marks;
    match (&bodies.parts, &input.shape.hollow) {
        (Some(parts), Some(hollow)) => {
            let under_cut = parts.walls.under_cut.thickness;
            let thin = parts
                .walls
                .shell
                .map_or(under_cut, |wall| wall.min(under_cut));
            add("shell under the mark", thin, shell, None);
            let thin = hollow.relief.unwrap_or(hollow.sleeve);
            add("sleeve under the mark", thin, sleeve, Some(0.0));
        }
        _ => add(
            "band under the mark",
            bodies.solid_wall.thickness,
            shell.max(sleeve),
            None,
        ),
    }
    walls
}
