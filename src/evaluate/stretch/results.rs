//! How each result of stretch, join and strength is read from what was computed.

use super::hollow::Joined;
use super::made::{Blank, Made};
use super::solid::Small;
use super::strength::Bears;
use crate::kernel::Figures;
use crate::kernel::Input;
use crate::schema::ResultId;

fn hollow(input: &Input, figures: &Figures, read: fn(&Joined) -> f64) -> Option<f64> {
    super::of(input, figures).hollow.as_ref().map(read)
}

fn maybe(input: &Input, figures: &Figures, read: fn(&Joined) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).hollow.as_ref().and_then(read)
}

fn solid(input: &Input, figures: &Figures, read: fn(&Small) -> f64) -> Option<f64> {
    super::of(input, figures).solid.as_ref().map(read)
}

fn strain(input: &Input, figures: &Figures) -> Option<f64> {
    hollow(input, figures, |hollow| hollow.strain)
        .or_else(|| solid(input, figures, |solid| solid.strain))
}

fn mandrel(input: &Input, figures: &Figures) -> Option<f64> {
    let stretch = super::of(input, figures);
    match (&stretch.hollow, &stretch.solid) {
        (Some(hollow), _) => hollow.finished.mandrel,
        (None, solid) => solid.as_ref().and_then(|solid| solid.mandrel),
    }
}

fn bears(input: &Input, figures: &Figures, read: fn(&Bears) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).bears.as_ref().and_then(read)
}

fn made(input: &Input, figures: &Figures, read: fn(&Made) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).made.as_ref().and_then(read)
}

/// Of the parts of a hollow band, or of the blank of a solid one.
fn either(
    input: &Input,
    figures: &Figures,
    parts: fn(&Made) -> f64,
    blank: fn(&Blank) -> f64,
) -> Option<f64> {
    let stretch = super::of(input, figures);
    let parts = stretch.made.as_ref().map(parts);
    parts.or_else(|| stretch.blank.as_ref().map(blank))
}

fn blank(input: &Input, figures: &Figures, read: fn(&Blank) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).blank.as_ref().and_then(read)
}

