//! `annulet gauge`: from a ring in the hand to a recipe.

use std::io::{self, IsTerminal};

use serde_json::{Value as Json, json};

use crate::finding::Finding;
use crate::report::document;
use crate::schema::FieldId;
use crate::session::{Gauged, OffBy, Readings, Session};

use super::common::Laid;
use super::input;
use super::library::Folder;
use super::output::Output;
use super::scale_calls::Gauge;
use super::status::Status;

/// What findings call the words of the call.
const CALL: &str = "readings";

pub(super) fn run(gauge: &Gauge, laid: &Laid, output: &mut Output) -> Status {
    for (is_given, option) in [
        (!laid.sets.is_empty(), "--set"),
        (laid.on.is_some(), "--on"),
    ] {
        if is_given {
            output.complain(&format!(
                "`gauge` takes no `{option}`: it reads no recipe, but makes one"
            ));
            return Status::Wrong;
        }
    }
    let words = gauge.readings.join(" ");
    let file = match (&gauge.file, words.trim().is_empty()) {
        (Some(file), _) => Some(input::read(file)),
        (None, true) if io::stdin().is_terminal() => {
            output.complain(
                "what was read of the ring? as in `annulet gauge weight 5.86 g, width 5 mm, inside 16 mm, outside 20 mm`",
            );
            return Status::Wrong;
        }
        (None, true) => Some(input::read("-")),
        (None, false) => None,
    };
    let file = match file {
        Some(text) => match text.text {
            Ok(content) => {
                let piped = text.name == input::PIPED;
                let name = laid.name.clone().filter(|_| piped).unwrap_or(text.name);
                Some((name, content))
            }
            Err(message) => {
                output.complain(&message);
                return Status::Wrong;
            }
        },
        None => None,
    };
    let name = file.as_ref().map_or(CALL, |(name, _)| name.as_str());
    let mut folder = Folder::of(name, laid.root.as_ref().map(AsRef::as_ref));
    if let Some(message) = folder.refusal(name) {
        output.complain(&message);
        return Status::Wrong;
    }
    let mut texts: Vec<Readings<'_>> = Vec::new();
    if let Some((name, text)) = &file {
        texts.push(Readings { name, text });
    }
    if !words.trim().is_empty() {
        let text = &words;
        texts.push(Readings { name: CALL, text });
    }
    let mut session = Session::default();
    let (found, findings) = session.gauge(&texts, "", laid.band.as_deref(), &mut folder);
    let mut status: Status = findings.iter().map(Finding::weight).max().into();
    if let Some(found) = &found {
        if found.fits.is_empty() {
            status = status.max(Status::Short);
        }
        if output.is_machine() {
            let files = [name.to_owned()];
            output.recipe(|| document::RecipePart {
                gauged: vec![json(found)],
                ..document::RecipePart::of(&files)
            });
        } else {
            output.result(&found.recipe);
        }
    }
    output.findings(&findings, &session.sources);
    status
}

/// The same for machine output.
fn json(found: &Gauged) -> Json {
    let readings = found.measured.iter().map(|one| {
        let unit = if one.word == "weight" { "g" } else { "mm" };
        let by = match one.by {
            OffBy::Written => "written",
            OffBy::Stated => "stated",
            OffBy::Step => "step",
            OffBy::Usual => "usual",
        };
        json!({ "reading": one.word, "value": one.value, "unit": unit, "within": one.off, "by": by })
    });
    let fits = found.fits.iter().map(|fit| {
        let sought = fit.sought.as_ref().map(|one| {
            let unit = if one.path == FieldId::PatternCover.path() { "" } else { "mm" };
            json!({
                "path": one.path, "value": one.value, "low": one.low, "high": one.high, "unit": unit,
                "way": one.way.word(),
            })
        });
        json!({
            "band": fit.band, "alloy": fit.alloy, "grams": fit.grams, "sought": sought, "remarks": fit.remarks,
            "text": fit.text,
        })
    });
    let open = found.open.iter().map(|one| {
        json!({ "what": one.what, "unknowns": one.unknowns, "rows": one.rows, "tell": one.tell })
    });
    let clashes = found.clashes.iter().map(|one| {
        let each = one
            .each
            .iter()
            .map(|(word, would)| json!({ "reading": word, "would-be": would }));
        json!({ "message": one.message, "each": each.collect::<Vec<_>>() })
    });
    json!({
        "readings": readings.collect::<Vec<_>>(),
        "says": found.says,
        "fits": fits.collect::<Vec<_>>(),
        "open": open.collect::<Vec<_>>(),
        "clashes": clashes.collect::<Vec<_>>(),
        "recipe": found.recipe,
    })
}
