//! Limits that fall short: the band can be made, but not as its maker wants it.

use crate::schema::FieldId;
use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

use crate::model::Band;

use super::fineness::contacts;

/// A limit that is not kept.
#[derive(Debug, Error, Diagnostic)]
pub enum LimitError {
    /// A wall that exists, but is thinner than it may be.
    #[error("{what} of `{band}` is {wall} mm thick, under the least wall of {limit} mm")]
    #[diagnostic(code(evaluate::thin_wall), severity(warning), help("{help}"))]
    ThinWall {
        /// What makes it thin.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// Which wall.
        what: &'static str,
        /// The wall.
        wall: String,
        /// The limit.
        limit: String,
        /// Where it is thin.
        label: String,
        /// What would keep the limit.
        help: String,
    },
    /// More of an element than the skin may meet.
    #[error(
        "the {part} of `{band}` holds {element} {held} per thousand, and {market} bans {most} or more"
    )]
    #[diagnostic(code(evaluate::restricted), severity(warning), help("{help}"))]
    Restricted {
        /// The alloy.
        #[label("{element} in it")]
        at: Span,
        /// The band.
        band: String,
        /// The part.
        part: &'static str,
        /// The element.
        element: String,
        /// Parts per thousand.
        held: String,
        /// Where it is banned.
        market: String,
        /// From how much on.
        most: String,
        /// The text, and what to do.
        help: String,
    },
    /// A part is stretched further than its metal bears in one pull.
    #[error(
        "the {part} of `{band}` is stretched by {strain} %, past the {limit} % that it bears in one pull"
    )]
    #[diagnostic(code(evaluate::stretch_limit), severity(warning), help("{help}"))]
    StretchLimit {
        /// What makes it stretch.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// The part.
        part: &'static str,
        /// Strain of its bore, per cent.
        strain: String,
        /// What it bears, per cent.
        limit: String,
        /// What sets the limit.
        label: String,
        /// What would keep the limit.
        help: String,
    },

    /// A ring built to turn can be forced off.
    #[error(
        "`{band}` {what} by \u{D8} {overlap} mm only, of \u{D8} {hold} mm that keep it together"
    )]
    #[diagnostic(code(evaluate::no_turning_window), severity(warning), help("{help}"))]
    NoTurningWindow {
        /// What catches.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// What it is caught in.
        what: &'static str,
        /// What catches it, on the diameter.
        overlap: String,
        /// What should.
        hold: String,
        /// Where it is too low.
        label: String,
        /// What would do.
        help: String,
    },

    /// A ridge that stands so far out that it meets the foot.
    #[error(
        "the ridges of `{band}` stand {needed} mm further out as they pass the feet, and {there} mm are free beside them"
    )]
    #[diagnostic(code(evaluate::ridge_too_far_out), severity(warning), help("{help}"))]
    RidgeTooFarOut {
        /// Its play.
        #[label("too little play")]
        at: Span,
        /// The band.
        band: String,
        /// How far it moves.
        needed: String,
        /// What is free.
        there: String,
        /// What would do.
        help: String,
    },

    /// A ring that should be fixed and does not grip over the enlarger's whole window.
    #[error("`{band}` {verdict} when opened \u{D8} {past} mm past seated, \u{B1} {enlarger} mm")]
    #[diagnostic(code(evaluate::no_grip), severity(warning), help("{help}"))]
    NoGrip {
        /// The opening.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// What it does.
        verdict: &'static str,
        /// The opening.
        past: String,
        /// How exact it is.
        enlarger: String,
        /// What is there instead.
        label: String,
        /// What would do.
        help: String,
    },

    /// An opening at which the shell yields.
    #[error(
        "the shell of `{band}` yields when opened \u{D8} {past} mm past seated: it bears \u{D8} {yields} mm"
    )]
    #[diagnostic(code(evaluate::shell_yields), severity(warning), help("{help}"))]
    ShellYields {
        /// The opening.
        #[label("what is opened further stretches the shell and adds no grip")]
        at: Span,
        /// The band.
        band: String,
        /// The opening.
        past: String,
        /// Where the shell yields.
        yields: String,
        /// What would do.
        help: String,
    },

    /// A start that a hollow band has no use for.
    #[error("`{band}` is hollow: its `start` is not used")]
    #[diagnostic(
        code(evaluate::start_unused),
        severity(advice),
        help(
            "its parts follow from what catches them; `without start` in the hollow band says so"
        )
    )]
    StartUnused {
        /// The start.
        #[label("for a solid band")]
        at: Span,
        /// The band.
        band: String,
    },

    /// A key that is not reached.
    #[error(
        "the key of `{band}` is {key} mm deep, and the foot is opened {reached} mm past seated, radial"
    )]
    #[diagnostic(code(evaluate::key_not_reached), severity(warning), help("{help}"))]
    KeyNotReached {
        /// The key.
        #[label("not reached")]
        at: Span,
        /// The band.
        band: String,
        /// How deep it is.
        key: String,
        /// How far the foot comes.
        reached: String,
        /// What would do.
        help: String,
    },

    /// Grip is asked for, and cannot be judged.
    #[error("whether `{band}` grips cannot be told: {missing}")]
    #[diagnostic(code(evaluate::strength_unknown), severity(warning), help("{help}"))]
    StrengthUnknown {
        /// What asks for grip.
        #[label("needs yield and modulus of both parts")]
        at: Span,
        /// The band.
        band: String,
        /// What is missing.
        missing: String,
        /// What would do.
        help: String,
    },

    /// Measured parts that contradict each other.
    #[error("the parts made for `{band}` contradict each other: {what}")]
    #[diagnostic(code(evaluate::made_contradicts), help("{help}"))]
    MadeContradicts {
        /// What was measured.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// What against what.
        what: String,
        /// The other figure.
        label: String,
        /// What would do.
        help: String,
    },

    /// A measured figure of what the band has not.
    #[error("`{word}` says nothing of `{band}`: it is {why}")]
    #[diagnostic(
        code(evaluate::made_unused),
        severity(warning),
        help("leave `{word}` out")
    )]
    MadeUnused {
        /// What was measured.
        #[label("nothing here to measure")]
        at: Span,
        /// The band.
        band: String,
        /// The word.
        word: String,
        /// What it is.
        why: &'static str,
    },

    /// Parts that no stretch could join.
    #[error(
        "the sleeve of `{band}` cannot be turned so small that it passes the {passes} with \u{D8} {entry} mm to spare"
    )]
    #[diagnostic(code(evaluate::never_enters), help("{help}"))]
    NeverEnters {
        /// What is in the way.
        #[label("no sleeve is left to stretch")]
        at: Span,
        /// The band.
        band: String,
        /// What must be passed.
        passes: &'static str,
        /// The clearance.
        entry: String,
        /// What would do.
        help: String,
    },

    /// A part as made that is thinner than the least wall somewhere.
    #[error(
        "the parts made for `{band}` leave {wall} mm {what}, under the least wall of {least} mm"
    )]
    #[diagnostic(code(evaluate::made_thin), severity(warning), help("{help}"))]
    MadeThin {
        /// What was measured.
        #[label("leaves too little")]
        at: Span,
        /// The band.
        band: String,
        /// Where.
        what: &'static str,
        /// What is left.
        wall: String,
        /// What must be.
        least: String,
        /// What would do.
        help: String,
    },

    /// Parts as made that come to another ring than the one ordered.
    #[error(
        "the parts made for `{band}` come to {what} of {is} mm, where {ordered} mm are ordered: {off} mm {than}, and {limit} mm may be"
    )]
    #[diagnostic(code(evaluate::made_off), severity(warning), help("{help}"))]
    MadeOff {
        /// What was measured.
        #[label("comes to another ring")]
        at: Span,
        /// The band.
        band: String,
        /// What of the ring.
        what: &'static str,
        /// What it comes to.
        is: String,
        /// What is ordered.
        ordered: String,
        /// How far that is off.
        off: String,
        /// Which way.
        than: &'static str,
        /// How far it may be.
        limit: String,
        /// What would do.
        help: String,
    },

    /// A sleeve as worked back that does not suit the shell as made, and none is measured.
    #[error("the sleeve planned for `{band}` does not suit the shell as made: {what}")]
    #[diagnostic(code(evaluate::made_turn), severity(warning), help("{help}"))]
    MadeTurn {
        /// What was measured.
        #[label("reckoned with the sleeve to turn for it")]
        at: Span,
        /// The band.
        band: String,
        /// What against what.
        what: String,
        /// What would do.
        help: String,
    },

    /// A band that would have to shrink.
    #[error("`{band}` starts at \u{D8} {start} mm, above its finished size of \u{D8} {size} mm")]
    #[diagnostic(code(evaluate::start_above_size), help("{help}"))]
    StartAboveSize {
        /// The start.
        #[label("the start")]
        at: Span,
        /// The finished size.
        #[label("the finished size")]
        size_at: Span,
        /// The band.
        band: String,
        /// Its bore.
        start: String,
        /// The finished bore.
        size: String,
        /// What would do.
        help: String,
    },
}

impl Problem for LimitError {}

/// A finding for every part that holds more of an element than the law lets the skin meet.
pub(super) fn restricted(band: &Band) -> Vec<LimitError> {
    let all = contacts(band).into_iter();
    let broken = all.filter(|one| one.limit.binding && one.broken == Some(true));
    let found = broken.filter_map(|one| {
        let own = match one.part {
            "shell" => FieldId::HollowShellAlloy,
            "sleeve" => FieldId::HollowSleeveAlloy,
            "solder" => FieldId::Solder,
            _ => FieldId::Alloy,
        };
        let path = if band.field(own).is_some() {
            own
        } else {
            FieldId::Alloy
        };
        Some(LimitError::Restricted {
            at: band.place(path),
            band: band.name.clone(),
            part: one.part,
            element: one.limit.element.clone(),
            held: one.held.normalize().to_string(),
            market: format!("the {}", one.limit.market),
            most: one.limit.limit?.normalize().to_string(),
            help: format!(
                "take an alloy with less; {}, {}",
                one.limit.text, one.limit.clause
            ),
        })
    });
    found.collect()
}

/// Computed lengths are compared within this, in mm.
pub(super) const ROUNDING: f64 = 1e-9;
