//! What makes a shape impossible, found before anything is computed of it.
//!
//! Lengths that are written are compared to the last digit that binary sums of decimals leave standing;
//! computed ones within 1e-9 mm.

use crate::schema::FieldId;

use super::curve::{Pieces, height};
use super::curves::Curves;
use super::impossible_parts::parts;
use super::misfit::{Allows, COMPUTED, Misfit, MisfitReason, Misfits, WRITTEN, lower_edge};
use super::shape::{Outside, Shape};
use super::slices::Body;

/// Everything that makes a shape impossible; empty for one that can be.
#[must_use]
pub fn impossible(shape: &Shape) -> Misfits {
    impossible_in(&Curves::of(shape))
}

/// The same of a shape whose curves are drawn.
#[must_use]
pub fn impossible_in(curves: &Curves<'_>) -> Misfits {
    let shape = curves.shape;
    let mut found = Misfits::new();
    section(shape, &mut found);
    if found.is_empty() {
        found.extend(over_bore(curves));
        if found.is_empty() {
            ease(shape, &curves.outside, &mut found);
            match &shape.hollow {
                None => found.extend(solid_cut(curves)),
                Some(hollow) => parts(curves, hollow, &mut found),
            }
        }
    }
    found
}

/// Bounds of the named curves.
fn section(shape: &Shape, found: &mut Misfits) {
    let (half, crown, comfort) = (shape.half(), shape.thickness, shape.comfort);
    let mut add = |wrong: bool, field, reason, value, allows| {
        if wrong {
            found.push(Misfit::new(field, reason, value, allows));
        }
    };
    add(
        comfort > half + WRITTEN,
        FieldId::Comfort,
        MisfitReason::BoreOpens,
        comfort,
        Allows::AtMost(half),
    );
    let edge_over_crown = MisfitReason::EdgeOverCrown {
        comfort,
        thickness: crown,
    };
    match shape.outside {
        Outside::Flat | Outside::Custom(_) => {}
        Outside::Domed { edge } => {
            let rise = crown - comfort - edge;
            add(
                rise < -WRITTEN,
                FieldId::ProfileEdge,
                edge_over_crown,
                edge,
                Allows::AtMost(crown - comfort),
            );
            add(
                rise > half + WRITTEN,
                FieldId::ProfileEdge,
                MisfitReason::Rises,
                rise,
                Allows::AtLeast(edge + rise - half),
            );
        }
        Outside::Bevelled { across, down } => {
            add(
                across > half + WRITTEN,
                FieldId::ProfileAcross,
                MisfitReason::ChamferAcross,
                across,
                Allows::AtMost(half),
            );
            add(
                down + comfort >= crown - WRITTEN,
                FieldId::ProfileDown,
                MisfitReason::ChamferDown,
                down,
                Allows::LessThan(crown - comfort),
            );
        }
        Outside::KnifeEdge {
            edge,
            crown: radius,
        } => {
            let rise = crown - comfort - edge;
            add(
                rise < -WRITTEN,
                FieldId::ProfileEdge,
                edge_over_crown,
                edge,
                Allows::AtMost(crown - comfort),
            );
            // The crown's circle must leave the edge point outside, or no flank can touch it.
            let most = (half * half + rise * rise) / (2.0 * rise);
            add(
                rise > 0.0 && radius >= most - COMPUTED,
                FieldId::ProfileCrown,
                MisfitReason::NoFlank,
                radius,
                Allows::LessThan(most),
            );
        }
        Outside::Concave { dip } => add(
            dip > half + WRITTEN,
            FieldId::ProfileDip,
            MisfitReason::Dips,
            dip,
            Allows::AtMost(half),
        ),
    }
    if let Some(cut) = &shape.cut {
        add(
            cut.mean_depth > cut.depth + WRITTEN,
            FieldId::PatternMeanDepth,
            MisfitReason::MeanDepth,
            cut.mean_depth,
            Allows::AtMost(cut.depth),
        );
    }
}

