//! Paths behind a band's name: results and fields beside each other, by full or short path.

use super::results::{self, ResultEntry};
use crate::schema::{self, Field};

/// What a path behind a band's name can be.
#[derive(Clone, Copy)]
pub enum Target {
    /// A result.
    Result(&'static ResultEntry),
    /// A field.
    Field(&'static Field),
}

impl Target {
    /// Its full path behind the band's name.
    #[must_use]
    pub fn path(&self) -> &'static str {
        match self {
            Self::Result(result) => result.path,
            Self::Field(field) => field.path,
        }
    }
}

/// Everything that a full or short path could be.
#[must_use]
pub fn find_target(path: &str) -> Vec<Target> {
    if let Some(result) = results::find(path) {
        return vec![Target::Result(result)];
    }
    if let Some(field) = schema::find(path) {
        return vec![Target::Field(field)];
    }
    let results = results::matching(path).into_iter().map(Target::Result);
    results
        .chain(schema::matching(path).into_iter().map(Target::Field))
        .collect()
}
