//! `annulet tally`: a batch of weighings from a CSV file beside the recipe.

use crate::evaluate::{Evaluation, Tallied, range_of};
use crate::finding::Finding;
use crate::report::{self, HeldAgainst, document};
use crate::schema::ResultId;
use crate::source::printable;

use super::common::Laid;
use super::input;
use super::output::Output;
use super::recipes::one;
use super::scale_calls::Tally as Call;
use super::status::Status;

pub(super) fn run(call: &Call, laid: &Laid, output: &mut Output) -> Status {
    let read = match readings(call) {
        Ok(read) => read,
        Err(messages) => {
            for message in &messages {
                output.complain(message);
            }
            return Status::Wrong;
        }
    };
    let Some(done) = one(call.file.as_deref(), [&call.readings], laid, output) else {
        return Status::Wrong;
    };
    let findings = done.mistakes();
    output.findings(&findings, &done.session.sources);
    let shown: Vec<&Evaluation> = done.outcome.shown().collect();
    let [band] = shown.as_slice() else {
        output.complain("of which band? name it with `--band NAME`");
        return Status::Wrong;
    };
    let wanted = match wanted(call, band) {
        Ok(wanted) => wanted,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let (lines, grams): (Vec<u64>, Vec<f64>) = read.into_iter().unzip();
    let Some(found) = Tallied::of(&grams, Some(wanted.limits)) else {
        output.complain("a batch has two readings at least");
        return Status::Wrong;
    };
    let name = &band.band.name;
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            tallies: vec![report::tally_json(name, &lines, &found, &wanted)],
            ..document::RecipePart::of(done.prepared.files())
        });
    } else {
        output.result(&report::tally(name, &lines, &found, &wanted));
    }
    let short = !found.outliers.is_empty() || found.within.is_some_and(|of| of < grams.len());
    match short {
        true => Status::Short,
        false => findings.iter().map(Finding::weight).max().into(),
    }
}

/// What readings are held against: what the call says, else the range that the recipe gives.
fn wanted(call: &Call, band: &Evaluation) -> Result<HeldAgainst, String> {
    let nominal = band
        .number(ResultId::Weight)
        .map_or(f64::NAN, |one| one.to_f64());
    let range = range_of(band, ResultId::Weight.row());
    let mut limits = range.map_or((nominal, nominal), |range| (range.low, range.high));
    if call.least.is_none() && call.most.is_none() && limits.0 >= limits.1 {
        return Err(
            "nothing of the band may be off, so there is no range to hold readings against; give `--least` and `--most`, or state tolerances"
                .to_owned(),
        );
    }
    if let Some(least) = &call.least {
        limits.0 = grams(least).ok_or_else(|| no_mass("--least", least))?;
    }
    if let Some(most) = &call.most {
        limits.1 = grams(most).ok_or_else(|| no_mass("--most", most))?;
    }
    Ok(HeldAgainst {
        limits,
        of_recipe: call.least.is_none() && call.most.is_none(),
        nominal,
    })
}

fn no_mass(option: &str, text: &str) -> String {
    format!(
        "`{option} {}` is no weight in grams; write it as in `{option} \"4.27 g\"`",
        printable(text)
    )
}

/// A weight in grams, with or without its unit.
fn grams(text: &str) -> Option<f64> {
    let text = text.trim();
    let number = text.strip_suffix('g').unwrap_or(text).trim();
    let plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value: f64 = number
        .parse()
        .ok()
        .filter(|_| plain && !number.is_empty())?;
    Some(value)
}

/// The readings of the file, g, each with its line; or everything that is wrong with it.
fn readings(call: &Call) -> Result<Vec<(u64, f64)>, Vec<String>> {
    let file = printable(&call.readings);
    let text = input::read(&call.readings).text.map_err(|why| vec![why])?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{FEFF}').as_bytes());
    let mut column: Option<usize> = None;
    let mut wrong = Vec::new();
    let mut found = Vec::new();
    for (place, record) in reader.records().enumerate() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                wrong.push(format!("{file}: {error}"));
                break;
            }
        };
        let line = record.position().map_or(0, csv::Position::line);
        if place == 0 && record.iter().all(|cell| grams(cell).is_none()) {
            column = match head(&record, call.column.as_deref()) {
                Ok(column) => Some(column),
                Err(message) => return Err(vec![format!("{file}:{line}: {message}")]),
            };
            continue;
        }
        let column = match (column, &call.column) {
            (Some(column), _) => column,
            (None, Some(name)) => {
                return Err(vec![format!(
                    "{file} has no line of headings, so no column is called `{}`",
                    printable(name)
                )]);
            }
            (None, None) if record.len() == 1 => 0,
            (None, None) => {
                return Err(vec![format!(
                    "{file}:{line}: which of {} columns? give the file a line of headings with `weight` in it, or name one with `--column`",
                    record.len()
                )]);
            }
        };
        let cell = record.get(column).unwrap_or_default();
        match grams(cell) {
            Some(value) if value > 0.0 => found.push((line, value)),
            _ => wrong.push(format!(
                "{file}:{line}: `{}` is no weight in grams",
                printable(cell)
            )),
        }
    }
    match wrong.is_empty() {
        true => Ok(found),
        false => Err(wrong),
    }
}

/// The column of a name in a line of headings, or that of the weight.
fn head(record: &csv::StringRecord, wanted: Option<&str>) -> Result<usize, String> {
    let names: Vec<&str> = record.iter().collect();
    let is_it = |name: &&str| match wanted {
        Some(wanted) => *name == wanted,
        None => ["weight", "finished", "grams", "g"].contains(&name.to_lowercase().as_str()),
    };
    let shown = || {
        let shown: Vec<String> = names.iter().map(|name| printable(name)).collect();
        crate::suggest::listed(shown.iter().map(String::as_str))
    };
    match names.iter().position(is_it) {
        Some(column) => Ok(column),
        None if names.len() == 1 && wanted.is_none() => Ok(0),
        None => Err(format!(
            "no column is called `{}`; columns are {}",
            wanted.map_or("weight".to_owned(), printable),
            shown()
        )),
    }
}
