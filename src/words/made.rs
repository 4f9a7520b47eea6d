//! What is wrong with parts as made, in sentences.

use crate::finding::Weight;
use crate::kernel::join::MachinedSleeve;
use crate::kernel::made::{Again, Clash, Lacks, MadeShortfall, OffSize, Thin};
use crate::kernel::section::Body;
use crate::model::Band;

use super::join::{basis, no_turning_window, stretch_limit};
use super::length::{apart, exactly, places, set};
use super::numbers::micrometres;
use super::spoken::Spoken;

/// A shortfall of a band in sentences.
pub(super) fn told(band: &Band, shortfall: &MadeShortfall) -> Spoken {
    let (message, label, help) = sentences(band, shortfall);
    Spoken {
        code: shortfall.code(),
        weight: match shortfall {
            MadeShortfall::Contradicts { .. } => Weight::Wrong,
            _ => Weight::Short,
        },
        message,
        labels: vec![(band.place(shortfall.field()), label.to_owned())],
        help,
    }
}

/// Message, label and help.
fn sentences(band: &Band, shortfall: &MadeShortfall) -> (String, &'static str, String) {
    let name = &band.name;
    let set = shortfall.fits().map(|(field, value)| set(field, value));
    // What to do first, and the one figure that would do instead.
    let or = |first: &str, set: Option<String>, does: &str| match set {
        Some(set) => format!("{first}; {set} {does}"),
        None => first.to_owned(),
    };
    match shortfall {
        MadeShortfall::Contradicts { clash, again, .. } => (
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
        MadeShortfall::Unused { field, lacks } => {
            let why = match lacks {
                Lacks::Parts => "a solid band, of one part",
                Lacks::Blank => "a hollow band, of two parts",
                Lacks::Lips => "a band without lips",
                Lacks::Channel => "a full shell, without a channel",
                Lacks::Ridges => "a band without ridges",
            };
            let word = field.word();
            (
                format!("`{word}` has no place in `{name}`: it is {why}"),
                "nothing here to measure",
                format!("leave `{word}` out"),
            )
        }
        MadeShortfall::Thin {
            place,
            wall,
            least,
            deepest,
            ..
        } => {
            let place = match place {
                Thin::UnderCut => "under the cut",
                Thin::Foot => "at the shell's feet",
                Thin::SleeveEdge => "at the sleeve's edge",
                Thin::SleeveRelief => "where the sleeve is turned down",
            };
            let first = deepest.map_or("make a new part".to_owned(), |deepest| {
                format!("cut no deeper than {} mm", exactly(deepest))
            });
            let [is, least] = apart([*wall, *least]);
            let left = match *wall < 0.0 {
                true => format!(
                    "no metal {place}: the cut comes through, by {} mm",
                    places(-wall)
                ),
                false => format!("only {is} mm {place}"),
            };
            (
                format!("the parts made for `{name}` leave {left}; the least wall is {least} mm"),
                "leaves too little",
                or(&first, set, "would just pass"),
            )
        }
        MadeShortfall::StretchLimit {
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
        MadeShortfall::Turn { clash, turn, .. } => (
            format!(
                "the sleeve planned for `{name}` does not suit the shell as made: {}",
                what(clash)
            ),
            "worked out for a sleeve turned to suit",
            or(&sleeve(turn), set, "would just take the planned sleeve"),
        ),
        MadeShortfall::Off {
            what,
            is,
            ordered,
            limit,
            ..
        } => {
            let (message, first) = off(name, *what, *is, *ordered, *limit);
            (
                message,
                "makes another ring",
                or(first, set, "would just pass"),
            )
        }
        MadeShortfall::Float { float, most, .. } => {
            let [float, most] = apart([*float, *most]);
            (
                format!(
                    "the parts made for `{name}` let the turning shell float {float} mm along the finger in all; {most} mm is allowed"
                ),
                "too much axial float",
                or("turn a sleeve for this shell", set, "would just pass"),
            )
        }
        MadeShortfall::NoTurningWindow {
            seated: true,
            overlap,
            hold,
            ..
        } => {
            let what = "has no turning window with its parts as made: seated, their catch overlaps";
            (
                no_turning_window(band, what, *overlap, *hold),
                "it is seated before it turns",
                or("turn a sleeve for this shell", set, "would just pass"),
            )
        }
        MadeShortfall::NoTurningWindow { overlap, hold, .. } => {
            let what = "is built to turn, but the catch of its parts as made overlaps";
            (
                no_turning_window(band, what, *overlap, *hold),
                "too little overlap",
                match set {
                    Some(set) => format!("{set} just keeps it together"),
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
        [] => "measure everything again, or make new parts: correcting three figures would not mend it".to_owned(),
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
            "too narrow cannot be put right: make a new part",
        ),
        (OffSize::Outside, true) => ("larger", "turn it down"),
        (OffSize::Outside, false) => ("smaller", "too small cannot be put right: make a new part"),
        (OffSize::Bore, true) => ("larger", "turn a sleeve for this shell"),
        (OffSize::Bore, false) => ("smaller", "turn a sleeve for this shell"),
    };
    let [is, ordered] = apart([is, ordered]);
    let [by, limit] = apart([by.abs(), limit]);
    let message = format!(
        "the parts made for `{name}` give {figure} of {sign}{is} mm, {by} mm {than} than the {sign}{ordered} mm ordered; {limit} mm is allowed"
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
    let both = |one: f64, other: f64| apart([one, other]).map(|one| format!("\u{D8} {one} mm"));
    match *clash {
        Clash::ShellGone { bore, outside } => {
            let [bore, outside] = both(bore, outside);
            format!("the shell's bore of {bore} is no smaller than its outside of {outside}")
        }
        Clash::ChannelThrough { channel, outside } => {
            let [channel, outside] = both(channel, outside);
            format!("the channel's {channel} is no smaller than the shell's outside of {outside}")
        }
        Clash::ChannelUnderFeet { channel, bore } => {
            let [channel, bore] = both(channel, bore);
            format!("the channel's {channel} is smaller than the bore of the feet, {bore}")
        }
        Clash::NoFeet { channel, shell } => {
            let [channel, shell] = apart([channel, shell]);
            format!("a channel {channel} mm wide leaves no feet in a shell {shell} mm wide")
        }
        Clash::LipOverSeat { lip, bore } => {
            let [lip, bore] = both(lip, bore);
            format!("the lips' {lip} is larger than the bore of the seat between them, {bore}")
        }
        Clash::SleeveNarrows { edge, bore } => {
            let [edge, bore] = both(edge, bore);
            format!(
                "the sleeve's bore of {edge} at its faces is smaller than its {bore} at mid width"
            )
        }
        Clash::SleeveGone { floor, edge } => {
            let [floor, edge] = both(floor, edge);
            format!("the sleeve's outside of {floor} is no larger than its bore of {edge}")
        }
        Clash::RidgeUnderFloor { top, floor } => {
            let [top, floor] = both(top, floor);
            format!("the ridges' {top} is under the outside of {floor} that they stand on")
        }
        Clash::RidgesOff { from_face, width } => {
            let [from_face, width] = apart([from_face, width]);
            format!("ridges {from_face} mm from the face do not fit on a sleeve {width} mm wide")
        }
        Clash::NotThrough {
            ridges,
            lips,
            catches,
            passes,
        } => {
            let [catches, passes] = both(catches, passes);
            format!(
                "{} {catches} does not go through {} {passes}",
                if ridges {
                    "the ridges'"
                } else {
                    "the sleeve's"
                },
                if lips { "the lips'" } else { "the feet's" },
            )
        }
        Clash::NoStretch => "no stretch takes this sleeve to this shell".to_owned(),
        Clash::MeetFeet { short, channel } => {
            let [short, channel] = apart([short, channel]);
            format!(
                "as they pass the feet the ridges reach {short} mm beyond the end of a channel {channel} mm wide"
            )
        }
        Clash::MeetRoof { turning, top, roof } => {
            let [top, roof] = both(top, roof);
            format!(
                "{}, the ridges' {top} meets the roof of the channel, {roof} there",
                if turning { "done" } else { "seated" }
            )
        }
        Clash::BetweenLips { sleeve, room, .. } => {
            let [sleeve, room] = apart([sleeve, room]);
            format!("the sleeve ends {sleeve} mm wide, and the lips leave {room} mm")
        }
        Clash::NotFlush { sleeve, shell } => {
            let [sleeve, shell] = apart([sleeve, shell]);
            format!(
                "the sleeve ends {sleeve} mm wide and the shell {shell} mm: more than {} mm apart",
                Clash::FLUSH
            )
        }
        Clash::OtherSize { is, ordered } => {
            let [is, ordered] = both(is, ordered);
            format!("it gives a bore of {is}, but {ordered} is ordered")
        }
        Clash::BlankThickness {
            bore,
            outside,
            thickness,
        } => {
            let [left, is] = apart([(outside - bore) / 2.0, thickness]);
            let [bore, outside] = both(bore, outside);
            format!(
                "bore {bore} and outside {outside} leave {left} mm of metal, but {is} mm is measured"
            )
        }
        Clash::BlankNoStretch => "no stretch takes this blank to its size".to_owned(),
        Clash::BlankGone { bore, outside } => {
            let [bore, outside] = both(bore, outside);
            format!("between a bore of {bore} and an outside of {outside} metal is gone somewhere")
        }
        Clash::BlankLarger { bore, size } => {
            let [bore, size] = both(bore, size);
            format!("a blank of {bore} is larger than its finished size of {size}")
        }
    }
}
