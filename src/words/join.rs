//! What about stretch and join cannot be, or falls short, in sentences.

use crate::evaluate::{Seating, seating};
use crate::finding::Weight;
use crate::kernel::join::{Allowed, Grip, JoinShortfall, LimitBasis, Unstated};
use crate::kernel::section::Body;
use crate::model::{Band, Metal};
use crate::schema::FieldId;

use super::length::{apart, exactly, places, set};
use super::numbers::percent;
use super::spoken::Spoken;

/// What sets how far a part may be stretched.
#[must_use]
pub fn basis(basis: LimitBasis) -> &'static str {
    match basis {
        LimitBasis::Elongation => {
            "the working part of the temper's elongation, `limit { working }`: a third is common practice"
        }
        LimitBasis::OnePull => {
            "the greatest true strain in one pull, `limit { strain }`: 5 % is common practice"
        }
        LimitBasis::Unstated => {
            "the greatest true strain in one pull, `limit { strain }`, 5 % by common practice, alone: the temper states no elongation"
        }
        LimitBasis::Uniform => "uniform elongation, by the hardening known",
        LimitBasis::Elastic => "elastic only: by the hardening known it necks as soon as it yields",
        LimitBasis::ElasticUnderCut => {
            "elastic only: the section thinned by the cut takes what is more"
        }
        LimitBasis::Notched => "the section thinned by the cut takes the strain",
        LimitBasis::NoHardening => {
            "elastic only: the cut thins the section, and the temper states no hardening"
        }
        LimitBasis::NoYield => "none: the cut thins the section, and the temper states no yield",
    }
}

/// A part as a person calls it: `band`, `shell`, `sleeve`.
#[must_use]
pub fn body(body: Body) -> &'static str {
    match body {
        Body::Solid => "band",
        Body::Shell => "shell",
        Body::Sleeve => "sleeve",
    }
}

/// What a temper does not state, behind `states no`: `yield and no modulus`; empty where it states both.
#[must_use]
pub fn unstated(unstated: Unstated) -> &'static str {
    match (unstated.yield_stress, unstated.modulus) {
        (true, true) => "yield and no modulus",
        (true, false) => "yield",
        (false, true) => "modulus",
        (false, false) => "",
    }
}

/// A part stretched past what it bears; `otherwise`: what to do where no number of pulls will do.
pub(super) fn stretch_limit(
    band: &Band,
    (part, strain, allowed): (Body, f64, &Allowed),
    pulls: Option<u32>,
    otherwise: &str,
    fits: Option<(FieldId, f64)>,
) -> (String, String) {
    let message = format!(
        "the {} of `{}` is stretched by {} %, past the {} % that it bears in one pull",
        body(part),
        band.name,
        percent(strain),
        percent(allowed.strain)
    );
    let first = pulls.map_or(otherwise.to_owned(), |pulls| {
        format!(
            "anneal first, stretch in {pulls} equal pulls, anneal between; annealed metal stays soft"
        )
    });
    let help = match fits {
        Some((field, value)) => {
            format!(
                "{first}; or {}, which one pull just bears",
                set(field, value)
            )
        }
        None => first,
    };
    (message, help)
}

/// A ring that can be forced off; `what`: how it is caught.
pub(super) fn no_turning_window(band: &Band, what: &str, overlap: f64, hold: f64) -> String {
    let [overlap, hold] = apart([overlap, hold]);
    format!(
        "`{}` {what} by only \u{D8} {overlap} mm; \u{D8} {hold} mm is needed",
        band.name
    )
}

