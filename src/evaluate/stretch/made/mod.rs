//! Parts as they came off the machine, evaluated forward: what ring they come to, and the sleeve for this shell.
//!
//! Any measured subset will do; see [`measured`] for what is not measured.

mod blank;
mod clash;
mod cut;
mod findings;
mod measured;
mod metal;
mod ring;

use super::hollow::{Boundary, Joined, MachinedSleeve};
use super::kinematics::{Pair, State, stretch};
use crate::kernel::Figures;
use crate::kernel::Input;

use crate::kernel::section::Catch;

pub use blank::{Blank, blank};
pub(super) use blank::{contradiction as blank_contradiction, findings as blank_findings};
pub use cut::Under;
pub(super) use findings::{contradiction, findings, unused};
pub use measured::{Measured, Parts};

use measured::beside;

/// What parts come to; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Made {
    /// Bore of the ring when it is done.
    pub bore: f64,
    /// Largest outside of the ring when it is done.
    pub outside: f64,
    /// Stretch of the sleeve's bore until then, of one.
    pub strain: f64,
    /// Clearance on the diameter at which the parts go together.
    pub entry: f64,
    /// The sleeve is caught from here.
    pub loose_ends: Option<Boundary>,
    /// It turns and cannot come off from here.
    pub turning: Option<Boundary>,
    /// No play is left from here.
    pub seated: Boundary,
    /// Overlap on the diameter in the finished ring.
    pub overlap: Option<f64>,
    /// Overlap on the diameter when seated.
    pub overlap_seated: Option<f64>,
    /// Width of the shell in the finished ring.
    pub width: f64,
    /// How much wider the sleeve ends than the shell, or than what the lips leave; negative: narrower.
    pub proud: f64,
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

/// The parts, and how each is opened.
#[derive(Clone, Copy, Debug)]
struct Opened {
    parts: Parts,
    /// The sleeve's surfaces as machined; it in the ring done.
    sleeve: (Pair, State),
    /// The shell's surfaces as machined; it in the ring done.
    shell: (Pair, State),
    /// The sleeve where it is seated.
    seated: State,
    /// The sleeve as it passes the foot or the lips; none where it passes as it is.
    passing: Option<State>,
}

impl Opened {
    /// Opens parts; `None` where they are too far from any ring.
    fn of(input: &Input, joined: &Joined, parts: Parts) -> Option<Self> {
        let kinematics = input.stretch.kinematics;
        let sleeve = Pair {
            inner: parts.sleeve.bore / 2.0,
            outer: parts.sleeve.floor / 2.0,
        };
        let foot = parts.shell.bore / 2.0;
        let shell = Pair {
            inner: foot,
            outer: parts.shell.outside / 2.0,
        };
        let last = last(input, joined, &parts);
        Some(Self {
            parts,
            sleeve: (sleeve, sleeve.until(sleeve.outer, last, kinematics)?),
            shell: (
                shell,
                if last > foot {
                    shell.until(foot, last, kinematics)?
                } else {
                    shell.stretched(1.0, kinematics)
                },
            ),
            seated: sleeve.until(sleeve.outer, foot, kinematics)?,
            passing: sleeve
                .until(parts.catches() / 2.0, parts.passes() / 2.0, kinematics)
                .filter(|state| state.lambda > 1.0),
        })
    }
}

/// Radius that the sleeve's outside comes to: the shell grows as in the ring worked back, and the running play is as
/// stated.
fn last(input: &Input, joined: &Joined, parts: &Parts) -> f64 {
    let sleeve = input.shape.hollow.map_or(0.0, |hollow| hollow.sleeve);
    parts.shell.bore / 2.0 + input.shape.radius + sleeve - joined.shell.bore / 2.0
}

