//! `annulet diff`: what two states of a recipe, or of a folder of them, differ in by meaning; also called by git.
//!
//! git calls an external diff with seven words (nine for a renamed file): path, old file, its hash and mode, new file,
//! its hash and mode. The old file lies in a folder of git's own, so both texts are read as if they lay at the path.

use std::path::Path;

use crate::explore::HEADLINES;
use crate::finding::{Finding, Weight};
use crate::report::{self, DifferenceSide, Digits, document};
use crate::session::{NoLibrary, Outcome, Session, State, difference};
use crate::source::{Sources, printable};
use crate::syntax;

use super::arguments::Diff;
use super::batch::{self, Asked, Done, Evaluated};
use super::common::Laid;
use super::folders;
use super::input::{self, Text, Unread};
use super::output::Output;
use super::recipes::{asked, day};
use super::status::Status;

/// What git names in place of a file that is not there.
const NOTHING: &str = "/dev/null";

/// What git sets for the programs that it calls to show a difference.
const OF_GIT: &str = "GIT_DIFF_PATH_COUNTER";

const HOW: &str = "`diff` takes two recipes or two folders, OLD and NEW, as in `annulet diff old.annulet new.annulet`";

pub(super) fn run(diff: &Diff, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = diff.digits.beside(&[(diff.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    if laid.name.is_some() {
        output.complain("`--name` names standard input, and `diff` reads files");
        return Status::Wrong;
    }
    let call = Call {
        asked: asked(laid),
        digits: diff.digits.into(),
    };
    let files: Vec<&str> = diff.files.iter().map(String::as_str).collect();
    match files.as_slice() {
        [file] if diff.text => text_of(file, &call, output),
        _ if diff.text => {
            output.complain("`diff --text` takes one recipe");
            Status::Wrong
        }
        [path] if std::env::var_os(OF_GIT).is_some() => {
            output.result(&format!("{}: not merged yet\n", printable(path)));
            Status::Well
        }
        [old, new] => match (Path::new(old).is_dir(), Path::new(new).is_dir()) {
            (true, true) => call.folders(old, new, output),
            (false, false) => {
                let heading = format!("{} \u{2192} {}", printable(old), printable(new));
                let found = call.pair(&heading, Side::at(old, old), Side::at(new, new), output);
                if !call.is_band_known(found.as_ref(), output) {
                    return Status::Wrong;
                }
                found.map_or(Status::Wrong, |found| found.status)
            }
            _ => {
                output.complain("a folder is laid beside a folder, and a recipe beside a recipe");
                Status::Wrong
            }
        },
        [
            path,
            old,
            old_hash,
            old_mode,
            new,
            new_hash,
            new_mode,
            renamed @ ..,
        ] if renamed.len() % 2 == 0
            && renamed.len() <= 2
            && is_hash(old_hash)
            && is_hash(new_hash)
            && is_mode(old_mode)
            && is_mode(new_mode) =>
        {
            let called = renamed.first().unwrap_or(path);
            let heading = match path == called {
                true => printable(path),
                false => format!("{} \u{2192} {}", printable(path), printable(called)),
            };
            let found = call.pair(&heading, Side::at(old, path), Side::at(new, called), output);
            if found.is_some_and(|found| found.uses && found.differs) {
                output.result("  (with the files that it uses as they are now)\n");
            }
            // Any other status and git takes the program for broken.
            Status::Well
        }
        _ => {
            output.complain(HOW);
            Status::Wrong
        }
    }
}

/// `.` stands for what is not there.
fn is_hash(word: &str) -> bool {
    word == "." || !word.is_empty() && word.chars().all(|c| c.is_ascii_hexdigit())
}

fn is_mode(word: &str) -> bool {
    word == "." || word.len() == 6 && word.chars().all(|c| c.is_digit(8))
}

/// A recipe on one side.
#[derive(Clone, Copy)]
struct Side<'a> {
    /// The file that is read; none where there is nothing on this side.
    file: Option<&'a str>,
    /// The file that it stands for.
    called: &'a str,
}

impl<'a> Side<'a> {
    fn at(file: &'a str, called: &'a str) -> Self {
        Self {
            file: (file != NOTHING).then_some(file),
            called,
        }
    }

    fn evaluated(self, asked: &Asked) -> Done {
        let Some(file) = self.file else {
            let mut session = Session::default();
            let prepared = session.prepare(self.called, "", &mut NoLibrary);
            // What is not there is no recipe without a band.
            return Ok(Evaluated {
                outcome: Outcome::default(),
                prepared,
                session,
            });
        };
        let text = input::read(file);
        let name = match file {
            "-" => text.name,
            _ => self.called.to_owned(),
        };
        batch::evaluate(Text { name, ..text }, asked)
    }
}

/// What a pair came to.
struct Pair {
    status: Status,
    differs: bool,
    /// It uses other files.
    uses: bool,
    /// Names of the bands of both sides.
    names: Vec<String>,
}

/// What is asked of each pair.
struct Call {
    asked: Asked,
    digits: Digits,
}

impl Call {
    /// Tells what one recipe differs in; `None` after saying why it cannot be read.
    fn pair(
        &self,
        heading: &str,
        old: Side<'_>,
        new: Side<'_>,
        output: &mut Output,
    ) -> Option<Pair> {
        let read = |side: Side<'_>| match side.evaluated(&self.asked) {
            Ok(done) => Some(done),
            Err(unread) => {
                output.unread(&unread);
                None
            }
        };
        let (before, after) = (read(old), read(new));
        let (before, after) = (before?, after?);
        let mut found = difference(state(&before), state(&after));
        if let Some(band) = &self.asked.request.band {
            found.bands.retain(|one| one.band == *band);
        }
        let differs = !found.is_none();
        if output.is_machine() {
            let files = match new.file {
                Some(_) => after.prepared.files(),
                None => before.prepared.files(),
            };
            let side = |side: Side<'_>, of: &'_ Evaluated| {
                let name = of.prepared.files().first().cloned();
                side.file.and(name)
            };
            let (old, new) = (side(old, &before), side(new, &after));
            output.recipe(|| document::RecipePart {
                differences: vec![report::difference_json(
                    &found,
                    DifferenceSide {
                        file: old.as_deref(),
                        sources: &before.session.sources,
                    },
                    DifferenceSide {
                        file: new.as_deref(),
                        sources: &after.session.sources,
                    },
                )],
                ..document::RecipePart::of(files)
            });
        } else if differs {
            let what = match (old.file, new.file) {
                (None, Some(_)) => ": added",
                (Some(_), None) => ": gone",
                _ => "",
            };
            let text = report::differences(&found, self.digits, output.table());
            output.result(&format!("{heading}{what}\n{text}"));
        }
        let mut wrong = false;
        for done in [&before, &after] {
            let findings = done.outcome.findings.iter();
            let faults = findings.filter(|one| one.weight() == Weight::Wrong);
            let faults: Vec<Finding> = faults.cloned().collect();
            wrong |= !faults.is_empty();
            output.findings(&faults, &done.session.sources);
        }
        let sides = [&before, &after];
        let names = sides.iter().flat_map(|done| &done.outcome.recipe.names);
        Some(Pair {
            status: match (wrong, differs) {
                (true, _) => Status::Wrong,
                (false, true) => Status::Short,
                (false, false) => Status::Well,
            },
            differs,
            uses: sides.iter().any(|done| done.prepared.files().len() > 1),
            names: names.map(|named| named.name.clone()).collect(),
        })
    }

    /// Whether the band that the call names is in either state.
    fn is_band_known(&self, pair: Option<&Pair>, output: &Output) -> bool {
        let (Some(band), Some(pair)) = (&self.asked.request.band, pair) else {
            return true;
        };
        let known = pair.names.contains(band);
        if !known {
            let band = printable(band);
            output.complain(&format!("there is no band `{band}` on either side"));
        }
        known
    }

    /// Tells what each recipe of a folder differs in, by its path in there.
    fn folders(&self, old: &str, new: &str, output: &mut Output) -> Status {
        let within = |folder: &str, output: &Output| -> Vec<String> {
            let files = folders::expanded(&[folder.to_owned()], output);
            let inner = |file: &String| {
                let inner = Path::new(file).strip_prefix(folder).ok()?;
                Some(inner.display().to_string())
            };
            files
                .iter()
                .filter_map(inner)
                .filter(|inner| !inner.is_empty())
                .collect()
        };
        let (before, after) = (within(old, output), within(new, output));
        let mut all: Vec<&String> = before.iter().chain(&after).collect();
        all.sort();
        all.dedup();
        if all.is_empty() {
            output.unread(&Unread {
                file: None,
                message: "neither folder holds a recipe".to_owned(),
            });
            return Status::Wrong;
        }
        let mut status = Status::Well;
        let (mut differ, mut added, mut gone) = (0, 0, 0);
        let mut names = Vec::new();
        for inner in &all {
            let path = |folder: &str| Path::new(folder).join(inner).display().to_string();
            let (was, is) = (path(old), path(new));
            let side = |all: &[String], file: &'_ str| all.contains(inner).then(|| file.to_owned());
            let (had, has) = (side(&before, &was), side(&after, &is));
            let found = self.pair(
                &printable(inner),
                Side {
                    file: had.as_deref(),
                    called: &was,
                },
                Side {
                    file: has.as_deref(),
                    called: &is,
                },
                output,
            );
            let Some(found) = found else {
                status = Status::Wrong;
                continue;
            };
            match (had, has) {
                (None, _) => added += 1,
                (_, None) => gone += 1,
                _ => differ += usize::from(found.differs),
            }
            names.extend(found.names);
            let here = match found.status {
                Status::Well if added + gone > 0 => Status::Short,
                here => here,
            };
            status = status.max(here);
            if output.is_broken() {
                return status;
            }
        }
        let known = Pair {
            status,
            differs: false,
            uses: false,
            names,
        };
        if !self.is_band_known(Some(&known), output) {
            return Status::Wrong;
        }
        if status != Status::Well {
            output.note(&format!(
                "{} recipes: {differ} differ, {added} added, {gone} gone",
                all.len()
            ));
        }
        status
    }
}

fn state(done: &Evaluated) -> State<'_> {
    State {
        prepared: &done.prepared,
        outcome: &done.outcome,
        sources: &done.session.sources,
    }
}

