//! What does the outside of a band look like unrolled: as SVG to look at, as DXF for a machine's program, as characters
//! for a terminal?
//!
//! In: an evaluated band. Out: text. A band without drawn cuts gives the blank strip with its repeats. Nothing is
//! computed here that a figure depends on.

pub mod dxf;
mod finished;
mod of_band;
mod shades;
mod sheet;
pub mod svg;
pub mod terminal;
pub mod xml;

pub use of_band::{Drawing, strip};
pub use sheet::Sheet;
