//! Limits that fall short: the band can be made, but not as its maker wants it.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::model::Band;
use crate::source::Span;

use super::figures::Figures;
use super::input::least_wall;

/// A limit that is not kept.
#[derive(Debug, Error, Diagnostic)]
pub enum LimitError {
    /// A wall that exists, but is thinner than it may be.
    #[error("the thinnest wall of `{band}` is {wall} mm, under the least wall of {limit} mm")]
    #[diagnostic(code(evaluate::thin_wall), severity(warning), help("{help}"))]
    ThinWall {
        /// What makes it thin.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// The wall.
        wall: String,
        /// The limit.
        limit: String,
        /// Where it is thin.
        label: String,
        /// What would keep the limit.
        help: String,
    },
}

impl Problem for LimitError {}

/// Computed lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

/// The finding for a wall that is too thin.
pub(super) fn thin_wall(band: &Band, figures: &Figures) -> Option<LimitError> {
    let limit = least_wall(band);
    if figures.wall_least >= limit - ROUNDING {
        return None;
    }
    let short = limit - figures.wall_least;
    let places = |value: f64| format!("{}", (value * 1e6).round() / 1e6);
    let depth = band.pattern.map(|pattern| pattern.depth.to_mm());
    let (path, label, help) = match depth {
        Some(depth) if depth > short => (
            "pattern.depth",
            "under this cut".to_owned(),
            format!(
                "cut {} mm deep, or make the edge {} mm thicker",
                places(depth - short),
                places(short)
            ),
        ),
        _ => (
            "thickness",
            "at the edge".to_owned(),
            format!("make the edge {} mm thicker", places(short)),
        ),
    };
    Some(LimitError::ThinWall {
        at: band.place(path),
        band: band.name.clone(),
        wall: places(figures.wall_least),
        limit: places(limit),
        label,
        help,
    })
}
