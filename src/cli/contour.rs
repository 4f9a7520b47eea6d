//! `annulet contour`: the points that a turning program goes through.

use crate::evaluate::Evaluation;
use crate::explore::{ContourOf, contours};
use crate::finding::{Finding, Weight};
use crate::kernel::lathe::{FINEST, LatheState, Part};
use crate::model::Value;
use crate::quantity::Length;
use crate::report::{self, document};
use crate::session::{Asked, Outcome, Session};
use crate::source::printable;

use super::arguments::{Contour, ContourPart, ContourState};
use super::batch::Evaluated;
use super::chosen::chosen;
use super::common::Laid;
use super::output::Output;
use super::recipes::{day, one};
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
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    let Some(done) = one(contour.file.as_deref(), &meant, output) else {
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
    let of = lengths(contour, evaluation, &mut session, &outcome);
    let of = match of {
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

/// What is asked for, its lengths read and judged.
fn lengths(
    contour: &Contour,
    evaluation: &Evaluation,
    session: &mut Session,
    outcome: &Outcome,
) -> Result<ContourOf, String> {
    let mut read = |option: &str, text: &str| {
        let (value, _) = session.ask(text, outcome);
        let length = match &value {
            Some(Value::Quantity { quantity, .. }) => Length::from_quantity(quantity),
            _ => None,
        };
        let length = length.map(Length::to_mm);
        length.ok_or_else(|| {
            format!(
                "`{option} {}` is no length; write it with its unit, as `{option} \"0.05 mm\"`",
                printable(text)
            )
        })
    };
    let step = read("--step", &contour.step)?;
    let width = evaluation.input.shape.width;
    if !(FINEST..=width).contains(&step) {
        return Err(format!(
            "a step is {FINEST} mm to the band's width of {width} mm"
        ));
    }
    let nose = match &contour.nose {
        Some(text) => Some(read("--nose", text)?),
        None => None,
    };
    // Beyond, no tool for rings is meant.
    if nose.is_some_and(|nose| !(nose > 0.0 && nose <= MOST_NOSE)) {
        return Err(format!(
            "a nose radius lies above 0 and up to {MOST_NOSE} mm; without `--nose` the points are those of the surface"
        ));
    }
    let part = contour.part.map(|part| match part {
        ContourPart::Band => Part::Band,
        ContourPart::Shell => Part::Shell,
        ContourPart::Sleeve => Part::Sleeve,
    });
    let hollow = evaluation.band.hollow.is_some();
    let name = &evaluation.band.name;
    match (part, hollow) {
        (Some(Part::Band), true) => {
            return Err(format!(
                "`{name}` is turned in two parts: `--part shell` or `--part sleeve`"
            ));
        }
        (Some(Part::Shell | Part::Sleeve), false) => {
            return Err(format!("`{name}` is a solid band, of one part"));
        }
        _ => {}
    }
    Ok(ContourOf {
        part,
        state: match contour.state {
            ContourState::Machined => LatheState::Machined,
            ContourState::Finished => LatheState::Finished,
        },
        step,
        nose,
    })
}

/// The largest nose, mm (turning inserts go to 2.4 mm and ball tools of a few more; common practice, no source).
const MOST_NOSE: f64 = 10.0;
