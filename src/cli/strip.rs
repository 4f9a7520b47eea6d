//! `annulet strip`: the outside of a band unrolled, with its drawn cuts, as SVG, as DXF or in characters.

use crate::finding::{Finding, Weight};
use crate::report::strip::{self, Drawing};
use crate::session::Asked;

use super::chosen::chosen;
use super::common::Laid;
use super::drawing::Written;
use super::lathe_calls::Strip;
use super::output::Output;
use super::recipes::one;
use super::status::Status;

pub(super) fn run(call: &Strip, laid: &Laid, output: &mut Output) -> Status {
    let form = match form(call, output) {
        Ok(form) => form,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    // What is laid over means the band that is named.
    let mut meant = laid.clone();
    meant.band = meant.band.or_else(|| call.band_name.clone());
    let Some(done) = one(call.file.as_deref(), &call.band_name, &meant, output) else {
        return Status::Wrong;
    };
    let (outcome, sources) = (&done.outcome, &done.session.sources);
    let band = match chosen(call.band_name.as_deref(), laid, outcome) {
        Ok(band) => band,
        Err(message) => {
            output.findings(&outcome.findings, sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let asked = Asked {
        names: [band.clone()].into(),
        order: None,
    };
    let findings = outcome.about(&done.prepared, &asked);
    let evaluation = outcome.shown().find(|one| one.band.name == band);
    let wrong = findings.iter().any(|one| one.weight() == Weight::Wrong);
    output.findings(&findings, sources);
    let Some(evaluation) = evaluation.filter(|_| !wrong) else {
        return Status::Wrong;
    };
    let width = u32::try_from(output.page()).unwrap_or(80);
    let Some(text) = strip::strip(evaluation, form, call.finished, width) else {
        output.complain("this band has no outside to be unrolled");
        return Status::Wrong;
    };
    if let Err(message) = Written::to(&call.out).write(&text, output) {
        output.complain(&message);
        return Status::Wrong;
    }
    findings.iter().map(Finding::weight).max().into()
}

/// The form: as said, by the ending of the file, or by where it goes.
fn form(call: &Strip, output: &Output) -> Result<Drawing, String> {
    let said = match (call.svg, call.dxf, call.text) {
        (true, ..) => Some(Drawing::Svg),
        (_, true, _) => Some(Drawing::Dxf),
        (.., true) => Some(Drawing::Text),
        _ => None,
    };
    let usual = match output.is_terminal() {
        true => Drawing::Text,
        false => Drawing::Svg,
    };
    let endings = [
        (".svg", Drawing::Svg),
        (".dxf", Drawing::Dxf),
        (".txt", Drawing::Text),
    ];
    Written::to(&call.out).form(said, &endings, usual)
}
