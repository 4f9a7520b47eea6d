//! One row of the catalogue of results, and how a path finds it.

use crate::quantity::Dimension;

use super::block::BlockId;
use super::fields::FieldId;
use super::results::{RESULTS, ResultId};

/// The room of the program that computes a result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Sections, weights and walls.
    Metal,
    /// Balance, cost and price.
    Money,
    /// Stretch, join and strength.
    Stretch,
    /// Arcs and edges for the lathe.
    Lathe,
    /// Marks.
    Fineness,
}

/// What a result is computed from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A field.
    F(FieldId),
    /// Another result.
    R(ResultId),
    /// All that a block of the top level states.
    B(BlockId),
}

/// One result.
#[derive(Clone, Copy, Debug)]
pub struct ResultRow {
    /// How the program knows it.
    pub id: ResultId,
    /// What computes it.
    pub room: Room,
    /// Path behind the band's name.
    pub path: &'static str,
    /// The unit of the bare number; empty for a fraction of one.
    pub unit: &'static str,
    /// Its dimension.
    pub dimension: Dimension,
    /// What it means.
    pub meaning: &'static str,
    /// How it is computed.
    pub formula: &'static str,
    /// What it is computed from.
    pub needs: &'static [Need],
    /// Formula and needs for a hollow band, where they differ.
    pub hollow: Option<(&'static str, &'static [Need])>,
}

pub(super) const fn entry(
    path: &'static str,
    unit: &'static str,
    dimension: Dimension,
    meaning: &'static str,
    formula: &'static str,
) -> ResultRow {
    ResultRow {
        id: ResultId::Weight,
        room: Room::Metal,
        path,
        unit,
        dimension,
        meaning,
        formula,
        needs: &[],
        hollow: None,
    }
}

pub(super) const fn from(entry: ResultRow, needs: &'static [Need]) -> ResultRow {
    ResultRow { needs, ..entry }
}

pub(super) const fn hollow(
    entry: ResultRow,
    formula: &'static str,
    needs: &'static [Need],
) -> ResultRow {
    ResultRow {
        hollow: Some((formula, needs)),
        ..entry
    }
}

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
    RESULTS.iter().filter(ends).collect()
}
