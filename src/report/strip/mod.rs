//! What does a pattern look like: as SVG to look at, as DXF for a machine's program, as characters for a terminal?
//!
//! In: where the cuts lie, and a grid for shades. Out: text. A band without a drawn pattern gives the blank strip with
//! its repeats. Nothing is computed here that a figure depends on.

pub mod dxf;
mod shades;
mod sheet;
pub mod svg;
pub mod terminal;
pub mod xml;

pub use sheet::Sheet;
