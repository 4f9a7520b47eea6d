//! How each result of stretch and join is read from what was computed.

use crate::schema::ResultId;

use super::join::{Joined, MachinedShell, MachinedSleeve, Small};
use super::made::{Blank, MadeRing};
use super::stretch::StretchFigures;

fn hollow(stretch: &StretchFigures, read: fn(&Joined) -> f64) -> Option<f64> {
    stretch.hollow.as_ref().map(read)
}

fn maybe(stretch: &StretchFigures, read: fn(&Joined) -> Option<f64>) -> Option<f64> {
    stretch.hollow.as_ref().and_then(read)
}

fn solid(stretch: &StretchFigures, read: fn(&Small) -> f64) -> Option<f64> {
    stretch.solid.as_ref().map(read)
}

fn strain(stretch: &StretchFigures) -> Option<f64> {
    hollow(stretch, |hollow| hollow.strain).or_else(|| solid(stretch, |solid| solid.strain))
}

fn mandrel(stretch: &StretchFigures) -> Option<f64> {
    match (&stretch.hollow, &stretch.solid) {
        (Some(hollow), _) => hollow.finished.mandrel,
        (None, solid) => solid.as_ref().and_then(|solid| solid.mandrel),
    }
}

fn made(stretch: &StretchFigures, read: fn(&MadeRing) -> Option<f64>) -> Option<f64> {
    stretch.made.as_ref().and_then(read)
}

/// Of the parts of a hollow band, or of the blank of a solid one.
fn either(
    stretch: &StretchFigures,
    parts: fn(&MadeRing) -> f64,
    blank: fn(&Blank) -> f64,
) -> Option<f64> {
    let parts = stretch.made.as_ref().map(parts);
    parts.or_else(|| stretch.blank.as_ref().map(blank))
}

fn blank(stretch: &StretchFigures, read: fn(&Blank) -> Option<f64>) -> Option<f64> {
    stretch.blank.as_ref().and_then(read)
}

/// Whether a result is a bench figure of one of two parts.
#[must_use]
pub fn is_of_parts(id: ResultId) -> bool {
    matches!(
        id,
        ResultId::MachinedShellBore
            | ResultId::MachinedShellLipBore
            | ResultId::MachinedShellChannel
            | ResultId::MachinedShellChannelWidth
            | ResultId::MachinedShellOutside
            | ResultId::MachinedShellWidth
            | ResultId::MachinedSleeveBore
            | ResultId::MachinedSleeveFloor
            | ResultId::MachinedSleeveRidgeTop
            | ResultId::MachinedSleeveRidgeFromFace
            | ResultId::MachinedSleeveWidth
            | ResultId::MachinedSleeveEdgeBore
    )
}

/// A bench figure of one of two parts; none where it has no such figure.
#[must_use]
pub fn of_parts(id: ResultId, shell: &MachinedShell, sleeve: &MachinedSleeve) -> Option<f64> {
    match id {
        ResultId::MachinedShellBore => Some(shell.bore),
        ResultId::MachinedShellLipBore => shell.lip,
        ResultId::MachinedShellChannel => shell.channel,
        ResultId::MachinedShellChannelWidth => shell.channel_width,
        ResultId::MachinedShellOutside => Some(shell.outside),
        ResultId::MachinedShellWidth => Some(shell.width),
        ResultId::MachinedSleeveBore => Some(sleeve.bore),
        ResultId::MachinedSleeveFloor => Some(sleeve.floor),
        ResultId::MachinedSleeveRidgeTop => sleeve.ridge_top,
        ResultId::MachinedSleeveRidgeFromFace => sleeve.ridge_from_face,
        ResultId::MachinedSleeveWidth => Some(sleeve.width),
        ResultId::MachinedSleeveEdgeBore => Some(sleeve.edge_bore),
        _ => None,
    }
}

