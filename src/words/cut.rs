//! What is told of drawn cuts, in words.

use crate::kernel::{CutShort, CutTold};
use crate::model::Band;

use super::error::MetalError;
use super::length::{mm, set};

/// What is told of one drawn cut.
pub(super) fn told(band: &Band, short: &CutShort) -> MetalError {
    let cut = band.cuts.get(short.cut);
    let at = cut.map_or(band.at, |cut| cut.at);
    let called = cut.map_or_else(String::new, |cut| cut.called());
    match short.what {
        CutTold::Through {
            field,
            depth,
            wall,
            fits,
        } => MetalError::CutThrough {
            at: cut
                .and_then(|cut| cut.depth(&band.fields))
                .and_then(|depth| depth.at)
                .unwrap_or(at),
            message: format!(
                "the cut `{called}` is {} deep and goes right through, by {}",
                mm(depth),
                mm(-wall)
            ),
            help: match (field, fits) {
                (Some(field), Some(fits)) => {
                    format!("{} would just fit", set(field, fits))
                }
                _ => "cut it shallower, or make the band thicker there".to_owned(),
            },
        },
        CutTold::Beyond { over, tool } => {
            let message = if tool > 0.0 {
                format!(
                    "the cut `{called}` leaves the strip: its line lies {} beyond a side face",
                    mm(tool)
                )
            } else {
                format!(
                    "the cut `{called}` leaves the strip: its edge lies {} beyond a side face",
                    mm(over)
                )
            };
            MetalError::CutBeyond {
                at,
                message,
                help: format!("move it in by {} to keep it on the strip", mm(over)),
            }
        }
        CutTold::Gap(gap) => MetalError::CutGap {
            at,
            message: format!(
                "the ends of the cut `{called}` miss each other by {} at the seam",
                mm(gap)
            ),
        },
        CutTold::NoRoom { wide } => MetalError::CutNoRoom {
            at,
            message: format!(
                "the cutter of `{called}` is {} wide at its depth and does not fit into the pocket",
                mm(wide)
            ),
        },
        CutTold::Nothing => MetalError::CutNothing {
            at,
            message: format!("the drawn cuts of `{}` take nothing off", band.name),
        },
    }
}
