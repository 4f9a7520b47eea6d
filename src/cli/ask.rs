//! `annulet ask`: just the results asked for, one a line.

use crate::model::{Value, check};
use crate::report::{self, Digits};
use crate::session::Session;

use super::Status;
use super::arguments::{Ask, Common};
use super::check::{day, request};
use super::input;
use super::output::Output;

pub(super) fn run(ask: &Ask, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let text = match input::one(ask.file.as_deref()) {
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
    let outcome = session.run(&text.name, &content, &request(common));
    let mut status: Status = outcome.weight().into();
    let mut answers: Vec<(String, Value)> = Vec::new();
    let mut findings = outcome.findings.clone();
    for question in &ask.questions {
        let (value, problems) = session.ask(question, &outcome);
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
    output.findings(&findings, &session.sources);
    status
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
            let (number, word) = check::in_unit(quantity, unit.as_deref());
            if ask.plain {
                return number.to_string();
            }
            if !quantity.deviations.is_empty() {
                return check::shown(value);
            }
            let number = report::shown(number, report::places(&word), digits).marked();
            if word.is_empty() {
                number
            } else {
                format!("{number} {word}")
            }
        }
        Value::Text(text) => crate::source::printable(text),
        other => check::shown(other),
    }
}
