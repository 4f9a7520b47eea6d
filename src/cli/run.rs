//! `annulet run`: one band over many sizes.

use crate::finding::{Finding, Weight, settle};
use crate::report;
use crate::session::Session;

use super::Status;
use super::arguments::{Common, Run};
use super::check::{day, request};
use super::input;
use super::library::Folder;
use super::output::Output;

pub(super) fn run(run: &Run, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let text = input::one(run.file.as_deref()).and_then(|text| Ok((text.name, text.text?)));
    let (name, text) = match text {
        Ok(found) => found,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let request = request(common);
    let mut session = Session::default();
    let prepared = session.prepare(&name, &text, &mut Folder::of(&name));
    let outcome = session.outcome(&prepared, &request);
    let whole: Status = outcome.weight().into();
    if whole == Status::Wrong {
        output.findings(&outcome.findings, &session.sources);
        return whole;
    }
    let band = run.band_name.as_deref();
    let (found, findings) = session.size_run(&prepared, &request, &outcome, band, &run.sizes);
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    output.result(&if run.json {
        format!("{:#}\n", report::size_run_json(&found, on.as_deref()))
    } else if run.csv {
        report::size_run_csv(&found)
    } else {
        report::size_run(&found, run.digits.into())
    });
    // What falls short stands in the table; what a column is not given for does not.
    let problems = found.rows.iter().flat_map(|row| &row.problems);
    let mut notes: Vec<Finding> = problems
        .filter(|one| one.weight() == Weight::Note)
        .cloned()
        .collect();
    settle(&mut notes);
    output.findings(&notes, &session.sources);
    // A size that cannot be made is a limit of the run, not a mistake of the recipe.
    let short = found
        .rows
        .iter()
        .any(|row| row.evaluation.is_none() || row.weight() > Some(Weight::Note));
    if short { Status::Short } else { Status::Well }
}
