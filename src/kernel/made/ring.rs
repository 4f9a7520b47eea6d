//! The ring that parts as made come to, with the sleeve to turn where the planned one does not suit.

use crate::kernel::join::{Boundary, Carried, Joined, MachinedSleeve, Together, stretch};
use crate::kernel::section::Catch;
use crate::kernel::{Figures, Input};

use super::clashes::misfit;
use super::cut::{self, Under};
use super::measured::Measured;
use super::metal;
use super::opened::{OpenedParts, sleeve_for};
use super::parts::{TwoParts, beside};

/// What parts come to; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MadeRing {
    /// Bore of the ring when it is done.
    pub bore: f64,
    /// Largest outside of the ring when it is done.
    pub outside: f64,
    /// Stretch of the sleeve's bore until then, of one.
    pub strain: f64,
    /// Clearance on the diameter at which the parts go together.
    pub entry: f64,
    /// The sleeve is caught from here.
    pub catching: Option<Boundary>,
    /// It turns and cannot come off from here.
    pub turning: Option<Boundary>,
    /// No play is left from here.
    pub seated: Boundary,
    /// Opened past touch by what the recipe states, or by what is aimed at.
    pub fixed: Option<Boundary>,
    /// Overlap on the diameter in the finished ring.
    pub overlap: Option<f64>,
    /// Overlap on the diameter when seated.
    pub overlap_seated: Option<f64>,
    /// Width of the shell in the finished ring.
    pub width: f64,
    /// How much wider the sleeve ends than the shell, or than what the lips leave; negative: narrower.
    pub proud: f64,
    /// How far a turning ring may wander along the finger, in all; none where nothing catches it, or it does not turn.
    pub float: Option<f64>,
    /// Weight of the finished ring, g.
    pub weight: f64,
    /// What is left under the cut as ordered, and the deepest cut that leaves the least wall.
    pub under: Under,
    /// The shell's feet in the finished ring, axial, the thinner one; none for a full shell.
    pub foot: f64,
    /// The sleeve at its side faces in the finished ring, radial.
    pub sleeve_edge: f64,
    /// The sleeve where it is turned down, in the finished ring, radial, at mid width.
    pub relief: Option<f64>,
    /// The sleeve to turn for this shell, so that the ring comes to the ordered size; metal for finishing included.
    pub turn: MachinedSleeve,
    /// The sleeve as worked back does not go in, and none is measured: the one to turn takes its place.
    pub turned: bool,
}

/// The parts as they are, with the sleeve to turn where that worked back does not go in, or comes to another size,
/// and none is measured; whether it takes its place.
pub(super) fn parts_or_turned(
    input: &Input,
    joined: &Joined,
    measured: &Measured,
) -> Option<(TwoParts, bool)> {
    let planned = TwoParts::planned(input, joined);
    let parts = TwoParts::measured(input, &planned, measured);
    if measured.has_sleeve() || misfit(input, joined, &parts).is_none() {
        return Some((parts, false));
    }
    let sleeve = sleeve_for(input, joined, &parts)?;
    Some((TwoParts { sleeve, ..parts }, true))
}

/// What the measured parts of a hollow band come to; `None` where nothing is measured, or they cannot be joined.
#[must_use]
pub fn made(input: &Input, figures: &Figures, joined: &Joined) -> Option<MadeRing> {
    made_of(input, figures, joined, &input.stretch.made)
}

