//! Tree to resolved bands, alloys and `let`s; all mistakes are collected, none is guessed away.
//!
//! Input: trees (a file, and what is laid over it) and the built-in tables. Output: a [`Recipe`] with
//! every field typed and placed, and the findings. Geometry is not looked at here: a recipe can be
//! well written and still describe an impossible band.

mod alloy;
mod alloy_values;
mod assayed;
mod band;
mod build;
mod calendar;
pub mod check;
mod comparison;
mod converted;
mod descent;
mod deviating;
mod error;
mod expression;
mod field_value;
mod fields;
pub mod fineness;
mod fraction;
mod functions;
mod headers;
mod idle;
mod lacks;
mod laid;
mod laid_made;
mod marking;
mod meets;
mod mentions;
mod merge;
mod metals;
pub mod money;
mod movable;
mod moves;
mod moving;
mod moving_alloys;
mod moving_money;
mod names;
mod nested;
mod note;
mod nudged;
mod outline;
mod program;
mod reading_money;
mod recipe;
mod repair;
mod resolve;
mod review;
mod rows;
mod rulebooks;
mod share;
mod sizes;
mod stand_in;
mod stated;
mod top;
mod trade;
mod unit_words;
mod unlikely;
mod value;
mod values;
mod word_lets;
mod workshop;
mod written;
mod written_alloy;
mod written_outline;

pub use alloy::{
    Alloy, AlloyDensity, MIXING_ERROR, Temper, field_of as alloy_field, mixed_density,
};
pub use band::{Band, Build, Caught, Inside, Metal, Profile, Roof};
pub use calendar::{Day, is_day};
pub use comparison::{compare, is_counted};
pub use error::ModelError;
pub use expression::{Evaluator, Scope};
pub use laid::{Holder, Override, tells_apart};
pub use marking::{Assay, BandSolder, Mark, Marking};
pub use meets::{Figure, Meets};
pub use mentions::{Mentions, mentioned, mentioned_in, name as given_name, paths};
pub use merge::{alternative, says_kind};
pub use moves::Move;
pub use moving::Moved;
pub use nested::{Lead, Nested, TopNames, block_of, nest};
pub use note::ModelNote;
pub use nudged::times_as_large;
pub use outline::{Outline, Run};
pub use program::{Key, Program};
pub use recipe::{LetValue, Named, Recipe, Requirement, Wanted, resolve};
pub use resolve::{BandResults, NoResults};
pub use stated::{Meaning, StatedPath, meant, says_same, stated};
pub use top::uses;
pub use value::Value;
pub use values::{FieldValue, Values};
pub use written::{Written, of_field};
