//! `annulet strip`: the outside of a band unrolled, with its drawn cuts, as SVG, as DXF or in characters.

use crate::finding::Finding;
use crate::report;
use crate::source::printable;
use crate::suggest::listed;

use super::arguments::{Laid, Strip};
use super::ask::one;
use super::check::{day, knows_band, request};
use super::input;
use super::output::Output;
use super::saved;
use super::status::Status;

pub(super) fn run(strip: &Strip, laid: &Laid, output: &mut Output) -> Status {
    if let (Some(name), Some(other)) = (&strip.band_name, &laid.band)
        && name != other
    {
        output.complain(&format!(
            "`{}` and `--band {}` are two bands; which one?",
            printable(name),
            printable(other)
        ));
        return Status::Wrong;
    }
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    let Some(done) = one(strip.file.as_deref(), &request(laid), output) else {
        return Status::Wrong;
    };
    let outcome = &done.outcome;
    if !knows_band(laid, outcome, output) {
        return Status::Wrong;
    }
    let names: Vec<&str> = outcome
        .recipe
        .names
        .iter()
        .map(|named| named.name.as_str())
        .collect();
    let asked = strip.band_name.as_deref().or(laid.band.as_deref());
    let name = match (asked, names.as_slice()) {
        (Some(name), _) if names.contains(&name) => name,
        (None, [only]) => only,
        (Some(name), _) => {
            output.findings(&outcome.findings, &done.session.sources);
            output.complain(&format!(
                "there is no band `{}`; bands are {}",
                printable(name),
                listed(names.iter().copied())
            ));
            return Status::Wrong;
        }
        (None, []) => {
            output.findings(&outcome.findings, &done.session.sources);
            output.complain("the recipe has no band to be unrolled");
            return Status::Wrong;
        }
        (None, several) => {
            output.complain(&format!(
                "which band? the recipe has {}",
                listed(several.iter().copied())
            ));
            return Status::Wrong;
        }
    };
    let found = outcome.about(
        &done.prepared,
        &crate::session::Asked {
            names: [name.to_owned()].into(),
            order: None,
        },
    );
    output.findings(&found, &done.session.sources);
    let evaluation = outcome.evaluations.iter().find(|one| one.band.name == name);
    let Some(evaluation) = evaluation else {
        return Status::Wrong;
    };
    let to_terminal = strip.out.is_none() && output.is_terminal();
    let form = match (strip.svg, strip.dxf, strip.text) {
        (true, ..) => report::strip::Drawing::Svg,
        (_, true, _) => report::strip::Drawing::Dxf,
        (.., true) => report::strip::Drawing::Text,
        _ => match strip.out.as_deref().map(str::to_lowercase) {
            Some(file) if file.ends_with(".dxf") => report::strip::Drawing::Dxf,
            Some(file) if file.ends_with(".svg") => report::strip::Drawing::Svg,
            _ if to_terminal => report::strip::Drawing::Text,
            _ => report::strip::Drawing::Svg,
        },
    };
    let width = u32::try_from(output.width()).unwrap_or(80);
    let Some(text) = report::strip::strip(evaluation, form, strip.finished, width) else {
        output.complain("this band has no outside to be unrolled");
        return Status::Wrong;
    };
    match &strip.out {
        None => output.result(&text),
        Some(file) => {
            if file.ends_with(input::ENDING) {
                let file = printable(file);
                output.complain(&format!(
                    "`{file}` is the name of a recipe: write the drawing under another"
                ));
                return Status::Wrong;
            }
            if let Err(message) = saved::write(file, &text) {
                output.complain(&message);
                return Status::Wrong;
            }
        }
    }
    found.iter().map(Finding::weight).max().into()
}
