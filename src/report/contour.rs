//! The contours of a band's parts as text, CSV or JSON.

use serde_json::{Value as Json, json};

use crate::explore::Contours;
use crate::kernel::lathe::{Contour, ContourPoint, LatheState, Part, SurfaceId};
use crate::quantity::Number;

use super::csv::{LINE_END, quoted};
use super::number::{Digits, shown};
use super::page::wrapped;

/// Places of a diameter that a turning program takes.
const PLACES: u32 = 4;

fn part_word(part: Part) -> &'static str {
    match part {
        Part::Band => "band",
        Part::Shell => "shell",
        Part::Sleeve => "sleeve",
    }
}

fn state_word(state: LatheState) -> &'static str {
    match state {
        LatheState::Machined => "machined",
        LatheState::Finished => "finished",
    }
}

fn surface_word(surface: SurfaceId) -> &'static str {
    match surface {
        SurfaceId::Outside => "outside",
        SurfaceId::Bore => "bore",
        SurfaceId::Channel => "channel",
    }
}

/// A length for reading.
fn length(value: f64, digits: Digits, rounded: &mut bool) -> String {
    let shown = shown(Number::Computed(value), PLACES, digits);
    *rounded |= shown.rounded;
    shown.text
}

/// Metal that a nose leaves, where it is more than the last digits.
fn leaves(path: &Contour) -> Option<f64> {
    (path.leaves > 1e-4).then_some(path.leaves)
}

/// The contours as tables.
#[must_use]
pub fn contours(found: &Contours, digits: Digits) -> String {
    let mut text = String::new();
    let mut rounded = false;
    let state = match found.of.state {
        LatheState::Machined => "as machined, metal for finishing included",
        LatheState::Finished => "finished",
    };
    text.push_str(&format!("{}, {state}; lengths in mm\n", found.band));
    let about = "x is along the axis from mid width, from the left face to the right one; diameters are without the pattern, broken edges included. Where two points have one x, the tool goes straight in or out.";
    for line in wrapped(about, 78) {
        text.push_str(&format!("{line}\n"));
    }
    if has_sharp_channel(found) {
        let sharp = "The channel's corners are drawn with a radius of 0, which no tool cuts: name its nose, or state `nose` in the recipe.";
        for line in wrapped(sharp, 78) {
            text.push_str(&format!("{line}\n"));
        }
    }
    for (part, paths) in &found.parts {
        for path in paths {
            let chord = length(path.chord.max(1e-4), Digits::Useful, &mut false);
            let what = match path.nose {
                None => "points of the surface".to_owned(),
                Some(nose) => format!(
                    "centre of a nose of radius {}",
                    length(nose, digits, &mut rounded)
                ),
            };
            text.push_str(&format!(
                "\n{} {}: {what}; straight between them it is off by {chord} at most\n",
                part_word(*part),
                surface_word(path.surface)
            ));
            for line in notes(path) {
                for line in wrapped(&line, 76) {
                    text.push_str(&format!("  {line}\n"));
                }
            }
            text.push_str(&format!("  {:>10}  {:>10}\n", "x", "\u{D8}"));
            for ContourPoint { x, diameter } in &path.rows {
                let (x, diameter) = (
                    length(*x, digits, &mut rounded),
                    length(*diameter, digits, &mut rounded),
                );
                text.push_str(&format!("  {x:>10}  {diameter:>10}\n"));
            }
        }
    }
    if rounded {
        text.push_str("\n\u{2248} rounded for reading; `--digits all` shows every digit\n");
    }
    text
}

/// Whether there is a channel whose corners no nose is known for.
fn has_sharp_channel(found: &Contours) -> bool {
    let mut channels = found
        .parts
        .iter()
        .flat_map(|(_, paths)| paths)
        .filter(|path| path.surface == SurfaceId::Channel)
        .peekable();
    channels.peek().is_some() && channels.all(|path| path.nose.is_none())
}

/// What must be said of the way of a nose.
fn notes(path: &Contour) -> Vec<String> {
    let Some(nose) = path.nose else {
        return Vec::new();
    };
    let side = match path.surface {
        SurfaceId::Outside => "smaller",
        SurfaceId::Bore | SurfaceId::Channel => "larger",
    };
    let mut notes = vec![format!(
        "a program that counts from the tip, touched off on a diameter and a face, wants diameters {side} by {} and x moved by {} to the side that the tool cuts towards",
        shown(Number::Computed(2.0 * nose), PLACES, Digits::Useful).text,
        shown(Number::Computed(nose), PLACES, Digits::Useful).text,
    )];
    if let Some(left) = leaves(path) {
        notes.push(format!(
            "corners tighter than the nose keep up to {} of metal, radial; a smaller nose, or the recipe's `nose` as large as this one",
            shown(Number::Computed(left), PLACES, Digits::Useful).text
        ));
    }
    notes
}

/// The contours as CSV, all digits, units in the header.
#[must_use]
pub fn contours_csv(found: &Contours) -> String {
    let mut text = String::from(
        "band,part,state,surface,of,nose (mm),leaves (mm),chord (mm),x (mm),diameter (mm)",
    );
    text.push_str(LINE_END);
    for (part, paths) in &found.parts {
        for path in paths {
            let nose = path.nose.map(|nose| nose.to_string()).unwrap_or_default();
            let left = leaves(path).map(|left| left.to_string());
            let of = of_word(path);
            for ContourPoint { x, diameter } in &path.rows {
                let cells = [
                    quoted(&found.band),
                    part_word(*part).to_owned(),
                    state_word(found.of.state).to_owned(),
                    surface_word(path.surface).to_owned(),
                    of.to_owned(),
                    nose.clone(),
                    left.clone().unwrap_or_default(),
                    path.chord.to_string(),
                    x.to_string(),
                    diameter.to_string(),
                ];
                text.push_str(&cells.join(","));
                text.push_str(LINE_END);
            }
        }
    }
    text
}

fn of_word(path: &Contour) -> &'static str {
    match path.nose {
        Some(_) => "nose-centre",
        None => "surface",
    }
}

/// The contours as machine output.
#[must_use]
pub fn contours_json(found: &Contours) -> Json {
    let paths: Vec<Json> = found
        .parts
        .iter()
        .flat_map(|(part, paths)| paths.iter().map(move |path| (part, path)))
        .map(|(part, path)| {
            let points: Vec<[f64; 2]> = path.rows.iter().map(|row| [row.x, row.diameter]).collect();
            json!({
                "part": part_word(*part), "surface": surface_word(path.surface), "of": of_word(path),
                "nose": path.nose, "leaves": leaves(path), "chord": path.chord, "points": points,
            })
        })
        .collect();
    json!({
        "band": found.band, "unit": "mm",
        "state": state_word(found.of.state), "step": found.of.step, "paths": paths,
    })
}
