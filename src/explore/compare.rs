//! Bands side by side: every field and result that differs, and those that are the same in all.

use std::collections::BTreeSet;

use crate::evaluate::{Evaluation, Rest, rests};
use crate::model::Value;
use crate::schema::{self, Subject};

use super::change::alike;

/// One band of a comparison.
#[derive(Clone, Copy, Debug)]
pub struct Column<'a> {
    /// What it is called there.
    pub name: &'a str,
    /// The band.
    pub evaluation: &'a Evaluation,
}

/// One field or result in all columns.
#[derive(Clone, Debug)]
pub struct ComparedRow {
    /// What it is of.
    pub of: Subject,
    /// Its value in each column, where it has one.
    pub values: Vec<Option<Value>>,
    /// What it rests on in each column; nothing of a field.
    pub rests: Vec<BTreeSet<Rest>>,
}

/// Bands side by side.
#[derive(Clone, Debug)]
pub struct SideBySide {
    /// What the columns are called.
    pub names: Vec<String>,
    /// Whether every limit of each column is kept.
    pub holds: Vec<bool>,
    /// Rows in which the columns differ; results first.
    pub different: Vec<ComparedRow>,
    /// Rows in which all columns have the same value.
    pub same: Vec<ComparedRow>,
}

/// Lays bands side by side; rows that no column has are left out.
#[must_use]
pub fn compare(columns: &[Column<'_>]) -> SideBySide {
    let mut comparison = SideBySide {
        names: columns.iter().map(|one| one.name.to_owned()).collect(),
        holds: columns.iter().map(|one| one.evaluation.holds()).collect(),
        different: Vec::new(),
        same: Vec::new(),
    };
    let results = schema::RESULTS.iter().map(|entry| ComparedRow {
        of: Subject::Result(entry.id),
        values: columns
            .iter()
            .map(|one| one.evaluation.value(entry))
            .collect(),
        rests: columns
            .iter()
            .map(|one| rests(one.evaluation, entry))
            .collect(),
    });
    let fields = schema::of_band().iter().map(|field| ComparedRow {
        of: Subject::Field(field.id),
        values: columns
            .iter()
            .map(|one| {
                let found = one.evaluation.band.field(field.id);
                found.map(|field| field.value.clone())
            })
            .collect(),
        rests: columns.iter().map(|_| BTreeSet::new()).collect(),
    });
    for row in results.chain(fields) {
        let mut values = row.values.iter();
        let first = values.next();
        if row.values.iter().all(Option::is_none) {
            continue;
        }
        let same = |value: &Option<Value>| match first {
            Some(first) if row.of.is_result() => alike(first.as_ref(), value.as_ref()),
            first => first == Some(value),
        };
        if values.all(same) {
            comparison.same.push(row);
        } else {
            comparison.different.push(row);
        }
    }
    comparison
}
