//! What to machine before the stretch: a band made small, or the two parts of a hollow one.

use crate::evaluate::Evaluation;
use crate::kernel::join::{Joined, Small};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use crate::words;

use super::page::Page;
use super::stretch_steps;

/// Said once of a channel whose corners no tool cuts.
const SHARP_CORNERS: &str = "corners drawn with a radius of 0, which no tool cuts: state that of yours, as in `shell 0.5 mm { nose 0.2 mm }`; what it leaves there is in no weight until then";

/// Whether a solid band is machined otherwise than it is finished.
pub(super) fn is_stretched(evaluation: &Evaluation) -> bool {
    let given = &evaluation.input.stretch;
    given.start.is_some() || given.layers.any()
}

/// A width that lies between that of a held and of a free ring.
fn between(page: &mut Page, now: f64, held: f64, free: f64) -> String {
    let width = page.mm(now);
    if (held - free).abs() < 5e-4 {
        return width;
    }
    let (held, free) = (page.mm(held), page.mm(free));
    format!(
        "{width}; {held} if it is held, {free} if it is free: cut the wider and face it after the stretch"
    )
}

pub(super) fn machined_band(page: &mut Page, evaluation: &Evaluation, small: &Small) {
    page.heading("to machine, before the stretch; metal for finishing included");
    for (label, id) in [
        ("bore", ResultId::MachinedBore),
        ("outside", ResultId::MachinedOutside),
    ] {
        let diameter = page.result(evaluation, id);
        page.row(label, &format!("\u{D8} {diameter}"));
    }
    let thickness = page.result(evaluation, ResultId::MachinedThickness);
    page.row("thickness", &format!("{thickness}, radial"));
    let width = between(page, small.width, small.widths.0, small.widths.1);
    page.words("width", &width);
    edges(page, evaluation);
    let given = &evaluation.input.stretch;
    if given.start.is_none() {
        return;
    }
    let strain = page.number(Number::Computed(small.strain * 100.0), "%");
    page.row("stretch", &format!("{strain} of the bore"));
    match small.mandrel {
        Some(mandrel) => {
            let mandrel = page.mm(mandrel);
            page.words(
                "mandrel",
                &if given.layers.last() {
                    format!("open to \u{D8} {mandrel} under load, the metal for finishing still in the bore")
                } else {
                    format!("open to \u{D8} {mandrel} under load; it springs back to size")
                },
            );
        }
        None => page.words("mandrel", &missing(evaluation, "the band")),
    }
    stretch_steps::solid(page, evaluation, small);
    if evaluation.band.is_cut() {
        let crown = std::f64::consts::PI
            * (2.0 * evaluation.input.shape.radius + 2.0 * evaluation.input.shape.thickness);
        let early = std::f64::consts::PI * small.crown;
        let longer = page.number(Number::Computed((crown / early - 1.0) * 100.0), "%");
        let strip = page.mm(if given.cut_before { early } else { crown });
        let text = if given.cut_before {
            format!("cut before the stretch, on a strip of {strip}, which gets {longer} longer")
        } else {
            format!("cut after the stretch, on a strip of {strip}")
        };
        page.row("pattern", &text);
    }
}

/// Broken edges are the same in every state, near enough.
fn edges(page: &mut Page, evaluation: &Evaluation) {
    let shape = &evaluation.input.shape;
    if shape.ease_outer > 0.0 || shape.ease_bore > 0.0 {
        let (outer, bore) = (page.mm(shape.ease_outer), page.mm(shape.ease_bore));
        page.row(
            "broken edges",
            &format!("{outer} outside, {bore} in the bore, both legs"),
        );
    }
}

pub(super) fn machined_parts(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    page.heading("to machine: shell; metal for finishing included");
    let shape = &evaluation.input.shape;
    let of = |page: &mut Page, id: ResultId| page.result(evaluation, id);
    let feet = of(page, ResultId::MachinedShellBore);
    page.row("bore of the feet", &format!("\u{D8} {feet}"));
    if joined.shell.lip.is_some() {
        let lip = of(page, ResultId::MachinedShellLipBore);
        page.row("bore of the lips", &format!("\u{D8} {lip}"));
    }
    if joined.shell.channel.is_some() {
        let roof = of(page, ResultId::MachinedShellChannel);
        let wide = of(page, ResultId::MachinedShellChannelWidth);
        page.row(
            "channel",
            &format!("\u{D8} {roof} at mid width, {wide} wide"),
        );
        if evaluation.band.written(FieldId::HollowShellNose).is_zero() {
            page.words("", SHARP_CORNERS);
        }
    }
    let outside = of(page, ResultId::MachinedShellOutside);
    page.row("outside", &format!("\u{D8} {outside}"));
    let width = between(page, joined.shell.width, joined.held.0, joined.free.0);
    page.words("width", &width);

    page.heading("to machine: sleeve");
    let bore = of(page, ResultId::MachinedSleeveBore);
    let edge = if shape.comfort > 0.0 {
        let edge = of(page, ResultId::MachinedSleeveEdgeBore);
        format!(" at mid width, \u{D8} {edge} at the side faces")
    } else {
        String::new()
    };
    page.row("bore", &format!("\u{D8} {bore}{edge}"));
    let floor = of(page, ResultId::MachinedSleeveFloor);
    page.row("outside", &format!("\u{D8} {floor}"));
    if joined.sleeve.ridge_top.is_some() {
        let top = of(page, ResultId::MachinedSleeveRidgeTop);
        let from = match joined.sleeve.ridge_from_face {
            Some(_) => format!(
                ", {} from the face",
                of(page, ResultId::MachinedSleeveRidgeFromFace)
            ),
            None => String::new(),
        };
        page.row("ridge", &format!("\u{D8} {top}{from}"));
    }
    let width = between(page, joined.sleeve.width, joined.held.1, joined.free.1);
    page.words("width", &width);
    page.words(
        "",
        "leave the sleeve wide, and face both flush after joining",
    );
    edges(page, evaluation);
    let entry = page.mm(evaluation.input.stretch.entry);
    page.row(
        "entry",
        &format!("the parts go together with \u{D8} {entry} to spare"),
    );
}

/// What a metal does not state, in words.
pub(super) fn missing(evaluation: &Evaluation, part: &str) -> String {
    let given = &evaluation.input.stretch;
    let strength = if part == "the band" {
        &given.whole
    } else {
        &given.sleeve
    };
    format!(
        "not known: the metal of {part} states no {} in its temper; state it in an alloy block",
        words::unstated(strength.unstated())
    )
}
