//! What-ifs: what a change moves, bands side by side, and many changes at once.
//!
//! Input: evaluations, or a recipe whose numbers are moved. Output: differences and rows as values. Nothing here knows
//! how they look.

mod axis;
mod change;
mod choose;
mod compare;
mod contour;
mod difference;
mod engine;
mod keep;
mod lengths;
mod merit;
mod narrow;
mod reading;
mod row;
mod rows;
mod section;
mod size_run;
mod slide;
mod solve;
mod sought;
mod stepping;
mod still;
mod written_axis;

pub use axis::Axis;
pub use change::{Change, HEADLINES, MovedFigure, change};
pub use choose::best;
pub use compare::{Column, ComparedRow, SideBySide, compare};
pub use contour::{ContourOf, Contours, contours};
pub use difference::{
    BandDifference, Became, Difference, MovedText, MovedVerdict, OrderDifference, by_meaning,
};
pub use engine::{Anew, Engine};
pub use keep::{Keep, Kept};
pub use merit::{Merit, Seat};
pub use narrow::{MEETS, Root, Sides};
pub use reading::{Came, Cell, Compared, Condition, Meant, Readout, RowExpression, What};
pub use row::RowReader;
pub use rows::{Aim, Best, Rows, Tally, Unmade, rows, rows_into};
pub use section::{Looked, SectionView, section_views};
pub use size_run::{COLUMNS, MOST, SizeRow, SizeRun, sizes};
pub use solve::{Hindrance, Solved, solve};
pub use sought::{Binding, Choice, Chosen, FoundRoot, LeftOut, Nearest, Solution};
pub use still::still;
pub use written_axis::{axis, ranged};
