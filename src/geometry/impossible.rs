//! What makes a shape impossible, found before anything is computed of it.
//!
//! Lengths that are written are compared to the last digit that binary sums of decimals leave standing;
//! computed ones within 1e-9 mm.

use super::curve::{Pieces, height};
use super::impossible_parts::parts;
use super::shape::{Outside, Shape};
use crate::schema::FieldId;

/// A bound that a shape breaks.
#[derive(Clone, Debug, PartialEq)]
pub struct Impossible {
    /// The field that is best changed.
    pub field: FieldId,
    /// What is wrong, with the figures.
    pub message: String,
    /// The bound, in few words.
    pub bound: String,
    /// Whether the field must become smaller.
    pub less: bool,
    /// Where on the width it is, when it is at one place.
    pub x: Option<f64>,
}

/// Sums of written lengths are compared within this, in mm.
pub(super) const WRITTEN: f64 = 1e-12;

/// Computed lengths are compared within this, in mm.
pub(super) const COMPUTED: f64 = 1e-9;

/// A length for people: no more digits than a nanometre needs.
pub(super) fn mm(value: f64) -> String {
    let rounded = (value * 1e6).round() / 1e6;
    format!("{rounded} mm")
}

pub(super) fn too_much(field: FieldId, message: String, bound: String) -> Impossible {
    Impossible {
        field,
        message,
        bound,
        less: true,
        x: None,
    }
}

pub(super) fn too_little(field: FieldId, message: String, bound: String) -> Impossible {
    Impossible {
        field,
        message,
        bound,
        less: false,
        x: None,
    }
}

/// Everything that makes a shape impossible; empty for one that can be.
#[must_use]
pub fn impossible(shape: &Shape) -> Vec<Impossible> {
    let mut found = Vec::new();
    section(shape, &mut found);
    if found.is_empty() {
        let outside = shape.outside_curve();
        over_bore(shape, &outside, &mut found);
        if found.is_empty() {
            ease(shape, &outside, &mut found);
            match &shape.hollow {
                None => solid_cut(shape, &outside, &mut found),
                Some(hollow) => parts(shape, hollow, &outside, &mut found),
            }
        }
    }
    found
}

/// Bounds of the named curves.
fn section(shape: &Shape, found: &mut Vec<Impossible>) {
    let (half, crown, comfort) = (shape.half(), shape.thickness, shape.comfort);
    if comfort > half + WRITTEN {
        let message = format!(
            "the bore opens by {}, more than half the width",
            mm(comfort)
        );
        found.push(too_much(
            FieldId::Comfort,
            message,
            format!("at most {}", mm(half)),
        ));
    }
    match &shape.outside {
        Outside::Flat | Outside::Custom(_) => {}
        Outside::Domed { edge } => {
            let rise = crown - comfort - edge;
            edge_fits(*edge, rise, shape, found);
            if rise > half + WRITTEN {
                let message = format!(
                    "the outside rises {} from edge to crown, more than half the width",
                    mm(rise)
                );
                found.push(too_little(
                    FieldId::ProfileEdge,
                    message,
                    format!("at least {}", mm(edge + rise - half)),
                ));
            }
        }
        Outside::Bevelled { across, down } => {
            if *across > half + WRITTEN {
                let message = format!(
                    "the chamfer reaches {} inwards, more than half the width",
                    mm(*across)
                );
                found.push(too_much(
                    FieldId::ProfileAcross,
                    message,
                    format!("at most {}", mm(half)),
                ));
            }
            if down + comfort >= crown - WRITTEN {
                let message = format!(
                    "the chamfer goes {} down, and the edge has only {}",
                    mm(*down),
                    mm(crown - comfort)
                );
                found.push(too_much(
                    FieldId::ProfileDown,
                    message,
                    format!("less than {}", mm(crown - comfort)),
                ));
            }
        }
        Outside::KnifeEdge {
            edge,
            crown: radius,
        } => {
            let rise = crown - comfort - edge;
            edge_fits(*edge, rise, shape, found);
            // The crown's circle must leave the edge point outside, or no flank can touch it.
            let most = (half * half + rise * rise) / (2.0 * rise);
            if rise > 0.0 && *radius >= most - COMPUTED {
                let message = format!(
                    "a crown of radius {} leaves no flank between crown and edge",
                    mm(*radius)
                );
                found.push(too_much(
                    FieldId::ProfileCrown,
                    message,
                    format!("less than {}", mm(most)),
                ));
            }
        }
        Outside::Concave { dip } => {
            if *dip > half + WRITTEN {
                let message = format!("the outside dips {}, more than half the width", mm(*dip));
                found.push(too_much(
                    FieldId::ProfileDip,
                    message,
                    format!("at most {}", mm(half)),
                ));
            }
        }
    }
    if let Some(cut) = &shape.cut
        && cut.mean_depth > cut.depth + WRITTEN
    {
        let message = format!(
            "the mean depth of {} is more than the greatest depth of {}",
            mm(cut.mean_depth),
            mm(cut.depth)
        );
        found.push(too_much(
            FieldId::PatternMeanDepth,
            message,
            format!("at most {}", mm(cut.depth)),
        ));
    }
}

