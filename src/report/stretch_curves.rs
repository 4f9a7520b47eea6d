//! Curves for the lathe, for a person: radius and centre of each arc, and where curves end.

use crate::evaluate::Evaluation;
use crate::kernel::lathe::bored_straight;
use crate::schema::ResultId;

use super::page::Page;

/// An arc: its label, radius and centre finished; as machined, and how far the true curve departs.
type Arc = (&'static str, [ResultId; 2], [ResultId; 3]);

const ARCS: [Arc; 3] = [
    (
        "outside's arc",
        [ResultId::CurveDomeRadius, ResultId::CurveDomeCentre],
        [
            ResultId::MachinedCurveDomeRadius,
            ResultId::MachinedCurveDomeCentre,
            ResultId::MachinedCurveDomeDeparture,
        ],
    ),
    (
        "channel's roof",
        [ResultId::CurveRoofRadius, ResultId::CurveRoofCentre],
        [
            ResultId::MachinedCurveRoofRadius,
            ResultId::MachinedCurveRoofCentre,
            ResultId::MachinedCurveRoofDeparture,
        ],
    ),
    (
        "comfort bore",
        [ResultId::CurveComfortRadius, ResultId::CurveComfortCentre],
        [
            ResultId::MachinedCurveComfortRadius,
            ResultId::MachinedCurveComfortCentre,
            ResultId::MachinedCurveComfortDeparture,
        ],
    ),
];

/// The curves of a band; nothing where all its surfaces are straight.
pub(super) fn curves(page: &mut Page, evaluation: &Evaluation) {
    let has = |id: ResultId| evaluation.number(id).is_some();
    let sloped = |one: ResultId, other: ResultId| {
        let number = |id| evaluation.number(id).map(|number| number.to_f64());
        let gap = number(one).zip(number(other));
        gap.is_some_and(|(one, other)| (one - other).abs() > 1e-6)
    };
    let edges = sloped(ResultId::EdgeOutside, ResultId::Outside)
        || sloped(ResultId::EdgeBore, ResultId::Bore);
    if !edges && !ARCS.iter().any(|(_, [radius, _], _)| has(*radius)) {
        return;
    }
    page.heading("curves for the lathe: centres from the finger's axis, at mid width");
    for (label, finished, machined) in ARCS {
        if !has(finished[0]) {
            continue;
        }
        let [radius, centre] = finished.map(|id| page.result(evaluation, id));
        let [is, at] = [machined[0], machined[1]].map(|id| page.result(evaluation, id));
        if is == "none" {
            page.words(
                label,
                &format!("radius {radius}, centre {centre}, finished"),
            );
            continue;
        }
        let off = evaluation
            .number(machined[2])
            .map_or(0.0, |off| off.to_f64() * 1e3);
        // What is less than a thousandth of a micrometre is the last digits.
        let within = match off < 1e-3 {
            true => String::new(),
            false => format!(", the true curve within {} um", libm::ceil(off)),
        };
        page.row(
            label,
            &format!("radius {is}, centre {at}, as machined{within}"),
        );
        page.row("", &format!("radius {radius}, centre {centre}, finished"));
    }
    if has(ResultId::ChannelAtWalls) {
        let [mid, walls] = [
            ResultId::MachinedShellChannel,
            ResultId::MachinedShellChannelAtWalls,
        ]
        .map(|id| page.result(evaluation, id));
        let [mid_done, walls_done] = [ResultId::ChannelAtMid, ResultId::ChannelAtWalls]
            .map(|id| page.result(evaluation, id));
        for (label, mid, walls, when) in [
            ("channel", mid, walls, "as machined"),
            ("", mid_done, walls_done, "finished"),
        ] {
            let text = format!("\u{D8} {mid} at mid width, \u{D8} {walls} at its walls, {when}");
            page.row(label, &text);
        }
    }
    side_faces(page, evaluation);
    straight(page, evaluation);
}

/// Diameters at the side faces, as machined and finished.
fn side_faces(page: &mut Page, evaluation: &Evaluation) {
    let machined = match evaluation.band.hollow {
        Some(_) => [
            ResultId::MachinedShellEdgeOutside,
            ResultId::MachinedSleeveEdgeBore,
        ],
        None => [ResultId::MachinedEdgeOutside, ResultId::MachinedEdgeBore],
    };
    let [outside, bore] = machined.map(|id| page.result(evaluation, id));
    let [outside_done, bore_done] =
        [ResultId::EdgeOutside, ResultId::EdgeBore].map(|id| page.result(evaluation, id));
    let thick = page.result(evaluation, ResultId::EdgeThickness);
    page.row(
        "at the side faces",
        &format!("outside \u{D8} {outside}, bore \u{D8} {bore}, as machined"),
    );
    page.row(
        "",
        &format!("outside \u{D8} {outside_done}, bore \u{D8} {bore_done}, {thick} thick, finished"),
    );
    let shape = &evaluation.input.shape;
    if shape.ease_outer > 0.0 || shape.ease_bore > 0.0 {
        page.row("", "before the edges are broken");
    }
}

/// What boring the channel straight would leave.
fn straight(page: &mut Page, evaluation: &Evaluation) {
    let Some(straight) = bored_straight(&evaluation.input, evaluation.stretch()) else {
        return;
    };
    let (to, wall, ordered) = (
        page.mm(straight.to),
        page.mm(straight.wall),
        page.mm(straight.ordered),
    );
    let place = if straight.at_mid {
        " of mid width"
    } else {
        ", its largest"
    };
    let under = if straight.cut { " under the cut" } else { "" };
    let left = if straight.wall > 0.0 {
        format!("only {wall} of roof would be left{under}, where {ordered} are drawn")
    } else {
        format!("it would come through{under}, where {ordered} are drawn")
    };
    page.words(
        "never straight",
        &format!(
            "the channel's roof is curved: bored straight to the \u{D8} {to}{place}, {left}. Follow the contour, or state `roof straight`"
        ),
    );
}
