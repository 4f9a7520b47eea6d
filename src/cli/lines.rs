//! `--lines`: one recipe or one line of overrides in, one result out, each written before the next line is waited for.

use std::io::{self, BufRead, Read};

use serde_json::json;

use crate::finding::{Finding, Weight};
use crate::report;
use crate::report::document::inline;
use crate::session::{LaidLines, Outcome, Request};
use crate::source::printable;
use crate::syntax::LARGEST;

use super::answer;
use super::arguments::{Ask, Eval};
use super::batch::{self, Evaluated};
use super::common::Laid;
use super::input::{PIPED, Text};
use super::output::Output;
use super::recipes::{asked, day, one};
use super::status::Status;

/// A line evaluated, or why it cannot be.
type Laying<'a> = Result<(&'a mut LaidLines, &'a Outcome), String>;

/// `eval --lines`: a line of machine output for each.
pub(super) fn eval(eval: &Eval, laid: &Laid, output: &mut Output) -> Status {
    if let Some(file) = eval.files.first() {
        output.complain(&format!(
            "`--lines` reads standard input; to lay lines over a recipe write `--in {}`",
            printable(file)
        ));
        return Status::Wrong;
    }
    let base = eval.base.as_deref();
    each(base, laid, output, &mut |number, line, output| {
        let (status, recipe, findings) = match line {
            Ok((lines, outcome)) => {
                let sources = &lines.session().sources;
                let findings = outcome.findings.iter();
                (
                    Status::from(outcome.weight()),
                    outcome.part(lines.files(), sources, true).json(),
                    findings.map(|one| report::finding(one, sources)).collect(),
                )
            }
            Err(message) => (
                Status::Wrong,
                json!(null),
                vec![report::told(
                    "call::unread",
                    Weight::Wrong,
                    Some(PIPED),
                    &message,
                )],
            ),
        };
        let line = json!({
            "line": number, "status": status as u8, "recipe": recipe, "findings": findings,
        });
        output.result(&(inline(&line) + "\n"));
        status
    })
}

/// `ask --lines`: the answers to each, with tabs between them.
pub(super) fn ask(ask: &Ask, laid: &Laid, output: &mut Output) -> Status {
    let base = ask.file.as_deref();
    each(base, laid, output, &mut |number, line, output| {
        let mut findings: Vec<Finding> = Vec::new();
        let mut answers = Vec::new();
        let mut failed = false;
        match line {
            Ok((lines, outcome)) => {
                findings.extend(lines.about(outcome, ask.questions.iter().map(String::as_str)));
                for question in &ask.questions {
                    let (value, problems) = lines.ask(question, outcome);
                    failed |= value.is_none();
                    findings.extend(problems);
                    answers.push(answer::line(question, value.as_ref(), ask));
                }
                let wrong = |one: &Finding| one.weight() == Weight::Wrong;
                if failed && !findings.iter().any(wrong) {
                    findings.clone_from(&outcome.findings);
                }
            }
            Err(message) => {
                failed = true;
                answers = ask
                    .questions
                    .iter()
                    .map(|question| answer::line(question, None, ask))
                    .collect();
                output.of_line(number, Weight::Wrong, "call::unread", &message);
            }
        }
        output.result(&(answers.join("\t") + "\n"));
        for one in &findings {
            output.of_line(number, one.weight(), &one.code(), &one.message());
        }
        match failed {
            true => Status::Wrong,
            false => findings.iter().map(Finding::weight).max().into(),
        }
    })
}

/// Lays every line of standard input over a recipe, or takes it for a recipe itself, and prints what it comes to; the
/// highest status of all.
fn each(
    base: Option<&str>,
    laid: &Laid,
    output: &mut Output,
    print: &mut dyn FnMut(usize, Laying<'_>, &mut Output) -> Status,
) -> Status {
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    let asked = asked(laid);
    let mut base = match base {
        None => None,
        Some("-") => {
            output.complain(
                "standard input holds the lines; the recipe that they are laid over is a file",
            );
            return Status::Wrong;
        }
        Some(file) => match one(Some(file), [], laid, output) {
            Some(done) => {
                let wrong = done.outcome.findings.iter();
                let wrong = wrong.filter(|one| one.weight() == Weight::Wrong);
                // Said once, and not again with every line.
                output.findings(&wrong.cloned().collect::<Vec<_>>(), &done.session.sources);
                Some(over(done, asked.request.clone()))
            }
            None => return Status::Wrong,
        },
    };
    let mut status = Status::Well;
    let mut input = io::stdin().lock();
    for number in 1.. {
        let line = match next(&mut input) {
            Ok(Some(line)) => line,
            Ok(None) => break,
            Err(error) => {
                output.complain(&format!("cannot read standard input: {error}"));
                return Status::Wrong;
            }
        };
        let found = match (line, &mut base) {
            (Err(message), _) => print(number, Err(message), output),
            (Ok(line), Some(lines)) => {
                let outcome = lines.lay(&line);
                print(number, Ok((lines, &outcome)), output)
            }
            (Ok(line), None) => {
                let text = Text {
                    name: PIPED.to_owned(),
                    text: Ok(line),
                };
                let done = batch::evaluate(text, &asked).map_err(|unread| unread.message);
                let known = done.and_then(|done| {
                    let band = asked.request.band.as_ref();
                    band.map_or(Ok(String::new()), |band| done.outcome.known(band))?;
                    Ok(done)
                });
                match known {
                    Ok(mut done) => {
                        let outcome = std::mem::take(&mut done.outcome);
                        let mut lines = over(done, Request::default());
                        print(number, Ok((&mut lines, &outcome)), output)
                    }
                    Err(message) => print(number, Err(message), output),
                }
            }
        };
        status = status.max(found);
        if output.is_broken() {
            break;
        }
    }
    status
}

fn over(done: Evaluated, request: Request) -> LaidLines {
    let Evaluated {
        session,
        prepared,
        outcome,
    } = done;
    LaidLines::new(session, prepared, outcome, request)
}

/// The next line without its end, or what is wrong with it; none behind the last.
fn next(input: &mut impl BufRead) -> io::Result<Option<Result<String, String>>> {
    let mut bytes = Vec::new();
    let most = LARGEST as u64 + 1;
    if input.by_ref().take(most).read_until(b'\n', &mut bytes)? == 0 {
        return Ok(None);
    }
    let is_whole = bytes.last() == Some(&b'\n');
    if !is_whole && bytes.len() > LARGEST {
        // The rest of it is nobody's line.
        loop {
            bytes.clear();
            let read = input.by_ref().take(1 << 16).read_until(b'\n', &mut bytes)?;
            if read == 0 || bytes.last() == Some(&b'\n') {
                break;
            }
        }
        return Ok(Some(Err(format!(
            "the line holds more than {LARGEST} bytes"
        ))));
    }
    if is_whole {
        bytes.pop();
    }
    Ok(Some(String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        format!("byte {} of the line is not UTF-8", place + 1)
    })))
}
