//! A number of a recipe's own alloy that is moved comes to the same as the recipe with that number in its text, resolved
//! anew; a `let` that an alloy mentions too.
//!
//! Held over the alloys of every shipped example and of a recipe that has them wherever one can stand: results to the
//! last bit, findings by code and text. Both ways are the program's own; that a resolved recipe is right is held
//! elsewhere.

use std::collections::BTreeSet;

use annulet::finding::Finding;
use annulet::model::{Value, alloy_field, check};
use annulet::quantity::{Number, Quantity};
use annulet::schema::{RESULTS, Takes};
use annulet::session::{NoLibrary, Outcome, Request, Session, Tried};

use rust_decimal::{Decimal, dec};

use crate::support::{lone_examples, read};

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

/// Tries a line both ways and compares; whether it could be moved as a number.
fn tried_both_ways(session: &mut Session, file: &str, text: &str, line: &str) -> bool {
    let prepared = session.prepare(file, text, &mut NoLibrary);
    let request = Request::default();
    let outcome = session.outcome(&prepared, &request);
    let tried = Tried {
        line: line.to_owned(),
        band: None,
        typed: None,
    };
    let Some(found) = session.by_numbers(&prepared, &outcome, &tried) else {
        return false;
    };
    let mut wanted = request.clone();
    wanted.tries.push(tried);
    let targets = session.targets(&prepared, &wanted.tries[0]).unwrap();
    let names = prepared.mentions().dependents(targets.names);
    let anew = session.part(&prepared, &wanted, &names);
    match found {
        Ok((part, reach)) => {
            assert!(reach.is_subset(&names), "{file}: {line}");
            for name in &names {
                let has = |outcome: &Outcome| {
                    outcome.evaluations.iter().any(|one| one.band.name == *name)
                };
                let moved = has(&part);
                // What cannot be is not evaluated, either way.
                if !has(&anew) {
                    assert!(!moved, "{file}: {line}");
                    continue;
                }
                let of = if moved { &part } else { &outcome };
                assert_eq!(figures(of, name), figures(&anew, name), "{file}: {line}");
            }
            let alloys = |outcome: &Outcome| {
                let moved = outcome.recipe.alloys.iter();
                let moved = moved.filter(|alloy| reach.contains(&alloy.name));
                let shown = moved.map(|alloy| {
                    let values = alloy.places.iter().map(|(path, _)| alloy.value(path));
                    let numbers = values.map(|value| {
                        let value = value?;
                        Some(value.quantity()?.number.to_f64())
                    });
                    let numbers: Vec<Option<f64>> = numbers.collect();
                    (alloy.name.clone(), alloy.density.grams_per_cm3(), numbers)
                });
                shown.collect::<Vec<_>>()
            };
            assert_eq!(alloys(&part), alloys(&anew), "{file}: {line}");
            assert_eq!(said(&part.findings), said(&anew.findings), "{file}: {line}");
        }
        Err(findings) => {
            assert!(!findings.is_empty(), "{file}: {line}");
            let anew = said(&anew.findings);
            assert!(said(&findings).is_subset(&anew), "{file}: {line}");
        }
    }
    true
}

/// A recipe that has its own alloys wherever one can stand, and `let`s in them.
const ALLOYS: &str = "let stiff = 90 GPa
let dense = 13.2 g/cm3
alloy rose {
  gold 585, copper 325, silver 90, density dense
  temper annealed { yield 300 MPa, tensile 480 MPa, elongation 35 %, modulus stiff }
  temper hard { yield 520 MPa, elongation 8 %, modulus stiff, poisson 0.38, hardening 300 MPa }
}
alloy pale { silver 935, Cu 65, temper annealed { yield 120 MPa, modulus 75 GPa, elongation 40 % } }
alloy joint { gold 585, silver 200, zinc 215, density 12.8 g/cm3 ± 0.1 g/cm3 }
band whole {
  size ISO 54, width 4.5 mm, thickness 1.5 mm
  profile domed { edge 1.2 mm }
  alloy rose, temper hard
  solder joint { amount 0.1 g }
}
variant pair of whole {
  hollow { shell 0.5 mm { alloy pale }, sleeve 0.4 mm { temper annealed }, ridge 0.1 mm { wide 0.4 mm } }
}
band heavier {
  size ISO 54, width whole.weight / 5 g * 5 mm, thickness 1.5 mm
  profile flat, alloy pale
}
require whole.weight <= 9 g
";

#[test]
fn numbers_of_alloys_moved_equal_resolved() {
    let (mut moved, mut lines) = (BTreeSet::new(), 0);
    let files = lone_examples().into_iter();
    let mut all: Vec<(String, String)> = files.map(|file| (file.clone(), read(&file))).collect();
    all.push(("alloys".to_owned(), ALLOYS.to_owned()));
    for (file, text) in &all {
        let mut session = Session::default();
        let prepared = session.prepare(file, text, &mut NoLibrary);
        let outcome = session.outcome(&prepared, &Request::default());
        for alloy in &outcome.recipe.alloys {
            for (path, _) in &alloy.places {
                let Some(value) = alloy.value(path) else {
                    continue;
                };
                for by in [dec!(1.01), dec!(0.98), dec!(-1), dec!(40)] {
                    let takes = alloy_field(path).takes;
                    let Some(line) = line(&alloy.name, path, takes, &value, by) else {
                        continue;
                    };
                    lines += 1;
                    if tried_both_ways(&mut session, file, text, &line) {
                        moved.insert(format!("{file} {}.{path}", alloy.name));
                    }
                }
            }
        }
    }
    assert!(lines > 40, "{lines}");
    for path in [
        "rose.density",
        "rose.temper.hard.yield",
        "rose.temper.hard.poisson",
        "pale.temper.annealed.elongation",
        "rose.temper.annealed.modulus",
    ] {
        let path = format!("alloys {path}");
        assert!(moved.contains(&path), "{path}: {moved:?}");
    }
}

#[test]
fn what_alloys_rest_on_moves_them() {
    let mut session = Session::default();
    let mut both = |line: &str| tried_both_ways(&mut session, "alloys", ALLOYS, line);
    for line in [
        "stiff 95 GPa",
        "dense 13.5 g/cm3",
        "rose.gold 600, rose.copper 310",
        "rose.density 13.4 g/cm3, rose.temper.hard.yield 500 MPa",
        "pale.silver 925, pale.Cu 75",
    ] {
        assert!(both(line), "{line}");
    }
    // Each says more than numbers, or drops a deviation, and is resolved anew.
    for line in [
        "rose.gold 600",
        "pale.density 10.3 g/cm3",
        "joint.density 13 g/cm3",
        "rose.density 13 g/cm3 ± 0.1 g/cm3",
        "rose.temper.soft.yield 100 MPa",
    ] {
        assert!(!both(line), "{line}");
    }
}
