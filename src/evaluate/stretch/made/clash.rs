//! Parts as made that cannot be of one ring: what clashes with what, and the fields that could mend it.

use crate::kernel::section::{Catch, Underside};
use crate::schema::FieldId;

use super::super::findings::places;
use super::super::hollow::Joined;
use super::metal::Turned;
use super::{Opened, Parts, beside};
use crate::kernel::Input;

/// Fields that decide how far the sleeve reaches behind the feet or the lips.
pub(super) const CATCHING: &[FieldId] = &[
    FieldId::MadeSleeveRidgeTop,
    FieldId::MadeSleeveFloor,
    FieldId::MadeSleeveBore,
    FieldId::MadeSleeveEdgeBore,
    FieldId::MadeShellLipBore,
    FieldId::MadeShellBore,
];

/// Least difference that counts, mm: what the solved states may be off by, with room.
const CLOSE: f64 = 1e-7;
/// What two surfaces that just touch may overlap by, mm: sizes are shown and measured to a micrometre.
const TOUCHING: f64 = 1e-3;
/// What two widths may differ by and still be faced flush, mm (common practice, no source).
pub(super) const FLUSH: f64 = 0.10;

/// Two figures that cannot both be.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Clash {
    /// What against what.
    pub what: String,
    /// What it means, in a few words.
    pub label: &'static str,
    /// The fields that could mend it, in the order that they are looked for.
    pub fields: &'static [FieldId],
}

/// The first clash of parts; `planned`: figures that are not measured may be what clashes.
pub(super) fn clash(
    input: &Input,
    joined: &Joined,
    parts: &Parts,
    widths_match: bool,
) -> Option<Clash> {
    alone(input, parts)
        .or_else(|| together(parts))
        .or_else(|| opened(input, joined, parts))
        .or_else(|| widths_match.then(|| widths(input, joined, parts)).flatten())
}

fn found(what: String, label: &'static str, fields: &'static [FieldId]) -> Option<Clash> {
    Some(Clash {
        what,
        label,
        fields,
    })
}

