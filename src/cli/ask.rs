//! `annulet ask`: just the results asked for, one a line.

use crate::model::Value;
use crate::report::{self, document};

use super::answer::line;
use super::arguments::Ask;
use super::common::Laid;
use super::lines;
use super::output::Output;
use super::recipes::one;
use super::status::Status;

pub(super) fn run(ask: &Ask, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(ask.json, "--json"), (ask.plain, "--plain")];
    if let Err(message) = ask.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    if ask.lines {
        return lines::ask(ask, laid, output);
    }
    let Some(mut done) = one(ask.file.as_deref(), &ask.questions, laid, output) else {
        return unanswered(ask, output);
    };
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
    if output.is_machine() {
        let questions = ask.questions.iter().cloned();
        let answered = questions.zip(answers.iter().cloned());
        let answered: Vec<_> = answered
            .map(|(question, value)| {
                let rests = done.outcome.rests_of(&question);
                (question, value, rests)
            })
            .collect();
        output.recipe(|| document::RecipePart {
            answers: report::answers(&answered),
            ..document::RecipePart::of(done.prepared.files())
        });
    } else {
        print(ask, &answers, output);
    }
    output.findings(&findings, &done.session.sources);
    let failed = answers.iter().any(Option::is_none);
    let heaviest = findings.iter().map(crate::finding::Finding::weight).max();
    match failed {
        true => Status::Wrong,
        false => heaviest.into(),
    }
}

/// Every question of a call gets its line, also where there is no recipe to ask.
fn unanswered(ask: &Ask, output: &mut Output) -> Status {
    if !output.is_machine() {
        print(ask, &vec![None; ask.questions.len()], output);
    }
    Status::Wrong
}

fn print(ask: &Ask, answers: &[Option<Value>], output: &mut Output) {
    let questions = ask.questions.iter().zip(answers);
    let lines = questions.map(|(question, value)| line(question, value.as_ref(), ask) + "\n");
    output.result(&lines.collect::<String>());
}
