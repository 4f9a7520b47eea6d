//! What is wrong with parts as made, in sentences.

use crate::finding::Weight;
use crate::kernel::join::MachinedSleeve;
use crate::kernel::made::{Again, Clash, Lacks, OffSize, Shortfall, Thin};
use crate::kernel::section::Body;
use crate::model::Band;

use super::join::{basis, no_turning_window, stretch_limit};
use super::numbers::{micrometres, places, set};
use super::spoken::Spoken;

/// A shortfall of a band in sentences.
pub(super) fn told(band: &Band, shortfall: &Shortfall) -> Spoken {
    let (message, label, help) = sentences(band, shortfall);
    Spoken {
        code: shortfall.code(),
        weight: match shortfall {
            Shortfall::Contradicts { .. } => Weight::Wrong,
            _ => Weight::Short,
        },
        message,
        labels: vec![(band.place(shortfall.field()), label.to_owned())],
        help,
    }
}

/// Message, label and help.
fn sentences(band: &Band, shortfall: &Shortfall) -> (String, &'static str, String) {
    let name = &band.name;
    let set = shortfall.fits().map(|(field, value)| set(field, value));
    // What to do first, and the one figure that would do instead.
    let or = |first: &str, set: Option<String>, does: &str| match set {
        Some(set) => format!("{first}; {set} {does}"),
        None => first.to_owned(),
    };
    match shortfall {
        Shortfall::Contradicts { clash, again, .. } => (
            format!(
                "the parts made for `{name}` contradict each other: {}",
                what(clash)
            ),
            label(clash),
            match set {
                Some(set) => format!("measure again; {set} would just fit"),
                None => measure_again(again),
            },
        ),
        Shortfall::Unused { field, lacks } => {
            let why = match lacks {
                Lacks::Parts => "a solid band, of one part",
                Lacks::Blank => "a hollow band, of two parts",
                Lacks::Lips => "a band without lips",
                Lacks::Channel => "a full shell, without a channel",
                Lacks::Ridges => "a band without ridges",
            };
            let word = field.word();
            (
                format!("`{word}` says nothing of `{name}`: it is {why}"),
                "nothing here to measure",
                format!("leave `{word}` out"),
            )
        }
        Shortfall::Thin {
            place,
            wall,
            least,
            deepest,
            ..
        } => {
            let place = match place {
                Thin::UnderCut if *wall < 0.0 => "under the cut, which comes through",
                Thin::UnderCut => "under the cut",
                Thin::Foot => "at the shell's feet",
                Thin::SleeveEdge => "at the sleeve's edge",
                Thin::SleeveRelief => "where the sleeve is turned down",
            };
            let first = deepest.map_or("make the part anew".to_owned(), |deepest| {
                format!("cut no deeper than {} mm", places(deepest))
            });
            (
                format!(
                    "the parts made for `{name}` leave {} mm {place}, under the least wall of {} mm",
                    places(*wall),
                    places(*least)
                ),
                "leaves too little",
                or(&first, set, "would just do"),
            )
        }
        Shortfall::StretchLimit {
            part,
            strain,
            allowed,
            pulls,
            ..
        } => {
            let otherwise = match part {
                Body::Solid => "turn a larger blank",
                _ => "turn a larger sleeve",
            };
            let is = (*part, *strain, allowed);
            let (message, help) = stretch_limit(band, is, *pulls, otherwise, shortfall.fits());
            (message, basis(allowed.basis), help)
        }
        Shortfall::Turn { clash, turn, .. } => (
            format!(
                "the sleeve planned for `{name}` does not suit the shell as made: {}",
                what(clash)
            ),
            "reckoned with the sleeve to turn for it",
            or(&sleeve(turn), set, "would just take the planned one"),
        ),
        Shortfall::Off {
            what,
            is,
            ordered,
            limit,
            ..
        } => {
            let (message, first) = off(name, *what, *is, *ordered, *limit);
            (
                message,
                "comes to another ring",
                or(first, set, "would just do"),
            )
        }
        Shortfall::Float { float, most, .. } => (
            format!(
                "the parts made for `{name}` let the turning shell wander along the finger by {} mm in all, of {} mm that it may",
                places(*float),
                places(*most)
            ),
            "too much axial float",
            or("turn a sleeve for this shell", set, "would just do"),
        ),
        Shortfall::NoTurningWindow {
            seated: true,
            overlap,
            hold,
            ..
        } => {
            let what = "has no turning window with its parts as made: seated, it is caught";
            (
                no_turning_window(band, what, *overlap, *hold),
                "it is seated before it turns",
                or("turn a sleeve for this shell", set, "would just do"),
            )
        }
        Shortfall::NoTurningWindow { overlap, hold, .. } => {
            let what = "is built to turn, but its parts as made are caught";
            (
                no_turning_window(band, what, *overlap, *hold),
                "caught too little",
                match set {
                    Some(set) => format!("{set} would just keep it together"),
                    None => "turn a sleeve for this shell".to_owned(),
                },
            )
        }
    }
}