/// What is wrong with either part alone.
fn alone(input: &Input, parts: &Parts) -> Option<Clash> {
    let (shell, sleeve) = (&parts.shell, &parts.sleeve);
    let diameter = |value: f64| format!("\u{D8} {} mm", places(value));
    let (outside, foot) = (diameter(shell.outside), diameter(shell.bore));
    if shell.bore >= shell.outside - CLOSE {
        return found(
            format!("the shell's bore of {foot} is no smaller than its outside of {outside}"),
            "no metal between",
            &[FieldId::MadeShellBore, FieldId::MadeShellOutside],
        );
    }
    if let Some(channel) = shell.channel {
        if channel >= shell.outside - CLOSE {
            return found(
                format!(
                    "the channel's {} is no smaller than the shell's outside of {outside}",
                    diameter(channel)
                ),
                "no metal over it",
                &[FieldId::MadeShellChannel, FieldId::MadeShellOutside],
            );
        }
        if channel < shell.bore - CLOSE {
            return found(
                format!(
                    "the channel's {} is smaller than the bore of the feet, {foot}",
                    diameter(channel)
                ),
                "no channel there",
                &[FieldId::MadeShellChannel, FieldId::MadeShellBore],
            );
        }
    }
    if let Some(width) = shell.channel_width
        && width >= shell.width - CLOSE
    {
        return found(
            format!(
                "a channel {} mm wide leaves no feet in a shell {} mm wide",
                places(width),
                places(shell.width)
            ),
            "no feet beside it",
            &[
                FieldId::MadeShellChannelWidth,
                FieldId::MadeShellWidth,
                FieldId::MadeSleeveWidth,
            ],
        );
    }
    if let Some(lip) = shell.lip
        && lip > shell.bore + CLOSE
    {
        return found(
            format!(
                "the lips' {} is larger than the bore of the seat between them, {foot}",
                diameter(lip)
            ),
            "no lips there",
            &[FieldId::MadeShellLipBore, FieldId::MadeShellBore],
        );
    }
    if sleeve.edge_bore < sleeve.bore - CLOSE {
        return found(
            format!(
                "the sleeve's bore of {} at its faces is smaller than its {} at mid width",
                diameter(sleeve.edge_bore),
                diameter(sleeve.bore)
            ),
            "a bore opens towards its faces",
            &[FieldId::MadeSleeveEdgeBore, FieldId::MadeSleeveBore],
        );
    }
    if sleeve.floor <= sleeve.edge_bore + CLOSE {
        return found(
            format!(
                "the sleeve's outside of {} is no larger than its bore of {}",
                diameter(sleeve.floor),
                diameter(sleeve.edge_bore)
            ),
            "no metal between",
            &[
                FieldId::MadeSleeveFloor,
                FieldId::MadeSleeveBore,
                FieldId::MadeSleeveEdgeBore,
                FieldId::MadeSleeveRidgeTop,
            ],
        );
    }
    if let Some(top) = sleeve.ridge_top
        && top < sleeve.floor - CLOSE
    {
        return found(
            format!(
                "the ridges' {} is under the outside of {} that they stand on",
                diameter(top),
                diameter(sleeve.floor)
            ),
            "below the sleeve's outside",
            &[
                FieldId::MadeSleeveRidgeTop,
                FieldId::MadeSleeveFloor,
                FieldId::MadeSleeveBore,
            ],
        );
    }
    if let (Some(from), Some((wide, count))) = (sleeve.ridge_from_face, ridges(input)) {
        let least = count * wide * sleeve.width / input.shape.width;
        let room = if count > 1.5 {
            sleeve.width - 2.0 * from
        } else {
            sleeve.width - from
        };
        if from < -CLOSE || room < least - CLOSE {
            return found(
                format!(
                    "ridges {} mm from the face do not fit on a sleeve {} mm wide",
                    places(from),
                    places(sleeve.width)
                ),
                "no room for them",
                &[
                    FieldId::MadeSleeveRidgeFromFace,
                    FieldId::MadeSleeveWidth,
                    FieldId::MadeShellWidth,
                ],
            );
        }
    }
    None
}

/// Axial width of a ridge, and how many there are.
fn ridges(input: &Input) -> Option<(f64, f64)> {
    match input.shape.hollow?.catch {
        Catch::Ridge { wide, two, .. } => Some((wide, if two { 2.0 } else { 1.0 })),
        _ => None,
    }
}

/// A sleeve that does not go into its shell.
fn together(parts: &Parts) -> Option<Clash> {
    let (top, passes) = (parts.catches(), parts.passes());
    if top <= passes + CLOSE {
        return None;
    }
    let (sleeve, through) = (
        if parts.sleeve.ridge_top.is_some() {
            "the ridges'"
        } else {
            "the sleeve's"
        },
        if parts.shell.lip.is_some() {
            "the lips'"
        } else {
            "the feet's"
        },
    );
    found(
        format!(
            "{sleeve} \u{D8} {} mm does not go through {through} \u{D8} {} mm",
            places(top),
            places(passes)
        ),
        "does not go in",
        CATCHING,
    )
}

