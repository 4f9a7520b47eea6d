//! A field or a result of a band, and what a full or short path could mean.

use crate::quantity::Dimension;

use super::fields::FieldId;
use super::find::{find, matching};
use super::result::{find_result, matching_results};
use super::results::ResultId;

/// What a path behind a band's name can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Subject {
    /// A result.
    Result(ResultId),
    /// A field.
    Field(FieldId),
}

impl Subject {
    /// Its full path behind the band's name.
    #[must_use]
    pub fn path(self) -> &'static str {
        match self {
            Self::Result(result) => result.path(),
            Self::Field(field) => field.path(),
        }
    }

    /// Whether it is a result that is a share: a bare number that counts nothing.
    #[must_use]
    pub fn is_share(self) -> bool {
        match self {
            Self::Result(id) => id.row().dimension == Dimension::NONE && !id.row().counts,
            Self::Field(_) => false,
        }
    }

    /// Whether it is a result, computed from what is written.
    #[must_use]
    pub fn is_result(self) -> bool {
        matches!(self, Self::Result(_))
    }
}

/// Everything that a full or short path could be; where a path is both, it is the result.
#[must_use]
pub fn find_subject(path: &str) -> Vec<Subject> {
    if let Some(result) = find_result(path) {
        return vec![Subject::Result(result.id)];
    }
    if let Some(field) = find(path) {
        return vec![Subject::Field(field.id)];
    }
    let results = matching_results(path);
    let mut fields = matching(path);
    // Where a path is both, it is the same quantity.
    fields.retain(|field| results.iter().all(|result| result.path != field.path));
    let (results, fields) = (results.into_iter(), fields.into_iter());
    results
        .map(|result| Subject::Result(result.id))
        .chain(fields.map(|field| Subject::Field(field.id)))
        .collect()
}
