//! What may be cut: the kinds of cut of `pattern.md` as data, all lengths in mm, all angles in radians.
//!
//! Nothing is computed here; `layout` sets the cuts out on the strip.

use super::cutter::CutterForm;
use super::stroke::{StripPlace, StrokeRun};

/// One cut of a pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolCut {
    /// What is cut, and where.
    pub shape: CutShape,
    /// With what; a facet leaves a plane and takes none.
    pub cutter: CutterForm,
    /// Depth of the tip under the outside, mm; of a ramped path where it begins.
    pub depth: f64,
    /// Depth where a ramped path ends, mm.
    pub ramp_to: Option<f64>,
    /// Whether it is drawn once for the whole strip and not once a repeat.
    pub whole: bool,
}

/// A node of a path or outline, and the run that leads to it (that of the first is not used).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PathPoint {
    /// Where.
    pub at: StripPlace,
    /// How it is reached.
    pub run: StrokeRun,
}

/// Where a ring lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RingPlace {
    /// At an axial place, mm.
    At(f64),
    /// This far from a side face to the tool's axis, mm: the right one (towards +v), and the left one where `both`.
    FromEdge(f64),
}

/// What is cut.
#[derive(Clone, Debug, PartialEq)]
pub enum CutShape {
    /// Grooves straight across, over both faces.
    Flutes {
        /// How many in a repeat.
        count: u32,
    },
    /// Straight grooves at a slant, over both faces.
    Lines {
        /// How many in a repeat.
        count: u32,
        /// From straight across, positive towards +u as v grows; radians.
        slant: f64,
        /// Whether they are mirrored through the same places at mid width.
        both: bool,
    },
    /// A groove to and fro right round.
    Wave {
        /// From its lowest to its highest, mm.
        rise: f64,
        /// Its middle, mm.
        at: f64,
        /// Periods in a repeat.
        periods: f64,
    },
    /// A groove right round.
    Ring {
        /// Where.
        place: RingPlace,
        /// Whether its mirror image at the other side is cut as well.
        both: bool,
    },
    /// The cutter plunged and lifted again.
    Dots {
        /// Axial place, mm.
        row: f64,
        /// How many in a repeat.
        count: u32,
    },
    /// Planes.
    Facets {
        /// Axial place, mm.
        row: f64,
        /// How far the plane is turned towards the nearer face (to +v at row 0), radians.
        tilt: f64,
        /// How many in a repeat.
        count: u32,
    },
    /// A groove along nodes.
    Path(Vec<PathPoint>),
    /// Lines and outlines of a drawing.
    Drawing {
        /// Grooves along nodes.
        lines: Vec<Vec<PathPoint>>,
        /// Pockets inside outlines.
        outlines: Vec<Vec<PathPoint>>,
        /// How wide the drawing is where it is stretched along the strip to what is repeated; none: as drawn, mm.
        wide: Option<f64>,
        /// From one pass of the clearing to the next, mm.
        step_over: Option<f64>,
    },
    /// All inside an outline, as far as the cutter gets; the outline closes itself.
    Pocket {
        /// The outline.
        outline: Vec<PathPoint>,
        /// From one pass of the clearing to the next, mm.
        step_over: Option<f64>,
    },
}

impl ToolCut {
    /// A cut of an even depth, once a repeat.
    #[must_use]
    pub fn new(shape: CutShape, cutter: CutterForm, depth: f64) -> Self {
        Self {
            shape,
            cutter,
            depth,
            ramp_to: None,
            whole: false,
        }
    }

    /// The greater of its depths, mm.
    #[must_use]
    pub fn deepest(&self) -> f64 {
        self.ramp_to.map_or(self.depth, |to| to.max(self.depth))
    }

    /// Half the width of the cutter at the greater depth, mm.
    #[must_use]
    pub fn half_width(&self) -> f64 {
        self.cutter.reach(self.deepest())
    }
}
