//! Where lengths of a finished part lie in the state that is turned.

use crate::kernel::Input;
use crate::kernel::join::{Carried, Kinematics, Pair, before};
use crate::kernel::stretch::StretchFigures;

/// A piece of metal that is turned by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A solid band.
    Band,
    /// The outer part of a hollow band.
    Shell,
    /// Its inner part.
    Sleeve,
}

/// When a part is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LatheState {
    /// As it comes off the machine, metal for finishing included.
    Machined,
    /// In the finished ring.
    Finished,
}

/// A part of the finished ring in another state: radii and places along the axis, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Image {
    from: Pair,
    state: Carried,
    /// Metal on bore, outside and faces that takes part in the stretch and comes off last.
    on: [f64; 3],
    /// Metal on them that comes off before the stretch.
    early: [f64; 3],
}

impl Image {
    /// That of a part; `None` where the band has no such part.
    pub fn of(
        input: &Input,
        stretch: &StretchFigures,
        part: Part,
        state: LatheState,
    ) -> Option<Self> {
        let given = &input.stretch;
        // Shell and sleeve meet where nothing is left.
        let (from, machined, [bore, outside]) = match (part, &stretch.hollow) {
            (Part::Band, None) => {
                let (done, state) = before(input, given.kinematics)?;
                (done, state, [1.0, 1.0])
            }
            (Part::Shell, Some(joined)) => (joined.shell_back.0, joined.shell_back.1, [0.0, 1.0]),
            (Part::Sleeve, Some(joined)) => {
                (joined.sleeve_back.0, joined.sleeve_back.1, [1.0, 0.0])
            }
            _ => return None,
        };
        let of_part = |[a, b, c]: [f64; 3]| [a * bore, b * outside, c];
        Some(match state {
            LatheState::Machined => Self {
                from,
                state: machined,
                on: of_part(given.layers.on()),
                early: of_part(given.layers.before()),
            },
            LatheState::Finished => Self {
                from,
                state: from.stretched(1.0, Kinematics::Held),
                on: [0.0; 3],
                early: [0.0; 3],
            },
        })
    }

    /// A radius inside the metal, or of a surface on which nothing is left.
    pub fn radius(&self, radius: f64) -> f64 {
        self.state.carried(&self.from, radius)
    }

    /// A radius of the bore.
    pub fn bore(&self, radius: f64) -> f64 {
        self.radius(radius - self.on[0]) - self.early[0]
    }

    /// A radius of the outside.
    pub fn outside(&self, radius: f64) -> f64 {
        self.radius(radius + self.on[1]) + self.early[1]
    }

    /// A place along the axis.
    pub fn along(&self, x: f64) -> f64 {
        x * self.state.across
    }

    /// Metal left on each side face.
    pub fn on_faces(&self) -> f64 {
        self.on[2] * self.state.across + self.early[2]
    }
}
