//! A number that is moved comes to the same as the recipe with that number in its text, resolved anew.
//!
//! Held over every number of every shipped example, a little up and a little down: results to the last bit,
//! findings by code and text. Both ways are the program's own; that a resolved recipe is right is held elsewhere.

use std::collections::BTreeSet;

use annulet::finding::Finding;
use annulet::model::{Value, check};
use annulet::quantity::{Number, Quantity};
use annulet::schema::{RESULTS, Takes};
use annulet::session::{NoLibrary, Outcome, Request, Session, Tried};

use rust_decimal::{Decimal, dec};

use crate::support::{files_under, read};

fn said(findings: &[Finding]) -> BTreeSet<(String, String)> {
    let said = findings.iter();
    said.map(|one| (one.code(), one.message())).collect()
}

/// Every result of a band, to the last bit.
fn figures(outcome: &Outcome, name: &str) -> Vec<Option<String>> {
    let mut evaluations = outcome.evaluations.iter();
    let Some(evaluation) = evaluations.find(|one| one.band.name == name) else {
        return Vec::new();
    };
    let numbers = RESULTS.iter().map(|result| evaluation.number(result.id));
    numbers
        .map(|number| number.map(|number| format!("{number:?}")))
        .collect()
}

/// A line that moves a field by a little; none for what is no plain number.
fn line(band: &str, path: &str, takes: Takes, value: &Value, by: Decimal) -> Option<String> {
    let Value::Quantity { quantity, unit } = value else {
        return None;
    };
    let number = quantity.number.exact()?.checked_mul(by)?.normalize();
    let moved = Quantity::new(Number::Exact(number), quantity.dimension);
    let is_plain = quantity.deviations.is_empty() && !matches!(takes, Takes::Count | Takes::Steps);
    let shown = check::shown_quantity(&moved, unit.as_deref());
    is_plain.then(|| format!("{band}.{path} {shown}"))
}

#[test]
fn moved_equals_resolved() {
    let (mut moved, mut resolved) = (0, 0);
    for file in files_under("examples", ".annulet") {
        let mut session = Session::default();
        let prepared = session.prepare(&file, &read(&file), &mut NoLibrary);
        let request = Request::default();
        let outcome = session.outcome(&prepared, &request);
        for band in &outcome.recipe.bands {
            for field in band.fields.iter() {
                for by in [dec!(1.01), dec!(0.99)] {
                    let row = field.field;
                    let Some(line) = line(&band.name, row.path, row.takes, &field.value, by) else {
                        continue;
                    };
                    let tried = Tried {
                        line,
                        band: None,
                        typed: None,
                    };
                    let Some(found) = session.by_numbers(&prepared, &outcome, &tried) else {
                        resolved += 1;
                        continue;
                    };
                    moved += 1;
                    let mut wanted = request.clone();
                    wanted.tries.push(tried.clone());
                    match found {
                        Ok((part, reach)) => {
                            let names: BTreeSet<String> = part
                                .recipe
                                .bands
                                .iter()
                                .map(|band| band.name.clone())
                                .collect();
                            assert!(names.contains(&band.name), "{file}: {}", tried.line);
                            assert!(names.is_subset(&reach));
                            let anew = session.part(&prepared, &wanted, &names);
                            for name in &names {
                                assert_eq!(
                                    figures(&part, name),
                                    figures(&anew, name),
                                    "{file}: {} of {name}",
                                    tried.line
                                );
                            }
                            assert_eq!(
                                said(&part.findings),
                                said(&anew.findings),
                                "{file}: {}",
                                tried.line
                            );
                        }
                        Err(findings) => {
                            let names = BTreeSet::from([band.name.clone()]);
                            let anew = session.part(&prepared, &wanted, &names);
                            assert!(said(&findings).is_subset(&said(&anew.findings)));
                        }
                    }
                }
            }
        }
    }
    assert!(moved > 500, "only {moved} were moved, {resolved} resolved");
}
