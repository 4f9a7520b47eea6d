//! Stretch and join for the bench: what to machine, how to open it, whether it grips, what each allowance is.

use crate::evaluate::Evaluation;
use crate::kernel::StretchFigures;
use crate::kernel::join::{Boundary, End, Grip, Hardening, Joined, Lock, Small};
use crate::kernel::section::Catch;
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use crate::words;

use super::number::{Digits, shown};
use super::page::{Page, wrapped};
use super::stretch_curves::curves;
use super::stretch_limits::{allowances, strains, strength};
use super::stretch_made::{blank, made};
use super::stretch_steps;

/// Everything about stretch and join of a band; nothing for a solid band that is made to size.
pub(super) fn sections(page: &mut Page, evaluation: &Evaluation) {
    match evaluation.stretch() {
        StretchFigures {
            hollow: Some(joined),
            ..
        } => {
            machined_parts(page, evaluation, joined);
            curves(page, evaluation);
            enlarger(page, evaluation, joined);
            grip(page, evaluation, joined);
            made(page, evaluation);
        }
        StretchFigures {
            solid: Some(small), ..
        } if is_stretched(evaluation) => {
            machined_band(page, evaluation, small);
            curves(page, evaluation);
        }
        StretchFigures { .. } => curves(page, evaluation),
    }
    blank(page, evaluation);
    strains(page, evaluation);
    allowances(page, evaluation);
    strength(page, evaluation);
}

/// Whether a solid band is machined otherwise than it is finished.
fn is_stretched(evaluation: &Evaluation) -> bool {
    let given = &evaluation.input.stretch;
    given.start.is_some() || given.layers.any()
}

/// A width that lies between that of a held and of a free ring.
fn between(page: &mut Page, now: f64, held: f64, free: f64) -> String {
    let width = page.mm(now);
    if (held - free).abs() < 5e-4 {
        return width;
    }
    let (held, free) = (page.mm(held), page.mm(free));
    format!(
        "{width}; {held} if it is held, {free} if it is free: cut the wider and face it after the stretch"
    )
}

fn machined_band(page: &mut Page, evaluation: &Evaluation, small: &Small) {
    page.heading("to machine, before the stretch; metal for finishing included");
    for (label, id) in [
        ("bore", ResultId::MachinedBore),
        ("outside", ResultId::MachinedOutside),
    ] {
        let diameter = page.result(evaluation, id);
        page.row(label, &format!("\u{D8} {diameter}"));
    }
    let thickness = page.result(evaluation, ResultId::MachinedThickness);
    page.row("thickness", &format!("{thickness}, radial"));
    let width = between(page, small.width, small.widths.0, small.widths.1);
    page.words("width", &width);
    edges(page, evaluation);
    let given = &evaluation.input.stretch;
    if given.start.is_none() {
        return;
    }
    let strain = page.number(Number::Computed(small.strain * 100.0), "%");
    page.row("stretch", &format!("{strain} of the bore"));
    match small.mandrel {
        Some(mandrel) => {
            let mandrel = page.mm(mandrel);
            page.words(
                "mandrel",
                &if given.layers.last() {
                    format!("open to \u{D8} {mandrel} under load, the metal for finishing still in the bore")
                } else {
                    format!("open to \u{D8} {mandrel} under load; it springs back to size")
                },
            );
        }
        None => page.words("mandrel", &missing(evaluation, "the band")),
    }
    stretch_steps::solid(page, evaluation, small);
    if evaluation.band.is_cut() {
        let crown = std::f64::consts::PI
            * (2.0 * evaluation.input.shape.radius + 2.0 * evaluation.input.shape.thickness);
        let early = std::f64::consts::PI * small.crown;
        let longer = page.number(Number::Computed((crown / early - 1.0) * 100.0), "%");
        let strip = page.mm(if given.cut_before { early } else { crown });
        let text = if given.cut_before {
            format!("cut before the stretch, on a strip of {strip}, which gets {longer} longer")
        } else {
            format!("cut after the stretch, on a strip of {strip}")
        };
        page.row("pattern", &text);
    }
}

/// Broken edges are the same in every state, near enough.
fn edges(page: &mut Page, evaluation: &Evaluation) {
    let shape = &evaluation.input.shape;
    if shape.ease_outer > 0.0 || shape.ease_bore > 0.0 {
        let (outer, bore) = (page.mm(shape.ease_outer), page.mm(shape.ease_bore));
        page.row(
            "broken edges",
            &format!("{outer} outside, {bore} in the bore, both legs"),
        );
    }
}

