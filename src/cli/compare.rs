//! `annulet compare`: bands side by side, differences first.

use crate::finding::Finding;
use crate::report;
use crate::session::{Asked, Session};

use super::arguments::{Compare, Laid};
use super::check::{day, knows_band, request};
use super::input;
use super::library::Folder;
use super::output::Output;
use super::status::Status;

pub(super) fn run(compare: &Compare, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(compare.json, "--json"), (compare.csv, "--csv")];
    if let Err(message) = compare.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(on) = day(laid, output) else {
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
    let request = request(laid);
    let outcome = session.outcome(&prepared, &request);
    if !knows_band(laid, &outcome, output) {
        return Status::Wrong;
    }
    let words: Vec<&str> = compare.bands.iter().map(String::as_str).collect();
    let sides = match outcome.sides(&words, false) {
        Ok(sides) => sides,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let asked = Asked {
        names: sides.iter().map(|side| side.band().to_owned()).collect(),
        order: None,
    };
    let findings = outcome.about(&prepared, &asked);
    let comparison = match session.side_by_side(&sides, &prepared, &request, &outcome) {
        Ok(comparison) => comparison,
        Err((title, _)) => {
            output.findings(&findings, &session.sources);
            output.complain(&format!("`{title}` cannot be evaluated"));
            return Status::Wrong;
        }
    };
    if compare.json {
        let json = report::compare_json(&comparison, on.as_deref());
        output.result(&report::json_text(&json));
    } else if compare.csv {
        output.result(&report::compare_csv(&comparison));
    } else {
        let text = report::compare(&comparison, compare.digits.into(), output.width());
        output.result(&text);
    }
    output.findings(&findings, &session.sources);
    findings.iter().map(Finding::weight).max().into()
}
