//! `annulet ask`: just the results asked for, one a line.

use crate::model::{Value, check};
use crate::report::{self, Digits};
use crate::session::Request;

use super::Status;
use super::arguments::{Ask, Common};
use super::batch::{self, Evaluated};
use super::check::{day, request};
use super::input;
use super::output::Output;

pub(super) fn run(ask: &Ask, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let Some(mut done) = one(ask.file.as_deref(), &request(common), output) else {
        return Status::Wrong;
    };
    let mut status: Status = done.outcome.weight().into();
    let mut answers: Vec<(String, Value)> = Vec::new();
    let mut findings = done.outcome.findings.clone();
    for question in &ask.questions {
        let (value, problems) = done.session.ask(question, &done.outcome);
        findings.extend(problems);
        match value {
            Some(value) => answers.push((question.clone(), value)),
            None => status = Status::Wrong,
        }
    }
    if ask.json {
        let json = report::answers(&answers, on.as_deref());
        output.result(&format!("{json:#}\n"));
    } else {
        let lines: String = answers
            .iter()
            .map(|(_, value)| format!("{}\n", line(value, ask)))
            .collect();
        output.result(&lines);
    }
    output.findings(&findings, &done.session.sources);
    status
}

/// The one recipe that a question is about, evaluated; `None` after saying why there is none.
pub(super) fn one(file: Option<&str>, request: &Request, output: &Output) -> Option<Evaluated> {
    let done = input::one(file).and_then(|text| batch::evaluate(text, request));
    match done {
        Ok(done) => Some(done),
        Err(message) => {
            output.complain(&message);
            None
        }
    }
}

/// An answer as one line.
fn line(value: &Value, ask: &Ask) -> String {
    let digits = if ask.plain {
        Digits::All
    } else {
        ask.digits.into()
    };
    match value {
        Value::Quantity { quantity, unit } => {
            if ask.plain {
                return check::in_unit(quantity, unit.as_deref()).0.to_string();
            }
            report::shown_quantity(quantity, unit.as_deref(), digits)
        }
        Value::Text(text) => crate::source::printable(text),
        other => check::shown(other),
    }
}
