//! A number that is moved comes to the same as the recipe with that number in its text, resolved anew.
//!
//! Held over every number of every shipped example, a little up and a little down: results to the last bit,
//! findings by code and text. Both ways are the program's own; that a resolved recipe is right is held elsewhere.

use std::collections::BTreeSet;

use annulet::evaluate::Evaluation;
use annulet::finding::Finding;
use annulet::model::{Band, Value, check};
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
    all_of(evaluation)
}

fn all_of(evaluation: &Evaluation) -> Vec<Option<String>> {
    let results = RESULTS.iter().map(|result| evaluation.result(result));
    results
        .map(|result| result.map(|result| format!("{result:?}")))
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

/// Findings with the places that they speak of.
fn placed(findings: &[Finding]) -> BTreeSet<String> {
    let all = findings.iter();
    all.map(|one| format!("{} {} {:?}", one.code(), one.message(), one.labels()))
        .collect()
}

#[test]
fn each_size_moved_equals_resolved() {
    let (mut moved, mut all) = (0, 0);
    for file in files_under("examples", ".annulet") {
        let mut session = Session::default();
        let prepared = session.prepare(&file, &read(&file), &mut NoLibrary);
        let request = Request::default();
        let outcome = session.outcome(&prepared, &request);
        for band in &outcome.recipe.bands {
            for size in ["ISO 50", "ISO 61", "US 7 1/2", "17.3 mm", "9 mm"] {
                let (evaluation, problems) =
                    session.in_size(&prepared, &request, &outcome, &band.name, size);
                let tried = Tried {
                    line: format!("size {size}"),
                    band: Some(band.name.clone()),
                    typed: None,
                };
                let found = session.by_numbers(&prepared, &outcome, &tried);
                moved += usize::from(found.is_some());
                all += 1;
                if is_measured(band) {
                    // Parts as made are those of one ring, and are left out in another size.
                    continue;
                }
                let mut wanted = request.clone();
                wanted.tries.push(tried);
                let names = BTreeSet::from([band.name.clone()]);
                let anew = session.part(&prepared, &wanted, &names);
                let figures_moved = evaluation.as_ref().map_or_else(Vec::new, all_of);
                assert_eq!(
                    figures_moved,
                    figures(&anew, &band.name),
                    "{file}: {} in {size}",
                    band.name
                );
                assert_eq!(
                    placed(&problems),
                    placed(&anew.findings),
                    "{file}: {} in {size}",
                    band.name
                );
            }
        }
    }
    assert!(moved * 4 > all * 3, "only {moved} of {all} were moved");
}

fn is_measured(band: &Band) -> bool {
    let mut fields = band.fields.iter();
    fields.any(|field| field.field.path.starts_with("made."))
}

#[test]
fn each_size_moved_equals_the_recipe_with_that_size() {
    let text = |size: &str| {
        format!(
            "annulet 1
let play = 0.02 mm
band light {{
  size {size}, width 5 mm, thickness 0.1 * size
  profile domed {{ edge 0.08 * light.size - play }}
  alloy silver-925
}}
variant wide of light {{ width 6 mm }}"
        )
    };
    let mut session = Session::default();
    let prepared = session.prepare("recipe", &text("17 mm"), &mut NoLibrary);
    let request = Request::default();
    let outcome = session.outcome(&prepared, &request);
    for size in ["15.5 mm", "17 mm", "0.7 in", "18.25 mm"] {
        let (evaluation, problems) = session.in_size(&prepared, &request, &outcome, "light", size);
        let written = Session::default().run("recipe", &text(size), &request);
        assert!(
            said(&problems).is_subset(&said(&written.findings)),
            "{size}"
        );
        let written = &written.evaluations[0];
        assert_eq!(all_of(&evaluation.unwrap()), all_of(written), "{size}");
    }
}
