//! `annulet why`: where a value comes from, as a tree or as JSON.

use crate::report;

use super::Status;
use super::arguments::{Common, Why};
use super::ask::one;
use super::check::{day, request};
use super::output::Output;

pub(super) fn run(why: &Why, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let Some(mut done) = one(why.file.as_deref(), &request(common), output) else {
        return Status::Wrong;
    };
    let mut status: Status = done.outcome.weight().into();
    let mut findings = done.outcome.findings.clone();
    let (found, problems) = done.session.why(&why.path, &done.outcome, why.depth);
    findings.extend(problems);
    match found {
        Some(found) if why.json => {
            output.result(&format!("{:#}\n", report::why_json(&found, on.as_deref())))
        }
        Some(found) => output.result(&report::why(&found, why.digits.into())),
        None => status = Status::Wrong,
    }
    output.findings(&findings, &done.session.sources);
    status
}