fn machined_parts(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    page.heading("to machine: shell; metal for finishing included");
    let shape = &evaluation.input.shape;
    let of = |page: &mut Page, id: ResultId| page.result(evaluation, id);
    let feet = of(page, ResultId::MachinedShellBore);
    page.row("bore of the feet", &format!("\u{D8} {feet}"));
    if joined.shell.lip.is_some() {
        let lip = of(page, ResultId::MachinedShellLipBore);
        page.row("bore of the lips", &format!("\u{D8} {lip}"));
    }
    if joined.shell.channel.is_some() {
        let roof = of(page, ResultId::MachinedShellChannel);
        let wide = of(page, ResultId::MachinedShellChannelWidth);
        page.row(
            "channel",
            &format!("\u{D8} {roof} at mid width, {wide} wide"),
        );
    }
    let outside = of(page, ResultId::MachinedShellOutside);
    page.row("outside", &format!("\u{D8} {outside}"));
    let width = between(page, joined.shell.width, joined.held.0, joined.free.0);
    page.words("width", &width);

    page.heading("to machine: sleeve");
    let bore = of(page, ResultId::MachinedSleeveBore);
    let edge = if shape.comfort > 0.0 {
        let edge = of(page, ResultId::MachinedSleeveEdgeBore);
        format!(" at mid width, \u{D8} {edge} at the side faces")
    } else {
        String::new()
    };
    page.row("bore", &format!("\u{D8} {bore}{edge}"));
    let floor = of(page, ResultId::MachinedSleeveFloor);
    page.row("outside", &format!("\u{D8} {floor}"));
    if joined.sleeve.ridge_top.is_some() {
        let top = of(page, ResultId::MachinedSleeveRidgeTop);
        let from = match joined.sleeve.ridge_from_face {
            Some(_) => format!(
                ", {} from the face",
                of(page, ResultId::MachinedSleeveRidgeFromFace)
            ),
            None => String::new(),
        };
        page.row("ridge", &format!("\u{D8} {top}{from}"));
    }
    let width = between(page, joined.sleeve.width, joined.held.1, joined.free.1);
    page.words("width", &width);
    page.words(
        "",
        "leave the sleeve wide, and face both flush after joining",
    );
    edges(page, evaluation);
    let entry = page.mm(evaluation.input.stretch.entry);
    page.row(
        "entry",
        &format!("the parts go together with \u{D8} {entry} to spare"),
    );
}

/// One step of the list for the enlarger.
fn step(
    page: &mut Page,
    evaluation: &Evaluation,
    joined: &Joined,
    name: &str,
    at: &Boundary,
    feel: &str,
) {
    let opened = at.bore - joined.start;
    let steps = std::f64::consts::PI * opened / evaluation.input.stretch.step;
    let number =
        |value: f64, places: u32| shown(Number::Computed(value), places, Digits::Useful).text;
    // What is missing is named under the table.
    let mandrel = at
        .mandrel
        .map_or_else(|| "not known".to_owned(), |mandrel| number(mandrel, 3));
    page.rounded = true;
    page.line(&format!(
        "    {name:<16}{mandrel:>9}{:>11}{:>10}{:>8}{:>8}",
        number(at.bore, 3),
        number(opened, 3),
        number(at.strain * 100.0, 2),
        number(steps, 2),
    ));
    for line in wrapped(feel, 70) {
        page.line(&format!("        {line}"));
    }
}

