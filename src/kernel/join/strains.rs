//! The strains of a band's parts against what their metals bear.

use smallvec::SmallVec;

use crate::kernel::section::{Body, Curves, slices};

use super::early::as_cut;
use super::joined::Joined;
use super::limits::{Allowed, allowed};
use super::solid::Small;
use super::thinned::Thinned;
use crate::kernel::Input;

/// A part and its strain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strain {
    /// The part: a solid band, a sleeve or a shell.
    pub part: Body,
    /// Largest true strain: of its bore; of a shell under load, where the enlarger opens furthest.
    pub strain: f64,
    /// What it bears.
    pub allowed: Allowed,
}

impl Strain {
    /// Whether it stays within the limit.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.allowed.bears(self.strain)
    }
}

/// Every part that is stretched, of a solid band or of a hollow one.
#[must_use]
pub fn strains(
    input: &Input,
    solid: Option<&Small>,
    hollow: Option<&Joined>,
) -> SmallVec<[Strain; 2]> {
    let given = &input.stretch;
    let true_strain = |strain: f64| libm::log(1.0 + strain);
    let mut strains = SmallVec::new();
    if let Some(solid) = solid.filter(|_| given.start.is_some()) {
        let depth = input.shape.cut.map_or(0.0, |cut| cut.depth);
        let thin = match as_cut(input) {
            Some(cut) if depth > 0.0 => {
                let thinned = Thinned {
                    radius: input.shape.radius,
                    depth,
                    cut: Some(cut),
                    share: input.drawn_shares().map(|(least, _)| least),
                };
                thinned.left(&slices(&Curves::of(&input.shape), Body::Solid, 0.0))
            }
            _ => 1.0,
        };
        strains.push(Strain {
            part: Body::Solid,
            strain: true_strain(solid.strain),
            allowed: allowed(&given.whole, thin, &given.pull),
        });
    }
    if let Some(hollow) = hollow {
        strains.push(Strain {
            part: Body::Sleeve,
            strain: true_strain(hollow.strain),
            allowed: allowed(&given.sleeve, 1.0, &given.pull),
        });
        if hollow.shell_strain > 0.0 && given.past.is_some() {
            let thin = if given.cut_before { hollow.notch } else { 1.0 };
            strains.push(Strain {
                part: Body::Shell,
                strain: true_strain(hollow.shell_strain),
                allowed: allowed(&given.shell, thin, &given.pull),
            });
        }
    }
    strains
}