/// The recipe in its canonical form, its results behind it: a form that differs where the recipe does, for programs
/// that compare texts line by line. What cannot be read is given as it is.
fn text_of(file: &str, call: &Call, output: &mut Output) -> Status {
    let found = match input::read(file) {
        Text { text: Ok(text), .. } => text,
        Text {
            text: Err(message), ..
        } => {
            output.unread(&Unread {
                file: Some(file.to_owned()),
                message,
            });
            return Status::Wrong;
        }
    };
    let mut sources = Sources::default();
    let id = sources.add(file, &found);
    let parsed = sources.get(id).map(syntax::parse);
    let Some(parsed) = parsed.filter(|parsed| parsed.findings.is_empty()) else {
        output.result(&found);
        return Status::Well;
    };
    output.result(&syntax::print(&parsed.value));
    // The files that it uses do not lie beside a copy of it.
    let uses =
        syntax::ast::entries(&parsed.value.items).any(|entry| entry.head_name() == Some("use"));
    if uses {
        return Status::Well;
    }
    let mut session = Session::default();
    let outcome = session.run(file, &found, &call.asked.request);
    let mut text = String::new();
    for evaluation in outcome.shown() {
        for id in HEADLINES {
            let Some(value) = evaluation.value(id.row()) else {
                continue;
            };
            let shown = report::value(&value, call.digits);
            text.push_str(&format!(
                "# {}.{} = {shown}\n",
                evaluation.band.name,
                id.path()
            ));
        }
    }
    for one in &outcome.findings {
        let line = one.message().replace('\n', " ");
        text.push_str(&format!("# {}: {line}\n", report::severity(one.weight())));
    }
    for one in &outcome.verdicts {
        let holds = if one.holds == Some(true) {
            "holds"
        } else {
            "broken"
        };
        text.push_str(&format!(
            "# {holds}: {}: {}\n",
            printable(&one.what),
            one.found
        ));
    }
    output.result(&text);
    Status::Well
}
