//! `annulet solve` and `annulet choose`: one number sought for a target, or several for an aim under limits; the nearest, or
//! what would have to give, where there is none.

use crate::finding::Finding;
use crate::report::{self, document};
use crate::session::{CHOOSE_WORDS, Outcome, Prepared, Request, SOLVE_WORDS, Session};

use super::batch::Evaluated;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::sought_calls::{Choose, Seek};
use super::status::Status;
use super::sweep::statement;

pub(super) fn solve(call: &Seek, laid: &Laid, output: &mut Output) -> Status {
    let Some((found, prepared)) = sought(call, SOLVE_WORDS, laid, output, Session::solve) else {
        return Status::Wrong;
    };
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            solutions: vec![report::solution_json(&found)],
            ..document::RecipePart::of(prepared.files())
        });
    } else {
        output.result(&report::solution(&found, call.digits.into()));
    }
    met(!found.roots.is_empty())
}

pub(super) fn choose(whole: &Choose, laid: &Laid, output: &mut Output) -> Status {
    let call = &whole.seek;
    if let Err(message) = whole.plot.check() {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some((found, prepared)) = sought(call, CHOOSE_WORDS, laid, output, Session::choose) else {
        return Status::Wrong;
    };
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            choices: vec![report::chosen_json(&found)],
            ..document::RecipePart::of(prepared.files())
        });
    } else {
        let text = report::chosen(&found, call.digits.into(), output.table());
        output.result(&text);
    }
    if found.best.is_none() {
        if whole.plot.is_wanted() {
            output.note("nothing is plotted");
        }
        return Status::Unmet;
    }
    let lacks = "there is nothing to plot: `against most PATH` says what the aim is drawn over";
    let drawn = || report::traded_svg(&found);
    if let Err(message) = whole.plot.write(drawn, lacks, output) {
        output.complain(&message);
        return Status::Wrong;
    }
    Status::Well
}

/// What seeks in a recipe by a statement.
type Seeks<T> = fn(&mut Session, &Prepared, &Request, &Outcome, &str) -> (Option<T>, Vec<Finding>);

/// What a call seeks, and the recipe that it seeks in; `None` after saying why nothing can be sought.
fn sought<T>(
    call: &Seek,
    clauses: &[&str],
    laid: &Laid,
    output: &mut Output,
    seeks: Seeks<T>,
) -> Option<(T, Prepared)> {
    if let Err(message) = call.digits.beside(&[(call.json, "--json")]) {
        output.complain(&message);
        return None;
    }
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = one(call.file.as_deref(), &call.words, laid, output)?;
    let request = asked(laid).request;
    let text = statement(&call.words, clauses);
    let (found, findings) = seeks(&mut session, &prepared, &request, &outcome, &text);
    output.findings(&findings, &session.sources);
    Some((found?, prepared))
}

fn met(is_met: bool) -> Status {
    match is_met {
        true => Status::Well,
        false => Status::Unmet,
    }
}
