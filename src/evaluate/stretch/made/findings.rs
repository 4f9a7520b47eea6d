//! What is said of parts as made: figures that contradict each other, walls too thin, a sleeve still to turn.

use crate::kernel::section::fitting;
use crate::model::Band;
use crate::schema::FieldId;

use super::super::super::error::{LimitError, ROUNDING};
use super::super::findings::{percent, places};
use super::super::hollow::Joined;
use super::super::limits::{allowed, pulls};
use super::clash::{Clash, clash};
use super::{Made, Measured, Parts, Under, made_of, parts, ring};
use crate::kernel::Figures;
use crate::kernel::Input;

/// The first clash of parts as measured; not with a sleeve that is still to turn.
pub(super) fn clash_of(input: &Input, joined: &Joined, measured: &Measured) -> Option<Clash> {
    let planned = Parts::planned(input, joined);
    match parts(input, joined, measured) {
        Some((parts, _)) => clash(input, joined, &parts, true),
        None => {
            let parts = Parts::measured(input, &planned, measured);
            clash(input, joined, &parts, true)
        }
    }
}

/// The thinnest wall of the parts, as a limit judges it: under the cut, at the feet, the sleeve at its edge.
fn thinnest(input: &Input, figures: &Figures, joined: &Joined, measured: &Measured) -> f64 {
    made_of(input, figures, joined, measured).map_or(0.0, |made| {
        thin(&made)
            .map(|(_, wall, _)| wall)
            .fold(f64::INFINITY, f64::min)
    })
}

/// The walls of the parts as made: what, how thick, and the fields that could mend it.
fn thin(made: &Made) -> impl Iterator<Item = (&'static str, f64, &'static [FieldId])> {
    const SLEEVE: &[FieldId] = &[
        FieldId::MadeSleeveBore,
        FieldId::MadeSleeveFloor,
        FieldId::MadeSleeveRidgeTop,
        FieldId::MadeSleeveEdgeBore,
    ];
    let relief = made
        .relief
        .map(|wall| ("where the sleeve is turned down", wall, SLEEVE));
    let walls: [(&'static str, f64, &'static [FieldId]); 3] = [
        (
            "under the cut",
            made.under.wall,
            &[
                FieldId::MadeShellChannel,
                FieldId::MadeShellOutside,
                FieldId::MadeShellBore,
            ],
        ),
        (
            "at the shell's feet",
            made.foot,
            &[
                FieldId::MadeShellChannelWidth,
                FieldId::MadeShellWidth,
                FieldId::MadeSleeveWidth,
            ],
        ),
        (
            "at the sleeve's edge",
            made.sleeve_edge,
            &[
                FieldId::MadeSleeveEdgeBore,
                FieldId::MadeSleeveBore,
                FieldId::MadeSleeveFloor,
                FieldId::MadeSleeveRidgeTop,
            ],
        ),
    ];
    walls.into_iter().chain(relief)
}

/// The measured field among some, and the nearest value of it that `accepts` takes.
pub(super) fn mended(
    input: &Input,
    fields: &[FieldId],
    accepts: &dyn Fn(&Measured) -> bool,
) -> (Option<FieldId>, Option<f64>) {
    let measured = &input.stretch.made;
    let stated = |path: &&FieldId| measured.of(**path).is_some();
    let mut first = None;
    for path in fields.iter().filter(stated) {
        first = first.or(Some(*path));
        let now = measured.of(*path).unwrap_or(0.0);
        let takes = |value: f64| value > 0.0 && accepts(&measured.with(*path, value));
        let offers = [fitting(true, now, takes), fitting(false, now, takes)];
        let near = offers
            .into_iter()
            .flatten()
            .min_by(|a, b| (a - now).abs().total_cmp(&(b - now).abs()));
        if near.is_some() {
            return (Some(*path), near);
        }
    }
    (first, None)
}

/// Whether a field is one of a solid blank.
fn is_blank(field: FieldId) -> bool {
    matches!(
        field,
        FieldId::MadeBlankBore
            | FieldId::MadeBlankOutside
            | FieldId::MadeBlankThickness
            | FieldId::MadeBlankWidth
    )
}

/// Measured parts that cannot be of one ring.
pub(in super::super) fn contradiction(
    band: &Band,
    input: &Input,
    figures: &Figures,
    joined: &Joined,
) -> Option<LimitError> {
    let measured = &input.stretch.made;
    if measured.is_empty() {
        return None;
    }
    let clash = clash_of(input, joined, measured)?;
    let least = input.stretch.least_wall;
    let sound = |measured: &Measured| clash_of(input, joined, measured).is_none();
    let thick = |measured: &Measured| {
        sound(measured) && thinnest(input, figures, joined, measured) >= least - ROUNDING
    };
    refused(band, input, clash, &thick, &sound)
}

