//! The contours of a band's parts for a turning program.

use crate::evaluate::Evaluation;
use crate::kernel::lathe::{Contour, LatheState, Part, contour};

/// What of a band's contours is asked for; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContourOf {
    /// One part; every part that the band has, where none is named.
    pub part: Option<Part>,
    /// When.
    pub state: LatheState,
    /// Step along the axis.
    pub step: f64,
    /// Radius of the tool's nose.
    pub nose: Option<f64>,
}

/// The contours of a band.
#[derive(Clone, Debug, PartialEq)]
pub struct Contours {
    /// The band.
    pub band: String,
    /// What was asked for.
    pub of: ContourOf,
    /// The paths of each part.
    pub parts: Vec<(Part, Vec<Contour>)>,
}

/// The contours of a band; no parts where it has none of those asked for.
#[must_use]
pub fn contours(evaluation: &Evaluation, of: ContourOf) -> Contours {
    let all = [Part::Band, Part::Shell, Part::Sleeve];
    let wanted = all
        .into_iter()
        .filter(|part| of.part.is_none_or(|of| of == *part));
    let parts = wanted.filter_map(|part| {
        let (input, stretch) = (&evaluation.input, evaluation.stretch());
        Some((
            part,
            contour(input, stretch, part, of.state, of.step, of.nose)?,
        ))
    });
    Contours {
        band: evaluation.band.name.clone(),
        of,
        parts: parts.collect(),
    }
}
