//! How each result of curves and edges is read from what was computed.

use crate::kernel::Input;
use crate::kernel::stretch::StretchFigures;
use crate::schema::ResultId;

use super::arcs::{Arc, Curve, arc};
use super::edges::{Edge, channel, edge};
use super::image::LatheState;

/// A result of curves and edges; none where the band has no such result.
#[must_use]
pub fn computed(id: ResultId, input: &Input, stretch: &StretchFigures) -> Option<f64> {
    let arc =
        |curve, state, read: fn(&Arc) -> f64| arc(input, stretch, curve, state).as_ref().map(read);
    let edge = |state, read: fn(&Edge) -> f64| edge(input, stretch, state).as_ref().map(read);
    let solid = |found: Option<f64>| found.filter(|_| input.shape.hollow.is_none());
    let channel = |state| channel(input, stretch, state);
    use LatheState::{Finished, Machined};
    match id {
        ResultId::CurveDomeRadius => arc(Curve::Dome, Finished, |arc| arc.radius),
        ResultId::CurveDomeCentre => arc(Curve::Dome, Finished, |arc| arc.centre),
        ResultId::CurveRoofRadius => arc(Curve::Roof, Finished, |arc| arc.radius),
        ResultId::CurveRoofCentre => arc(Curve::Roof, Finished, |arc| arc.centre),
        ResultId::CurveComfortRadius => arc(Curve::Comfort, Finished, |arc| arc.radius),
        ResultId::CurveComfortCentre => arc(Curve::Comfort, Finished, |arc| arc.centre),
        ResultId::MachinedCurveDomeRadius => arc(Curve::Dome, Machined, |arc| arc.radius),
        ResultId::MachinedCurveDomeCentre => arc(Curve::Dome, Machined, |arc| arc.centre),
        ResultId::MachinedCurveDomeDeparture => arc(Curve::Dome, Machined, |arc| arc.departure),
        ResultId::MachinedCurveRoofRadius => arc(Curve::Roof, Machined, |arc| arc.radius),
        ResultId::MachinedCurveRoofCentre => arc(Curve::Roof, Machined, |arc| arc.centre),
        ResultId::MachinedCurveRoofDeparture => arc(Curve::Roof, Machined, |arc| arc.departure),
        ResultId::MachinedCurveComfortRadius => arc(Curve::Comfort, Machined, |arc| arc.radius),
        ResultId::MachinedCurveComfortCentre => arc(Curve::Comfort, Machined, |arc| arc.centre),
        ResultId::MachinedCurveComfortDeparture => {
            arc(Curve::Comfort, Machined, |arc| arc.departure)
        }
        ResultId::ChannelAtMid => channel(Finished).map(|(mid, _)| 2.0 * mid),
        ResultId::ChannelAtWalls => channel(Finished).map(|(_, walls)| 2.0 * walls),
        ResultId::MachinedShellChannelAtWalls => channel(Machined).map(|(_, walls)| 2.0 * walls),
        ResultId::EdgeOutside => edge(Finished, |edge| 2.0 * edge.outside),
        ResultId::EdgeBore => edge(Finished, |edge| 2.0 * edge.bore),
        ResultId::EdgeThickness => edge(Finished, |edge| edge.outside - edge.bore),
        ResultId::MachinedShellEdgeOutside => {
            let found = edge(Machined, |edge| 2.0 * edge.outside);
            found.filter(|_| input.shape.hollow.is_some())
        }
        ResultId::MachinedEdgeOutside => solid(edge(Machined, |edge| 2.0 * edge.outside)),
        ResultId::MachinedEdgeBore => solid(edge(Machined, |edge| 2.0 * edge.bore)),
        ResultId::MachinedEdgeThickness => solid(edge(Machined, |edge| edge.outside - edge.bore)),
        ResultId::MachinedComfort => solid(edge(Machined, |edge| edge.comfort)),
        _ => None,
    }
}
