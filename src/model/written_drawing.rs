//! The part of a drawing that a cut means.

use std::sync::Arc;

use crate::finding::Finding;
use crate::motif::Motif;
use crate::schema::FieldId;
use crate::source::Span;
use crate::suggest::{listed, nearest};

use super::cut_error::{CutError, Undrawn};
use super::drawings::{Drawings, DrawnPart};
use super::value::Value;
use super::values::Values;

/// What a cut takes of its drawing; `None` after saying why it takes nothing.
pub(super) fn part(
    drawings: &Drawings,
    called: &str,
    at: Span,
    stated: &Values,
    findings: &mut Vec<Finding>,
) -> Option<Arc<DrawnPart>> {
    let Some(file) = stated.get(FieldId::PatternDrawingFile) else {
        let help = "name it, as in `file \"motifs/reed.svg\"`".to_owned();
        let message = format!("the cut `{called}` names no drawing");
        findings.push(CutError { at, message, help }.into());
        return None;
    };
    let at = file.at.unwrap_or(at);
    let Some(drawing) = drawings.at(at) else {
        let problem = CutError {
            at,
            message: "a drawing is read with its recipe".to_owned(),
            help: "write the name of the file into the recipe, and read that again".to_owned(),
        };
        findings.push(problem.into());
        return None;
    };
    let name = &drawing.name;
    let motif = match &drawing.motif {
        Ok(motif) => motif,
        Err(error) => {
            let problem = CutError {
                at,
                message: format!("the drawing `{name}` cannot be cut: {}", error.message),
                help: error.help.clone(),
            };
            findings.push(problem.into());
            return None;
        }
    };
    let part = stated.get(FieldId::PatternDrawingPart);
    let wanted = part.and_then(|part| match &part.value {
        Value::Text(text) => Some((text.to_string(), part.at.unwrap_or(at))),
        _ => None,
    });
    let is_meant = |names: &[String]| match &wanted {
        Some((wanted, _)) => names.contains(wanted),
        None => true,
    };
    for one in motif.unread.iter().filter(|one| is_meant(&one.names)) {
        let problem = Undrawn {
            at,
            what: one.what.clone(),
            place: format!("{name}:{}", one.line),
            more: match one.count {
                1 => String::new(),
                count => format!(", and {} more", count - 1),
            },
        };
        findings.push(problem.into());
    }
    let mut found = DrawnPart {
        wide: motif.wide,
        ..DrawnPart::default()
    };
    for mark in motif.marks.iter().filter(|mark| is_meant(&mark.names)) {
        let into = match mark.filled {
            true => &mut found.outlines,
            false => &mut found.lines,
        };
        into.push(mark.points.clone());
    }
    if let (true, Some((wanted, at))) =
        (found.lines.is_empty() && found.outlines.is_empty(), &wanted)
    {
        let problem = CutError {
            at: *at,
            message: format!("the drawing `{name}` has no part `{wanted}` that draws anything"),
            help: names(motif, wanted),
        };
        findings.push(problem.into());
        return None;
    }
    Some(Arc::new(found))
}

fn names(motif: &Motif, wanted: &str) -> String {
    let known = motif.names();
    match nearest(wanted, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => {
            "give the element or its group an `id`, or leave `part` out".to_owned()
        }
        None => format!("its parts are {}", listed(known.into_iter())),
    }
}