fn edge_fits(edge: f64, rise: f64, shape: &Shape, found: &mut Vec<Impossible>) {
    if rise < -WRITTEN {
        let most = shape.thickness - shape.comfort;
        let message = if shape.comfort == 0.0 {
            format!(
                "the edge of {} is more than the thickness of {}",
                mm(edge),
                mm(shape.thickness)
            )
        } else {
            format!(
                "the edge of {} and the bore's opening of {} are more than the thickness of {}",
                mm(edge),
                mm(shape.comfort),
                mm(shape.thickness)
            )
        };
        found.push(too_much(
            FieldId::ProfileEdge,
            message,
            format!("at most {}", mm(most)),
        ));
    }
}

/// The outside must lie outside the bore everywhere.
fn over_bore(shape: &Shape, outside: &Pieces, found: &mut Vec<Impossible>) {
    let inside = shape.inside_curve();
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
            let gap = y - height(&inside, x);
            if gap < least.0 {
                least = (gap, x);
            }
        }
    }
    let (gap, x) = least;
    if gap > WRITTEN {
        return;
    }
    let field = match &shape.outside {
        Outside::Custom(_) => FieldId::Profile,
        Outside::Concave { .. } if x.abs() < shape.half() / 2.0 => FieldId::ProfileDip,
        _ => FieldId::Comfort,
    };
    let message = match field {
        FieldId::Profile => format!("the outline crosses the bore at x = {}", mm(x)),
        FieldId::ProfileDip => format!(
            "the outside dips down to the bore: nothing is left at x = {}",
            mm(x)
        ),
        _ => format!(
            "the bore opens by {}, and nothing is left at the edge",
            mm(shape.comfort)
        ),
    };
    let bound = if gap < -WRITTEN {
        format!("{} too much here", mm(-gap))
    } else {
        "no metal is left here".to_owned()
    };
    found.push(Impossible {
        x: Some(x),
        ..too_much(field, message, bound)
    });
}

