//! How a path finds a row of the catalogue of results, and what the row tells of its result.

use super::fields::FieldId;
use super::results::{RESULTS, ResultId, ResultRow};

impl ResultId {
    /// Its row.
    #[must_use]
    #[allow(
        clippy::indexing_slicing,
        reason = "one macro makes the ids and the rows"
    )]
    pub fn row(self) -> &'static ResultRow {
        &RESULTS[self as usize]
    }

    /// Its path behind the band's name.
    #[must_use]
    pub fn path(self) -> &'static str {
        self.row().path
    }
}

/// The result of a full path behind the band's name.
#[must_use]
pub fn find_result(path: &str) -> Option<&'static ResultRow> {
    RESULTS.iter().find(|result| result.path == path)
}

/// Results that a short path could mean: the exact one, or those that it ends, at a point.
#[must_use]
pub fn matching_results(short: &str) -> Vec<&'static ResultRow> {
    if let Some(result) = find_result(short) {
        return vec![result];
    }
    let ends = |result: &&ResultRow| {
        let rest = result.path.strip_suffix(short);
        rest.is_some_and(|rest| rest.ends_with('.'))
    };
    let found: Vec<&ResultRow> = RESULTS.iter().filter(ends).collect();
    // What drawn cuts have too is meant of the band.
    let of_pattern = |row: &&ResultRow| {
        let within = |holder: &str| {
            let rest = row.path.strip_prefix(holder);
            rest.is_some_and(|rest| rest.starts_with('.'))
        };
        within(FieldId::Pattern.path()) || within("section.cut")
    };
    match found.iter().any(|row| !of_pattern(row)) {
        true => found.into_iter().filter(|row| !of_pattern(row)).collect(),
        false => found,
    }
}
