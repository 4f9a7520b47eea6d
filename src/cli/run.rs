//! `annulet run`: one band over many sizes.

use crate::explore::Keep;
use crate::finding::{Finding, Weight, settle};
use crate::report::{self, TextLayout, document};
use crate::session::Asked;
use crate::source::printable;

use super::arguments::Run;
use super::batch::Evaluated;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::status::Status;

pub(super) fn run(run: &Run, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = run.plot.check() {
        output.complain(&message);
        return Status::Wrong;
    }
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
    let sizes = |set: &&String| {
        let path = set
            .split_once('=')
            .map_or(set.as_str(), |(path, _)| path)
            .trim();
        let band = run.band_name.as_ref().or(laid.band.as_ref());
        path == "size" || band.is_some_and(|band| path == format!("{band}.size"))
    };
    if let Some(set) = laid.sets.iter().find(sizes) {
        output.complain(&format!(
            "`--sizes` and `--set {}` both say the size; leave one of them out",
            printable(set)
        ));
        return Status::Wrong;
    }
    let Some(done) = one(run.file.as_deref(), &run.band_name, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let request = asked(laid).request;
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
    let (found, findings) = {
        let keeps: Vec<Keep> = run
            .keep
            .iter()
            .filter_map(|word| Keep::of_word(word))
            .collect();
        session.size_run(&prepared, &request, &outcome, band, (&run.sizes, &keeps))
    };
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    let files = prepared.files();
    if output.is_machine() {
        let problem = |one: &Finding| report::finding(one, &session.sources);
        output.recipe(|| document::RecipePart {
            runs: vec![report::size_run_json(&found, &problem)],
            ..document::RecipePart::of(files)
        });
    } else if run.csv {
        let file = files.first().map_or("", |file| file);
        output.result(&report::size_run_csv(file, &found));
    } else {
        let layout = TextLayout {
            digits: run.digits.into(),
            width: output.table(),
        };
        output.result(&report::size_run(&found, &request.over(), layout));
    }
    let own = outcome.evaluation(&found.band);
    let drawn = || report::sizes_svg(&found, own);
    let lacks = "there is nothing to plot: none of these sizes can be made";
    if let Err(message) = run.plot.write(drawn, lacks, output) {
        output.complain(&message);
        return Status::Wrong;
    }
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
