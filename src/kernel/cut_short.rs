//! What is wrong with one drawn cut, or worth telling of it.

use crate::schema::FieldId;

use super::drawn_state::under_cuts;
use super::figures::Figures;
use super::input::Input;
use super::pattern::ToolCut;
use super::section::fitting_from;

/// Lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

/// What is told of one drawn cut; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutShort {
    /// Its place among the band's cuts.
    pub cut: usize,
    /// What.
    pub what: CutTold,
}

/// What of a drawn cut.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum CutTold {
    /// It goes through: the band cannot be.
    Through {
        /// The field that states its depth, where it is a field of the band.
        field: Option<FieldId>,
        /// Its greatest depth.
        depth: f64,
        /// What is left under it: 0 or less.
        wall: f64,
        /// The depth that would just fit, with the least wall where that can be.
        fits: Option<f64>,
    },
    /// It leaves the strip, and is clipped.
    Beyond {
        /// How far its edge lies beyond a side face.
        over: f64,
        /// How far the place of the tool does; 0 where it does not.
        tool: f64,
    },
    /// Its line does not meet itself across the seam.
    Gap(f64),
    /// The cutter is too wide for the pocket: nothing is cut.
    NoRoom {
        /// The width of the cutter at its depth.
        wide: f64,
    },
    /// It takes nothing off.
    Nothing,
}

/// Whether a drawn cut goes through, without asking what would leave metal under it.
#[must_use]
pub fn goes_through(figures: &Figures) -> bool {
    let least = figures.bodies.drawn;
    least.is_some_and(|least| least.value <= ROUNDING)
}

/// A drawn cut that goes through; none where all leave metal under them.
#[must_use]
pub fn cut_through(input: &Input, figures: &Figures) -> Option<CutShort> {
    let least = figures
        .bodies
        .drawn
        .filter(|least| least.value <= ROUNDING)?;
    let drawn = input.drawn.as_ref()?;
    let depth = drawn.cuts.get(least.cut)?.deepest();
    let field = drawn.depths.get(least.cut).copied().flatten();
    let wall = |depth: f64| {
        let changed = Input {
            drawn: field.map(|field| drawn.with_depth(field, depth)),
            ..input.clone()
        };
        under_cuts(&changed).map_or(f64::INFINITY, |least| least.value)
    };
    let limit = input.stretch.walls.under_cut - ROUNDING;
    let fits = field.and_then(|_| {
        fitting_from(0.0, true, depth, |depth| {
            depth > 0.0 && wall(depth) >= limit
        })
        .or_else(|| {
            fitting_from(0.0, true, depth, |depth| {
                depth > 0.0 && wall(depth) > ROUNDING
            })
        })
    });
    Some(CutShort {
        cut: least.cut,
        what: CutTold::Through {
            field,
            depth,
            wall: least.value,
            fits,
        },
    })
}

/// What is worth telling of the drawn cuts of a band that can be made.
#[must_use]
pub fn cuts_told(input: &Input) -> Vec<CutShort> {
    let Some(drawn) = &input.drawn else {
        return Vec::new();
    };
    let Some(worked) = &drawn.worked else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (cut, told) in worked.worked.layout.told.iter().enumerate() {
        let mut tell = |what| all.push(CutShort { cut, what });
        if told.no_room {
            let half = drawn.cuts.get(cut).map_or(0.0, ToolCut::half_width);
            tell(CutTold::NoRoom { wide: 2.0 * half });
        }
        if told.over > 1e-6 {
            tell(CutTold::Beyond {
                over: told.over,
                tool: told.beyond.max(0.0),
            });
        }
        if told.gap > 1e-6 {
            tell(CutTold::Gap(told.gap));
        }
    }
    let no_room = all
        .iter()
        .any(|one| matches!(one.what, CutTold::NoRoom { .. }));
    if worked.worked.figures.volume <= 0.0 && !no_room {
        // Where each of them leaves the strip says no more.
        all.clear();
        all.push(CutShort {
            cut: 0,
            what: CutTold::Nothing,
        });
    }
    all
}
