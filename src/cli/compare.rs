//! `annulet compare`: bands side by side, differences first.

use crate::finding::Finding;
use crate::report::{self, document};
use crate::session::Asked;

use super::arguments::Compare;
use super::batch::Evaluated;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::status::Status;

pub(super) fn run(compare: &Compare, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(compare.json, "--json"), (compare.csv, "--csv")];
    if let Err(message) = compare.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(compare.file.as_deref(), &compare.bands, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let request = asked(laid).request;
    let mut words: Vec<&str> = compare.bands.iter().map(String::as_str).collect();
    let all = words.first() == Some(&"all") && !outcome.recipe.is_band("all");
    if all {
        words.remove(0);
    }
    let sides = match outcome.sides(&words, false) {
        Ok(sides) => sides,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let about = Asked {
        names: sides.iter().map(|side| side.band().to_owned()).collect(),
        order: None,
    };
    let findings = outcome.about(&prepared, &about);
    let comparison = match session.side_by_side(&sides, &prepared, &request, &outcome) {
        Ok(comparison) => comparison,
        Err((title, _)) => {
            output.findings(&findings, &session.sources);
            output.complain(&format!("`{title}` cannot be evaluated"));
            return Status::Wrong;
        }
    };
    let files = prepared.files();
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            comparisons: vec![report::compare_json(&comparison)],
            ..document::RecipePart::of(files)
        });
    } else if compare.csv {
        let file = files.first().map_or("", |file| file);
        output.result(&report::compare_csv(file, &comparison));
    } else {
        let text = report::compare(&comparison, compare.digits.into(), output.table(), all);
        output.result(&text);
    }
    output.findings(&findings, &session.sources);
    findings.iter().map(Finding::weight).max().into()
}
