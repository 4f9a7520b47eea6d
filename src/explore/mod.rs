//! What-ifs: what a change moves, and bands side by side.
//!
//! Input: evaluations. Output: differences as values. Nothing here knows how they look.

mod change;
mod compare;
mod contour;
mod difference;
mod size_run;

pub use change::{Change, HEADLINES, MovedFigure, change};
pub use compare::{Column, Row, SideBySide, compare};
pub use contour::{ContourOf, Contours, contours};
pub use difference::{BandDifference, Became, Difference, MovedText, MovedVerdict, by_meaning};
pub use size_run::{COLUMNS, MOST, SizeRow, SizeRun, sizes};
