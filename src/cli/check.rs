//! `annulet check`: mistakes, limits and requirements, nothing where all holds; or all of them as cases for a runner of
//! tests.

use crate::report::{self, Case, CasesOf, Ended, TextLayout};

use super::arguments::Check;
use super::batch::Evaluated;
use super::common::Common;
use super::input::Unread;
use super::output::Output;
use super::recipes::Batch;
use super::status::Status;

pub(super) fn run(check: &Check, common: &Common, output: &mut Output) -> Status {
    let layout = TextLayout {
        width: output.page(),
        ..TextLayout::default()
    };
    let batch = Batch::of(&check.files, common, check.read);
    if check.junit || check.tap {
        return cases(check, &batch, output);
    }
    let mut print = |done: &Evaluated, output: &mut Output| {
        let Evaluated {
            session,
            prepared,
            outcome,
        } = done;
        if output.is_machine() {
            output.recipe(|| outcome.part(prepared.files(), &session.sources, false));
        } else if check.held {
            output.result(&report::requirements(&outcome.verdicts, layout).unwrap_or_default());
        }
    };
    batch.run(output, &mut print)
}

/// Every recipe as cases, each written as it comes.
fn cases(check: &Check, batch: &Batch<'_>, output: &mut Output) -> Status {
    let (head, tail) = match check.junit {
        true => (report::JUNIT_HEAD, report::JUNIT_TAIL),
        false => (report::TAP_HEAD, ""),
    };
    output.result(head);
    let mut done = 0;
    let status = batch.run_each(output, &mut |found, output| {
        let (file, (cases, notes)) = match found {
            Ok(found) => (
                found.prepared.files().first().map(String::as_str),
                found.outcome.cases(&found.session.sources),
            ),
            Err(unread) => (
                unread.file.as_deref(),
                (vec![unreadable(unread)], Vec::new()),
            ),
        };
        let of = CasesOf {
            file: file.unwrap_or("<call>"),
            cases: &cases,
            notes: &notes,
        };
        let text = match check.junit {
            true => report::junit(&of),
            false => report::tap(&of, done),
        };
        done += cases.len();
        output.result(&text);
    });
    output.result(tail);
    if check.tap {
        output.result(&report::tap_plan(done));
    }
    status
}

fn unreadable(unread: &Unread) -> Case {
    Case {
        name: "can be read".to_owned(),
        line: None,
        ended: Ended::Wrong,
        said: vec![unread.message.clone()],
    }
}
