//! What a result rests on that is not computed from the recipe alone: a rounded value, a density stated or derived.

use std::collections::BTreeSet;

use crate::model::{AlloyDensity, Value};
use crate::quantity::Number;
use crate::schema::{FieldId, RestsOn, ResultId, ResultRow};

use super::Evaluation;

/// What a result can rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rest {
    /// A value rounded on the way: a weight that money is counted from, a size that is only the nearest.
    Rounded,
    /// A density that the recipe or a source states.
    StatedDensity,
    /// A density by ideal mixing, which may be off by about 2.5 %.
    DerivedDensity,
}

impl Rest {
    /// Its word in machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rounded => "rounded",
            Self::StatedDensity => "stated density",
            Self::DerivedDensity => "derived density",
        }
    }
}

/// What a result of a band rests on.
#[must_use]
pub fn rests(evaluation: &Evaluation, entry: &ResultRow) -> BTreeSet<Rest> {
    let (fields, results) = needs(evaluation, entry);
    let mut found = BTreeSet::new();
    let is_exact = |id| matches!(evaluation.number(id), Some(Number::Exact(_)));
    let is_computed = |id| matches!(evaluation.number(id), Some(Number::Computed(_)));
    let of_computed = is_exact(entry.id) && results.iter().any(|id| is_computed(*id));
    let of_rounded = results.iter().any(|id| {
        // Money and the metal issued are exact from a weight that was rounded first.
        *id != entry.id && is_exact(*id) && {
            let row = id.row();
            let (_, below) = needs(evaluation, row);
            below.iter().any(|below| is_computed(*below))
        }
    });
    let of_nearest = fields.iter().any(|id| {
        let field = evaluation.band.field(*id);
        field.is_some_and(|field| matches!(field.value, Value::Size { off: Some(_), .. }))
    });
    if of_computed || of_rounded || of_nearest {
        found.insert(Rest::Rounded);
    }
    let of_density = [
        ResultId::Density,
        ResultId::ShellWeight,
        ResultId::SleeveWeight,
    ];
    if of_density
        .iter()
        .any(|id| *id == entry.id || results.contains(id))
    {
        found.extend(densities(evaluation));
    }
    found
}

/// How the densities of a band's metals are known.
fn densities(evaluation: &Evaluation) -> BTreeSet<Rest> {
    let band = &evaluation.band;
    let parts = band.hollow.iter();
    let parts = parts.flat_map(|hollow| [&hollow.shell.alloy, &hollow.sleeve.alloy]);
    let own = band.hollow.is_none().then_some(&band.alloy);
    let alloys = own.into_iter().chain(parts);
    let known = alloys.map(|alloy| match alloy.density {
        AlloyDensity::Stated { .. } => Rest::StatedDensity,
        AlloyDensity::Derived(_) => Rest::DerivedDensity,
    });
    known.collect()
}

/// All fields and results that a result is computed from, at whatever distance.
fn needs(evaluation: &Evaluation, entry: &ResultRow) -> (BTreeSet<FieldId>, BTreeSet<ResultId>) {
    let (mut fields, mut results) = (BTreeSet::new(), BTreeSet::new());
    let mut open = vec![entry.id];
    while let Some(id) = open.pop() {
        for need in evaluation.formula(id.row()).1 {
            match need {
                RestsOn::F(field) => drop(fields.insert(*field)),
                RestsOn::R(result) if results.insert(*result) => open.push(*result),
                RestsOn::R(_) | RestsOn::B(_) => {}
            }
        }
    }
    (fields, results)
}