/// What to measure again where no one figure would do.
fn measure_again(again: &Again) -> String {
    let fields: Vec<String> = again
        .iter()
        .flatten()
        .map(|field| format!("`{}`", field.word()))
        .collect();
    match fields.as_slice() {
        [] => "measure again: no three figures mend it; make the parts anew".to_owned(),
        [only] => format!("measure {only} again: without it the others agree"),
        [first, last] => {
            format!("measure {first} and {last} again: without the two the others agree")
        }
        more => format!(
            "measure {} again: without them the others agree",
            more.join(", ")
        ),
    }
}

/// The sleeve to turn for a shell.
fn sleeve(turn: &MachinedSleeve) -> String {
    let ridge = turn.ridge_top.map_or(String::new(), |top| {
        format!(", ridge \u{D8} {}", micrometres(top))
    });
    format!(
        "turn the sleeve for this shell: bore \u{D8} {}, outside \u{D8} {}{ridge} mm",
        micrometres(turn.bore),
        micrometres(turn.floor)
    )
}

/// A ring of another size than ordered, and what to do first.
fn off(name: &str, what: OffSize, is: f64, ordered: f64, limit: f64) -> (String, &'static str) {
    let by = is - ordered;
    let (figure, sign) = match what {
        OffSize::Bore => ("a bore", "\u{D8} "),
        OffSize::Outside => ("an outside", "\u{D8} "),
        OffSize::Width => ("a width", ""),
    };
    let (than, first) = match (what, by > 0.0) {
        (OffSize::Width, true) => ("wider", "face it down"),
        (OffSize::Width, false) => (
            "narrower",
            "a width that is gone does not come back: make it anew",
        ),
        (OffSize::Outside, true) => ("larger", "turn it down"),
        (OffSize::Outside, false) => (
            "smaller",
            "metal that is gone does not come back: make it anew",
        ),
        (OffSize::Bore, true) => ("larger", "turn a sleeve for this shell"),
        (OffSize::Bore, false) => ("smaller", "turn a sleeve for this shell"),
    };
    let message = format!(
        "the parts made for `{name}` come to {figure} of {sign}{} mm, where {sign}{} mm are ordered: {} mm {than}, and {} mm may be",
        places(is),
        places(ordered),
        places(by.abs()),
        places(limit)
    );
    (message, first)
}

/// What clashes, in a few words.
fn label(clash: &Clash) -> &'static str {
    match clash {
        Clash::ShellGone { .. } | Clash::SleeveGone { .. } | Clash::BlankGone { .. } => {
            "no metal between"
        }
        Clash::ChannelThrough { .. } => "no metal over it",
        Clash::ChannelUnderFeet { .. } => "no channel there",
        Clash::NoFeet { .. } => "no feet beside it",
        Clash::LipOverSeat { .. } => "no lips there",
        Clash::SleeveNarrows { .. } => "a bore opens towards its faces",
        Clash::RidgeUnderFloor { .. } => "below the sleeve's outside",
        Clash::RidgesOff { .. } => "no room for them",
        Clash::NotThrough { .. } => "does not go in",
        Clash::NoStretch => "too far from any ring",
        Clash::MeetFeet { .. } => "they meet the feet",
        Clash::MeetRoof { .. } => "they meet the roof",
        Clash::BetweenLips { wide: true, .. } => "does not go between the lips",
        Clash::BetweenLips { .. } => "too narrow between the lips",
        Clash::NotFlush { .. } => "not of one ring",
        Clash::OtherSize { .. } => "another size",
        Clash::BlankThickness { .. } => "not the thickness between them",
        Clash::BlankNoStretch => "too far from any band",
        Clash::BlankLarger { .. } => "a stretch only opens",
    }
}