/// A result of stretch or join; none where the band has no such result.
#[must_use]
pub fn computed(id: ResultId, stretch: &StretchFigures) -> Option<f64> {
    match id {
        id if is_of_parts(id) => {
            let joined = stretch.hollow.as_ref()?;
            of_parts(id, &joined.shell, &joined.sleeve)
        }
        ResultId::MachinedBore => solid(stretch, |s| s.bore),
        ResultId::MachinedOutside => solid(stretch, |s| s.outside),
        ResultId::MachinedThickness => solid(stretch, |s| s.thickness),
        ResultId::MachinedWidth => solid(stretch, |s| s.width),
        ResultId::StretchStrain => strain(stretch),
        ResultId::StretchCatchingBore => maybe(stretch, |h| h.catching.map(|at| at.bore)),
        ResultId::StretchCatchingMandrel => {
            maybe(stretch, |h| h.catching.and_then(|at| at.mandrel))
        }
        ResultId::StretchTurningBore => maybe(stretch, |h| h.turning.map(|at| at.bore)),
        ResultId::StretchTurningMandrel => maybe(stretch, |h| h.turning.and_then(|at| at.mandrel)),
        ResultId::StretchSeatedBore => maybe(stretch, |h| h.seated.map(|at| at.bore)),
        ResultId::StretchSeatedMandrel => maybe(stretch, |h| h.seated.and_then(|at| at.mandrel)),
        ResultId::StretchTouchMandrel => {
            maybe(stretch, |h| h.together.map(|together| together.touch()))
        }
        ResultId::StretchFinishedBore => {
            hollow(stretch, |h| h.size).or_else(|| solid(stretch, |s| s.size))
        }
        ResultId::StretchFloat => maybe(stretch, |h| h.wanders()),
        ResultId::FootBore => hollow(stretch, |h| 2.0 * h.shell_back.0.inner),
        ResultId::StretchFixedBore => maybe(stretch, |h| h.fixed.map(|at| at.bore)),
        ResultId::StretchFixedMandrel => maybe(stretch, |h| h.fixed.and_then(|at| at.mandrel)),
        ResultId::StretchMandrel => mandrel(stretch),
        ResultId::StretchWindow => maybe(stretch, |h| h.window),
        ResultId::StretchOverlap => maybe(stretch, |h| h.catching.map(|_| h.overlap_finished)),
        ResultId::StretchOverlapNeeded => maybe(stretch, |h| h.catching.and(h.hold)),
        ResultId::GripPressure => maybe(stretch, |h| h.press.map(|p| p.pressure)),
        ResultId::GripPressureOnRelease => maybe(stretch, |h| h.press.map(|p| p.on_release)),
        ResultId::GripGap => maybe(stretch, |h| h.press.map(|p| p.gap())),
        ResultId::GripForce => maybe(stretch, |h| {
            h.together
                .zip(h.press)
                .map(|(both, press)| both.fit.force(&press))
        }),
        ResultId::GripTorque => maybe(stretch, |h| {
            h.together
                .zip(h.press)
                .map(|(both, press)| both.fit.torque(&press))
        }),
        ResultId::GripFrom => maybe(stretch, |h| h.grip_window.map(|(from, _)| 2.0 * from)),
        ResultId::GripTo => maybe(stretch, |h| h.grip_window.map(|(_, to)| 2.0 * to)),
        ResultId::GripAim => maybe(stretch, |h| h.aim.map(|aim| 2.0 * aim)),
        ResultId::MadeBore => either(stretch, |m| m.bore, |b| b.bore),
        ResultId::MadeStrain => either(stretch, |m| m.strain, |b| b.strain),
        ResultId::MadeClearance => made(stretch, |m| Some(m.entry)),
        ResultId::MadeCatchingBore => made(stretch, |m| m.catching.map(|at| at.bore)),
        ResultId::MadeCatchingMandrel => made(stretch, |m| m.catching.and_then(|at| at.mandrel)),
        ResultId::MadeTurningBore => made(stretch, |m| m.turning.map(|at| at.bore)),
        ResultId::MadeTurningMandrel => made(stretch, |m| m.turning.and_then(|at| at.mandrel)),
        ResultId::MadeSeatedBore => made(stretch, |m| Some(m.seated.bore)),
        ResultId::MadeSeatedMandrel => made(stretch, |m| m.seated.mandrel),
        ResultId::MadeFixedBore => made(stretch, |m| m.fixed.map(|at| at.bore)),
        ResultId::MadeFixedMandrel => made(stretch, |m| m.fixed.and_then(|at| at.mandrel)),
        ResultId::MadeOutside => blank(stretch, |b| Some(b.outside)),
        ResultId::MadeMandrel => blank(stretch, |b| b.mandrel),
        ResultId::MadeWidth => either(stretch, |m| m.width, |b| b.width),
        ResultId::MadeProud => made(stretch, |m| Some(m.proud)),
        ResultId::MadeFloat => made(stretch, |m| m.float),
        ResultId::MadeWallUnderCut => either(stretch, |m| m.under.wall, |b| b.under.wall),
        ResultId::MadeWeight => either(stretch, |m| m.weight, |b| b.weight),
        ResultId::MadeDeepestCut => either(stretch, |m| m.under.deepest, |b| b.under.deepest),
        ResultId::MadeTurnBore => made(stretch, |m| Some(m.turn.bore)),
        ResultId::MadeTurnFloor => made(stretch, |m| Some(m.turn.floor)),
        ResultId::MadeTurnRidgeTop => made(stretch, |m| m.turn.ridge_top),
        ResultId::MadeTurnRidgeFromFace => made(stretch, |m| m.turn.ridge_from_face),
        ResultId::MadeTurnWidth => made(stretch, |m| Some(m.turn.width)),
        ResultId::MadeTurnEdgeBore => made(stretch, |m| Some(m.turn.edge_bore)),
        _ => None,
    }
}
