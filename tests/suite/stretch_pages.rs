//! Stretch, join, limits and strength against figures that were worked out from the pages of the model alone.
//!
//! `tests/stretch/pages` was written from the pages by somebody who had not seen the code: sections by quadrature, a
//! stretch as one system in all radii (and checked against the flow integrated in time), loaded states as fixed points
//! of both released radii, and hollow rings under two forces in three-dimensional elasticity, which is independent of
//! curved beams altogether. The law of grip itself is the model's, solved by another way. Kinds: `eq` within a
//! tolerance, `max` and `min` bounds, `absent`, the verdict, whether a finding stands.

use annulet::kernel::join::Grip;
use annulet::session::{Request, Session};
use serde_json::Value as Json;
use sha2::{Digest, Sha256};

use crate::support::read;

#[test]
fn figures_are_those_of_the_pages() {
    let record: Json = serde_json::from_str(&read("tests/stretch/pages.json")).unwrap();
    for (script, wanted) in record["scripts_sha256"].as_object().unwrap() {
        let text = read(&format!("tests/stretch/pages/{script}"));
        let digest = Sha256::digest(text.as_bytes());
        let digest: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(wanted, &digest, "run cases.py anew");
    }
    let mut wrong = Vec::new();
    let mut compared = 0;
    for case in record["cases"].as_array().unwrap() {
        let (name, recipe) = (&case["name"], case["recipe"].as_str().unwrap());
        let outcome = Session::default().run("r", recipe, &Request::default());
        let Some(evaluation) = outcome.evaluations.first() else {
            wrong.push(format!("{name}: {:?}", outcome.findings));
            continue;
        };
        for expected in case["expect"].as_array().unwrap() {
            let (path, kind) = (
                expected["path"].as_str().unwrap(),
                expected["kind"].as_str().unwrap(),
            );
            let wanted = &expected["value"];
            compared += 1;
            let (found, holds) = if let Some(code) = path.strip_prefix("finding:") {
                let stands = outcome.findings.iter().any(|one| one.code() == code);
                (format!("{stands}"), wanted.as_bool() == Some(stands))
            } else if path == "grip.verdict" {
                let grip = evaluation.stretch().hollow.unwrap().grip;
                let word = match grip {
                    Grip::Grips => "grips",
                    Grip::MayGrip => "may grip",
                    Grip::Loose => "does not",
                    Grip::Seated | Grip::Unknown => "not told",
                };
                (word.to_owned(), (kind == "text") == (wanted == word))
            } else {
                let entry = annulet::schema::find_result(path)
                    .unwrap_or_else(|| panic!("no result {path}"));
                let found = evaluation
                    .number(entry.id)
                    .map(annulet::quantity::Number::to_f64);
                let wanted = wanted.as_f64();
                let off = expected["tol"].as_f64().unwrap_or(0.0) + 1e-12;
                let holds = match (kind, found, wanted) {
                    ("absent", found, _) => found.is_none(),
                    ("eq", Some(found), Some(wanted)) => (found - wanted).abs() <= off,
                    ("max", Some(found), Some(wanted)) => found <= wanted + off,
                    ("min", Some(found), Some(wanted)) => found >= wanted - off,
                    _ => false,
                };
                (format!("{found:?}"), holds)
            };
            if !holds {
                wrong.push(format!("{name}: {path} {kind} {wanted}, found {found}"));
            }
        }
    }
    assert!(compared > 1200, "{compared}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
