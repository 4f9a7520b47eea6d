//! Diameters where curves end: at the side faces, and the channel's at its walls.

use crate::kernel::Input;
use crate::kernel::section::curve::{Pieces, height};
use crate::kernel::section::{Cavity, Hollow, Roof};
use crate::kernel::stretch::StretchFigures;

use super::image::{Image, LatheState, Part};

/// Outside and bore of a band at its thinner side face, before its edges are broken; radii, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    pub outside: f64,
    pub bore: f64,
    /// How far the bore opens to the face.
    pub comfort: f64,
}

/// The edge of a solid band, or of shell and sleeve.
pub(super) fn edge(input: &Input, stretch: &StretchFigures, state: LatheState) -> Option<Edge> {
    let shape = &input.shape;
    let (outer, inner) = match shape.hollow {
        None => (Part::Band, Part::Band),
        Some(_) => (Part::Shell, Part::Sleeve),
    };
    let outer = Image::of(input, stretch, outer, state)?;
    let inner = Image::of(input, stretch, inner, state)?;
    let outside = shape.outside_curve();
    let lowest = outside.first()?.from.y.min(outside.last()?.to.y);
    let bore = inner.bore(shape.radius + shape.comfort);
    Some(Edge {
        outside: outer.outside(shape.radius + lowest),
        bore,
        comfort: bore - inner.bore(shape.radius),
    })
}

/// The channel's roof with sharp corners, as far as its side walls.
pub(super) fn sharp_roof(input: &Input) -> Option<(Hollow, Pieces)> {
    let shape = &input.shape;
    let hollow = shape.hollow.filter(|hollow| hollow.roof != Roof::Full)?;
    let sharp = Hollow {
        nose: 0.0,
        ..hollow
    };
    let roof = Cavity::of(shape, &sharp, &shape.outside_curve())?.roof;
    Some((sharp, roof))
}

/// Heights of the roof at mid width and at its walls, the lower of both; where it comes down to the feet before, theirs.
pub(super) fn roof_heights(input: &Input) -> Option<(f64, f64)> {
    let (hollow, roof) = sharp_roof(input)?;
    let walls = roof.first()?.from.y.min(roof.last()?.to.y);
    let foot = hollow.foot();
    Some((height(&roof, 0.0).max(foot), walls.max(foot)))
}

/// Radii of the channel at mid width and at its walls.
pub(super) fn channel(
    input: &Input,
    stretch: &StretchFigures,
    state: LatheState,
) -> Option<(f64, f64)> {
    let image = Image::of(input, stretch, Part::Shell, state)?;
    let (mid, walls) = roof_heights(input)?;
    let at = |height: f64| image.radius(input.shape.radius + height);
    Some((at(mid), at(walls)))
}
