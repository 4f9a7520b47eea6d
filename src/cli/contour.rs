//! `annulet contour`: the points that a turning program goes through.

use crate::explore::contours;
use crate::finding::{Finding, Weight};
use crate::kernel::lathe::{LatheState, Part};
use crate::report::{self, document};
use crate::session::{Asked, ContourAsked};

use super::batch::Evaluated;
use super::chosen::chosen;
use super::common::Laid;
use super::lathe_calls::{Contour, ContourPart, ContourState};
use super::output::Output;
use super::recipes::one;
use super::status::Status;

pub(super) fn run(contour: &Contour, laid: &Laid, output: &mut Output) -> Status {
    let machine = [(contour.json, "--json"), (contour.csv, "--csv")];
    if let Err(message) = contour.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    // What is laid over means the band that is named.
    let mut meant = laid.clone();
    meant.band = meant.band.or_else(|| contour.band_name.clone());
    let Some(done) = one(contour.file.as_deref(), &contour.band_name, &meant, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let band = match chosen(contour.band_name.as_deref(), laid, &outcome) {
        Ok(band) => band,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let asked = Asked {
        names: [band.clone()].into(),
        order: None,
    };
    let findings = outcome.about(&prepared, &asked);
    let evaluation = outcome.shown().find(|one| one.band.name == band);
    let wrong = findings.iter().any(|one| one.weight() == Weight::Wrong);
    let Some(evaluation) = evaluation.filter(|_| !wrong) else {
        output.findings(&findings, &session.sources);
        return Status::Wrong;
    };
    let asked = ContourAsked {
        part: contour.part.map(|part| match part {
            ContourPart::Band => Part::Band,
            ContourPart::Shell => Part::Shell,
            ContourPart::Sleeve => Part::Sleeve,
        }),
        state: match contour.state {
            ContourState::Machined => LatheState::Machined,
            ContourState::Finished => LatheState::Finished,
        },
        step: Some(&contour.step),
        nose: contour.nose.as_deref(),
        dashes: "--",
    };
    let of = match session.contour_of(&asked, evaluation, &outcome) {
        Ok(of) => of,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let found = contours(evaluation, of);
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            contours: vec![report::contours_json(&found)],
            ..document::RecipePart::of(prepared.files())
        });
    } else if contour.csv {
        output.result(&report::contours_csv(&found));
    } else {
        output.result(&report::contours(&found, contour.digits.into()));
    }
    output.findings(&findings, &session.sources);
    findings.iter().map(Finding::weight).max().into()
}
