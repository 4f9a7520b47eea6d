//! Walls that are thinner than they may be, each with the fields that alone would keep all of them.

use crate::geometry::{NamedWall, Stands, fitting_from, impossible, nearest};
use crate::model::Band;
use crate::schema::FieldId;
use crate::suggest::listed;

use super::error::{LimitError, ROUNDING};
use super::evaluation::{Evaluation, walls};
use super::figures::figures;
use super::input::{Input, least_wall};

/// A finding for every wall that is thinner than wanted, judged at its worst case.
pub(super) fn thin_walls(evaluation: &Evaluation) -> Vec<LimitError> {
    let Evaluation { band, .. } = evaluation;
    let limit = least_wall(band);
    let judged = evaluation.walls();
    let mut findings = Vec::new();
    for (wall, worst) in &judged {
        let short = limit - (wall.thickness - worst);
        if short <= ROUNDING {
            continue;
        }
        let path = match (wall.field, band.is_cut()) {
            (FieldId::Thickness, true) => FieldId::PatternDepth,
            (FieldId::PatternDepth, false) => FieldId::HollowShell,
            (path, _) => path,
        };
        let label = match wall.x {
            Some(x) => format!(
                "{} is {} mm at x = {} mm",
                wall.name,
                places(wall.thickness),
                places(x)
            ),
            None => format!("{} is {} mm", wall.name, places(wall.thickness)),
        };
        let help = if wall.field == FieldId::MarkDeep {
            shallower(band.length(path).unwrap_or(0.0) - short)
        } else {
            kept_by(evaluation, &judged, path, limit, short)
        };
        findings.push(LimitError::ThinWall {
            at: band.place(path),
            band: band.name.clone(),
            wall: places(wall.thickness - worst),
            limit: places(limit),
            what: wall.name,
            label,
            help,
        });
    }
    findings
}

/// How deep a mark may be struck, in whole nanometres, so that the wall under it keeps the limit.
fn shallower(deep: f64) -> String {
    let deep = ((deep + ROUNDING) * 1e6).floor() / 1e6;
    if deep > ROUNDING {
        format!("`deep {deep} mm` would keep it; or have the mark lasered")
    } else {
        "the wall is too thin for any struck mark: have it lasered".to_owned()
    }
}

/// Fields that a wall can rest on, in the order that they are offered.
const MENDING: &[FieldId] = &[
    FieldId::PatternDepth,
    FieldId::HollowShell,
    FieldId::HollowSleeveRelief,
    FieldId::HollowSleeve,
    FieldId::ProfileEdge,
    FieldId::ProfileDown,
    FieldId::ProfileDip,
    FieldId::Thickness,
    FieldId::Comfort,
];

/// The values of fields that would alone keep the least wall everywhere, the one that is pointed at first.
fn kept_by(
    evaluation: &Evaluation,
    judged: &[(NamedWall, f64)],
    path: FieldId,
    limit: f64,
    short: f64,
) -> String {
    let own = MENDING.iter().filter(|field| **field == path);
    let others = MENDING.iter().filter(|field| **field != path);
    let offers: Vec<String> = own
        .chain(others)
        .filter_map(|field| {
            let value = kept_at(evaluation, judged, *field, *field == path, limit)?;
            Some(written(&evaluation.band, *field, value))
        })
        .collect();
    match offers.as_slice() {
        [] => format!(
            "{} mm are missing; no one length alone would keep it everywhere",
            places(short)
        ),
        offers => format!(
            "{} would keep it everywhere",
            listed(offers.iter().map(String::as_str))
        ),
    }
}

/// The nearest value of a field at which every wall keeps the limit, all other fields as they are; `own`: it is the one
/// pointed at.
fn kept_at(
    evaluation: &Evaluation,
    judged: &[(NamedWall, f64)],
    path: FieldId,
    own: bool,
    limit: f64,
) -> Option<f64> {
    let Evaluation { band, input, .. } = evaluation;
    let stated = |path: FieldId| band.field(path).is_some_and(|field| field.at.is_some());
    let (thick, out) = (stated(FieldId::Thickness), stated(FieldId::Outside));
    // An edge that follows from the others, and is stated all the same, holds them where they are.
    let held = stated(FieldId::ProfileEdge) && input.shape.field(FieldId::ProfileEdge).is_none();
    let free = match path {
        FieldId::Thickness => thick != out && !held,
        FieldId::Comfort | FieldId::ProfileDown => stated(path) && !held,
        _ => stated(path),
    };
    if !free {
        return None;
    }
    let is_short = |wall: &NamedWall, worst: f64| limit - (wall.thickness - worst) > ROUNDING;
    let stands = |value: f64| {
        let changed = Input {
            shape: input.shape.with(path, value),
            ..input.clone()
        };
        if value <= 0.0 && path != FieldId::Comfort || !impossible(&changed.shape).is_empty() {
            return Stands::Beyond;
        }
        let mut stands = Stands::Fits;
        for wall in walls(&changed, &figures(&changed)) {
            let known = judged.iter().find(|(known, _)| known.name == wall.name);
            let worst = known.map_or(0.0, |(_, worst)| *worst);
            if is_short(&wall, worst) {
                // What was thick enough grows thinner on the way that the field is moved.
                if !known.is_some_and(|(known, worst)| is_short(known, *worst)) {
                    return Stands::Beyond;
                }
                stands = Stands::Short;
            }
        }
        stands
    };
    let now = input.shape.field(path)?;
    let closest = |both: [Option<f64>; 2]| {
        let both = both.into_iter().flatten();
        both.min_by(|one, other| (one - now).abs().total_cmp(&(other - now).abs()))
    };
    let least = input.shape.least(path);
    // A wall is seldom thicker for less of what it is part of, but a straight roof comes down under a deeper chamfer.
    let found = closest([true, false].map(|less| nearest(less, now, least, stands)));
    // Beyond what cannot be made there may be bands again that can: sought for the field that is pointed at.
    found.or_else(|| {
        let fits = |value: f64| stands(value) == Stands::Fits;
        own.then(|| closest([true, false].map(|less| fitting_from(least, less, now, fits))))
            .flatten()
    })
}

/// A length of a band as its recipe would state it.
fn written(band: &Band, path: FieldId, value: f64) -> String {
    let word = path.word();
    if path == FieldId::Thickness && band.field(path).is_none() {
        let outside = band.inside().diameter.to_f64() + 2.0 * value;
        return format!("`outside {} mm`", places(outside));
    }
    format!("`{word} {} mm`", places(value))
}

/// A length to a nanometre.
fn places(value: f64) -> String {
    // The sum keeps a zero from having a sign.
    format!("{}", (value * 1e6).round() / 1e6 + 0.0)
}