/// The outside must lie outside the bore everywhere.
fn over_bore(curves: &Curves<'_>) -> Option<Misfit> {
    let Curves {
        shape,
        outside,
        inside,
        ..
    } = curves;
    let bore = inside.first().map_or(0.0, |piece| piece.radius);
    let mut least = (f64::INFINITY, 0.0);
    for piece in outside {
        // The bore curves towards the finger, so over a line or an arc that bulges away the gap is least at an
        // end; over one that bulges towards the finger also where both are parallel.
        let parallel = match (piece.radius < 0.0, bore < 0.0) {
            (true, true) => Some(piece.centre().x * bore / (bore - piece.radius)),
            (true, false) => Some(piece.centre().x),
            (false, _) => None,
        };
        let inner = parallel
            .filter(|x| *x > piece.from.x && *x < piece.to.x)
            .map(|x| (piece.height(x), x));
        let ends = [piece.from, piece.to].map(|end| (end.y, end.x));
        for (y, x) in ends.into_iter().chain(inner) {
            let gap = y - height(inside, x);
            if gap < least.0 {
                least = (gap, x);
            }
        }
    }
    let (gap, x) = least;
    if gap > WRITTEN {
        return None;
    }
    let (field, found) = match shape.outside {
        Outside::Custom(_) => (FieldId::Profile, -gap),
        Outside::Concave { dip } if x.abs() < shape.half() / 2.0 => (FieldId::ProfileDip, dip),
        _ => (FieldId::Comfort, shape.comfort),
    };
    let allows = if gap < -WRITTEN {
        Allows::LessBy(-gap)
    } else {
        Allows::Nothing
    };
    Some(Misfit::new(field, MisfitReason::Gone, found, allows).at(x))
}

fn ease(shape: &Shape, outside: &Pieces, found: &mut Misfits) {
    let edge = lower_edge(outside);
    let (outer, bore) = (shape.ease_outer, shape.ease_bore);
    let least = edge - shape.comfort;
    for (field, leg) in [(FieldId::EaseOuter, outer), (FieldId::EaseBore, bore)] {
        if leg >= shape.half() - WRITTEN {
            let allows = Allows::LessThan(shape.half());
            found.push(Misfit::new(field, MisfitReason::EasesMeet, leg, allows));
        }
    }
    let mut takes = |field, leg: f64, body, room: f64| {
        found.push(Misfit::new(
            field,
            MisfitReason::EaseTakes(body),
            leg,
            Allows::LessThan(room),
        ));
    };
    let floor = shape.hollow.map(|hollow| (hollow.sleeve, hollow.foot()));
    match floor {
        None if outer + bore > 0.0 && outer + bore >= least - WRITTEN => {
            let field = if outer >= bore {
                FieldId::EaseOuter
            } else {
                FieldId::EaseBore
            };
            takes(field, outer.max(bore), Body::Solid, least - outer.min(bore));
        }
        Some((floor, foot)) if floor > shape.comfort && edge > foot => {
            if outer > 0.0 && outer >= edge - foot - WRITTEN {
                takes(FieldId::EaseOuter, outer, Body::Shell, edge - foot);
            }
            if bore > 0.0 && bore >= floor - shape.comfort - WRITTEN {
                takes(FieldId::EaseBore, bore, Body::Sleeve, floor - shape.comfort);
            }
        }
        _ => {}
    }
}

fn solid_cut(curves: &Curves<'_>) -> Option<Misfit> {
    let cut = curves.shape.cut.filter(|cut| !cut.drawn)?;
    let lowered: Pieces = curves
        .outside
        .iter()
        .map(|piece| piece.lifted(-cut.depth))
        .collect();
    // Where the lowered curve stays above the bore, it does not cross it.
    let least = lowered
        .iter()
        .flat_map(|piece| [piece.from, piece.to, piece.extreme(false)])
        .map(|point| point.y - height(&curves.inside, point.x))
        .fold(f64::INFINITY, f64::min);
    (least <= COMPUTED).then(|| {
        let allows = Allows::LessThan(cut.depth + least);
        Misfit::new(
            FieldId::PatternDepth,
            MisfitReason::CutThrough,
            cut.depth,
            allows,
        )
    })
}