fn ease(shape: &Shape, outside: &Pieces, found: &mut Vec<Impossible>) {
    let ends = [
        outside.first().map(|piece| piece.from.y),
        outside.last().map(|piece| piece.to.y),
    ];
    let edge = ends.into_iter().flatten().fold(f64::INFINITY, f64::min);
    let (outer, bore) = (shape.ease_outer, shape.ease_bore);
    let least = edge - shape.comfort;
    for (field, leg) in [(FieldId::EaseOuter, outer), (FieldId::EaseBore, bore)] {
        if leg >= shape.half() - WRITTEN {
            let message = format!("the chamfer of {} meets its fellow at mid width", mm(leg));
            found.push(too_much(
                field,
                message,
                format!("less than {}", mm(shape.half())),
            ));
        }
    }
    let floor = shape.hollow.map(|hollow| (hollow.sleeve, hollow.foot()));
    let room = |field, leg: f64, room: f64, what: &str| {
        let message = format!(
            "the chamfer of {} takes off the whole edge of {what}, {}",
            mm(leg),
            mm(room)
        );
        too_much(field, message, format!("less than {}", mm(room)))
    };
    match floor {
        None if outer + bore > 0.0 && outer + bore >= least - WRITTEN => {
            let field = if outer >= bore {
                FieldId::EaseOuter
            } else {
                FieldId::EaseBore
            };
            found.push(room(
                field,
                outer.max(bore),
                least - outer.min(bore),
                "the band",
            ));
        }
        Some((floor, foot)) if floor > shape.comfort && edge > foot => {
            if outer > 0.0 && outer >= edge - foot - WRITTEN {
                found.push(room(FieldId::EaseOuter, outer, edge - foot, "the shell"));
            }
            if bore > 0.0 && bore >= floor - shape.comfort - WRITTEN {
                found.push(room(
                    FieldId::EaseBore,
                    bore,
                    floor - shape.comfort,
                    "the sleeve",
                ));
            }
        }
        _ => {}
    }
}

fn solid_cut(shape: &Shape, outside: &Pieces, found: &mut Vec<Impossible>) {
    let Some(cut) = &shape.cut else { return };
    let inside = shape.inside_curve();
    let lowered: Pieces = outside
        .iter()
        .map(|piece| piece.lifted(-cut.depth))
        .collect();
    // Where the lowered curve stays above the bore, it does not cross it.
    let least = lowered
        .iter()
        .flat_map(|piece| [piece.from, piece.to, piece.extreme(false)])
        .map(|point| point.y - height(&inside, point.x))
        .fold(f64::INFINITY, f64::min);
    if least <= COMPUTED {
        let message = format!(
            "the pattern is cut {} deep, and the metal under it is {} at its thinnest",
            mm(cut.depth),
            mm(cut.depth + least)
        );
        found.push(too_much(
            FieldId::PatternDepth,
            message,
            format!("less than {}", mm(cut.depth + least)),
        ));
    }
}

/// The largest or smallest multiple of a micrometre that makes a shape possible, changing one field only.
///
/// `accepts` judges a changed shape; it is asked about 20 times, or 240 where the field has a range with
/// two ends.
#[must_use]
pub fn fitting(less: bool, current: f64, accepts: impl Fn(f64) -> bool) -> Option<f64> {
    fitting_from(0.0, less, current, accepts)
}

/// The same for a field that means nothing below `least`, which may be all that fits.
#[must_use]
pub fn fitting_from(
    least: f64,
    less: bool,
    current: f64,
    accepts: impl Fn(f64) -> bool,
) -> Option<f64> {
    const STEPS: f64 = 1000.0;
    // A kilometre: no field fits beyond, and steps are counted without running over.
    const FURTHEST: f64 = 1e6;
    let grid = |step: i64| step as f64 / STEPS;
    let current = current.min(FURTHEST);
    let (mut bad, mut good) = if less {
        (
            (current * STEPS).ceil() as i64,
            (least * STEPS).ceil() as i64,
        )
    } else {
        (
            (current * STEPS).floor() as i64,
            ((current + 20.0) * STEPS) as i64,
        )
    };
    // The far end need not be good: the field may have a range with two ends. Look for any good place first,
    // in ever longer steps from here, then evenly.
    if !accepts(grid(good)) {
        let span = good - bad;
        let longer = std::iter::successors(Some(1), |step| Some(step + step / 16 + 1));
        let longer = longer.take_while(|step| *step < span.abs());
        let any = longer
            .map(|step| bad + step * span.signum())
            .chain((1..64).map(|part| bad + span * part / 64))
            .find(|step| accepts(grid(*step)));
        let Some(any) = any else {
            return (less && least > 0.0 && accepts(least)).then_some(least);
        };
        good = any;
    }
    while (bad - good).abs() > 1 {
        let middle = good + (bad - good) / 2;
        if accepts(grid(middle)) {
            good = middle
        } else {
            bad = middle
        }
    }
    let found = grid(good);
    (found > 0.0).then_some(found)
}
