//! `annulet solve`: one number sought for a target; the nearest and what stops it where there is none.

use crate::report::{self, document};
use crate::session::SOLVE_WORDS;

use super::batch::Evaluated;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::sought_calls::Seek;
use super::status::Status;
use super::sweep::statement;

pub(super) fn run(solve: &Seek, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = solve.digits.beside(&[(solve.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(solve.file.as_deref(), &solve.words, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let request = asked(laid).request;
    let text = statement(&solve.words, SOLVE_WORDS);
    let (found, findings) = session.solve(&prepared, &request, &outcome, &text);
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            solutions: vec![report::solution_json(&found)],
            ..document::RecipePart::of(prepared.files())
        });
    } else {
        output.result(&report::solution(&found, solve.digits.into()));
    }
    match found.roots.is_empty() {
        true => Status::Unmet,
        false => Status::Well,
    }
}
