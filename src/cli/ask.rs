//! `annulet ask`: just the results asked for, one a line.

use crate::model::{Value, check};
use crate::report::{self, Digits};
use crate::session::Request;

use super::arguments::{Ask, Laid};
use super::batch::{self, Evaluated};
use super::check::{day, knows_band, request};
use super::input;
use super::output::Output;
use super::status::Status;

pub(super) fn run(ask: &Ask, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(ask.json, "--json"), (ask.plain, "--plain")];
    if let Err(message) = ask.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(on) = day(laid, output) else {
        return unanswered(ask, None, output);
    };
    let Some(mut done) = one(ask.file.as_deref(), &request(laid), output) else {
        return unanswered(ask, on.as_deref(), output);
    };
    if !knows_band(laid, &done.outcome, output) {
        return unanswered(ask, on.as_deref(), output);
    }
    let asked = done.outcome.asked(ask.questions.iter().map(String::as_str));
    let mut findings = done.outcome.about(&done.prepared, &asked);
    let is_wrong =
        |one: &crate::finding::Finding| Status::from(Some(one.weight())) == Status::Wrong;
    let mut answers: Vec<Option<Value>> = Vec::new();
    for question in &ask.questions {
        let (value, problems) = done.session.ask(question, &done.outcome);
        // What an answer rests on may lie further away than its words tell.
        if value.is_none() && !findings.iter().chain(&problems).any(is_wrong) {
            findings.clone_from(&done.outcome.findings);
        }
        findings.extend(problems);
        answers.push(value);
    }
    print(ask, &answers, on.as_deref(), output);
    output.findings(&findings, &done.session.sources);
    let failed = answers.iter().any(Option::is_none);
    let heaviest = findings.iter().map(crate::finding::Finding::weight).max();
    match failed {
        true => Status::Wrong,
        false => heaviest.into(),
    }
}

/// Every question of a call gets its line, also where there is no recipe to ask.
fn unanswered(ask: &Ask, on: Option<&str>, output: &mut Output) -> Status {
    print(ask, &vec![None; ask.questions.len()], on, output);
    Status::Wrong
}

fn print(ask: &Ask, answers: &[Option<Value>], on: Option<&str>, output: &mut Output) {
    output.result(&if ask.json {
        let questions = ask.questions.iter().cloned();
        let pairs: Vec<_> = questions.zip(answers.iter().cloned()).collect();
        report::json_text(&report::answers(&pairs, on))
    } else {
        let lines = answers.iter().map(|value| line(value.as_ref(), ask) + "\n");
        lines.collect()
    });
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

/// An answer as one line; where there is none, a line that shifts no other.
fn line(value: Option<&Value>, ask: &Ask) -> String {
    let digits = if ask.plain {
        Digits::All
    } else {
        ask.digits.into()
    };
    match value {
        None if ask.plain => String::new(),
        None => report::NO_ANSWER.to_owned(),
        Some(Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit }) => {
            if ask.plain {
                return check::in_unit(quantity, unit.as_deref()).0.to_string();
            }
            report::shown_quantity(quantity, unit.as_deref(), digits)
        }
        Some(Value::Text(text)) => crate::source::printable(text),
        Some(other) => check::shown(other),
    }
}