/// What clashes with what.
fn what(clash: &Clash) -> String {
    let diameter = |value: f64| format!("\u{D8} {} mm", places(value));
    match *clash {
        Clash::ShellGone { bore, outside } => format!(
            "the shell's bore of {} is no smaller than its outside of {}",
            diameter(bore),
            diameter(outside)
        ),
        Clash::ChannelThrough { channel, outside } => format!(
            "the channel's {} is no smaller than the shell's outside of {}",
            diameter(channel),
            diameter(outside)
        ),
        Clash::ChannelUnderFeet { channel, bore } => format!(
            "the channel's {} is smaller than the bore of the feet, {}",
            diameter(channel),
            diameter(bore)
        ),
        Clash::NoFeet { channel, shell } => format!(
            "a channel {} mm wide leaves no feet in a shell {} mm wide",
            places(channel),
            places(shell)
        ),
        Clash::LipOverSeat { lip, bore } => format!(
            "the lips' {} is larger than the bore of the seat between them, {}",
            diameter(lip),
            diameter(bore)
        ),
        Clash::SleeveNarrows { edge, bore } => format!(
            "the sleeve's bore of {} at its faces is smaller than its {} at mid width",
            diameter(edge),
            diameter(bore)
        ),
        Clash::SleeveGone { floor, edge } => format!(
            "the sleeve's outside of {} is no larger than its bore of {}",
            diameter(floor),
            diameter(edge)
        ),
        Clash::RidgeUnderFloor { top, floor } => format!(
            "the ridges' {} is under the outside of {} that they stand on",
            diameter(top),
            diameter(floor)
        ),
        Clash::RidgesOff { from_face, width } => format!(
            "ridges {} mm from the face do not fit on a sleeve {} mm wide",
            places(from_face),
            places(width)
        ),
        Clash::NotThrough {
            ridges,
            lips,
            catches,
            passes,
        } => format!(
            "{} {} does not go through {} {}",
            if ridges {
                "the ridges'"
            } else {
                "the sleeve's"
            },
            diameter(catches),
            if lips { "the lips'" } else { "the feet's" },
            diameter(passes)
        ),
        Clash::NoStretch => "no stretch takes this sleeve to this shell".to_owned(),
        Clash::MeetFeet { short, channel } => format!(
            "as they pass the feet the ridges reach {} mm beyond the end of a channel {} mm wide",
            places(short),
            places(channel)
        ),
        Clash::MeetRoof { turning, top, roof } => format!(
            "{}, the ridges' {} meets the roof of the channel, {} there",
            if turning { "done" } else { "seated" },
            diameter(top),
            diameter(roof)
        ),
        Clash::BetweenLips { sleeve, room, .. } => format!(
            "the sleeve ends {} mm wide, and the lips leave {} mm",
            places(sleeve),
            places(room)
        ),
        Clash::NotFlush { sleeve, shell } => format!(
            "the sleeve ends {} mm wide and the shell {} mm: more than {} mm apart",
            places(sleeve),
            places(shell),
            Clash::FLUSH
        ),
        Clash::OtherSize { is, ordered } => format!(
            "it comes to a bore of {}, and {} are ordered",
            diameter(is),
            diameter(ordered)
        ),
        Clash::BlankThickness {
            bore,
            outside,
            thickness,
        } => format!(
            "bore {} and outside {} are {} mm of metal, and {} mm are measured",
            diameter(bore),
            diameter(outside),
            places((outside - bore) / 2.0),
            places(thickness)
        ),
        Clash::BlankNoStretch => "no stretch takes this blank to its size".to_owned(),
        Clash::BlankGone { bore, outside } => format!(
            "between a bore of {} and an outside of {} metal is gone somewhere",
            diameter(bore),
            diameter(outside)
        ),
        Clash::BlankLarger { bore, size } => format!(
            "a blank of {} is larger than its finished size of {}",
            diameter(bore),
            diameter(size)
        ),
    }
}
