//! What makes a two-part build impossible: parts gone at their edges, no cavity, no room for what catches.

use super::bodies::{Cavity, above, head_room, roof};
use super::curve::{Piece, Pieces, clipped, height};
use super::impossible::{COMPUTED, Impossible, WRITTEN, mm, too_little, too_much};
use super::shape::{Catch, Hollow, Roof, Shape};
use crate::schema::FieldId;

/// Bounds of the two parts.
pub(super) fn parts(shape: &Shape, hollow: &Hollow, outside: &Pieces, found: &mut Vec<Impossible>) {
    let floor = hollow.sleeve;
    let ends = [
        outside.first().map(|piece| piece.from.y),
        outside.last().map(|piece| piece.to.y),
    ];
    let edge = ends.into_iter().flatten().fold(f64::INFINITY, f64::min);
    if floor - shape.comfort <= WRITTEN {
        let message = format!(
            "the sleeve of {} is gone at its edge, where the bore opens by {}",
            mm(floor),
            mm(shape.comfort)
        );
        found.push(too_little(
            FieldId::HollowSleeve,
            message,
            format!("more than {}", mm(shape.comfort)),
        ));
    }
    if edge - hollow.foot() <= WRITTEN {
        let message = format!(
            "the sleeve of {} leaves no shell at the side faces, which are {} high over the smallest bore",
            mm(floor),
            mm(edge)
        );
        found.push(too_much(
            FieldId::HollowSleeve,
            message,
            format!("less than {}", mm(edge - hollow.play / 2.0)),
        ));
    }
    if let Some(wall) = hollow.relief
        && wall >= floor - WRITTEN
    {
        let message = format!(
            "the relief leaves a wall of {}, and the sleeve is {} there already",
            mm(wall),
            mm(floor)
        );
        found.push(too_much(
            FieldId::HollowSleeveRelief,
            message,
            format!("less than {}", mm(floor)),
        ));
    }
    lip(shape, hollow, found);
    if found.is_empty() && hollow.roof != Roof::Full {
        cavity(shape, hollow, outside, found);
    }
    if found.is_empty() {
        parts_cut(shape, hollow, outside, found);
    }
}

fn lip(shape: &Shape, hollow: &Hollow, found: &mut Vec<Impossible>) {
    let Catch::Lip { height, wide, play } = hollow.catch else {
        return;
    };
    let room = hollow.sleeve - shape.comfort;
    if height >= room - WRITTEN {
        let message = format!(
            "a lip of {} reaches through the sleeve, which is {} at its edge",
            mm(height),
            mm(room)
        );
        found.push(too_much(
            FieldId::HollowLip,
            message,
            format!("less than {}", mm(room)),
        ));
    }
    let foot = if hollow.roof == Roof::Full {
        shape.half()
    } else {
        hollow.wall
    };
    if wide + play / 2.0 >= foot - WRITTEN {
        let message = format!(
            "a lip {} wide leaves the shell nothing to stand on beside it",
            mm(wide)
        );
        found.push(too_much(
            FieldId::HollowLipWide,
            message,
            format!("less than {}", mm(foot - play / 2.0)),
        ));
    }
}

/// The cavity must exist, in one piece, with room for ridges and nose.
fn cavity(shape: &Shape, hollow: &Hollow, outside: &Pieces, found: &mut Vec<Impossible>) {
    let room = shape.half() - hollow.wall;
    if room <= WRITTEN {
        let message = format!(
            "two side walls of {} fill the width of {}: no cavity is left",
            mm(hollow.wall),
            mm(shape.width)
        );
        found.push(too_much(
            FieldId::HollowShell,
            message,
            format!("less than {}", mm(shape.half())),
        ));
        return;
    }
    if hollow.nose > 0.0 && hollow.nose >= room - WRITTEN {
        let message = format!(
            "corners of radius {} do not fit into a cavity {} wide",
            mm(hollow.nose),
            mm(2.0 * room)
        );
        found.push(too_much(
            FieldId::HollowShellNose,
            message,
            format!("less than {}", mm(room)),
        ));
        return;
    }
    let base = hollow.foot();
    let roof = roof(shape, hollow, outside);
    let high = above(&roof, base + COMPUTED);
    let least = high.first().map_or(0.0, |first| first.1 - first.0);
    match high.as_slice() {
        [_] if least > COMPUTED => {}
        [first, second, ..] => {
            let x = (first.1 + second.0) / 2.0;
            let message = format!(
                "the roof comes down to the sleeve at x = {} and splits the cavity",
                mm(x)
            );
            found.push(too_much(
                FieldId::HollowShell,
                message,
                format!(
                    "roof at {} over the bore, sleeve at {}",
                    mm(height(&roof, x)),
                    mm(base)
                ),
            ));
            return;
        }
        _ => {
            let top = roof
                .iter()
                .map(|piece| piece.extreme(true).y)
                .fold(f64::NEG_INFINITY, f64::max);
            let message = format!(
                "under a wall of {} the roof is at {} over the bore, and the sleeve reaches {}: no cavity is left",
                mm(hollow.wall),
                mm(top),
                mm(base)
            );
            found.push(too_much(
                FieldId::HollowShell,
                message,
                format!("less than {}", mm(hollow.wall + top - base)),
            ));
            return;
        }
    }
    let Some(cavity) = Cavity::of(shape, hollow, outside) else {
        return;
    };
    ease_into(shape, outside, &cavity, found);
    ridge(hollow, &cavity, found);
}

