//! Pictures of lines, arcs and words, and how they are written: SVG, DXF of release 12, PDF.
//!
//! Input: a [`Picture`], lengths in mm on paper, panels of it to a scale of their own. Output: text or bytes, the same
//! on every machine: no clock, no fetched font, nothing that is not in the picture. What is drawn, nothing here knows.

pub mod dxf;
mod letters;
mod pdf;
mod picture;
mod svg;
mod xml;

pub use letters::{fits, measured, plain};
pub use pdf::pdf;
pub use picture::{
    Anchor, Bend, Hatching, Ink, Lettering, Panel, Picture, Region, Sign, Spot, Trace,
};
pub use svg::{STYLE, inline, svg};
pub use xml::escape;
