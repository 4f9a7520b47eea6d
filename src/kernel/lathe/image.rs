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
    /// Metal for finishing on bore, outside and faces.
    left: [f64; 3],
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
        let [bore, outside, faces] = given.finish;
        let ((from, machined), left) = match (part, &stretch.hollow) {
            (Part::Band, None) => (before(input, given.kinematics)?, given.finish),
            (Part::Shell, Some(joined)) => (joined.shell_back, [0.0, outside, faces]),
            (Part::Sleeve, Some(joined)) => (joined.sleeve_back, [bore, 0.0, faces]),
            _ => return None,
        };
        Some(match state {
            LatheState::Machined => Self {
                from,
                state: machined,
                left,
            },
            LatheState::Finished => Self {
                from,
                state: from.stretched(1.0, Kinematics::Held),
                left: [0.0; 3],
            },
        })
    }

    /// A radius inside the metal, or of a surface on which nothing is left.
    pub fn radius(&self, radius: f64) -> f64 {
        self.state.carried(&self.from, radius)
    }

    /// A radius of the bore.
    pub fn bore(&self, radius: f64) -> f64 {
        self.radius(radius) - self.left[0]
    }

    /// A radius of the outside.
    pub fn outside(&self, radius: f64) -> f64 {
        self.radius(radius) + self.left[1]
    }

    /// A place along the axis.
    pub fn along(&self, x: f64) -> f64 {
        x * self.state.across
    }

    /// Metal left on each side face.
    pub fn on_faces(&self) -> f64 {
        self.left[2]
    }
}