/// A clash, told at the first measured field that could mend it: with walls as thick as they must be, else at all.
pub(super) fn refused(
    band: &Band,
    input: &Input,
    clash: Clash,
    thick: &dyn Fn(&Measured) -> bool,
    sound: &dyn Fn(&Measured) -> bool,
) -> Option<LimitError> {
    let measured = &input.stretch.made;
    let (path, value) = match mended(input, clash.fields, thick) {
        (_, None) => mended(input, clash.fields, sound),
        offer => offer,
    };
    let path = path.or_else(|| {
        let mut all = *measured;
        let stated = all.figures().into_iter().find(|(_, value)| value.is_some());
        stated.map(|(path, _)| path)
    })?;
    Some(LimitError::MadeContradicts {
        at: band.place(path),
        band: band.name.clone(),
        what: clash.what,
        label: clash.label.to_owned(),
        help: match value {
            Some(value) => format!(
                "measure again; `{} {} mm` would just fit",
                path.word(),
                places(value)
            ),
            None => "measure again: no one figure mends it".to_owned(),
        },
    })
}

/// Measured figures of what the band has not: ridges, lips, a channel, or parts at all.
pub(in super::super) fn unused(band: &Band, joined: Option<&Joined>) -> Vec<LimitError> {
    let has = |path: FieldId| match joined {
        None => (!is_blank(path)).then_some("a solid band, of one part"),
        Some(joined) => match path {
            _ if is_blank(path) => Some("a hollow band, of two parts"),
            FieldId::MadeShellLipBore if joined.shell.lip.is_none() => Some("a band without lips"),
            FieldId::MadeShellChannel | FieldId::MadeShellChannelWidth
                if joined.shell.channel.is_none() =>
            {
                Some("a full shell, without a channel")
            }
            FieldId::MadeSleeveRidgeTop | FieldId::MadeSleeveRidgeFromFace
                if joined.sleeve.ridge_top.is_none() =>
            {
                Some("a band without ridges")
            }
            _ => None,
        },
    };
    let mut all = Measured::default();
    let paths = all.figures().map(|(path, _)| path);
    let stated = paths.into_iter().filter(|path| band.field(*path).is_some());
    stated
        .filter_map(|path| {
            Some(LimitError::MadeUnused {
                at: band.place(path),
                band: band.name.clone(),
                word: path.word().to_owned(),
                why: has(path)?,
            })
        })
        .collect()
}

/// What falls short of parts as made.
pub(in super::super) fn findings(
    band: &Band,
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    made: &Made,
) -> Vec<LimitError> {
    let mut found = Vec::new();
    let least = input.stretch.least_wall;
    for (what, wall, fields) in thin(made) {
        let ordered = match what {
            "under the cut" => figures
                .hollow
                .map(|hollow| hollow.parts.walls.under_cut.thickness),
            _ => None,
        };
        // What is short as ordered is told of the band.
        let short =
            wall < least - ROUNDING && ordered.is_none_or(|ordered| wall < ordered - ROUNDING);
        if !short {
            continue;
        }
        let thick = |measured: &Measured| {
            clash_of(input, joined, measured).is_none()
                && made_of(input, figures, joined, measured).is_some_and(|made| {
                    thin(&made).any(|(of, wall, _)| of == what && wall >= least - ROUNDING)
                })
        };
        found.extend(thin_part(
            band,
            input,
            what,
            &Under { wall, ..made.under },
            mended(input, fields, &thick),
        ));
    }
    found.extend(past_limit(band, input, figures, joined, made));
    if made.turned {
        found.extend(still_to_turn(band, input, joined, made));
    }
    found.extend(ring::off(band, input, figures, joined, made));
    found.extend(ring::out_of_order(band, input, figures, joined, made));
    let overlap = made.overlap.filter(|_| input.stretch.turning);
    if let Some(overlap) = overlap.filter(|overlap| *overlap < joined.hold - ROUNDING)
        && joined.overlap_finished >= joined.hold - ROUNDING
    {
        let fields = [
            FieldId::MadeSleeveRidgeTop,
            FieldId::MadeSleeveFloor,
            FieldId::MadeSleeveBore,
            FieldId::MadeShellLipBore,
            FieldId::MadeShellBore,
        ];
        let holds = |measured: &Measured| {
            clash_of(input, joined, measured).is_none()
                && made_of(input, figures, joined, measured)
                    .and_then(|made| made.overlap)
                    .is_some_and(|overlap| overlap >= joined.hold - ROUNDING)
        };
        if let (Some(path), value) = mended(input, &fields, &holds) {
            found.push(LimitError::NoTurningWindow {
                at: band.place(path),
                band: band.name.clone(),
                what: "is built to turn, but its parts as made are caught",
                overlap: places(overlap),
                hold: places(joined.hold),
                label: "caught too little".to_owned(),
                help: match value {
                    Some(value) => format!(
                        "`{} {} mm` would just keep it together",
                        path.word(),
                        places(value)
                    ),
                    None => "turn a sleeve for this shell".to_owned(),
                },
            });
        }
    }
    found
}

