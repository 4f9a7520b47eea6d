//! `annulet check`: mistakes, limits and requirements, nothing where all holds; and what it shares with `eval`.

use serde_json::Value as Json;

use crate::model::Day;
use crate::report;
use crate::session::{Outcome, Request};

use super::arguments::{Check, Common, Laid};
use super::batch::{self, Done, Evaluated};
use super::input;
use super::output::Output;
use super::status::Status;

pub(super) fn run(check: &Check, common: &Common, output: &mut Output) -> Status {
    if day(&common.laid, output).is_none() {
        return Status::Wrong;
    }
    let mut all: Vec<Json> = Vec::new();
    let mut requirements: Vec<Json> = Vec::new();
    let mut print = |done: &Evaluated, output: &mut Output| {
        if check.json {
            let sources = &done.session.sources;
            all.extend(
                done.outcome
                    .findings
                    .iter()
                    .map(|finding| report::finding(finding, sources)),
            );
            requirements.extend(
                done.outcome
                    .verdicts
                    .iter()
                    .map(|verdict| report::verdict(verdict, sources)),
            );
        } else if check.held {
            output.result(&report::requirements(&done.outcome.verdicts).unwrap_or_default());
        }
    };
    let batch = Batch {
        files: &input::expanded(&check.files),
        request: request(&common.laid),
        jobs: common.many.jobs,
        stop: common.many.stop,
    };
    let status = batch.run_drawing(output, !check.json, &mut print);
    if check.json {
        let json = report::findings_json(all, requirements);
        output.result(&report::json_text(&json));
    }
    status
}

/// What the common options ask of a recipe.
pub(super) fn request(laid: &Laid) -> Request {
    Request {
        sets: laid.sets.clone(),
        band: laid.band.clone(),
        on: laid.on.as_deref().and_then(Day::read),
        ..Request::default()
    }
}

/// The recipes of a call.
pub(super) struct Batch<'a> {
    pub files: &'a [String],
    pub request: Request,
    pub jobs: Option<usize>,
    /// End at the first recipe that is wrong.
    pub stop: bool,
}

/// What a batch came to.
#[derive(Default)]
struct Tally {
    well: usize,
    short: usize,
    wrong: usize,
}

impl Batch<'_> {
    /// Evaluates all, prints each by `print`, draws its findings.
    pub fn run(
        &self,
        output: &mut Output,
        print: &mut dyn FnMut(&Evaluated, &mut Output),
    ) -> Status {
        self.run_drawing(output, true, print)
    }

    /// As [`Batch::run`], findings drawn or left to `print`.
    pub fn run_drawing(
        &self,
        output: &mut Output,
        draw: bool,
        print: &mut dyn FnMut(&Evaluated, &mut Output),
    ) -> Status {
        let mut status = Status::Well;
        let mut names: Vec<String> = Vec::new();
        let mut tally = Tally::default();
        let mut each = |done: Done, output: &mut Output| {
            let found = match done {
                Ok(done) => {
                    print(&done, output);
                    if draw {
                        output.findings(&done.outcome.findings, &done.session.sources);
                    }
                    names.extend(band_names(&done.outcome));
                    done.outcome.weight().into()
                }
                Err(message) => {
                    output.complain(&message);
                    Status::Wrong
                }
            };
            match found {
                Status::Well => tally.well += 1,
                Status::Short => tally.short += 1,
                Status::Wrong => tally.wrong += 1,
            }
            status = status.max(found);
            let enough = self.stop && found == Status::Wrong;
            !enough && !output.is_broken()
        };
        if self.files.is_empty() {
            match input::one(None) {
                Ok(text) => drop(each(batch::evaluate(text, &self.request), output)),
                Err(message) => {
                    output.complain(&message);
                    return Status::Wrong;
                }
            }
        } else {
            let jobs = self.jobs.unwrap_or_else(batch::cores);
            batch::for_all(self.files, &self.request, jobs, &mut |done| {
                each(done, output)
            });
        }
        if self.files.len() > 1 && status != Status::Well {
            let Tally { well, short, wrong } = tally;
            output.note(&format!(
                "{} recipes: {well} hold, {short} fall short, {wrong} are wrong",
                well + short + wrong
            ));
        }
        if self.unknown_band(&names, output) {
            Status::Wrong
        } else {
            status
        }
    }

    /// Whether `--band` names a band that no recipe of the call has.
    fn unknown_band(&self, names: &[String], output: &Output) -> bool {
        let Some(wanted) = &self.request.band else {
            return false;
        };
        if names.contains(wanted) {
            return false;
        }
        let names = || names.iter().map(String::as_str);
        let wanted = crate::source::printable(wanted);
        output.complain(&match crate::suggest::nearest(&wanted, names()) {
            Some(near) => format!("there is no band `{wanted}`; did you mean `{near}`?"),
            None if names().next().is_none() => {
                format!("there is no band `{wanted}`, nor any other")
            }
            None => format!(
                "there is no band `{wanted}`; bands are {}",
                crate::suggest::listed(names())
            ),
        });
        true
    }
}

fn band_names(outcome: &Outcome) -> Vec<String> {
    outcome
        .recipe
        .names
        .iter()
        .map(|named| named.name.clone())
        .collect()
}

/// The day given with `--on`; the outer `None` means that it is no day, which was said.
pub(super) fn day(laid: &Laid, output: &Output) -> Option<Option<String>> {
    let Some(text) = &laid.on else {
        return Some(None);
    };
    let day = Day::read(text).map(|_| text.clone());
    if day.is_none() {
        output.complain(&format!(
            "`--on {}` is no day; write year, month and day, as in `--on 2026-11-25`",
            crate::source::printable(text)
        ));
        return None;
    }
    Some(day)
}

/// Whether the band of `--band` is one of the recipe, also where no path needs it; else that is said.
pub(super) fn knows_band(laid: &Laid, outcome: &Outcome, output: &Output) -> bool {
    let Some(Err(message)) = laid.band.as_ref().map(|name| outcome.known(name)) else {
        return true;
    };
    output.complain(&message);
    false
}
