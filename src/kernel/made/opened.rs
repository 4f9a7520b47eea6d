//! How parts are opened until they are a ring, and the sleeve to turn for a shell.

use crate::kernel::Input;
use crate::kernel::join::{Carried, Joined, MachinedSleeve, Pair};
use crate::kernel::section::Catch;

use super::parts::TwoParts;

/// The parts, and how each is opened.
#[derive(Clone, Copy, Debug)]
pub(super) struct OpenedParts {
    /// They.
    pub parts: TwoParts,
    /// The sleeve's surfaces as machined; it in the ring done.
    pub sleeve: (Pair, Carried),
    /// The shell's surfaces as machined; it in the ring done.
    pub shell: (Pair, Carried),
    /// The sleeve where it is seated.
    pub seated: Carried,
    /// The sleeve as it passes the foot or the lips; none where it passes as it is.
    pub passing: Option<Carried>,
}

impl OpenedParts {
    /// Opens parts; `None` where they are too far from any ring.
    pub fn of(input: &Input, joined: &Joined, parts: TwoParts) -> Option<Self> {
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
        let grown = foot + joined.shell_back.0.inner - joined.shell.bore / 2.0;
        Some(Self {
            parts,
            sleeve: (sleeve, sleeve.until(sleeve.outer, last, kinematics)?),
            shell: (
                shell,
                if grown > foot {
                    shell.until(foot, grown, kinematics)?
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
fn last(input: &Input, joined: &Joined, parts: &TwoParts) -> f64 {
    let sleeve = input.shape.hollow.map_or(0.0, |hollow| hollow.sleeve);
    parts.shell.bore / 2.0 + input.shape.radius + sleeve - joined.shell.bore / 2.0
}

/// The sleeve to turn for a shell, without what comes off before the stretch.
pub(super) fn sleeve_for(
    input: &Input,
    joined: &Joined,
    parts: &TwoParts,
) -> Option<MachinedSleeve> {
    let (shape, hollow) = (&input.shape, input.shape.hollow?);
    let given = &input.stretch;
    // Its outside done is where this shell's feet come to, its bore the ordered one.
    let wanted = Pair {
        inner: shape.radius - given.layers.on()[0],
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
    let planned = TwoParts::planned(input, joined);
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
        edge_bore: 2.0 * state.carried(&wanted, wanted.inner + shape.comfort),
    })
}
