//! `annulet section`: sections of bands drawn with their figures.

use crate::drawing;
use crate::finding::{Finding, Weight};
use crate::report::{self, SectionKinds, SectionOf};
use crate::session::Asked;
use crate::source::printable;

use super::batch::Evaluated;
use super::chosen::chosen;
use super::common::Laid;
use super::drawing::{DrawnForm, Section, SectionPart};
use super::output::Output;
use super::recipes::{asked, one};
use super::status::Status;

pub(super) fn run(call: &Section, laid: &Laid, output: &mut Output) -> Status {
    let read = call
        .drawn
        .form(output)
        .and_then(|form| Ok((form, scale(&call.scale)?)));
    let (form, scale) = match read {
        Ok(read) => read,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let words: Vec<&str> = call.bands.iter().map(String::as_str).collect();
    let named = words.iter().find(|word| **word != crate::session::SOLID);
    // What is laid over means the band that is named first.
    let mut meant = laid.clone();
    meant.band = meant.band.or_else(|| named.map(|name| (*name).to_owned()));
    let Some(done) = one(call.file.as_deref(), &call.bands, &meant, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let current = match named {
        Some(_) => Ok(None),
        None => chosen(None, laid, &outcome).map(Some),
    };
    let sides = current.and_then(|current| outcome.drawn(&words, current.as_deref()));
    let sides = match sides {
        Ok(sides) => sides,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let about = Asked {
        names: sides.iter().map(|side| side.band().to_owned()).collect(),
        order: None,
    };
    let findings = outcome.about(&prepared, &about);
    output.findings(&findings, &session.sources);
    if findings.iter().any(|one| one.weight() == Weight::Wrong) {
        return Status::Wrong;
    }
    let request = asked(&meant).request;
    let mut found = Vec::new();
    for side in &sides {
        match session.side(side, &prepared, &request, &outcome) {
            Ok(part) => found.push((side.title(), part)),
            Err(_) => {
                output.complain(&format!("`{}` cannot be evaluated", side.title()));
                return Status::Wrong;
            }
        }
    }
    let of: Vec<SectionOf<'_>> = found
        .iter()
        .filter_map(|(title, part)| {
            let evaluation = part.evaluations.first()?;
            let title = title.clone();
            Some(SectionOf { title, evaluation })
        })
        .collect();
    let picture = || report::section(&of, kinds(call), scale);
    let written = match form {
        DrawnForm::Svg => call
            .drawn
            .written()
            .write(&drawing::svg(&picture()), output),
        DrawnForm::Dxf => call
            .drawn
            .written()
            .write(&drawing::dxf::dxf(&picture()), output),
        DrawnForm::Pdf => {
            let picture = picture();
            if !picture.is_plain() {
                output.note(NOT_PLAIN);
            }
            call.drawn
                .written()
                .write_bytes(&drawing::pdf(&[picture]), output)
        }
        DrawnForm::Text => {
            let text = report::section_text(&of, kinds(call), output.page());
            call.drawn.written().write(&text, output)
        }
    };
    if let Err(message) = written {
        output.complain(&message);
        return Status::Wrong;
    }
    findings.iter().map(Finding::weight).max().into()
}

/// What is told where a PDF lacks letters.
pub(super) const NOT_PLAIN: &str = "a PDF's standard fonts have the letters of western Europe only; others are shown as `?`, while SVG and HTML show them";

/// What is drawn: of one band everything, of several the finished rings, unless it is said.
fn kinds(call: &Section) -> SectionKinds {
    let all = call.views.is_empty() && call.bands.len() <= 1;
    let has = |part| all || call.views.contains(&part);
    SectionKinds {
        finished: has(SectionPart::Finished) || call.views.is_empty(),
        machined: has(SectionPart::Machined),
        stages: has(SectionPart::Stages),
    }
}

/// How many times larger than life it is drawn: `10`, or `10:1`.
fn scale(text: &str) -> Result<f64, String> {
    let number = text.strip_suffix(":1").unwrap_or(text);
    let scale: Option<f64> = number.trim().parse().ok();
    let scale = scale.filter(|scale| (1.0..=100.0).contains(scale));
    scale.ok_or_else(|| {
        format!(
            "`--scale {}`: a scale is 1:1 to 100:1, as in `--scale 10:1`",
            printable(text)
        )
    })
}