/// A shortfall of a band in sentences.
pub(super) fn told(band: &Band, shortfall: &JoinShortfall) -> Spoken {
    let weight = match shortfall {
        JoinShortfall::StartAboveSize { .. } | JoinShortfall::NeverEnters { .. } => Weight::Wrong,
        JoinShortfall::StartUnused | JoinShortfall::KeyUnused => Weight::Note,
        _ => Weight::Short,
    };
    let (message, label, help) = sentences(band, shortfall);
    let mut labels = vec![(band.place(shortfall.field()), label)];
    if let JoinShortfall::StartAboveSize { .. } = shortfall {
        labels.push((band.place(FieldId::Size), "the finished size".to_owned()));
    }
    Spoken {
        code: shortfall.code(),
        weight,
        message,
        labels,
        help,
    }
}

/// Message, label and help.
fn sentences(band: &Band, shortfall: &JoinShortfall) -> (String, String, String) {
    let name = &band.name;
    match *shortfall {
        JoinShortfall::StartAboveSize { start, size, fits } => {
            let [start, size] = apart([start, size]);
            (
                format!(
                    "`{name}` starts at \u{D8} {start} mm, above its finished size of \u{D8} {size} mm"
                ),
                "the start".to_owned(),
                format!(
                    "a stretch only opens; {} would be no stretch at all",
                    set(FieldId::Start, fits)
                ),
            )
        }
        JoinShortfall::NeverEnters {
            lips,
            entry,
            field,
            fits,
        } => (
            format!(
                "the sleeve of `{name}` cannot be turned small enough to pass the {} with \u{D8} {} mm to spare",
                if lips { "lips" } else { "feet" },
                places(entry)
            ),
            "no sleeve is left to stretch".to_owned(),
            match fits {
                Some(value) => format!("{} would just let it pass", set(field, value)),
                None => "a lower ridge or less clearance would let it pass".to_owned(),
            },
        ),
        JoinShortfall::StretchLimit {
            part,
            strain,
            ref allowed,
            pulls,
            fits,
            ..
        } => {
            // A shell is opened when it is closed already: it cannot be annealed.
            let pulls = pulls.filter(|_| part != Body::Shell);
            let otherwise = "make the part to size, so that it need not stretch";
            let (message, help) =
                stretch_limit(band, (part, strain, allowed), pulls, otherwise, fits);
            // A shell that is closed is opened less, or made otherwise.
            let help = match (part, fits) {
                (Body::Shell, Some((field, value))) => format!("{} would just pass", set(field, value)),
                (Body::Shell, None) => NO_SAFE_OPENING.to_owned(),
                _ => help,
            };
            (message, basis(allowed.basis).to_owned(), help)
        }
        JoinShortfall::NoTurningWindow {
            turning,
            overlap,
            hold,
            keeps,
            raised,
            ..
        } => {
            let (what, label) = if turning {
                let low = places((hold - overlap) / 2.0);
                (
                    "is built to turn, but its catch overlaps",
                    format!("{low} mm too low, radial"),
                )
            } else {
                (
                    "has no turning window: seated, its catch overlaps",
                    "more than the catch is high".to_owned(),
                )
            };
            (
                no_turning_window(band, what, overlap, hold),
                label,
                caught(keeps, raised),
            )
        }
        JoinShortfall::CatchUnknown { overlap, shell } => (
            format!(
                "whether the catch of `{name}` overlaps by enough is not judged: {}",
                unknown(band, shell, Unstated::default())
            ),
            format!("overlaps by \u{D8} {} mm", places(overlap)),
            "how far a thin shell springs open follows from its yield and modulus: state them, or its `hardness`, in an alloy block, or state `hold`"
                .to_owned(),
        ),
        JoinShortfall::Float {
            float,
            most,
            field,
            fits,
        } => {
            let [float, most] = apart([float, most]);
            (
                format!(
                    "the turning shell of `{name}` floats {float} mm along the finger in all; {most} mm is allowed"
                ),
                "too much axial float".to_owned(),
                match fits {
                    Some(value) => format!("{} would just pass", set(field, value)),
                    None => "two ridges, `count 2`, would keep it between the ends of the channel; or one wider ridge"
                        .to_owned(),
                },
            )
        }
        JoinShortfall::RidgeTooFarOut {
            needed,
            there,
            fits,
            ..
        } => {
            let [needed, there] = apart([needed, there]);
            (
                format!(
                    "the ridges of `{name}` stand {needed} mm further out as they pass the feet, but only {there} mm is free beside them"
                ),
                "too little play".to_owned(),
                format!(
                    "{} would just let them pass",
                    set(FieldId::HollowRidgePlay, fits)
                ),
            )
        }
        JoinShortfall::NoGrip {
            grip,
            past,
            enlarger,
            window,
            known,
            fits,
            shell_yield,
        } => {
            let (label, help) = no_grip(band, window, known, fits, shell_yield);
            let does = match grip {
                Grip::Loose => "does not grip",
                _ => "may or may not grip",
            };
            (
                format!(
                    "`{name}` {does} when opened \u{D8} {} mm past touch, \u{B1} {} mm",
                    places(past),
                    places(enlarger)
                ),
                label,
                help,
            )
        }
        JoinShortfall::StrengthUnknown { shell, sleeve } => (
            format!(
                "whether `{name}` grips cannot be told: {}",
                unknown(band, shell, sleeve)
            ),
            "needs yield and modulus of both parts".to_owned(),
            "state them in an alloy block of the recipe, as in `temper hard { yield 520 MPa, modulus 90 GPa }`, or leave `past` out".to_owned(),
        ),
        JoinShortfall::ShellYields {
            past,
            enlarger,
            yields,
            fits,
        } => {
            let [opened, bears] = apart([past, yields]);
            (
                format!(
                    "the shell of `{name}` yields when opened \u{D8} {opened} mm past touch, \u{B1} {} mm: it bears only \u{D8} {bears} mm",
                    places(enlarger)
                ),
                "opening further stretches the shell and adds no grip".to_owned(),
                match fits {
                    Some(past) => format!(
                        "{} would just leave it elastic",
                        set(FieldId::HollowStagePast, past)
                    ),
                    None => NO_SAFE_OPENING.to_owned(),
                },
            )
        }
        JoinShortfall::NeverSeated => (
            format!(
                "`{name}` is never seated: its shell yields before the play is gone after release"
            ),
            "it turns or rattles, whatever it is opened to".to_owned(),
            ways_out(&seating(band)),
        ),
        JoinShortfall::StartUnused => (
            format!("`{name}` is hollow: its `start` is not used"),
            "for a solid band".to_owned(),
            "leave it out with `without start` in the hollow band; its parts are worked back from the finished ring"
                .to_owned(),
        ),
        JoinShortfall::KeyUnused => (
            format!("the `key` of the stage of `{name}` is not used: `lock` says what holds"),
            "beside a `lock`".to_owned(),
            "leave it out, or write its depth into the lock, as in `lock key { deep 0.03 mm }`"
                .to_owned(),
        ),
        JoinShortfall::KeyDepthUnknown => (
            format!("whether the key of `{name}` bites is not judged: its depth is not stated"),
            "a key without a depth".to_owned(),
            "write it into the lock, as in `lock key { deep 0.03 mm }`".to_owned(),
        ),
        JoinShortfall::KeyNotReached {
            key, reached, fits, ..
        } => (
            {
                let [key, reached] = apart([key, reached]);
                format!(
                    "the key of `{name}` does not bite: it is {key} mm deep, and the ring is opened only {reached} mm past seated, radial"
                )
            },
            "not reached".to_owned(),
            match fits {
                Some(past) => format!(
                    "{} would just reach it, if the shell bears that",
                    set(FieldId::HollowStagePast, past)
                ),
                None => "no opening that the shell bears reaches it: a harder shell, a shallower key, or another lock"
                    .to_owned(),
            },
        ),
    }
}

