//! `annulet compare`: bands side by side, differences first.

use crate::report;
use crate::session::Session;

use super::Status;
use super::arguments::{Common, Compare};
use super::check::{day, request};
use super::input;
use super::library::Folder;
use super::output::Output;

pub(super) fn run(compare: &Compare, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let text = match input::one(compare.file.as_deref()) {
        Ok(text) => text,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let content = match text.text {
        Ok(content) => content,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let mut session = Session::default();
    let prepared = session.prepare(&text.name, &content, &mut Folder::of(&text.name));
    let request = request(common);
    let outcome = session.outcome(&prepared, &request);
    let words: Vec<&str> = compare.bands.iter().map(String::as_str).collect();
    let sides = match outcome.sides(&words, false) {
        Ok(sides) => sides,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let comparison = match session.side_by_side(&sides, &prepared, &request, &outcome) {
        Ok(comparison) => comparison,
        Err((title, _)) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&format!("`{title}` cannot be evaluated"));
            return Status::Wrong;
        }
    };
    if compare.json {
        let json = report::compare_json(&comparison, on.as_deref());
        output.result(&format!("{json:#}\n"));
    } else if compare.csv {
        output.result(&report::compare_csv(&comparison));
    } else {
        let text = report::compare(&comparison, compare.digits.into(), output.width());
        output.result(&text);
    }
    output.findings(&outcome.findings, &session.sources);
    outcome.weight().into()
}
