//! The metal that remains under a mark, and the wall that a punch is struck against.
//!
//! A mark is struck from outside into the shell, from the bore into the sleeve at mid width; into a solid band
//! from either side. The wall under it is what remains there without the mark, under the cut where there is
//! one, less its depth: the worst place that it can be struck at. A punch wants that wall thick, its depth counted in
//! it; a laser takes its depth alone.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::section::{Bodies, Shape};
use super::walls::{NamedWall, WallId};

/// Depths of marks in mm, 0 where one is not stated; none where there is no mark.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Marks {
    /// In the shell; in a solid band the mark itself.
    pub shell: Option<f64>,
    /// In the sleeve.
    pub sleeve: Option<f64>,
    /// Struck with a punch, which wants more wall than its depth; else by a laser.
    pub punched: bool,
}

impl Marks {
    /// The depth of the mark, wherever it is struck.
    #[must_use]
    pub fn deep(&self) -> f64 {
        let depths = [self.shell, self.sleeve].into_iter().flatten();
        depths.fold(0.0, f64::max)
    }

    /// The walls under the marks of a band, and those that a punch is struck against.
    #[must_use]
    pub fn walls(&self, shape: &Shape, bodies: &Bodies) -> SmallVec<[NamedWall; 4]> {
        let mut walls = SmallVec::new();
        let mut add = |[under, against]: [WallId; 2], thickness: f64, deep: Option<f64>, x| {
            let Some(deep) = deep else { return };
            if deep > 0.0 {
                walls.push(NamedWall {
                    id: under,
                    field: FieldId::MarkDeep,
                    thickness: thickness - deep,
                    x,
                });
            }
            if self.punched {
                walls.push(NamedWall {
                    id: against,
                    field: FieldId::Mark,
                    thickness,
                    x,
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
                add(
                    [WallId::ShellUnderMark, WallId::ShellStruck],
                    thin,
                    self.shell,
                    None,
                );
                let thin = hollow.relief.unwrap_or(hollow.sleeve);
                add(
                    [WallId::SleeveUnderMark, WallId::SleeveStruck],
                    thin,
                    self.sleeve,
                    Some(0.0),
                );
            }
            _ => add(
                [WallId::BandUnderMark, WallId::BandStruck],
                bodies.solid_wall.thickness,
                self.shell.or(self.sleeve),
                None,
            ),
        }
        walls
    }
}
