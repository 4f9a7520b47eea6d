//! How each result of weight, size and walls is read from what the kernel computed; other rooms read theirs.

use rust_decimal::Decimal;

use crate::kernel;
use crate::model::AlloyDensity;
use crate::money;
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId, Room};

use super::drawn_results;
use super::evaluation::Evaluation;
use super::judged;
use crate::kernel::{Figures, HollowFigures, Input, tidied};

/// A result of an evaluation, in the unit of its row: exact where it can be; none where the band has no such
/// result.
#[must_use]
pub fn number(id: ResultId, evaluation: &Evaluation) -> Option<Number> {
    exact(id, evaluation)
        .map(Number::Exact)
        .or_else(|| computed(id, evaluation).map(Number::computed))
}

/// A result as a float, from what the kernel computes alone.
#[must_use]
pub(super) fn computed(id: ResultId, evaluation: &Evaluation) -> Option<f64> {
    match id.row().room {
        Room::Metal => metal_result(id, &evaluation.input, &evaluation.figures)
            .or_else(|| drawn_results::result(id, evaluation)),
        Room::Stretch => match kernel::strength::is_result(id) {
            true => kernel::strength::result(id, evaluation.bears()?),
            false => evaluation.stretched(id),
        },
        Room::Lathe => kernel::lathe::computed(id, &evaluation.input, evaluation.stretch()),
        Room::Money | Room::Fineness => None,
    }
}

/// The exact number, where it has one.
#[must_use]
pub(super) fn exact(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    match id.row().room {
        Room::Metal => {
            written(id, evaluation).or_else(|| drawn_results::stated_minutes(id, evaluation))
        }
        Room::Money => match id {
            ResultId::CostOnePerCent => evaluation.one_per_cent(),
            id => money::exact(id, evaluation.account()?)
                .or_else(|| money::level(id, evaluation.against()?)),
        },
        Room::Fineness => judged::exact(id, evaluation),
        Room::Stretch | Room::Lathe => None,
    }
}

fn part(figures: &Figures, read: fn(&HollowFigures) -> f64) -> Option<f64> {
    figures.hollow.as_ref().map(read)
}

/// A result of weight, size or walls, in the unit of its row; none where the band has no such result.
#[must_use]
pub fn metal_result(id: ResultId, input: &Input, figures: &Figures) -> Option<f64> {
    let wall = |thickness: f64| Some(tidied(thickness - input.stretch.run_out));
    match id {
        ResultId::Weight => Some(figures.weight),
        ResultId::WeightUncut => Some(figures.weight_uncut),
        ResultId::WeightCut => Some(figures.weight_cut),
        ResultId::Volume => Some(figures.volume),
        ResultId::VolumeUncut => Some(figures.volume_uncut),
        ResultId::ShellVolume => part(figures, |h| h.parts.shell),
        ResultId::ShellWeight => part(figures, |h| h.shell_weight),
        ResultId::SleeveVolume => part(figures, |h| h.parts.sleeve),
        ResultId::SleeveWeight => part(figures, |h| h.sleeve_weight),
        ResultId::RidgeVolume => part(figures, |h| h.parts.ridge),
        ResultId::CavityVolume => part(figures, |h| h.parts.cavity),
        ResultId::SolidWeight => part(figures, |h| h.solid_weight),
        ResultId::Saving => part(figures, |h| h.saving),
        ResultId::FootLeft => part(figures, |h| tidied(h.parts.foot_left)),
        ResultId::FootRight => part(figures, |h| tidied(h.parts.foot_right)),
        ResultId::RidgeFromFace => figures
            .hollow?
            .parts
            .ridges
            .map(|(left, right)| tidied(input.shape.width / 2.0 - right.max(-left))),
        ResultId::SectionArea => Some(figures.area),
        ResultId::WallLeast => Some(figures.wall_least),
        ResultId::WallUnderCut => wall(match (&figures.hollow, &figures.bodies.drawn) {
            (Some(of), _) => of.parts.walls.under_cut.thickness,
            (None, Some(under)) => under.value,
            (None, None) => figures.bodies.solid_wall.thickness,
        }),
        ResultId::WallSideFace => wall(figures.hollow?.parts.walls.side_face),
        ResultId::WallSleeveEdge => wall(figures.hollow?.parts.walls.sleeve_edge),
        ResultId::WallRoof => wall(figures.hollow?.parts.walls.shell?),
        ResultId::WallSide => {
            let walls = &figures.hollow?.parts.walls;
            let side = walls.shell.map(|shell| shell.min(walls.side_face));
            wall(side.unwrap_or(walls.side_face))
        }
        ResultId::WallSleeve => {
            let walls = &figures.hollow?.parts.walls;
            let sleeve = walls.relief.map(|relief| relief.min(walls.sleeve_edge));
            wall(sleeve.unwrap_or(walls.sleeve_edge))
        }
        ResultId::WallMark => kernel::walls(input, figures)
            .iter()
            .filter(|wall| wall.field == FieldId::MarkDeep)
            .map(|wall| tidied(wall.thickness))
            .min_by(f64::total_cmp),
        ResultId::Bore => Some(figures.bore),
        ResultId::Outside => Some(figures.outside),
        ResultId::SizeCircumference => Some(figures.circumference),
        ResultId::StripLength => Some(figures.strip_length),
        ResultId::StripHeight => Some(figures.strip_height),
        ResultId::StripPitch => figures.pitch,
        ResultId::Density => Some(figures.density),
        _ => None,
    }
}

/// Whether a result of [`metal_result`] rests on a wall that is sought, under a cut or at its thinnest.
#[must_use]
pub fn rests_on_walls(id: ResultId) -> bool {
    matches!(
        id,
        ResultId::WallLeast | ResultId::WallUnderCut | ResultId::WallMark
    )
}

/// Whether a result of [`metal_result`] rests on an outer dimension.
#[must_use]
pub fn rests_on_dimensions(id: ResultId) -> bool {
    matches!(
        id,
        ResultId::Bore
            | ResultId::Outside
            | ResultId::SizeCircumference
            | ResultId::StripLength
            | ResultId::StripHeight
            | ResultId::StripPitch
    )
}

/// A field's number in mm, where it is written and no quotient or root that does not come out.
fn exact_field(evaluation: &Evaluation, id: FieldId) -> Option<Decimal> {
    let field = evaluation.band.fields.quantity(id)?;
    field.number.exact()
}

/// What follows from written numbers alone.
fn written(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    match id {
        ResultId::Bore => evaluation.band.inside().diameter.exact(),
        ResultId::Outside => exact_field(evaluation, FieldId::Outside).or_else(|| {
            let thickness = exact_field(evaluation, FieldId::Thickness)?;
            let bore = evaluation.band.inside().diameter.exact()?;
            bore.checked_add(thickness.checked_mul(Decimal::TWO)?)
        }),
        ResultId::SizeCircumference => {
            let band = &evaluation.band;
            band.inside()
                .size
                .and_then(|size| size.circumference().exact())
        }
        ResultId::StripHeight => (evaluation.figures.strip_height == evaluation.input.shape.width)
            .then(|| exact_field(evaluation, FieldId::Width))
            .flatten(),
        ResultId::Density => {
            let band = &evaluation.band;
            match &band.alloy.density {
                AlloyDensity::Stated {
                    value, quantity, ..
                } => quantity.number.exact().map(|_| value.value()),
                AlloyDensity::Derived(_) => None,
            }
        }
        _ => None,
    }
}
