//! Stretch and join for the bench: what to machine, how to open it, whether it grips, what each allowance is.

use crate::evaluate::Evaluation;
use crate::kernel::StretchFigures;
use crate::kernel::join::{Boundary, Grip, Joined};
use crate::kernel::section::Catch;
use crate::quantity::Number;
use crate::schema::ResultId;
use crate::words;

use super::number::{Digits, shown};
use super::page::Page;
use super::part::ReportPart;
use super::stretch_curves::curves;
use super::stretch_grip::grip;
use super::stretch_limits::{allowances, strains, strength};
use super::stretch_machined::{is_stretched, machined_band, machined_parts, missing};
use super::stretch_steps;

/// Everything about stretch and join of a band; nothing for a solid band that is made to size.
pub(super) fn sections(page: &mut Page, evaluation: &Evaluation) {
    match evaluation.stretch() {
        StretchFigures {
            hollow: Some(joined),
            ..
        } => {
            page.part(ReportPart::Machining);
            machined_parts(page, evaluation, joined);
            page.part(ReportPart::Curves);
            curves(page, evaluation);
            page.part(ReportPart::Enlarger);
            enlarger(page, evaluation, joined);
            page.part(ReportPart::Grip);
            grip(page, evaluation, joined);
        }
        StretchFigures {
            solid: Some(small), ..
        } if is_stretched(evaluation) => {
            page.part(ReportPart::Machining);
            machined_band(page, evaluation, small);
            page.part(ReportPart::Curves);
            curves(page, evaluation);
        }
        StretchFigures { .. } => {
            page.part(ReportPart::Curves);
            curves(page, evaluation);
        }
    }
    page.part(ReportPart::Stretch);
    strains(page, evaluation);
    page.part(ReportPart::Allowances);
    allowances(page, evaluation);
    page.part(ReportPart::Strength);
    strength(page, evaluation);
}

/// Cells that the list of stages takes as a table.
const STAGES: usize = 66;

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
    let steps = std::f64::consts::PI * opened / evaluation.band.inside().step();
    let number =
        |value: f64, places: u32| shown(Number::Computed(value), places, Digits::Useful).text;
    // What is missing is named under the table.
    let mandrel = at
        .mandrel
        .map_or_else(|| "not known".to_owned(), |mandrel| number(mandrel, 3));
    let figures = [
        number(at.bore, 3),
        number(opened, 3),
        number(at.strain * 100.0, 2),
        number(steps, 2),
    ];
    let [bore, opened, strain, steps] = &figures;
    if page.width >= STAGES {
        page.line(&format!(
            "    {name:<16}{mandrel:>9}{bore:>11}{opened:>10}{strain:>8}{steps:>8}"
        ));
    } else {
        page.row(
            name,
            &format!(
                "mandrel {mandrel}, released {bore}, opened {opened}, {strain} %, {steps} sizes"
            ),
        );
    }
    page.indented(8, feel);
}

fn enlarger(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    let given = &evaluation.input.stretch;
    page.heading("at the enlarger: \u{D8} in mm, stretch from the sleeve as machined");
    if page.width >= STAGES {
        page.line("    stage             mandrel   released    opened       %   sizes");
    }
    let lips = matches!(
        evaluation.input.shape.hollow.map(|hollow| hollow.catch),
        Some(Catch::Lip { .. })
    );
    let (what, through) = if lips {
        ("sleeve", "lips")
    } else {
        ("ridge", "foot")
    };
    if let Some(at) = &joined.catching {
        step(
            page,
            evaluation,
            joined,
            "catching",
            at,
            &format!(
                "until here the shell slides on and off; now the {what} catches the {through}: it can still be pulled off; do not sell at this stage"
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
                match (past, joined.grip) {
                    (Some(_), Grip::Grips) => "fixed",
                    // What may or may not grip is not called fixed.
                    (Some(_), _) => "opened",
                    (None, _) => "fixed, aim",
                },
                "opened past touch; let go, and twist to see whether it holds".to_owned(),
            ),
        };
        step(page, evaluation, joined, name, at, &feel);
    }
    if given.layers.last() {
        let number = |value: f64| shown(Number::Computed(value), 3, Digits::Useful).text;
        let bore = number(joined.size);
        if page.width >= STAGES {
            page.line(&format!("    {:<16}{:>9}{bore:>11}", "after finishing", ""));
        } else {
            page.row("after finishing", &format!("released {bore}"));
        }
        page.indented(
            8,
            "all metal for finishing off; until then every bore and mandrel above is with the metal still on",
        );
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
    if joined.catching.is_some() {
        let (overlap, hold) = (
            page.result(evaluation, ResultId::StretchOverlap),
            page.result(evaluation, ResultId::StretchOverlapNeeded),
        );
        match joined.hold {
            Some(_) => page.row(
                "overlap",
                &format!("\u{D8} {overlap} in the finished ring; needs {hold}"),
            ),
            None => page.words(
                "overlap",
                &format!("\u{D8} {overlap} in the finished ring; whether that keeps it together is not judged: the temper of the shell's metal states no {}, and no hardness", words::unstated(given.shell.unstated())),
            ),
        }
        match joined.window {
            None => page.words("turning window", "not judged, since the overlap is not"),
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
            page.row("axial float", &format!("{float} in all; {most} is allowed"));
        }
    }
    if let Some((needed, there)) = joined.shift {
        let (needed, there) = (page.mm(needed), page.mm(there));
        page.row(
            "beside the ridge",
            &format!("side clearance: needs {needed} while the sleeve is wide, has {there}"),
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
            "the yield of the {} is estimated from the hardness, 1.5 to 3.3 MPa for each HV, at whichever end is worse for each verdict; state the yield to be sure of it",
            by_hardness.join(" and of the ")
        )
    })
}