pub(super) fn made_of(
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    measured: &Measured,
) -> Option<MadeRing> {
    if measured.is_empty() {
        return None;
    }
    let (parts, turned) = parts_or_turned(input, joined, measured)?;
    let opened = OpenedParts::of(input, joined, parts)?;
    let (kinematics, hollow) = (input.stretch.kinematics, input.shape.hollow?);
    let (pair, done) = opened.sleeve;
    let caught = !matches!(hollow.catch, Catch::None);
    let catch = parts.catches() / 2.0;
    let together = joined.together.map(|planned| Together {
        sleeve: pair,
        shell: opened.shell.0,
        middle: done.pair.outer - done.pair.inner,
        ..planned
    });
    let boundary =
        |state: &Carried| Boundary::of(&input.stretch.sleeve, &pair, state, together.as_ref());
    let caught_at = |wanted: f64| {
        pair.until(catch, wanted / 2.0, kinematics)
            .filter(|_| caught)
            .map(|state| boundary(&state))
    };
    let passes = opened
        .shell
        .1
        .carried(&opened.shell.0, parts.passes() / 2.0);
    let sleeve_done = |radius: f64| done.carried(&pair, radius);
    let [bore, _, faces] = input.stretch.layers.before();
    let turn = sleeve_for(input, joined, &parts)?;
    // Taken off last.
    let [on_bore, on_outside, on_faces] = input.stretch.layers.on();
    let shell_width = parts.shell.width * opened.shell.1.across;
    let proud = parts.sleeve.width * done.across - shell_width + 2.0 * beside(input);
    Some(MadeRing {
        bore: 2.0 * (done.pair.inner + on_bore),
        outside: 2.0 * (opened.shell.1.pair.outer - on_outside),
        strain: stretch(done.pair.inner, pair.inner),
        entry: parts.passes() - parts.catches(),
        catching: caught_at(parts.passes()),
        turning: joined
            .hold
            .and_then(|hold| caught_at(parts.passes() + hold)),
        seated: boundary(&opened.seated),
        fixed: fixed(input, joined, &opened),
        overlap: caught.then(|| 2.0 * (sleeve_done(catch) - passes)),
        overlap_seated: caught.then(|| 2.0 * opened.seated.carried(&pair, catch) - parts.passes()),
        width: shell_width - 2.0 * on_faces,
        proud,
        float: match hollow.catch {
            Catch::Lip { play, .. } => joined.wanders().map(|_| play - proud),
            _ => float(input, joined, &opened),
        },
        weight: metal::weight(input, figures, joined, &opened),
        under: cut::under(input, joined, &opened),
        foot: foot(figures, joined, &opened, on_faces),
        sleeve_edge: sleeve_done(pair.outer) - sleeve_done(parts.sleeve.edge_bore / 2.0) - on_bore,
        relief: hollow.relief.map(|wall| {
            // What is turned down moves with the outside.
            let (ordered, back) = &joined.sleeve_back;
            let down = back.carried(ordered, input.shape.radius + wall);
            let moved = pair.outer - back.pair.outer;
            sleeve_done(down.min(back.pair.outer) + moved) - done.pair.inner - on_bore
        }),
        turn: MachinedSleeve {
            bore: turn.bore - 2.0 * bore,
            edge_bore: turn.edge_bore - 2.0 * bore,
            width: turn.width + 2.0 * faces,
            ridge_from_face: turn.ridge_from_face.map(|from| from + faces),
            ..turn
        },
        turned,
    })
}

/// How far ridges may wander between the ends of the channel: as in the ring worked back, and what the channel is
/// wider by, and the ridges closer together.
fn float(input: &Input, joined: &Joined, opened: &OpenedParts) -> Option<f64> {
    let ordered = joined.wanders()?;
    let planned = TwoParts::planned(input, joined);
    let (is, shell, sleeve) = (&opened.parts, &opened.shell.1, &opened.sleeve.1);
    // From the state in which the parts were measured to the ring done, as drawn and as made.
    let (shell_drawn, sleeve_drawn) = (joined.shell_back.1.across, joined.sleeve_back.1.across);
    let wider = is.shell.channel_width.zip(planned.shell.channel_width);
    let wider = wider.map_or(0.0, |(is, planned)| {
        is * shell.across - planned / shell_drawn
    });
    let spans = is
        .sleeve
        .ridge_from_face
        .zip(planned.sleeve.ridge_from_face);
    let further = spans.map_or(0.0, |(from, planned_from)| {
        (is.sleeve.width - 2.0 * from) * sleeve.across
            - (planned.sleeve.width - 2.0 * planned_from) / sleeve_drawn
    });
    Some(ordered + wider - further)
}

/// Opened as far past touch as the ring worked back, whose shell grows as much.
fn fixed(input: &Input, joined: &Joined, opened: &OpenedParts) -> Option<Boundary> {
    let press = joined.press.filter(|_| joined.fixed.is_some())?;
    let (pair, done) = opened.sleeve;
    let planned = joined.shell.bore / 2.0;
    let foot = opened.parts.shell.bore / 2.0;
    let released = foot + press.floor - planned;
    let state = pair.until(pair.outer, released, input.stretch.kinematics)?;
    let wall = done.pair.outer - done.pair.inner;
    Some(Boundary {
        mandrel: Some(2.0 * (foot + press.contact - planned - wall)),
        ..Boundary::of(&input.stretch.sleeve, &pair, &state, None)
    })
}

/// Axial width of the thinner foot in the finished ring; as good as any where there is no channel.
fn foot(figures: &Figures, joined: &Joined, opened: &OpenedParts, on_faces: f64) -> f64 {
    let is = &opened.parts.shell;
    let planned = joined.shell.channel_width.zip(is.channel_width);
    let Some(((planned, width), parts)) = planned.zip(figures.hollow.map(|hollow| hollow.parts))
    else {
        return f64::INFINITY;
    };
    let across = joined.shell_back.1.across;
    let ordered = parts.foot_left.min(parts.foot_right) * across;
    let ordered_width = planned + (parts.foot_left + parts.foot_right + 2.0 * on_faces) * across;
    (ordered + (is.width - ordered_width - width + planned) / 2.0) * opened.shell.1.across
}
