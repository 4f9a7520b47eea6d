//! What makes a two-part build impossible: parts gone at their edges, no cavity, no room for what catches.

use crate::schema::FieldId;

use super::cavity::{Cavity, above, head_room, roof};
use super::curve::{Piece, Pieces, clipped, height};
use super::curves::Curves;
use super::misfit::{Allows, COMPUTED, Misfit, MisfitReason, Misfits, WRITTEN, lower_edge};
use super::shape::{Catch, Hollow, Roof, Shape};

/// Bounds of the two parts.
pub(super) fn parts(curves: &Curves<'_>, hollow: &Hollow, found: &mut Misfits) {
    let shape = curves.shape;
    let floor = hollow.sleeve;
    let edge = lower_edge(&curves.outside);
    let mut add = |wrong: bool, field, reason, value, allows| {
        if wrong {
            found.push(Misfit::new(field, reason, value, allows));
        }
    };
    add(
        floor - shape.comfort <= WRITTEN,
        FieldId::HollowSleeve,
        MisfitReason::SleeveGone,
        floor,
        Allows::MoreThan(shape.comfort),
    );
    add(
        edge - hollow.foot() <= WRITTEN,
        FieldId::HollowSleeve,
        MisfitReason::NoShell { edge },
        floor,
        Allows::LessThan(edge - hollow.play / 2.0),
    );
    if let Some(wall) = hollow.relief {
        add(
            wall >= floor - WRITTEN,
            FieldId::HollowSleeveRelief,
            MisfitReason::ReliefOverSleeve,
            wall,
            Allows::LessThan(floor),
        );
    }
    if let Catch::Lip { height, wide, play } = hollow.catch {
        let room = floor - shape.comfort;
        add(
            height >= room - WRITTEN,
            FieldId::HollowLip,
            MisfitReason::LipThrough,
            height,
            Allows::LessThan(room),
        );
        let foot = if hollow.roof == Roof::Full {
            shape.half()
        } else {
            hollow.wall
        };
        add(
            wide + play / 2.0 >= foot - WRITTEN,
            FieldId::HollowLipWide,
            MisfitReason::LipFills,
            wide,
            Allows::LessThan(foot - play / 2.0),
        );
    }
    if found.is_empty() && hollow.roof != Roof::Full {
        found.extend(cavity(curves, hollow));
    }
    if found.is_empty() {
        found.extend(parts_cut(curves, hollow));
    }
}

/// The cavity must exist, in one piece, with room for ridges and nose.
fn cavity(curves: &Curves<'_>, hollow: &Hollow) -> Misfits {
    let shape = curves.shape;
    let one = |reason, field, value, allows| {
        Misfits::from_elem(Misfit::new(field, reason, value, allows), 1)
    };
    let room = shape.half() - hollow.wall;
    if room <= WRITTEN {
        let reason = MisfitReason::WallsFill { width: shape.width };
        let allows = Allows::LessThan(shape.half());
        return one(reason, FieldId::HollowShell, hollow.wall, allows);
    }
    if hollow.nose > 0.0 && hollow.nose >= room - WRITTEN {
        let reason = MisfitReason::NoseFills { wide: 2.0 * room };
        let allows = Allows::LessThan(room);
        return one(reason, FieldId::HollowShellNose, hollow.nose, allows);
    }
    let base = hollow.foot();
    let no_roof = Pieces::new();
    let cavity = curves.cavity();
    let drawn = cavity.map_or(&no_roof, |cavity| &cavity.roof);
    let high = above(drawn, base + COMPUTED);
    let least = high.first().map_or(0.0, |first| first.1 - first.0);
    match high.as_slice() {
        [_] if least > COMPUTED => {}
        [first, second, ..] => {
            let x = (first.1 + second.0) / 2.0;
            let allows = Allows::RoofOver {
                roof: height(drawn, x),
                sleeve: base,
            };
            let split = Misfit::new(
                FieldId::HollowShell,
                MisfitReason::RoofSplits,
                hollow.wall,
                allows,
            );
            return Misfits::from_elem(split.at(x), 1);
        }
        _ => {
            let top = highest(&roof(shape, hollow, &curves.outside));
            let reason = MisfitReason::NoCavity {
                roof: top,
                sleeve: base,
            };
            let allows = Allows::LessThan(hollow.wall + top - base);
            return one(reason, FieldId::HollowShell, hollow.wall, allows);
        }
    }
    let Some(cavity) = cavity else {
        return Misfits::new();
    };
    let opened = ease_into(shape, &curves.outside, cavity);
    opened.into_iter().chain(ridge(hollow, cavity)).collect()
}

