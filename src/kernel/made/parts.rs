//! The parts as they are: what is not measured is as worked back.

use crate::kernel::Input;
use crate::kernel::join::{Joined, MachinedShell, MachinedSleeve};
use crate::kernel::section::Catch;

use super::measured::Measured;

/// Shell and sleeve when they are opened: with metal that is taken off last; diameters and widths, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoParts {
    /// The shell.
    pub shell: MachinedShell,
    /// The sleeve.
    pub sleeve: MachinedSleeve,
}

impl TwoParts {
    /// The parts as worked back.
    #[must_use]
    pub fn planned(input: &Input, joined: &Joined) -> Self {
        let [bore, outside, faces] = input.stretch.layers.before();
        Self {
            shell: MachinedShell {
                outside: joined.shell.outside - 2.0 * outside,
                width: joined.shell.width - 2.0 * faces,
                ..joined.shell
            },
            sleeve: MachinedSleeve {
                bore: joined.start,
                edge_bore: joined.sleeve.edge_bore + 2.0 * bore,
                width: joined.sleeve.width - 2.0 * faces,
                ridge_from_face: joined.sleeve.ridge_from_face.map(|from| from - faces),
                ..joined.sleeve
            },
        }
    }

    /// The parts as measured, what is not measured from `planned`; their faces end flush where only one width is
    /// measured.
    ///
    /// Lips move with the feet, since one tool turns both; of a sleeve the first of bore, outside, ridge and bore at
    /// the faces that is measured moves the others with it.
    #[must_use]
    pub fn measured(input: &Input, planned: &Self, measured: &Measured) -> Self {
        let [bore, outside, faces] = input.stretch.layers.before();
        let mut parts = *planned;
        let (shell, sleeve) = (&mut parts.shell, &mut parts.sleeve);
        shell.bore = measured.shell_bore.unwrap_or(shell.bore);
        let deeper = shell.bore - planned.shell.bore;
        shell.lip = shell
            .lip
            .map(|lip| measured.shell_lip_bore.unwrap_or(lip + deeper));
        shell.channel = shell
            .channel
            .map(|channel| measured.shell_channel.unwrap_or(channel));
        shell.channel_width = shell
            .channel_width
            .map(|width| measured.shell_channel_width.unwrap_or(width));
        if let Some(measured) = measured.shell_outside {
            shell.outside = measured - 2.0 * outside;
        }
        let diameters = [
            (
                measured.sleeve_bore.map(|is| is + 2.0 * bore),
                Some(sleeve.bore),
            ),
            (measured.sleeve_floor, Some(sleeve.floor)),
            (measured.sleeve_ridge_top, sleeve.ridge_top),
            (
                measured.sleeve_edge_bore.map(|is| is + 2.0 * bore),
                Some(sleeve.edge_bore),
            ),
        ];
        let mut moved = diameters
            .iter()
            .filter_map(|(is, planned)| Some((*is)? - (*planned)?));
        let moved = moved.next().unwrap_or(0.0);
        let [is_bore, is_floor, is_top, is_edge] = diameters.map(|(is, _)| is);
        sleeve.bore = is_bore.unwrap_or(sleeve.bore + moved);
        sleeve.floor = is_floor.unwrap_or(sleeve.floor + moved);
        sleeve.ridge_top = sleeve.ridge_top.map(|top| is_top.unwrap_or(top + moved));
        sleeve.edge_bore = is_edge.unwrap_or(sleeve.edge_bore + moved);
        let widths = (
            measured.shell_width.map(|is| is - 2.0 * faces),
            measured.sleeve_width.map(|is| is - 2.0 * faces),
        );
        // Each narrows with its own stretch; what one is wider by in the ring, the other is too.
        let ratio = planned.sleeve.width
            / (planned.shell.width * (1.0 - 2.0 * beside(input) / input.shape.width));
        let both = |shell: f64, sleeve: f64| (shell, sleeve);
        (shell.width, sleeve.width) = match widths {
            (Some(is_shell), Some(is_sleeve)) => both(is_shell, is_sleeve),
            (Some(is), None) => both(is, sleeve.width + (is - shell.width) * ratio),
            (None, Some(is)) => both(shell.width + (is - sleeve.width) / ratio, is),
            (None, None) => both(shell.width, sleeve.width),
        };
        // Ridges stay where they are from mid width.
        let wider = (sleeve.width - planned.sleeve.width) / 2.0;
        sleeve.ridge_from_face = sleeve.ridge_from_face.map(|from| {
            let is = measured.sleeve_ridge_from_face.map(|is| is - faces);
            is.unwrap_or(from + wider)
        });
        parts
    }

    /// The bore that the sleeve must pass: that of the lips, or of the feet.
    #[must_use]
    pub fn passes(&self) -> f64 {
        self.shell.lip.unwrap_or(self.shell.bore)
    }

    /// The sleeve's largest outside: its ridges, or its outside.
    #[must_use]
    pub fn catches(&self) -> f64 {
        self.sleeve.ridge_top.unwrap_or(self.sleeve.floor)
    }
}

/// What a lip and half the play take of the finished ring's width on each side.
pub(super) fn beside(input: &Input) -> f64 {
    match input.shape.hollow.map(|hollow| hollow.catch) {
        Some(Catch::Lip { wide, play, .. }) => wide + play / 2.0,
        _ => 0.0,
    }
}