/// A part that is thinner somewhere than the least wall, and the field that could mend it.
pub(super) fn thin_part(
    band: &Band,
    input: &Input,
    what: &'static str,
    under: &Under,
    (path, value): (Option<FieldId>, Option<f64>),
) -> Option<LimitError> {
    let path = path?;
    let first = match what {
        "under the cut" if under.deepest > 0.0 => format!(
            "cut no deeper than {} mm",
            places((under.deepest * 1e3).floor() / 1e3)
        ),
        _ => "make the part anew".to_owned(),
    };
    Some(LimitError::MadeThin {
        at: band.place(path),
        band: band.name.clone(),
        what: match what {
            "under the cut" if under.wall < 0.0 => "under the cut, which comes through",
            _ => what,
        },
        wall: places(under.wall),
        least: places(input.stretch.least_wall),
        help: match value {
            Some(value) => format!(
                "{first}; `{} {} mm` would just do",
                path.word(),
                places(value)
            ),
            None => first,
        },
    })
}

/// A sleeve as made that is stretched past what it bears, where the one worked back is not.
fn past_limit(
    band: &Band,
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    made: &Made,
) -> Option<LimitError> {
    let allowed = allowed(&input.stretch.sleeve, 1.0);
    let bears = |strain: f64| libm::log(1.0 + strain) <= allowed.strain + 1e-9;
    if bears(made.strain) || !bears(joined.strain) {
        return None;
    }
    let fields = [
        FieldId::MadeSleeveBore,
        FieldId::MadeSleeveFloor,
        FieldId::MadeSleeveRidgeTop,
        FieldId::MadeShellBore,
    ];
    let holds = |measured: &Measured| {
        clash_of(input, joined, measured).is_none()
            && made_of(input, figures, joined, measured).is_some_and(|made| bears(made.strain))
    };
    let (path, value) = mended(input, &fields, &holds);
    let pulls = pulls(libm::log(1.0 + made.strain), &allowed)
        .map_or("turn a larger sleeve".to_owned(), |pulls| {
            format!("anneal first and between, in {pulls} even pulls")
        });
    Some(LimitError::StretchLimit {
        at: band.place(path?),
        band: band.name.clone(),
        part: "sleeve",
        strain: percent(libm::log(1.0 + made.strain)),
        limit: percent(allowed.strain),
        label: allowed.basis.to_owned(),
        help: match value {
            Some(value) => format!(
                "{pulls}; or `{} {} mm` would just do in one",
                path.map_or("", FieldId::word),
                places(value)
            ),
            None => pulls,
        },
    })
}

/// A sleeve as worked back that does not go into the shell as made, and none is measured.
fn still_to_turn(band: &Band, input: &Input, joined: &Joined, made: &Made) -> Option<LimitError> {
    let measured = &input.stretch.made;
    let planned = Parts::planned(input, joined);
    let goes = |measured: &Measured| {
        let parts = Parts::measured(input, &planned, measured);
        ring::misfit(input, joined, &parts).is_none()
    };
    let was = ring::misfit(input, joined, &Parts::measured(input, &planned, measured))?;
    let (path, value) = mended(input, was.fields, &goes);
    let turn = &made.turn;
    let ridge = turn.ridge_top.map_or(String::new(), |top| {
        format!(", ridge \u{D8} {}", places((top * 1e3).round() / 1e3))
    });
    let rounded = |value: f64| places((value * 1e3).round() / 1e3);
    Some(LimitError::MadeTurn {
        at: band.place(path?),
        band: band.name.clone(),
        what: was.what,
        help: format!(
            "turn the sleeve for this shell: bore \u{D8} {}, outside \u{D8} {}{ridge} mm{}",
            rounded(turn.bore),
            rounded(turn.floor),
            value.map_or(String::new(), |value| format!(
                "; `{} {} mm` would just take the planned one",
                path.map_or("", FieldId::word),
                places(value)
            ))
        ),
    })
}