/// Ridges that meet the feet or the roof.
fn opened(input: &Input, joined: &Joined, parts: &Parts) -> Option<Clash> {
    let Some(opened) = Opened::of(input, joined, *parts) else {
        return found(
            "no stretch takes this sleeve to this shell".to_owned(),
            "too far from any ring",
            &[
                FieldId::MadeSleeveBore,
                FieldId::MadeSleeveFloor,
                FieldId::MadeSleeveRidgeTop,
                FieldId::MadeShellBore,
                FieldId::MadeShellOutside,
            ],
        );
    };
    let underside = Underside::of(&input.shape)?;
    let roof = underside.roof.as_ref()?;
    let planned = Parts::planned(input, joined);
    let across = (joined.shell_back.1.across, joined.sleeve_back.1.across);
    let (shell, sleeve) = (&parts.shell, &parts.sleeve);
    let faces = |parts: &Parts| Some(parts.sleeve.width / 2.0 - parts.sleeve.ridge_from_face?);
    let (out, was) = (faces(parts)?, faces(&planned)?);
    let wider = (shell.channel_width? - planned.shell.channel_width?) / 2.0;
    let passing = opened.passing.map_or(1.0, |state| state.across);
    let reach = (out - was, passing);
    let (first, outermost) = joined.ridges?;
    // Per side: where the ridge's outer face is as it passes, and where the channel ends.
    let short =
        |face: f64, end: f64| (face * across.1 + reach.0) * reach.1 - (end * across.0 + wider);
    let short = short(-first, -underside.between.0).max(short(outermost, underside.between.1));
    let allowed = joined
        .shift
        .map_or(0.0, |(needed, there)| (needed - there).max(0.0));
    if short > allowed + TOUCHING {
        return found(
            format!(
                "as they pass the feet the ridges reach {} mm beyond the end of a channel {} mm wide",
                places(short),
                places(shell.channel_width?)
            ),
            "they meet the feet",
            &[
                FieldId::MadeSleeveRidgeFromFace,
                FieldId::MadeShellChannelWidth,
                FieldId::MadeSleeveWidth,
                FieldId::MadeShellWidth,
                FieldId::MadeSleeveRidgeTop,
            ],
        );
    }
    // A ring that is built to turn never comes further than it is when done.
    let (last, when) = if input.stretch.turning {
        (&opened.sleeve.1, "done")
    } else {
        (&opened.seated, "seated")
    };
    let top = 2.0 * last.carried(&opened.sleeve.0, sleeve.ridge_top? / 2.0);
    let curve = Turned::new(input, roof, &joined.shell_back);
    let deeper = (shell.channel? - planned.shell.channel?) / 2.0;
    let (wide, _) = ridges(input)?;
    let places_of = [(first, first + wide), (outermost - wide, outermost)];
    let over = places_of
        .into_iter()
        .flat_map(|(from, to)| {
            (0..=8_u32).map(move |part| from + (to - from) * f64::from(part) / 8.0)
        })
        .map(|x| 2.0 * (curve.at(x * across.0) + deeper))
        .fold(f64::INFINITY, f64::min);
    (top > over + TOUCHING).then(|| Clash {
        what: format!(
            "{when}, the ridges' \u{D8} {} mm meets the roof of the channel, \u{D8} {} mm there",
            places(top),
            places(over)
        ),
        label: "they meet the roof",
        fields: &[
            FieldId::MadeSleeveRidgeTop,
            FieldId::MadeShellChannel,
            FieldId::MadeSleeveFloor,
            FieldId::MadeShellBore,
            FieldId::MadeSleeveBore,
        ],
    })
}

/// Widths that no facing brings together, and a sleeve that does not go between its lips.
fn widths(input: &Input, joined: &Joined, parts: &Parts) -> Option<Clash> {
    let opened = Opened::of(input, joined, *parts)?;
    let (shell, sleeve) = (
        parts.shell.width * opened.shell.1.across,
        parts.sleeve.width * opened.sleeve.1.across,
    );
    let off = sleeve - shell + 2.0 * beside(input);
    if let Some(Catch::Lip { wide, .. }) = input.shape.hollow.map(|hollow| hollow.catch) {
        let room = shell - 2.0 * wide;
        let label = if sleeve > room + CLOSE {
            "does not go between the lips"
        } else if off < -FLUSH - CLOSE {
            "too narrow between the lips"
        } else {
            return None;
        };
        return found(
            format!(
                "the sleeve ends {} mm wide, and the lips leave {} mm",
                places(sleeve),
                places(room)
            ),
            label,
            &[FieldId::MadeSleeveWidth, FieldId::MadeShellWidth],
        );
    }
    (off.abs() > FLUSH + CLOSE).then(|| Clash {
        what: format!(
            "the sleeve ends {} mm wide and the shell {} mm: more than {FLUSH} mm apart",
            places(sleeve),
            places(shell)
        ),
        label: "not of one ring",
        fields: &[FieldId::MadeSleeveWidth, FieldId::MadeShellWidth],
    })
}