/// The sleeve to turn for a shell, without metal for finishing.
fn sleeve_for(input: &Input, joined: &Joined, parts: &Parts) -> Option<MachinedSleeve> {
    let (shape, hollow) = (&input.shape, input.shape.hollow?);
    let given = &input.stretch;
    // Its outside done is where this shell's feet come to, its bore the ordered one.
    let wanted = Pair {
        inner: shape.radius,
        outer: last(input, joined, parts),
    };
    let catch = match hollow.catch {
        Catch::Ridge { height, .. } => wanted.outer + height,
        _ => wanted.outer,
    };
    let enters = (parts.passes() - given.entry) / 2.0;
    let state = if enters >= catch {
        wanted.stretched(1.0, given.kinematics)
    } else {
        wanted.until(catch, enters, given.kinematics)?
    };
    let planned = Parts::planned(input, joined);
    let (shell_across, across) = (joined.shell_back.1.across, joined.sleeve_back.1.across);
    let wider = (parts.shell.width - planned.shell.width) / shell_across;
    let width = planned.sleeve.width / across + wider;
    // Two ridges keep their distance from the ends of the channel, one stays at mid width.
    let channels = parts.shell.channel_width.zip(planned.shell.channel_width);
    let channel = match hollow.catch {
        Catch::Ridge { two: true, .. } => {
            channels.map_or(0.0, |(is, planned)| (is - planned) / shell_across)
        }
        _ => 0.0,
    };
    let from_face = planned.sleeve.ridge_from_face;
    Some(MachinedSleeve {
        bore: 2.0 * state.pair.inner,
        floor: 2.0 * state.pair.outer,
        ridge_top: planned
            .sleeve
            .ridge_top
            .map(|_| 2.0 * state.carried(&wanted, catch)),
        ridge_from_face: from_face
            .map(|from| (from / across + (wider - channel) / 2.0) * state.across),
        width: width * state.across,
        edge_bore: 2.0 * state.carried(&wanted, shape.radius + shape.comfort),
    })
}

/// The parts as they are, with the sleeve to turn where that worked back does not go in, or comes to another size,
/// and none is measured; whether it takes its place.
fn parts(input: &Input, joined: &Joined, measured: &Measured) -> Option<(Parts, bool)> {
    let planned = Parts::planned(input, joined);
    let parts = Parts::measured(input, &planned, measured);
    if measured.has_sleeve() || ring::misfit(input, joined, &parts).is_none() {
        return Some((parts, false));
    }
    let sleeve = sleeve_for(input, joined, &parts)?;
    Some((Parts { sleeve, ..parts }, true))
}

/// What the measured parts of a hollow band come to; `None` where nothing is measured, or they cannot be joined.
#[must_use]
pub fn made(input: &Input, figures: &Figures, joined: &Joined) -> Option<Made> {
    made_of(input, figures, joined, &input.stretch.made)
}

fn made_of(input: &Input, figures: &Figures, joined: &Joined, measured: &Measured) -> Option<Made> {
    if measured.is_empty() {
        return None;
    }
    let (parts, turned) = parts(input, joined, measured)?;
    let opened = Opened::of(input, joined, parts)?;
    let (kinematics, hollow) = (input.stretch.kinematics, input.shape.hollow?);
    let (pair, done) = opened.sleeve;
    let caught = !matches!(hollow.catch, Catch::None);
    let catch = parts.catches() / 2.0;
    let boundary = |state: &State| Boundary::of(input, &pair, state);
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
    let [bore, _, faces] = input.stretch.finish;
    let turn = sleeve_for(input, joined, &parts)?;
    let shell_width = parts.shell.width * opened.shell.1.across;
    Some(Made {
        bore: 2.0 * done.pair.inner,
        outside: 2.0 * opened.shell.1.pair.outer,
        strain: stretch(done.pair.inner, pair.inner),
        entry: parts.passes() - parts.catches(),
        loose_ends: caught_at(parts.passes()),
        turning: caught_at(parts.passes() + joined.hold),
        seated: boundary(&opened.seated),
        overlap: caught.then(|| 2.0 * (sleeve_done(catch) - passes)),
        overlap_seated: caught.then(|| 2.0 * opened.seated.carried(&pair, catch) - parts.passes()),
        width: shell_width,
        proud: parts.sleeve.width * done.across - shell_width + 2.0 * beside(input),
        weight: metal::weight(input, figures, joined, &opened),
        under: cut::under(input, joined, &opened),
        foot: foot(figures, joined, &opened),
        sleeve_edge: sleeve_done(pair.outer) - sleeve_done(parts.sleeve.edge_bore / 2.0),
        relief: hollow.relief.map(|wall| {
            // What is turned down moves with the outside.
            let (ordered, back) = &joined.sleeve_back;
            let down = back.carried(ordered, input.shape.radius + wall);
            let moved = pair.outer - back.pair.outer;
            sleeve_done(down.min(back.pair.outer) + moved) - done.pair.inner
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

/// Axial width of the thinner foot in the finished ring; as good as any where there is no channel.
fn foot(figures: &Figures, joined: &Joined, opened: &Opened) -> f64 {
    let is = &opened.parts.shell;
    let planned = joined.shell.channel_width.zip(is.channel_width);
    let Some(((planned, width), parts)) = planned.zip(figures.hollow.map(|hollow| hollow.parts))
    else {
        return f64::INFINITY;
    };
    let across = joined.shell_back.1.across;
    let ordered = parts.foot_left.min(parts.foot_right) * across;
    let ordered_width = planned + (parts.foot_left + parts.foot_right) * across;
    (ordered + (is.width - ordered_width - width + planned) / 2.0) * opened.shell.1.across
}
