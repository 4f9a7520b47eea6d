//! Finger-ring bands before the metal is cut: a small recipe language and what it evaluates to.
#![deny(missing_docs)]

pub mod catalogue;
#[cfg(feature = "cli")]
pub mod cli;
pub mod evaluate;
pub mod finding;
pub mod geometry;
pub mod model;
pub mod quantity;
pub mod report;
pub mod session;
pub mod source;
pub mod suggest;
pub mod syntax;
