//! The metal that remains under a struck mark.
//!
//! A mark is struck from outside into the shell, from the bore into the sleeve at mid width; into a solid band
//! from either side. The wall under it is what remains there without the mark, under the cut where there is
//! one, less its depth: the worst place that it can be struck at.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::section::{Bodies, Shape};
use super::walls::{NamedWall, WallId};

/// Depths of struck marks in mm; 0 where none is struck.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Marks {
    /// In the shell; in a solid band the mark itself.
    pub shell: f64,
    /// In the sleeve.
    pub sleeve: f64,
}

impl Marks {
    /// The depth of the mark, wherever it is struck.
    #[must_use]
    pub fn deep(&self) -> f64 {
        self.shell.max(self.sleeve)
    }

    /// The walls under the marks of a band.
    #[must_use]
    pub fn walls(&self, shape: &Shape, bodies: &Bodies) -> SmallVec<[NamedWall; 2]> {
        let mut walls = SmallVec::new();
        let mut add = |id, thickness: f64, deep: f64, x| {
            if deep > 0.0 {
                walls.push(NamedWall {
                    id,
                    field: FieldId::MarkDeep,
                    thickness: thickness - deep,
                    x,
                    cut: None,
                });
            }
        };
        match (&bodies.parts, &shape.hollow) {
            (Some(parts), Some(hollow)) => {
                let under_cut = parts.walls.under_cut.thickness;
                let thin = parts
                    .walls
                    .shell
                    .map_or(under_cut, |wall| wall.min(under_cut));
                add(WallId::ShellUnderMark, thin, self.shell, None);
                let thin = hollow.relief.unwrap_or(hollow.sleeve);
                add(WallId::SleeveUnderMark, thin, self.sleeve, Some(0.0));
            }
            _ => add(
                WallId::BandUnderMark,
                bodies
                    .drawn
                    .map_or(f64::INFINITY, |under| under.value)
                    .min(bodies.solid_wall.thickness),
                self.deep(),
                None,
            ),
        }
        walls
    }
}
