//! The recipes of a call, one or many: what is asked of them, and what all of them came to.

use std::collections::HashSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::PathBuf;

use crate::finding::{Finding, Weight};
use crate::model::Day;
use crate::session::{Outcome, Request};
use crate::source::printable;

use super::batch::{self, Asked, Done, Evaluated};
use super::common::{Common, Laid};
use super::folders;
use super::input::{self, PIPED, Unread};
use super::output::Output;
use super::status::Status;

/// What the common options ask of a recipe.
pub(super) fn asked(laid: &Laid) -> Asked {
    Asked {
        request: Request {
            sets: laid.sets.clone(),
            band: laid.band.clone(),
            on: laid.on.as_deref().and_then(Day::read),
            ..Request::default()
        },
        root: laid.root.as_ref().map(PathBuf::from),
        name: laid.name.clone(),
    }
}

/// The one recipe that a question is about, evaluated; `None` after saying why there is none, or why it is not the
/// one that the call means.
///
/// `named` is what the call asks about: bands, orders or questions, none of which is a file.
pub(super) fn one<'a>(
    file: Option<&str>,
    named: impl IntoIterator<Item = &'a String>,
    laid: &Laid,
    output: &Output,
) -> Option<Evaluated> {
    let mut named = named.into_iter();
    if let Some(recipe) = named.find(|word| word.ends_with(input::ENDING)) {
        let recipe = printable(recipe);
        output.complain(&format!("`{recipe}` is a file; write `--in {recipe}`"));
        return None;
    }
    day(laid, output)?;
    let done = input::one(file).and_then(|text| {
        let unpiped = text.name != PIPED;
        Ok((batch::evaluate(text, &asked(laid))?, unpiped))
    });
    let done = match done {
        Ok((_, true)) if laid.name.is_some() => {
            output.complain(UNNAMED);
            return None;
        }
        Ok((done, _)) => done,
        Err(unread) => {
            output.unread(&unread);
            return None;
        }
    };
    let Some(Err(message)) = laid.band.as_ref().map(|name| done.outcome.known(name)) else {
        return Some(done);
    };
    output.complain(&message);
    None
}

const UNNAMED: &str = "`--name` names standard input, and this call reads files";

/// The recipes of a call.
pub(super) struct Batch<'a> {
    files: &'a [String],
    asked: Asked,
    common: &'a Common,
    /// Only the names of the files read are wanted.
    read: bool,
    /// What falls short is told before what is printed.
    told_first: bool,
}

/// What a batch came to.
#[derive(Default)]
struct Tally {
    well: usize,
    short: usize,
    wrong: usize,
    /// The names of all bands.
    names: Vec<String>,
    /// What was told of which place.
    told: HashSet<u64>,
}

impl<'a> Batch<'a> {
    pub fn of(files: &'a [String], common: &'a Common, read: bool) -> Self {
        Self {
            files,
            asked: asked(&common.laid),
            common,
            read,
            told_first: false,
        }
    }

    /// Tells what falls short of a recipe before its results, which then are what stays on a screen; mistakes, for which
    /// there are no results, stay the last.
    pub fn told_first(self, told_first: bool) -> Self {
        Self { told_first, ..self }
    }

    /// Evaluates all, prints each by `print`, tells its findings.
    pub fn run(
        &self,
        output: &mut Output,
        print: &mut (dyn FnMut(&Evaluated, &mut Output) + Send),
    ) -> Status {
        self.run_each(output, &mut |found, output| {
            if let Ok(done) = found {
                print(done, output);
            }
        })
    }

    /// The same, with those that cannot be read.
    pub fn run_each(
        &self,
        output: &mut Output,
        print: &mut (dyn FnMut(Result<&Evaluated, &Unread>, &mut Output) + Send),
    ) -> Status {
        if day(&self.common.laid, output).is_none() {
            return Status::Wrong;
        }
        if self.asked.name.is_some()
            && !self.files.is_empty()
            && !self.files.iter().any(|file| file == "-")
        {
            output.complain(UNNAMED);
            return Status::Wrong;
        }
        let mut status = Status::Well;
        let mut tally = Tally::default();
        let mut each = |done: Done, output: &mut Output| {
            let found = match done {
                Ok(done) => {
                    let first = self.told_first && done.outcome.weight() < Some(Weight::Wrong);
                    if first {
                        output.findings(&tally.untold(&done), &done.session.sources);
                    }
                    if self.read {
                        let files = done.prepared.files().iter();
                        output.result(&files.map(|file| format!("{file}\n")).collect::<String>());
                    } else {
                        print(Ok(&done), output);
                    }
                    if !first {
                        output.findings(&tally.untold(&done), &done.session.sources);
                    }
                    tally.names.extend(band_names(&done.outcome));
                    done.outcome.weight().into()
                }
                Err(unread) => {
                    print(Err(&unread), output);
                    output.unread(&unread);
                    Status::Wrong
                }
            };
            match found {
                Status::Well => tally.well += 1,
                Status::Short => tally.short += 1,
                Status::Wrong | Status::Unmet | Status::Interrupted => tally.wrong += 1,
            }
            status = status.max(found);
            let enough = self.common.many.stop && found == Status::Wrong;
            !enough && !output.is_broken()
        };
        let mut count = 1;
        if self.files.is_empty() {
            match input::one(None) {
                Ok(text) if self.asked.name.is_some() && text.name != PIPED => {
                    output.complain(UNNAMED);
                    return Status::Wrong;
                }
                Ok(text) => drop(each(batch::evaluate(text, &self.asked), output)),
                Err(unread) => drop(each(Err(unread), output)),
            }
        } else {
            let files = folders::expanded(self.files, output);
            count = files.len();
            let jobs = self.common.many.jobs.map_or_else(batch::cores, Into::into);
            batch::for_all(&files, &self.asked, jobs, &mut |done| each(done, output));
        }
        if count > 1 && status != Status::Well {
            let Tally {
                well, short, wrong, ..
            } = tally;
            output.note(&format!(
                "{} recipes: {well} hold, {short} fall short, {wrong} are wrong",
                well + short + wrong
            ));
        }
        if self.unknown_band(&tally.names, output) {
            Status::Wrong
        } else {
            status
        }
    }

    /// Whether `--band` names a band that no recipe of the call has.
    fn unknown_band(&self, names: &[String], output: &Output) -> bool {
        let Some(wanted) = &self.asked.request.band else {
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

impl Tally {
    /// What is found in a recipe, without what was told of the same place of a file already: one that two recipes
    /// use, or that is read for itself too.
    fn untold(&mut self, done: &Evaluated) -> Vec<Finding> {
        let sources = &done.session.sources;
        let files = done.prepared.files();
        let is_new = |one: &&Finding| {
            let Some((span, source)) = one
                .span()
                .and_then(|span| Some((span, sources.holding(span)?)))
            else {
                return true;
            };
            if *source.name == *PIPED || !files.iter().any(|file| **file == *source.name) {
                return true;
            }
            let mut hasher = DefaultHasher::new();
            (sources.locate(span), one.code(), one.message()).hash(&mut hasher);
            self.told.insert(hasher.finish())
        };
        done.outcome
            .findings
            .iter()
            .filter(is_new)
            .cloned()
            .collect()
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
            "`--on {}` is not a day; write year, month and day, as in `--on 2026-11-25`",
            printable(text)
        ));
        return None;
    }
    Some(day)
}
