//! What makes a band impossible, in words.

use crate::kernel::section::{Allows, Body, Misfit, MisfitReason};
use crate::model::{Band, Profile};
use crate::schema::FieldId;

use super::error::MetalError;
use super::length::{apart, exactly, mm, set};

/// A length that is more, or less, than the others allow.
pub(super) fn does_not_fit(band: &Band, misfit: &Misfit, fits: Option<f64>) -> MetalError {
    let field = misfit.field;
    let help = match fits {
        Some(fits) => format!("{} would just fit", set(field, fits)),
        None => "no other value of this field alone would fit: change the lengths it must fit with"
            .to_owned(),
    };
    let at = match (&band.profile, misfit.x) {
        (Profile::Custom(outline), Some(x)) if field == FieldId::Profile => {
            outline.place(x).unwrap_or_else(|| band.place(field))
        }
        _ => band.place(field),
    };
    MetalError::DoesNotFit {
        at,
        message: message(misfit),
        label: allowed(misfit),
        help,
    }
}

/// A length that follows from others, and is stated all the same.
pub(super) fn over_stated(
    band: &Band,
    field: FieldId,
    from: FieldId,
    stated: f64,
    follows: f64,
) -> MetalError {
    // Nobody's ring is half as thick as its finger: the heights count from somewhere else.
    let from_axis = from == FieldId::Profile && follows > band.inside().diameter.to_f64() / 3.0;
    let radius = exactly(band.inside().diameter.to_f64() / 2.0);
    let help = match from_axis {
        true => format!(
            "heights of an outline are measured from the smallest bore, not from the axis: take {radius} mm off each"
        ),
        false => format!("leave one of them out, or write {}", set(field, follows)),
    };
    let [is, would] = apart([stated, follows]);
    MetalError::OverStated {
        second: band.place(field),
        first: band.place(from),
        first_name: from.word(),
        second_name: field.word(),
        message: format!("{is} mm is stated, but {would} mm follows from the rest",),
        help,
    }
}

/// What is found and what the other lengths allow, told apart; nothing of the second where they allow no length.
fn told_apart(misfit: &Misfit) -> (String, String) {
    match misfit.allows.length() {
        Some(room) => {
            let [found, room] = apart([misfit.found, room]);
            (format!("{found} mm"), format!("{room} mm"))
        }
        None => (mm(misfit.found), String::new()),
    }
}

/// What the other lengths allow.
fn allowed(misfit: &Misfit) -> String {
    let (_, room) = told_apart(misfit);
    match misfit.allows {
        Allows::AtMost(_) => format!("at most {room}"),
        Allows::AtMostHere(_) => format!("at most {room} here"),
        Allows::LessThan(_) => format!("less than {room}"),
        Allows::AtLeast(_) => format!("at least {room}"),
        Allows::MoreThan(_) => format!("more than {room}"),
        Allows::LessBy(by) => format!("{} too much here", mm(by)),
        Allows::Nothing => "no metal is left here".to_owned(),
        Allows::Under(roof) => format!("roof at {} over the bore here", mm(roof)),
        Allows::RoofOver { roof, sleeve } => {
            let [roof, sleeve] = apart([roof, sleeve]);
            format!("roof at {roof} mm over the bore, sleeve at {sleeve} mm")
        }
    }
}