/// A broken outer edge must not open the cavity.
fn ease_into(shape: &Shape, outside: &Pieces, cavity: &Cavity, found: &mut Vec<Impossible>) {
    let leg = shape.ease_outer;
    if leg <= 0.0 {
        return;
    }
    let eased = shape.eased(outside, leg, -1.0);
    for chamfer in eased.first().into_iter().chain(eased.last()) {
        let room = clipped(
            &cavity.roof,
            chamfer.from.x.max(cavity.left),
            chamfer.to.x.min(cavity.right),
        );
        let slope = (chamfer.to.y - chamfer.from.y) / (chamfer.to.x - chamfer.from.x);
        for piece in &room {
            // Where an arc that bulges towards the edge runs along the chamfer it is nearest to it.
            let along = (piece.radius > 0.0)
                .then(|| piece.centre().x - piece.radius * slope / (1.0 + slope * slope).sqrt());
            let along = along.filter(|x| *x > piece.from.x && *x < piece.to.x);
            let ends = [piece.from.x, piece.to.x];
            let open = ends
                .into_iter()
                .chain(along)
                .find(|x| piece.height(*x) >= chamfer.height(*x) - COMPUTED);
            if let Some(x) = open {
                let message = format!("the chamfer of {} opens the cavity", mm(leg));
                let bound = format!("roof at {} over the bore here", mm(piece.height(x)));
                found.push(Impossible {
                    x: Some(x),
                    ..too_much(FieldId::EaseOuter, message, bound)
                });
                return;
            }
        }
    }
}

fn ridge(hollow: &Hollow, cavity: &Cavity, found: &mut Vec<Impossible>) {
    let Catch::Ridge { height, wide, .. } = hollow.catch else {
        return;
    };
    let top = hollow.sleeve + height;
    let places = cavity.ridges(hollow);
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        let most = cavity
            .roof
            .iter()
            .map(|piece| piece.extreme(true).y)
            .fold(f64::NEG_INFINITY, f64::max)
            - hollow.sleeve;
        let message = format!(
            "a ridge of {} stands higher than the roof, which is {} over the sleeve at its highest",
            mm(height),
            mm(most)
        );
        found.push(too_much(
            FieldId::HollowRidge,
            message,
            format!("at most {}", mm(most)),
        ));
        return;
    };
    if places.len() == 2 && first.1 > last.0 + COMPUTED {
        let message = format!("two ridges {} wide run into each other", mm(wide));
        found.push(too_much(
            FieldId::HollowRidgeWide,
            message,
            format!("at most {}", mm((last.1 - first.0) / 2.0)),
        ));
        return;
    }
    for (from, to) in &places {
        if *from < cavity.left - COMPUTED || *to > cavity.right + COMPUTED {
            let message = format!(
                "a ridge {} wide does not fit between the feet, {} apart",
                mm(wide),
                mm(cavity.right - cavity.left)
            );
            found.push(too_much(
                FieldId::HollowRidgeWide,
                message,
                format!("at most {}", mm(cavity.right - cavity.left)),
            ));
            return;
        }
        let roof = head_room(cavity, *from, *to);
        if roof < top - COMPUTED {
            let message = format!(
                "a ridge of {} from x = {} to {} meets the roof, which is {} over the sleeve there",
                mm(height),
                mm(*from),
                mm(*to),
                mm(roof - hollow.sleeve)
            );
            found.push(too_much(
                FieldId::HollowRidge,
                message,
                format!("at most {} here", mm(roof - hollow.sleeve)),
            ));
            return;
        }
    }
}

/// A pattern must not cut through the shell.
fn parts_cut(shape: &Shape, hollow: &Hollow, outside: &Pieces, found: &mut Vec<Impossible>) {
    let Some(cut) = &shape.cut else { return };
    let over_sleeve = over_feet(shape, hollow, outside) - hollow.foot();
    let wall = if hollow.roof == Roof::Full {
        over_sleeve
    } else {
        hollow.wall.min(over_sleeve)
    };
    if cut.depth >= wall - WRITTEN {
        let what = if wall < hollow.wall || hollow.roof == Roof::Full {
            "the shell over the sleeve"
        } else {
            "the wall"
        };
        let message = format!(
            "the pattern is cut {} deep, and {what} is {}",
            mm(cut.depth),
            mm(wall)
        );
        found.push(too_much(
            FieldId::PatternDepth,
            message,
            format!("less than {}", mm(wall)),
        ));
    }
}

/// How low the outside comes where the shell stands on the sleeve.
fn over_feet(shape: &Shape, hollow: &Hollow, outside: &Pieces) -> f64 {
    let lowest = |pieces: &[Piece]| {
        pieces
            .iter()
            .map(|piece| piece.extreme(false).y)
            .fold(f64::INFINITY, f64::min)
    };
    let half = shape.half();
    let (left, right) = match hollow.roof {
        Roof::Full => None,
        _ => Cavity::of(shape, hollow, outside).map(|cavity| (cavity.left, cavity.right)),
    }
    .unwrap_or((0.0, 0.0));
    lowest(&clipped(outside, -half, left)).min(lowest(&clipped(outside, right, half)))
}