/// What to do where no opening passes at both ends of the enlarger's window.
const NO_SAFE_OPENING: &str = "no opening is safe over the whole \u{B1} of the enlarger: take a harder shell, a shallower cut or an enlarger that repeats better; or a `lock` by stakes or tacks, which holds without grip";

/// What would catch a ring by enough.
fn caught(keeps: Option<f64>, raised: Option<(FieldId, f64)>) -> String {
    let Some((field, height)) = raised else {
        return "give it a ridge: without one it can only be loose, seated or fixed".to_owned();
    };
    let raised = format!("{} just keeps it together", set(field, height));
    match keeps {
        Some(hold) => format!(
            "{} would be met; or {raised}",
            set(FieldId::HollowHold, hold)
        ),
        None => raised,
    }
}

/// What would help a ring that no opening makes grip.
fn no_opening(shell_yield: Option<f64>) -> String {
    match shell_yield {
        Some(flow) => format!(
            "a shell with a yield of {flow} MPa or more would grip: a harder temper for the shell, a softer one for the sleeve; or build it to turn"
        ),
        None => "a harder shell over a softer sleeve grips; or state a `lock`, or build it to turn"
            .to_owned(),
    }
}

/// What to write for a ring that is never seated.
fn ways_out(ways: &Seating<'_>) -> String {
    let tempers = [("shell", ways.shell), ("sleeve", ways.sleeve)];
    let tempers = tempers
        .into_iter()
        .filter_map(|(part, temper)| Some(format!("`temper {}` for the {part}", temper?)));
    let turns = ways.turns.map(|(play, raised)| {
        let turning = format!("`stage turning {{ play {} mm }}`", exactly(play));
        match raised {
            Some((field, height)) => format!("{turning} with {}", set(field, height)),
            None => turning,
        }
    });
    let lines: Vec<String> = tempers.chain(turns).collect();
    let lock = "`lock stake { count 3 }`, which holds by shape";
    let lines = match lines.is_empty() {
        true => format!("write {lock}"),
        false => format!("write {}; or {lock}", lines.join(", or ")),
    };
    match ways.shell_yield {
        Some(flow) => format!("{lines}; a shell that yields at {flow} MPa or more would grip"),
        None => lines,
    }
}

