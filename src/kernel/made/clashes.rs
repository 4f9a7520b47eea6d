//! The first clash of parts as made, alone, going together, opened and in their widths.

use crate::kernel::Input;
use crate::kernel::join::{Joined, ROUNDING};
use crate::kernel::section::{Catch, Underside};

use super::clash::Clash;
use super::opened::OpenedParts;
use super::parts::{TwoParts, beside};
use super::turned::Turned;

/// Least difference that counts, mm: what the solved states may be off by, with room.
const CLOSE: f64 = 1e-7;
/// What two surfaces that just touch may overlap by, mm: sizes are shown and measured to a micrometre.
const TOUCHING: f64 = 1e-3;

/// The first clash of parts.
pub(super) fn clash(input: &Input, joined: &Joined, parts: &TwoParts) -> Option<Clash> {
    alone(input, parts)
        .or_else(|| together(parts))
        .or_else(|| opened(input, joined, parts))
        .or_else(|| widths(input, joined, parts))
}

/// Why a sleeve does not suit its shell: they clash, or come to another size than ordered.
pub(super) fn misfit(input: &Input, joined: &Joined, parts: &TwoParts) -> Option<Clash> {
    clash(input, joined, parts).or_else(|| {
        let opened = OpenedParts::of(input, joined, *parts)?;
        let is = 2.0 * (opened.sleeve.1.pair.inner + input.stretch.layers.on()[0]);
        let ordered = 2.0 * input.shape.radius;
        let misses = (is - ordered).abs() > input.stretch.off_size + ROUNDING;
        misses.then_some(Clash::OtherSize { is, ordered })
    })
}

/// What is wrong with either part alone.
fn alone(input: &Input, parts: &TwoParts) -> Option<Clash> {
    let (shell, sleeve) = (&parts.shell, &parts.sleeve);
    // What is taken off last is no part of the finished ring.
    let [on_bore, on_outside, on_faces] = input.stretch.layers.on();
    let (bore, outside) = (shell.bore, shell.outside - 2.0 * on_outside);
    if bore >= outside - CLOSE {
        return Some(Clash::ShellGone { bore, outside });
    }
    if let Some(channel) = shell.channel {
        if channel >= outside - CLOSE {
            return Some(Clash::ChannelThrough { channel, outside });
        }
        if channel < bore - CLOSE {
            return Some(Clash::ChannelUnderFeet { channel, bore });
        }
    }
    if let Some(channel) = shell.channel_width
        && channel >= shell.width - 2.0 * on_faces - CLOSE
    {
        let shell = shell.width - 2.0 * on_faces;
        return Some(Clash::NoFeet { channel, shell });
    }
    if let Some(lip) = shell.lip
        && lip > bore + CLOSE
    {
        return Some(Clash::LipOverSeat { lip, bore });
    }
    let (bore, edge) = (
        sleeve.bore + 2.0 * on_bore,
        sleeve.edge_bore + 2.0 * on_bore,
    );
    let floor = sleeve.floor;
    if edge < bore - CLOSE {
        return Some(Clash::SleeveNarrows { edge, bore });
    }
    if floor <= edge + CLOSE {
        return Some(Clash::SleeveGone { floor, edge });
    }
    if let Some(top) = sleeve.ridge_top
        && top < floor - CLOSE
    {
        return Some(Clash::RidgeUnderFloor { top, floor });
    }
    if let (Some(from_face), Some((wide, count))) = (sleeve.ridge_from_face, ridges(input)) {
        let width = sleeve.width - 2.0 * on_faces;
        let from_face = from_face - on_faces;
        let least = count * wide * width / input.shape.width;
        let room = if count > 1.5 {
            width - 2.0 * from_face
        } else {
            width - from_face
        };
        if from_face < -CLOSE || room < least - CLOSE {
            return Some(Clash::RidgesOff { from_face, width });
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
fn together(parts: &TwoParts) -> Option<Clash> {
    let (catches, passes) = (parts.catches(), parts.passes());
    (catches > passes + CLOSE).then_some(Clash::NotThrough {
        ridges: parts.sleeve.ridge_top.is_some(),
        lips: parts.shell.lip.is_some(),
        catches,
        passes,
    })
}

/// Ridges that meet the feet or the roof.
fn opened(input: &Input, joined: &Joined, parts: &TwoParts) -> Option<Clash> {
    let Some(opened) = OpenedParts::of(input, joined, *parts) else {
        return Some(Clash::NoStretch);
    };
    let underside = Underside::of(&input.shape)?;
    let roof = underside.roof.as_ref()?;
    let planned = TwoParts::planned(input, joined);
    let across = (joined.shell_back.1.across, joined.sleeve_back.1.across);
    let (shell, sleeve) = (&parts.shell, &parts.sleeve);
    let faces = |parts: &TwoParts| Some(parts.sleeve.width / 2.0 - parts.sleeve.ridge_from_face?);
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
        let channel = shell.channel_width?;
        return Some(Clash::MeetFeet { short, channel });
    }
    // A ring that is built to turn never comes further than it is when done.
    let turning = input.stretch.turning;
    let last = if turning {
        &opened.sleeve.1
    } else {
        &opened.seated
    };
    let top = 2.0 * last.carried(&opened.sleeve.0, sleeve.ridge_top? / 2.0);
    let curve = Turned::new(input, roof, &joined.shell_back);
    let deeper = (shell.channel? - planned.shell.channel?) / 2.0;
    let (wide, _) = ridges(input)?;
    let places_of = [(first, first + wide), (outermost - wide, outermost)];
    let roof = places_of
        .into_iter()
        .flat_map(|(from, to)| {
            (0..=8_u32).map(move |part| from + (to - from) * f64::from(part) / 8.0)
        })
        .map(|x| 2.0 * (curve.at(x * across.0) + deeper))
        .fold(f64::INFINITY, f64::min);
    (top > roof + TOUCHING).then_some(Clash::MeetRoof { turning, top, roof })
}

/// Widths that no facing brings together, and a sleeve that does not go between its lips.
fn widths(input: &Input, joined: &Joined, parts: &TwoParts) -> Option<Clash> {
    let opened = OpenedParts::of(input, joined, *parts)?;
    let (shell, sleeve) = (
        parts.shell.width * opened.shell.1.across,
        parts.sleeve.width * opened.sleeve.1.across,
    );
    let off = sleeve - shell + 2.0 * beside(input);
    if let Some(Catch::Lip { wide, .. }) = input.shape.hollow.map(|hollow| hollow.catch) {
        let room = shell - 2.0 * wide;
        let wide = sleeve > room + CLOSE;
        return (wide || off < -Clash::FLUSH - CLOSE).then_some(Clash::BetweenLips {
            wide,
            sleeve,
            room,
        });
    }
    (off.abs() > Clash::FLUSH + CLOSE).then_some(Clash::NotFlush { sleeve, shell })
}
