//! `annulet check`: mistakes, limits and requirements, nothing where all holds.

use crate::report;

use super::arguments::Check;
use super::batch::Evaluated;
use super::common::Common;
use super::output::Output;
use super::recipes::Batch;
use super::status::Status;

pub(super) fn run(check: &Check, common: &Common, output: &mut Output) -> Status {
    let mut print = |done: &Evaluated, output: &mut Output| {
        let Evaluated {
            session,
            prepared,
            outcome,
        } = done;
        if output.is_machine() {
            output.recipe(|| outcome.part(prepared.files(), &session.sources, false));
        } else if check.held {
            output.result(&report::requirements(&outcome.verdicts).unwrap_or_default());
        }
    };
    Batch::of(&check.files, common, check.read).run(output, &mut print)
}
