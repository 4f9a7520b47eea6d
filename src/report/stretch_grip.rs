//! Whether a hollow ring grips, within which window, and what else holds it.

use crate::evaluate::{Evaluation, Shortfall};
use crate::kernel::join::{self, End, Grip, Hardening, Joined, Lock};
use crate::kernel::section::Body;
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use crate::words;

use super::page::Page;

/// What the flow stress of the sleeve follows from, in words.
fn law(joined: &Joined) -> Option<&'static str> {
    Some(match joined.together?.fit.sleeve_flow.hardening {
        Hardening::Stated => "the sleeve's hardening as stated",
        Hardening::TwoPoint => {
            "the sleeve's hardening by the power law through its yield and tensile strength"
        }
        Hardening::Unknown => {
            "the sleeve's hardening is not known, which only weakens the grip: state `hardening` or `tensile`"
        }
    })
}

pub(super) fn grip(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    let given = &evaluation.input.stretch;
    if given.turning {
        return;
    }
    page.heading("grip: an estimate; confirm by a twist test");
    if joined.grip == Grip::Unknown {
        let mut parts = Vec::new();
        for (part, strength) in [("shell", &given.shell), ("sleeve", &given.sleeve)] {
            if strength.unstated().any() {
                parts.push(format!(
                    "the {part}'s temper states no {}",
                    words::unstated(strength.unstated())
                ));
            }
        }
        page.words("verdict",
            &format!(
                "cannot be told: {}. The ring is reported as seated; state the figures in an alloy block to have it judged",
                parts.join("; ")
            ),
        );
    } else {
        let verdict = match joined.grip {
            Grip::Grips if overstrained(evaluation) => {
                "grips over the enlarger's whole window, at the far end of which its shell takes more than it bears: see the findings"
            }
            Grip::Grips => "grips over the enlarger's whole window",
            Grip::MayGrip if joined.together.is_some_and(|both| !both.fit.is_known()) => {
                "may grip: the metals are not known well enough to say more"
            }
            Grip::MayGrip => "may grip: not over the enlarger's whole window",
            Grip::Loose => "does not grip",
            Grip::Seated if joined.seated.is_none() => {
                "never seated: the shell yields first, so the ring is not called fixed"
            }
            Grip::Seated | Grip::Unknown => {
                "seated: no opening past touch is stated, so it is not called fixed"
            }
        };
        page.words("verdict", verdict);
        if let Some(law) = law(joined) {
            page.words("", law);
        }
        match joined.grip_window {
            Some(_) => {
                let (from, to) = (
                    page.result(evaluation, ResultId::GripFrom),
                    page.result(evaluation, ResultId::GripTo),
                );
                page.words("window",
                    &format!(
                        "grips from \u{D8} {from} past touch, where it is seated; the shell yields at {to}"
                    ),
                );
                if joined.aim.is_none() {
                    let enlarger = page.mm(given.enlarger);
                    page.words("aim", &format!("none: an enlarger that repeats within \u{B1} {enlarger} cannot keep within the window, or within what the shell bears; a harder shell widens it"));
                } else {
                    let aim = page.result(evaluation, ResultId::GripAim);
                    let enlarger = page.mm(given.enlarger);
                    let at = match joined.fixed.and_then(|fixed| fixed.mandrel) {
                        Some(mandrel) => format!(", mandrel \u{D8} {}", page.mm(mandrel)),
                        None => String::new(),
                    };
                    page.row(if given.past.is_some() { "stated" } else { "aim" }, &format!("\u{D8} {aim} past touch{at}; the enlarger repeats within \u{B1} {enlarger}"));
                }
            }
            None => {
                let needed = joined.together.and_then(|both| both.shell_yield_needed());
                let text = match needed {
                    Some(flow) => format!("none: the shell yields before it grips. It would grip with a shell that yields at {} MPa or more (now {}), or on a softer sleeve", flow.ceil(), given.shell.yields(End::Low).unwrap_or(0.0)),
                    None => "none: the shell yields before it grips, whatever its yield; a softer or thinner sleeve, or a key, is needed".to_owned(),
                };
                page.words("window", &text);
            }
        }
        if let (Some(press), Some(fit)) = (&joined.press, joined.together.map(|both| both.fit)) {
            let pressure = page.result(evaluation, ResultId::GripPressure);
            page.row(
                "pressure",
                &format!("{pressure}, spread over the sleeve's width"),
            );
            if press.pressure > 0.0 {
                let force = page.result(evaluation, ResultId::GripForce);
                page.row("hoop force", &force);
                // It touches at its feet only: an order of magnitude is all that the estimate gives.
                if fit.filled.least < 0.999 {
                    let (low, high) = (fit.torque(press) / 3.0, fit.torque(press) * 3.0);
                    let (low, high) = (
                        page.number(Number::Computed(low), ""),
                        page.number(Number::Computed(high), "Nmm"),
                    );
                    page.words("torque",
                        &format!(
                            "between {low} and {high}, by friction: the order of magnitude only, since the shell touches at its feet"
                        ),
                    );
                } else {
                    let torque = page.result(evaluation, ResultId::GripTorque);
                    page.row("torque", &format!("{torque}, by friction"));
                }
            }
        }
    }
    let count = evaluation.band.fields.count(FieldId::HollowLockCount);
    let several = |one: &str, more: &str| match count {
        Some(1) => format!("1 {one}"),
        Some(count) => format!("{count} {more}"),
        None => more.to_owned(),
    };
    let text = match given.lock {
        Some(Lock::Key(key)) => {
            let bites = key > 0.0 && joined.bites() >= key - 1e-9;
            let key = page.mm(key);
            let what = several("notch", "notches");
            if bites {
                format!(
                    "shape, if it bites: a key of {what} {key} deep in the foot; confirm by a twist test"
                )
            } else {
                format!(
                    "friction at best: the key of {what} {key} deep does not bite, see the findings; confirm by a twist test"
                )
            }
        }
        Some(Lock::Tack) => format!(
            "shape, as stated: {} in the seam, with the ring's own metal; confirm by a twist test. Welding heats a closed ring: leave a vent until then, since trapped air or liquid can burst it, and metal beside the spot is soft afterwards",
            several("spot welded", "spots welded")
        ),
        Some(Lock::Stake) => format!(
            "shape, as stated: the sleeve pricked up beside the foot{}; confirm by a twist test",
            count.map_or_else(String::new, |count| format!(" in {count} places"))
        ),
        None => {
            "friction only, not reliable; a key or tack locks it (`lock`). Confirm by a twist test"
                .to_owned()
        }
    };
    page.words("held by", &text);
}

/// Whether the shell is opened past what it bears, or past its yield.
pub(super) fn overstrained(evaluation: &Evaluation) -> bool {
    let mut short = evaluation.shortfalls.iter();
    short.any(|short| {
        matches!(
            short,
            Shortfall::Join(
                join::JoinShortfall::ShellYields { .. }
                    | join::JoinShortfall::StretchLimit {
                        part: Body::Shell,
                        ..
                    }
            )
        )
    })
}
