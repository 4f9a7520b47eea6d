//! annulet
#![deny(missing_docs)]
pub mod finding;
pub mod source;
pub mod suggest;
pub mod quantity;
pub mod catalogue;
pub mod syntax;
