//! The figures of parts as they come off the machine.

use crate::evaluate::Evaluation;
use crate::schema::ResultId;

use super::figures::{Dimensions, Reader, bore, channel, outside};

pub(super) fn shell(evaluation: &Evaluation) -> Dimensions {
    let mut found = Dimensions::default();
    let reader = Reader(evaluation);
    let Some(joined) = &evaluation.stretch().hollow else {
        return found;
    };
    let half = joined.shell.width / 2.0;
    let channel_half = joined.shell.channel_width.map_or(0.0, |wide| wide / 2.0);
    outside(
        &mut found,
        evaluation,
        half,
        [
            ResultId::MachinedShellOutside,
            ResultId::MachinedShellEdgeOutside,
        ],
    );
    channel(
        &mut found,
        &reader,
        half,
        half - channel_half,
        [
            ResultId::MachinedShellChannel,
            ResultId::MachinedShellChannelAtWalls,
        ],
    );
    let lips = reader.result(ResultId::MachinedShellLipBore);
    let foot = match lips {
        Some(_) => channel_half + 0.02,
        None => half,
    };
    found.diameter("feet", foot, reader.result(ResultId::MachinedShellBore));
    found.diameter("lips", half, lips);
    let wide = reader.result(ResultId::MachinedShellChannelWidth);
    found.along("channel", -channel_half, channel_half, wide);
    found.along(
        "width",
        -half,
        half,
        reader.result(ResultId::MachinedShellWidth),
    );
    for (label, radius, centre) in [
        (
            "outside's arc",
            ResultId::MachinedCurveDomeRadius,
            ResultId::MachinedCurveDomeCentre,
        ),
        (
            "roof's arc",
            ResultId::MachinedCurveRoofRadius,
            ResultId::MachinedCurveRoofCentre,
        ),
    ] {
        found.arc(&reader, label, radius, centre);
    }
    found
}

pub(super) fn sleeve(evaluation: &Evaluation) -> Dimensions {
    let mut found = Dimensions::default();
    let reader = Reader(evaluation);
    let Some(joined) = &evaluation.stretch().hollow else {
        return found;
    };
    let half = joined.sleeve.width / 2.0;
    let from_face = joined.sleeve.ridge_from_face;
    let ridge = from_face.map_or(0.0, |from| half - from);
    found.diameter(
        "ridge",
        ridge,
        reader.result(ResultId::MachinedSleeveRidgeTop),
    );
    found.diameter(
        "outside",
        half,
        reader.result(ResultId::MachinedSleeveFloor),
    );
    bore(
        &mut found,
        evaluation,
        half,
        [
            ResultId::MachinedSleeveBore,
            ResultId::MachinedSleeveEdgeBore,
        ],
    );
    if let Some(from) = from_face {
        let text = reader.result(ResultId::MachinedSleeveRidgeFromFace);
        found.along("to the ridge", half - from, half, text);
    }
    found.along(
        "width",
        -half,
        half,
        reader.result(ResultId::MachinedSleeveWidth),
    );
    found.arc(
        &reader,
        "comfort bore's arc",
        ResultId::MachinedCurveComfortRadius,
        ResultId::MachinedCurveComfortCentre,
    );
    found
}

pub(super) fn band(evaluation: &Evaluation) -> Dimensions {
    let mut found = Dimensions::default();
    let reader = Reader(evaluation);
    let Some(small) = &evaluation.stretch().solid else {
        return found;
    };
    let half = small.width / 2.0;
    outside(
        &mut found,
        evaluation,
        half,
        [ResultId::MachinedOutside, ResultId::MachinedEdgeOutside],
    );
    bore(
        &mut found,
        evaluation,
        half,
        [ResultId::MachinedBore, ResultId::MachinedEdgeBore],
    );
    found.along("width", -half, half, reader.result(ResultId::MachinedWidth));
    for (label, radius, centre) in [
        (
            "outside's arc",
            ResultId::MachinedCurveDomeRadius,
            ResultId::MachinedCurveDomeCentre,
        ),
        (
            "comfort bore's arc",
            ResultId::MachinedCurveComfortRadius,
            ResultId::MachinedCurveComfortCentre,
        ),
    ] {
        found.arc(&reader, label, radius, centre);
    }
    found
}