/// A result of stretch, join or strength; none where the band has no such result.
pub(in super::super) fn computed(id: ResultId, input: &Input, figures: &Figures) -> Option<f64> {
    match id {
        ResultId::MachinedShellBore => hollow(input, figures, |h| h.shell.bore),
        ResultId::MachinedShellLipBore => maybe(input, figures, |h| h.shell.lip),
        ResultId::MachinedShellChannel => maybe(input, figures, |h| h.shell.channel),
        ResultId::MachinedShellChannelWidth => maybe(input, figures, |h| h.shell.channel_width),
        ResultId::MachinedShellOutside => hollow(input, figures, |h| h.shell.outside),
        ResultId::MachinedShellWidth => hollow(input, figures, |h| h.shell.width),
        ResultId::MachinedSleeveBore => hollow(input, figures, |h| h.sleeve.bore),
        ResultId::MachinedSleeveFloor => hollow(input, figures, |h| h.sleeve.floor),
        ResultId::MachinedSleeveRidgeTop => maybe(input, figures, |h| h.sleeve.ridge_top),
        ResultId::MachinedSleeveRidgeFromFace => {
            maybe(input, figures, |h| h.sleeve.ridge_from_face)
        }
        ResultId::MachinedSleeveWidth => hollow(input, figures, |h| h.sleeve.width),
        ResultId::MachinedSleeveEdgeBore => hollow(input, figures, |h| h.sleeve.edge_bore),
        ResultId::MachinedBore => solid(input, figures, |s| s.bore),
        ResultId::MachinedOutside => solid(input, figures, |s| s.outside),
        ResultId::MachinedThickness => solid(input, figures, |s| s.thickness),
        ResultId::MachinedWidth => solid(input, figures, |s| s.width),
        ResultId::StretchStrain => strain(input, figures),
        ResultId::StretchLooseEndsBore => maybe(input, figures, |h| h.loose_ends.map(|at| at.bore)),
        ResultId::StretchLooseEndsMandrel => {
            maybe(input, figures, |h| h.loose_ends.and_then(|at| at.mandrel))
        }
        ResultId::StretchTurningBore => maybe(input, figures, |h| h.turning.map(|at| at.bore)),
        ResultId::StretchTurningMandrel => {
            maybe(input, figures, |h| h.turning.and_then(|at| at.mandrel))
        }
        ResultId::StretchSeatedBore => hollow(input, figures, |h| h.seated.bore),
        ResultId::StretchSeatedMandrel => maybe(input, figures, |h| h.seated.mandrel),
        ResultId::StretchFixedBore => maybe(input, figures, |h| h.fixed.map(|at| at.bore)),
        ResultId::StretchFixedMandrel => {
            maybe(input, figures, |h| h.fixed.and_then(|at| at.mandrel))
        }
        ResultId::StretchMandrel => mandrel(input, figures),
        ResultId::StretchWindow => maybe(input, figures, |h| h.window),
        ResultId::StretchOverlap => {
            maybe(input, figures, |h| h.loose_ends.map(|_| h.overlap_finished))
        }
        ResultId::StretchOverlapNeeded => maybe(input, figures, |h| h.loose_ends.map(|_| h.hold)),
        ResultId::GripPressure => maybe(input, figures, |h| h.press.map(|p| p.pressure)),
        ResultId::GripForce => maybe(input, figures, |h| {
            h.fit.zip(h.press).map(|(fit, press)| fit.force(&press))
        }),
        ResultId::GripTorque => maybe(input, figures, |h| {
            h.fit.zip(h.press).map(|(fit, press)| fit.torque(&press))
        }),
        ResultId::GripFrom => maybe(input, figures, |h| {
            h.grip_window.map(|(from, _)| 2.0 * from)
        }),
        ResultId::GripTo => maybe(input, figures, |h| h.grip_window.map(|(_, to)| 2.0 * to)),
        ResultId::GripAim => maybe(input, figures, |h| h.aim.map(|aim| 2.0 * aim)),
        ResultId::StrengthStiffness => bears(input, figures, |b| b.stiffness),
        ResultId::StrengthLoad => bears(input, figures, |b| b.load),
        ResultId::StrengthStiffnessRatio => bears(input, figures, |b| b.stiffness_ratio),
        ResultId::StrengthLoadRatio => bears(input, figures, |b| b.load_ratio),
        ResultId::MadeBore => either(input, figures, |m| m.bore, |b| b.bore),
        ResultId::MadeStrain => either(input, figures, |m| m.strain, |b| b.strain),
        ResultId::MadeClearance => made(input, figures, |m| Some(m.entry)),
        ResultId::MadeLooseEndsBore => made(input, figures, |m| m.loose_ends.map(|at| at.bore)),
        ResultId::MadeLooseEndsMandrel => {
            made(input, figures, |m| m.loose_ends.and_then(|at| at.mandrel))
        }
        ResultId::MadeTurningBore => made(input, figures, |m| m.turning.map(|at| at.bore)),
        ResultId::MadeTurningMandrel => {
            made(input, figures, |m| m.turning.and_then(|at| at.mandrel))
        }
        ResultId::MadeSeatedBore => made(input, figures, |m| Some(m.seated.bore)),
        ResultId::MadeSeatedMandrel => made(input, figures, |m| m.seated.mandrel),
        ResultId::MadeOutside => blank(input, figures, |b| Some(b.outside)),
        ResultId::MadeMandrel => blank(input, figures, |b| b.mandrel),
        ResultId::MadeWidth => either(input, figures, |m| m.width, |b| b.width),
        ResultId::MadeProud => made(input, figures, |m| Some(m.proud)),
        ResultId::MadeWallUnderCut => either(input, figures, |m| m.under.wall, |b| b.under.wall),
        ResultId::MadeWeight => either(input, figures, |m| m.weight, |b| b.weight),
        ResultId::MadeDeepestCut => {
            either(input, figures, |m| m.under.deepest, |b| b.under.deepest)
        }
        ResultId::MadeTurnBore => made(input, figures, |m| Some(m.turn.bore)),
        ResultId::MadeTurnFloor => made(input, figures, |m| Some(m.turn.floor)),
        ResultId::MadeTurnRidgeTop => made(input, figures, |m| m.turn.ridge_top),
        ResultId::MadeTurnRidgeFromFace => made(input, figures, |m| m.turn.ridge_from_face),
        ResultId::MadeTurnWidth => made(input, figures, |m| Some(m.turn.width)),
        ResultId::MadeTurnEdgeBore => made(input, figures, |m| Some(m.turn.edge_bore)),
        _ => None,
    }
}
