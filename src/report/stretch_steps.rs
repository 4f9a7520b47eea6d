//! How to open a ring at the enlarger: small pulls, turned end for end, the released bore tried with pins.

use crate::evaluate::Evaluation;
use crate::kernel::join::{Joined, Small};

use super::page::Page;

/// The most that one pull opens, and one close to a stage; on the diameter, mm (common practice, no source).
const PULL: (f64, f64) = (0.10, 0.02);

/// Pins are had in steps of this, mm (common practice, no source).
const PINS: f64 = 0.01;

/// The smallest pin that does not go in before a bore is reached.
fn reached(bore: f64) -> f64 {
    libm::ceil(bore / PINS - 1e-6) * PINS
}

/// The largest pin that goes into a bore.
fn goes(bore: f64) -> f64 {
    libm::floor(bore / PINS + 1e-6) * PINS
}

/// The largest pin that goes into a ring opened to a bore, and the smallest that does not.
pub(super) fn last_pins(bore: f64) -> (String, String) {
    let goes = goes(bore);
    (format!("{goes:.2}"), format!("{:.2}", goes + PINS))
}

fn pin(diameter: f64) -> String {
    format!("\u{D8} {diameter:.2}")
}

fn pulls(page: &mut Page, opened: f64) {
    page.words("how to open", &how_to_open(opened));
}

/// In which pulls a bore is opened by so much, mm.
pub(super) fn how_to_open(opened: f64) -> String {
    let (most, near) = PULL;
    let count = libm::ceil(opened / most - 1e-6).max(1.0);
    format!(
        "in pulls of \u{D8} {most:.2} mm at most, {count} or more, and of {near:.2} mm from {most:.2} mm before a stage on. After each let go, turn the ring end for end, since the fingers of an enlarger taper and open one side more, and try the pins at mid width (common practice, no source)"
    )
}

/// For a hollow ring.
pub(super) fn hollow(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    pulls(page, joined.finished.bore - joined.start);
    page.words("pins", &pins_of_hollow(evaluation, joined));
}

/// Pins for the released bore of a hollow ring.
pub(super) fn pins_of_hollow(evaluation: &Evaluation, joined: &Joined) -> String {
    let turning_build = evaluation.input.stretch.turning;
    let no_window = joined.window.is_some_and(|window| window <= 0.0);
    let mut stages = Vec::new();
    if let Some(at) = &joined.loose_ends {
        stages.push(format!("catching when {} goes in", pin(reached(at.bore))));
    }
    if let Some(at) = joined.turning.as_ref().filter(|_| !no_window) {
        stages.push(format!("turning when {} does", pin(reached(at.bore))));
    }
    let done = joined.finished.bore;
    let (go, no_go) = (goes(done), goes(done) + PINS);
    if turning_build {
        let never = joined.seated.as_ref().map_or_else(String::new, |seated| {
            format!("; {} never, or it seats", pin(reached(seated.bore)))
        });
        stages.push(format!("done when {} does{never}", pin(go)));
    } else {
        // Where it is done when seated, that is where to stop.
        let seated = joined.seated.as_ref();
        if let Some(seated) = seated.filter(|at| (at.bore - done).abs() > PINS / 10.0) {
            let pin = pin(reached(seated.bore));
            stages.push(format!("seated about when {pin} does"));
        }
        stages.push(format!(
            "stop when {} goes in and {} does not yet",
            pin(go),
            pin(no_go)
        ));
    }
    format!(
        "for the bore after release, in whole hundredths: {}",
        stages.join(", ")
    )
}

/// For a solid band that is stretched to size.
pub(super) fn solid(page: &mut Page, evaluation: &Evaluation, small: &Small) {
    let done = 2.0 * evaluation.input.shape.radius;
    pulls(page, done - small.start);
    page.words("pins", &pins_of_solid(done));
}

/// Pins for the released bore of a solid band, mm.
pub(super) fn pins_of_solid(done: f64) -> String {
    let go = goes(done);
    format!(
        "for the bore after release, in whole hundredths: stop when {} goes in and {} does not yet",
        pin(go),
        pin(go + PINS)
    )
}
