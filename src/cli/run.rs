//! `annulet run`: one band over many sizes.

use crate::finding::{Finding, Weight, settle};
use crate::report;
use crate::session::{Asked, Session};
use crate::source::printable;

use super::arguments::{Laid, Run};
use super::check::{day, knows_band, request};
use super::input;
use super::library::Folder;
use super::output::Output;
use super::status::Status;

pub(super) fn run(run: &Run, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(run.json, "--json"), (run.csv, "--csv")];
    if let Err(message) = run.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    if let (Some(name), Some(other)) = (&run.band_name, &laid.band)
        && name != other
    {
        output.complain(&format!(
            "`{}` and `--band {}` are two bands; which one?",
            printable(name),
            printable(other)
        ));
        return Status::Wrong;
    }
    let Some(on) = day(laid, output) else {
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
    let request = request(laid);
    let mut session = Session::default();
    let prepared = session.prepare(&name, &text, &mut Folder::of(&name));
    let outcome = session.outcome(&prepared, &request);
    if !knows_band(laid, &outcome, output) {
        return Status::Wrong;
    }
    let band = run.band_name.as_deref();
    // Mistakes of the band itself; which one is meant where none is named is found below.
    let own = outcome.asked(std::iter::once("size"));
    let named = band.map(|name| Asked {
        names: [name.to_owned()].into(),
        order: None,
    });
    let mistakes = outcome.about(&prepared, &named.unwrap_or(own));
    if mistakes.iter().any(|one| one.weight() == Weight::Wrong) {
        output.findings(&mistakes, &session.sources);
        return Status::Wrong;
    }
    let (found, findings) = session.size_run(&prepared, &request, &outcome, band, &run.sizes);
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    output.result(&if run.json {
        report::json_text(&report::size_run_json(&found, on.as_deref()))
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
