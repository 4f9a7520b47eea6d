//! Pure functions from numbers to figures and shortfalls: no recipes, no texts, no places in a text.
//!
//! Input: an [`Input`], lengths in mm. Output: [`Figures`], the walls, and what falls short of them as [`KernelShortfall`]s,
//! each with the value that would just do. Nothing allocates but for outlines of many runs. What cannot be is found
//! before anything is computed of it ([`check`]). Arrows inside point one way: plain data, what solves one state, the
//! stages of a band, what is judged of them.

mod check;
mod cut_short;
mod drawn;
mod drawn_state;
mod figures;
mod input;
pub mod join;
pub mod lathe;
pub mod made;
mod marks;
pub mod pattern;
pub mod section;
mod shortfall;
pub mod strength;
mod stretch;
mod stretch_results;
mod thin;
mod walls;

pub use check::{Impossibles, SaidTwice, check, is_consistent, is_said_once, possible};
pub use cut_short::{CutShort, CutTold, cut_through, cuts_told, goes_through};
pub use drawn::{Drawn, OnBand, Repeats};
pub use drawn_state::{outside_as_cut, outside_finished, section_as_cut};
pub use figures::{
    Figures, FiguresWanted, HollowFigures, figures, figures_of, level, tidied, walls,
};
pub use input::Input;
pub use marks::Marks;
pub use shortfall::KernelShortfall;
pub use stretch::StretchFigures;
pub use stretch_results::{computed as stretch_result, is_of_parts, of_parts};
pub use thin::{ThinWall, is_thin, thin_by, thin_walls};
pub use walls::{LeastWalls, NamedWall, WallId, WallList};
