//! Pure functions from numbers to figures and shortfalls: no recipes, no texts, no places in a text.
//!
//! Arrows inside point one way: plain data, what solves one state, the stages of a band, what is judged of them.

pub mod join;
pub mod made;
pub mod strength;
mod stretch;
mod stretch_results;

pub use stretch::StretchFigures;
pub use stretch_results::computed as stretch_result;
