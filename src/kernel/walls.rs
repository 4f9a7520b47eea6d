//! Every wall of a band under one list, as a limit judges them.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::section::{Bodies, Parts};

/// Which wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum WallId {
    /// A solid band at its thinnest.
    Band,
    /// The shell over cavity and sleeve, under the cut.
    ShellUnderCut,
    /// Roof and side walls of the shell.
    Shell,
    /// The shell at its side face.
    SideFace,
    /// The sleeve at its edge.
    SleeveEdge,
    /// The sleeve where it is turned down.
    Relief,
    /// A solid band under a mark.
    BandUnderMark,
    /// The shell under a mark.
    ShellUnderMark,
    /// The sleeve under a mark.
    SleeveUnderMark,
    /// A solid band where a punch is struck against it.
    BandStruck,
    /// The shell where a punch is struck against it.
    ShellStruck,
    /// The sleeve where a punch is struck against it.
    SleeveStruck,
}

/// One wall, as a limit judges it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedWall {
    /// Which.
    pub id: WallId,
    /// The field that makes it thick or thin.
    pub field: FieldId,
    /// Thickness, mm.
    pub thickness: f64,
    /// Where, axial, when it is at one place.
    pub x: Option<f64>,
}

/// The least wall that may remain, by place; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LeastWalls {
    /// Anywhere that has none of its own.
    pub anywhere: f64,
    /// Under the cut.
    pub under_cut: f64,
    /// The roof.
    pub roof: f64,
    /// Side walls and side faces of the shell.
    pub side: f64,
    /// The sleeve.
    pub sleeve: f64,
    /// Under a mark.
    pub mark: f64,
    /// Where a punch is struck against it, the mark's depth counted in it.
    pub struck: f64,
}

impl LeastWalls {
    /// That of one wall; roof and side walls are one wall, which keeps both.
    #[must_use]
    pub fn of(&self, id: WallId) -> f64 {
        match id {
            WallId::Band => self.anywhere,
            WallId::ShellUnderCut => self.under_cut,
            WallId::Shell => self.roof.max(self.side),
            WallId::SideFace => self.side,
            WallId::SleeveEdge | WallId::Relief => self.sleeve,
            WallId::BandUnderMark | WallId::ShellUnderMark | WallId::SleeveUnderMark => self.mark,
            WallId::BandStruck | WallId::ShellStruck | WallId::SleeveStruck => self.struck,
        }
    }
}

/// The walls of one band.
pub type WallList = SmallVec<[NamedWall; 10]>;

impl Bodies {
    /// Every wall of the band, in the order of a report.
    #[must_use]
    pub fn walls(&self) -> WallList {
        let mut walls = WallList::new();
        let mut add = |id, field, thickness, x| {
            walls.push(NamedWall {
                id,
                field,
                thickness,
                x,
            })
        };
        let Some(Parts { walls: parts, .. }) = &self.parts else {
            let wall = self.solid_wall;
            add(WallId::Band, self.solid_field, wall.thickness, Some(wall.x));
            return walls;
        };
        let under = parts.under_cut;
        add(
            WallId::ShellUnderCut,
            FieldId::PatternDepth,
            under.thickness,
            Some(under.x),
        );
        if let Some(shell) = parts.shell {
            add(WallId::Shell, FieldId::HollowShell, shell, None);
        }
        let sleeve = FieldId::HollowSleeve;
        add(WallId::SideFace, sleeve, parts.side_face, None);
        add(WallId::SleeveEdge, sleeve, parts.sleeve_edge, None);
        if let Some(relief) = parts.relief {
            add(WallId::Relief, FieldId::HollowSleeveRelief, relief, None);
        }
        walls
    }

    /// The thinnest of all walls, mm.
    #[must_use]
    pub fn least_wall(&self) -> f64 {
        let walls = self.walls();
        let thicknesses = walls.iter().map(|wall| wall.thickness);
        thicknesses.fold(f64::INFINITY, f64::min)
    }
}
