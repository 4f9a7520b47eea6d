//! `annulet check`: mistakes and limits, nothing where all holds; and what the other commands share with it.

use crate::finding::Finding;
use crate::model::is_day;
use crate::report;
use crate::session::{Outcome, Request, Session};

use super::Status;
use super::arguments::{Check, Common};
use super::input;
use super::output::Output;

pub(super) fn run(check: &Check, common: &Common, output: &mut Output) -> Status {
    let mut session = Session::default();
    let (status, outcomes) = run_all(&check.files, &request(common), &mut session, output);
    if day(common, output).is_none() {
        return Status::Wrong;
    }
    if check.json {
        let findings: Vec<&Finding> = outcomes
            .iter()
            .flat_map(|outcome| &outcome.findings)
            .collect();
        let json = report::findings_json(findings.into_iter(), &session.sources);
        output.result(&format!("{json:#}\n"));
    } else {
        for outcome in &outcomes {
            output.findings(&outcome.findings, &session.sources);
        }
    }
    status
}

/// What the common options ask of a recipe.
pub(super) fn request(common: &Common) -> Request {
    Request {
        sets: common.sets.clone(),
        band: common.band.clone(),
    }
}

/// Evaluates all texts of a call, in order; what cannot be read is complained about and passed by.
pub(super) fn run_all(
    files: &[String],
    request: &Request,
    session: &mut Session,
    output: &Output,
) -> (Status, Vec<Outcome>) {
    let texts = match input::texts(files) {
        Ok(texts) => texts,
        Err(message) => {
            output.complain(&message);
            return (Status::Wrong, Vec::new());
        }
    };
    let mut status = Status::Well;
    let mut outcomes = Vec::new();
    for text in texts {
        match text.text {
            Ok(content) => {
                let outcome = session.run(&text.name, &content, request);
                status = status.max(outcome.weight().into());
                outcomes.push(outcome);
            }
            Err(message) => {
                output.complain(&message);
                status = Status::Wrong;
            }
        }
    }
    if !outcomes.is_empty() && unknown_band(request, &outcomes, output) {
        status = Status::Wrong;
    }
    (status, outcomes)
}

/// Whether `--band` names a band that no recipe of the call has.
fn unknown_band(request: &Request, outcomes: &[Outcome], output: &Output) -> bool {
    let Some(wanted) = &request.band else {
        return false;
    };
    let names: Vec<&str> = outcomes
        .iter()
        .flat_map(|outcome| &outcome.recipe.names)
        .map(|named| named.name.as_str())
        .collect();
    if names.contains(&wanted.as_str()) {
        return false;
    }
    let wanted = crate::source::printable(wanted);
    output.complain(
        &match crate::suggest::nearest(&wanted, names.iter().copied()) {
            Some(near) => format!("there is no band `{wanted}`; did you mean `{near}`?"),
            None if names.is_empty() => format!("there is no band `{wanted}`, nor any other"),
            None => format!(
                "there is no band `{wanted}`; bands are {}",
                crate::suggest::listed(names)
            ),
        },
    );
    true
}

/// The day given with `--on`; the outer `None` means that it is no day, which was said.
pub(super) fn day(common: &Common, output: &Output) -> Option<Option<String>> {
    let Some(text) = &common.on else {
        return Some(None);
    };
    let mut parts = text.splitn(3, '-');
    let day = (|| {
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let digits = year.len() == 4 && month.len() == 2 && day.len() == 2;
        let known = is_day(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?);
        (digits && known).then(|| text.clone())
    })();
    if day.is_none() {
        output.complain(&format!(
            "`--on {}` is no day; write year, month and day, as in `--on 2026-11-25`",
            crate::source::printable(text)
        ));
        return None;
    }
    Some(day)
}