fn highest(curve: &[Piece]) -> f64 {
    let tops = curve.iter().map(|piece| piece.extreme(true).y);
    tops.fold(f64::NEG_INFINITY, f64::max)
}

/// A broken outer edge must not open the cavity.
fn ease_into(shape: &Shape, outside: &Pieces, cavity: &Cavity) -> Option<Misfit> {
    let leg = shape.ease_outer;
    if leg <= 0.0 {
        return None;
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
                let allows = Allows::Under(piece.height(x));
                let open = Misfit::new(FieldId::EaseOuter, MisfitReason::EaseOpens, leg, allows);
                return Some(open.at(x));
            }
        }
    }
    None
}

fn ridge(hollow: &Hollow, cavity: &Cavity) -> Option<Misfit> {
    let Catch::Ridge { height, wide, .. } = hollow.catch else {
        return None;
    };
    let too_high = |reason, allows| Misfit::new(FieldId::HollowRidge, reason, height, allows);
    let too_wide = |reason, most| {
        let allows = Allows::AtMost(most);
        Some(Misfit::new(FieldId::HollowRidgeWide, reason, wide, allows))
    };
    let top = hollow.sleeve + height;
    let places = cavity.ridges(hollow);
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        let allows = Allows::AtMost(highest(&cavity.roof) - hollow.sleeve);
        return Some(too_high(MisfitReason::RidgeOverRoof, allows));
    };
    if places.len() == 2 && first.1 > last.0 + COMPUTED {
        return too_wide(MisfitReason::RidgesMeet, (last.1 - first.0) / 2.0);
    }
    for (from, to) in places.iter().copied() {
        if from < cavity.left - COMPUTED || to > cavity.right + COMPUTED {
            return too_wide(MisfitReason::RidgeFills, cavity.right - cavity.left);
        }
        let roof = head_room(cavity, from, to);
        if roof < top - COMPUTED {
            let allows = Allows::AtMostHere(roof - hollow.sleeve);
            return Some(too_high(MisfitReason::RidgeMeets { from, to }, allows));
        }
    }
    None
}

/// A pattern must not cut through the shell.
fn parts_cut(curves: &Curves<'_>, hollow: &Hollow) -> Option<Misfit> {
    let cut = curves.shape.cut.filter(|cut| !cut.drawn)?;
    let over_sleeve = over_feet(curves) - hollow.foot();
    let full = hollow.roof == Roof::Full;
    let wall = if full {
        over_sleeve
    } else {
        hollow.wall.min(over_sleeve)
    };
    let over_sleeve = full || wall < hollow.wall;
    (cut.depth >= wall - WRITTEN).then(|| {
        Misfit::new(
            FieldId::PatternDepth,
            MisfitReason::CutThroughShell { over_sleeve },
            cut.depth,
            Allows::LessThan(wall),
        )
    })
}

/// How low the outside comes where the shell stands on the sleeve.
fn over_feet(curves: &Curves<'_>) -> f64 {
    let lowest = |pieces: &[Piece]| {
        pieces
            .iter()
            .map(|piece| piece.extreme(false).y)
            .fold(f64::INFINITY, f64::min)
    };
    let half = curves.shape.half();
    let cavity = curves.cavity();
    let (left, right) = cavity.map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right));
    let under = |from, to| lowest(&clipped(&curves.outside, from, to));
    under(-half, left).min(under(right, half))
}