fn enlarger(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    let given = &evaluation.input.stretch;
    page.heading("at the enlarger: \u{D8} in mm, stretch from the sleeve as machined");
    page.line("    from here on      mandrel   released    opened       %   sizes");
    let lips = matches!(
        evaluation.input.shape.hollow.map(|hollow| hollow.catch),
        Some(Catch::Lip { .. })
    );
    let (what, through) = if lips {
        ("sleeve", "lips")
    } else {
        ("ridge", "foot")
    };
    if let Some(at) = &joined.loose_ends {
        step(
            page,
            evaluation,
            joined,
            "catching",
            at,
            &format!(
                "until here the shell slides on and off; now the {what} catches the {through}: it may still be forced off, so it is no product yet"
            ),
        );
    }
    let no_window = joined.window.is_some_and(|window| window <= 0.0);
    if let Some(at) = joined.turning.as_ref().filter(|_| !no_window) {
        step(
            page,
            evaluation,
            joined,
            "turning",
            at,
            "the shell turns freely and does not come off by hand; confirm by a pull test",
        );
    }
    if given.turning {
        step(
            page,
            evaluation,
            joined,
            "finished",
            &joined.finished,
            "stop here: this is the ordered size",
        );
    }
    match &joined.seated {
        Some(at) => step(
            page,
            evaluation,
            joined,
            "seated",
            at,
            "no play left: the shell drags, then stops turning under light fingers",
        ),
        None if given.turning => {}
        None => page.words(
            "seated",
            "never: the shell yields before the play is gone after release",
        ),
    }
    if !given.turning
        && let Some(at) = &joined.fixed
    {
        let (name, feel) = match (given.past, joined.press.map(|press| press.gap())) {
            (Some(_), Some(gap)) if gap > 0.0 => {
                let gap = page.mm(gap);
                (
                    "opened",
                    format!(
                        "opened past touch as stated; the parts spring free of each other by {gap}, radial: it turns or rattles"
                    ),
                )
            }
            (past, _) => (
                if past.is_some() {
                    "fixed"
                } else {
                    "fixed, aim"
                },
                "opened past touch; let go, and twist to see whether it holds".to_owned(),
            ),
        };
        step(page, evaluation, joined, name, at, &feel);
    }
    if given.layers.last() {
        let number = |value: f64| shown(Number::Computed(value), 3, Digits::Useful).text;
        let bore = number(joined.size);
        page.line(&format!("    {:<16}{:>9}{bore:>11}", "after finishing", ""));
        for line in wrapped(
            "all metal for finishing off; until then every bore and mandrel above is with the metal still on",
            70,
        ) {
            page.line(&format!("        {line}"));
        }
    }
    if joined.finished.mandrel.is_none() {
        page.words("mandrel", &missing(evaluation, "the sleeve"));
    }
    if let Some(together) = &joined.together {
        let touch = page.mm(together.touch());
        page.words(
            "touch",
            &format!("mandrel \u{D8} {touch} under load: the sleeve reaches the feet; from there on both are opened"),
        );
    }
    if let Some(estimate) = estimate(evaluation) {
        page.words("estimate", &estimate);
    }
    stretch_steps::hollow(page, evaluation, joined);
    if joined.loose_ends.is_some() {
        let (overlap, hold) = (
            page.result(evaluation, ResultId::StretchOverlap),
            page.result(evaluation, ResultId::StretchOverlapNeeded),
        );
        match joined.hold {
            Some(_) => page.row(
                "overlap",
                &format!("\u{D8} {overlap} in the finished ring, {hold} keep it together"),
            ),
            None => page.words(
                "overlap",
                &format!("\u{D8} {overlap} in the finished ring; what keeps it together is not judged: the metal of the shell states no {} in its temper, and no hardness", words::unstated(given.shell.unstated())),
            ),
        }
        match joined.window {
            None => page.words("turning window", "not judged, as the overlap is not"),
            Some(window) if window > 0.0 => {
                let window = page.mm(window);
                page.row("turning window", &format!("{window} on the bore"));
            }
            _ => page.words("turning window",
                "none: the overlap when seated is less than what keeps it together, so this ring never turns without coming off",
            ),
        }
    }
    if given.turning {
        let play = evaluation
            .input
            .shape
            .hollow
            .map_or(0.0, |hollow| hollow.play);
        let play = page.mm(play);
        page.row("running play", &format!("\u{D8} {play}"));
        if joined.wanders().is_some() {
            let float = page.result(evaluation, ResultId::StretchFloat);
            let most = page.mm(given.most_float);
            page.row(
                "axial float",
                &format!("{float} in all, of {most} that it may"),
            );
        }
    }
    if let Some((needed, there)) = joined.shift {
        let (needed, there) = (page.mm(needed), page.mm(there));
        page.row(
            "beside the ridge",
            &format!("{needed} axial needed while the sleeve is wide, {there} there"),
        );
    }
}

/// Which figures are estimates, in words; none where none is.
fn estimate(evaluation: &Evaluation) -> Option<String> {
    let given = &evaluation.input.stretch;
    let parts = [("sleeve", &given.sleeve), ("shell", &given.shell)];
    let by_hardness: Vec<&str> = parts
        .iter()
        .filter(|(_, strength)| strength.is_estimated())
        .map(|(part, _)| *part)
        .collect();
    (!by_hardness.is_empty()).then(|| {
        format!(
            "the yield of the {} is taken from the hardness, 1.5 to 3.3 MPa for each HV, at the end that is worse for each verdict; state the yield to have it known",
            by_hardness.join(" and of the ")
        )
    })
}

/// What the flow stress of the sleeve follows from, in words.
fn law(joined: &Joined) -> Option<&'static str> {
    Some(match joined.together?.fit.sleeve_flow.hardening {
        Hardening::Stated => "the sleeve's hardening as stated",
        Hardening::TwoPoint => {
            "the sleeve hardens by the power law through its yield and tensile strength"
        }
        Hardening::Unknown => {
            "the sleeve hardens by an unknown amount, which only weakens the grip: state `hardening` or `tensile`"
        }
    })
}

/// What a metal does not state, in words.
fn missing(evaluation: &Evaluation, part: &str) -> String {
    let given = &evaluation.input.stretch;
    let strength = if part == "the band" {
        &given.whole
    } else {
        &given.sleeve
    };
    format!(
        "not known: the metal of {part} states no {} in its temper; state it in an alloy block",
        words::unstated(strength.unstated())
    )
}

fn grip(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
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
        page.row("verdict", verdict);
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
                        "opened past touch by \u{D8} {from} it is seated and begins to grip, by \u{D8} {to} the shell yields"
                    ),
                );
                if joined.aim.is_none() {
                    let enlarger = page.mm(given.enlarger);
                    page.words("aim", &format!("none: no safe opening, since an enlarger that repeats within \u{B1} {enlarger} cannot keep within the window, or what the shell bears; a harder shell widens it"));
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
                format!("shape, if it bites: a key of {what} {key} deep in the foot; confirm by a twist test")
            } else {
                format!("friction at best: the key of {what} {key} deep does not bite, see the findings; confirm by a twist test")
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
        None => "friction at best, which is not promised; a `lock` holds by shape. Confirm by a twist test".to_owned(),
    };
    page.words("held by", &text);
}
