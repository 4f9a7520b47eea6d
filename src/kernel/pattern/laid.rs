//! What do cuts set out on the strip consist of, and what is to be told of them?

use super::pocket::Pocket;
use super::stroke::Stroke;

/// A plane that takes off all that lies outside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facet {
    /// The cut it belongs to, by its place among them.
    pub cut: usize,
    /// StripPlace along the strip, mm.
    pub u: f64,
    /// Axial place, mm.
    pub row: f64,
    /// Radius of the plane's point there, mm.
    pub radius: f64,
    /// How much the plane falls for each mm towards +v.
    pub falls: f64,
}

/// What is to be told of a cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Told {
    /// How far the line or place of the tool (of a pocket: its outline) lies beyond a side face, mm; 0 where it does
    /// not. Flutes and lines run out over both faces and are not told.
    pub beyond: f64,
    /// How far the edge of the cut lies beyond a side face, mm: `beyond` and the tool's half width.
    pub over: f64,
    /// What a line that goes right round misses itself by across the seam, mm.
    pub gap: f64,
    /// Whether the tool is too wide for the pocket, which is then not cut at all.
    pub no_room: bool,
}

/// Cuts set out on one span of the strip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    /// How many spans go round the band: the repeats, or 1.
    pub spans: u32,
    /// Length of a span on the largest outside, mm.
    pub length: f64,
    /// Grooves and dots.
    pub strokes: Vec<Stroke>,
    /// Planes.
    pub facets: Vec<Facet>,
    /// Pockets.
    pub pockets: Vec<Pocket>,
    /// What is to be told, cut by cut.
    pub told: Vec<Told>,
}
