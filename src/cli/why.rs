//! `annulet why`: where a value comes from, as a tree or as JSON.

use crate::finding::Finding;
use crate::report::{self, document};

use super::arguments::Why;
use super::common::Laid;
use super::output::Output;
use super::recipes::{day, one};
use super::status::Status;

pub(super) fn run(why: &Why, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = why.digits.beside(&[(why.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    let Some(mut done) = one(why.file.as_deref(), laid, output) else {
        return Status::Wrong;
    };
    let asked = done.outcome.asked(std::iter::once(why.path.as_str()));
    let mut findings = done.outcome.about(&done.prepared, &asked);
    let (found, problems) = done.session.why(&why.path, &done.outcome, why.depth);
    findings.extend(problems);
    let mut status: Status = findings.iter().map(Finding::weight).max().into();
    match found {
        Some(found) if output.is_machine() => output.recipe(|| document::RecipePart {
            reasons: vec![report::why_json(&found)],
            ..document::RecipePart::of(done.prepared.files())
        }),
        Some(found) => output.result(&report::why(&found, why.digits.into())),
        None => {
            // What it rests on may lie further away than its words tell.
            if status != Status::Wrong {
                findings.clone_from(&done.outcome.findings);
            }
            status = Status::Wrong;
        }
    }
    output.findings(&findings, &done.session.sources);
    status
}