/// What is wrong, with the figures.
fn message(misfit: &Misfit) -> String {
    let (found, room) = told_apart(misfit);
    let x = misfit.x.map_or_else(String::new, mm);
    match misfit.reason {
        MisfitReason::BoreOpens => format!("the bore opens by {found}, more than half the width"),
        MisfitReason::Rises => {
            format!("the outside rises {found} from edge to crown, more than half the width")
        }
        MisfitReason::EdgeOverCrown { comfort, thickness } => {
            let over = match comfort > 0.0 {
                true => format!(" and the bore's opening of {} are", mm(comfort)),
                false => " is".to_owned(),
            };
            let [edge, most] = apart([misfit.found, thickness]);
            format!("the edge of {edge} mm{over} more than the thickness of {most} mm")
        }
        MisfitReason::ChamferAcross => {
            format!("the chamfer reaches {found} inwards, more than half the width")
        }
        MisfitReason::ChamferDown => {
            format!("the chamfer goes {found} down, and the edge has only {room}")
        }
        MisfitReason::NoFlank => {
            format!("a crown of radius {found} leaves no flank between crown and edge")
        }
        MisfitReason::Dips => format!("the outside dips {found}, more than half the width"),
        MisfitReason::MeanDepth => {
            format!("the mean depth of {found} is more than the full depth of {room}")
        }
        MisfitReason::Gone => match misfit.field {
            FieldId::Profile => format!("the outline crosses the bore at x = {x}"),
            FieldId::ProfileDip => {
                format!("the outside dips down to the bore: nothing is left at x = {x}")
            }
            _ => format!("the bore opens by {found}, and nothing is left at the edge"),
        },
        MisfitReason::EasesMeet => {
            format!("the chamfer of {found} meets the other one at mid width")
        }
        MisfitReason::EaseTakes(body) => format!(
            "the chamfer of {found} takes off the whole edge of {}, {room}",
            match body {
                Body::Solid => "the band",
                Body::Shell => "the shell",
                Body::Sleeve => "the sleeve",
            }
        ),
        MisfitReason::CutThrough => format!(
            "the pattern is cut {found} deep, and the metal under it is {room} at its thinnest"
        ),
        MisfitReason::CutThroughShell { over_sleeve } => format!(
            "the pattern is cut {found} deep, and {} is {room}",
            if over_sleeve {
                "the shell over the sleeve"
            } else {
                "the wall"
            }
        ),
        MisfitReason::SleeveGone => {
            format!(
                "nothing is left of the sleeve of {found} at its edge, where the bore opens by {room}"
            )
        }
        MisfitReason::NoShell { edge } => {
            let [found, edge] = apart([misfit.found, edge]);
            format!(
                "the sleeve of {found} mm leaves no shell at the side faces, which are {edge} mm high over the smallest bore"
            )
        }
        MisfitReason::ReliefOverSleeve => {
            format!("the relief leaves a wall of {found}, and the sleeve is {room} there already")
        }
        MisfitReason::LipThrough => {
            format!("a lip of {found} reaches through the sleeve, which is {room} at its edge")
        }
        MisfitReason::LipFills => {
            format!("a lip {found} wide leaves the shell nothing to stand on beside it")
        }
        MisfitReason::WallsFill { width } => format!(
            "two side walls of {found} fill the width of {}: no cavity is left",
            mm(width)
        ),
        MisfitReason::NoseFills { wide } => format!(
            "corners of radius {found} do not fit into a cavity {} wide",
            mm(wide)
        ),
        MisfitReason::RoofSplits => {
            format!("the roof comes down to the sleeve at x = {x} and splits the cavity")
        }
        MisfitReason::NoCavity { roof, sleeve } => {
            let [roof, sleeve] = apart([roof, sleeve]);
            format!(
                "under a wall of {found} the roof is at {roof} mm over the bore, and the sleeve reaches {sleeve} mm: no cavity is left"
            )
        }
        MisfitReason::EaseOpens => format!("the chamfer of {found} opens the cavity"),
        MisfitReason::RidgeOverRoof => format!(
            "a ridge of {found} stands higher than the roof, which is {room} over the sleeve at its highest"
        ),
        MisfitReason::RidgesMeet => format!("two ridges {found} wide run into each other"),
        MisfitReason::RidgeFills => {
            format!("a ridge {found} wide does not fit between the feet, {room} apart")
        }
        MisfitReason::RidgeMeets { from, to } => format!(
            "a ridge of {found} from x = {} to {} meets the roof, which is {room} over the sleeve there",
            mm(from),
            mm(to)
        ),
    }
}