/// Label and help for a ring that does not grip over the enlarger's whole window.
fn no_grip(
    band: &Band,
    window: Option<(f64, f64)>,
    known: bool,
    fits: Option<f64>,
    shell_yield: Option<f64>,
) -> (String, String) {
    let Some((from, to)) = window else {
        return (
            "no opening makes it grip".to_owned(),
            no_opening(shell_yield),
        );
    };
    let [from, to] = apart([from, to]);
    let label = format!("it grips from \u{D8} {from} to {to} mm, where the shell yields");
    let help = match fits {
        None if !known => format!("to know more than \"may grip\", {}", estimated(band)),
        Some(past) => format!(
            "{} would just grip over the whole window",
            set(FieldId::HollowStagePast, past)
        ),
        None => "no opening grips over the whole window before the shell yields: a harder shell would, or an enlarger that repeats better".to_owned(),
    };
    (label, help)
}

/// What the metals are not known by.
fn estimated(band: &Band) -> String {
    let Some(hollow) = &band.hollow else {
        return String::new();
    };
    format!(
        "state yield and tensile strength, or yield and `hardening`, of `{}` {} and `{}` {}",
        hollow.sleeve.alloy.name,
        hollow.sleeve.temper,
        hollow.shell.alloy.name,
        hollow.shell.temper
    )
}

/// Which metals do not state what grip is estimated from.
fn unknown(band: &Band, shell: Unstated, sleeve: Unstated) -> String {
    let Some(hollow) = &band.hollow else {
        return String::new();
    };
    let part = |part: &str, metal: &Metal, lacks: Unstated| {
        lacks.any().then(|| {
            format!(
                "the {part}'s `{}`, {}, states no {}",
                metal.alloy.name,
                metal.temper,
                unstated(lacks)
            )
        })
    };
    let parts = [
        part("shell", &hollow.shell, shell),
        part("sleeve", &hollow.sleeve, sleeve),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.join("; ")
}
