//! A hollow band as its two parts: how they are machined, so that the finished ring is the one that is given.

use crate::kernel::section::{Catch, Curves, Hollow, Parts, Roof};
use crate::kernel::{Figures, Input};

use super::back::{Back, Finished, machined_feet};
use super::grip::Fit;
use super::kinematics::Carried;
use super::machined::{MachinedShell, MachinedSleeve};
use super::sections::{fit_of, sleeve_width};

/// A hollow band worked back to its parts.
#[derive(Clone, Copy, Debug)]
pub struct Parted {
    /// The radius that the shell's feet are machined to.
    pub(super) foot: f64,
    /// The parts then.
    pub(super) back: Back,
    /// The sleeve when no play is left.
    pub(super) seated: Carried,
}

impl Parted {
    /// That of a band; none of a solid one, where the parts cannot be worked back, and where the sleeve does not come to the
    /// feet.
    #[must_use]
    pub fn of(input: &Input, curves: &Curves<'_>) -> Option<Self> {
        let hollow = input.shape.hollow?;
        let given = &input.stretch;
        // How the parts spring matters where they are opened past touch.
        let opened = given.past.is_some() && !given.turning;
        let fit = opened.then(|| fit_of(input, curves, &hollow));
        Self::with(input, &hollow, fit.flatten().as_ref())
    }

    /// The same with the sleeve in the shell.
    pub(super) fn with(input: &Input, hollow: &Hollow, fit: Option<&Fit>) -> Option<Self> {
        let given = &input.stretch;
        let finished = Finished::of(input, hollow);
        let (foot, back) = machined_feet(&finished, given, fit)?;
        let start = back.sleeve.pair;
        let seated = start.until(start.outer, foot, given.kinematics)?;
        Some(Self { foot, back, seated })
    }

    /// The bench figures, metal for finishing included.
    pub(super) fn machined(
        &self,
        input: &Input,
        hollow: &Hollow,
        parts: &Parts,
    ) -> (MachinedShell, MachinedSleeve) {
        let back = &self.back;
        let finished = &back.done;
        let layers = &input.stretch.layers;
        let ([_, _, faces], [bore, outside, early]) = (layers.on(), layers.before());
        let shape = &input.shape;
        let sleeve_width = sleeve_width(shape.width, hollow);
        let shell_at = |radius: f64| back.shell.carried(&finished.shell, radius);
        let sleeve_at = |radius: f64| back.sleeve.carried(&finished.sleeve, radius);
        let shell = MachinedShell {
            bore: 2.0 * back.shell.pair.inner,
            lip: matches!(hollow.catch, Catch::Lip { .. }).then_some(2.0 * back.passes),
            channel: parts.roof.map(|roof| 2.0 * shell_at(shape.radius + roof)),
            channel_width: (hollow.roof != Roof::Full)
                .then_some((shape.width - parts.foot_left - parts.foot_right) * back.shell.across),
            outside: 2.0 * (back.shell.pair.outer + outside),
            width: (shape.width + 2.0 * faces) * back.shell.across + 2.0 * early,
        };
        let from_face = parts.ridges.map(|(left, right)| {
            (shape.half() - right.max(-left) + faces) * back.sleeve.across + early
        });
        let sleeve = MachinedSleeve {
            bore: 2.0 * (back.sleeve.pair.inner - bore),
            floor: 2.0 * back.sleeve.pair.outer,
            ridge_top: matches!(hollow.catch, Catch::Ridge { .. })
                .then(|| 2.0 * sleeve_at(finished.catch)),
            ridge_from_face: from_face,
            width: (sleeve_width + 2.0 * faces) * back.sleeve.across + 2.0 * early,
            edge_bore: 2.0 * (sleeve_at(finished.edge) - bore),
        };
        (shell, sleeve)
    }

    /// The bench figures of a band, metal for finishing included.
    #[must_use]
    pub fn bench(
        &self,
        input: &Input,
        figures: &Figures,
    ) -> Option<(MachinedShell, MachinedSleeve)> {
        let (hollow, figures) = (input.shape.hollow?, figures.hollow.as_ref()?);
        Some(self.machined(input, &hollow, &figures.parts))
    }
}
