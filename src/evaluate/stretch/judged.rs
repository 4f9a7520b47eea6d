//! The strains of a band's parts against what their metals bear.

use crate::kernel::section::{Body, slices};

use super::early::as_cut;
use super::limits::{Allowed, allowed};
use super::thinned::Thinned;
use crate::kernel::Figures;
use crate::kernel::Input;

/// A part and its strain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strain {
    /// The part: `band`, `sleeve` or `shell`.
    pub part: &'static str,
    /// Largest true strain: of its bore.
    pub strain: f64,
    /// What it bears.
    pub allowed: Allowed,
}

impl Strain {
    /// Whether it stays within the limit.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.strain <= self.allowed.strain + 1e-9
    }
}

/// Every part that is stretched.
#[must_use]
pub fn strains(input: &Input, figures: &Figures) -> Vec<Strain> {
    let given = &input.stretch;
    let stretch = super::of(input, figures);
    let true_strain = |strain: f64| libm::log(1.0 + strain);
    let mut strains = Vec::new();
    if let Some(solid) = stretch.solid.as_ref().filter(|_| given.start.is_some()) {
        let depth = input.shape.cut.map_or(0.0, |cut| cut.depth);
        let thin = match as_cut(input) {
            Some(cut) if depth > 0.0 => {
                let thinned = Thinned {
                    radius: input.shape.radius,
                    depth,
                    cut: Some(cut),
                };
                thinned.left(&slices(&input.shape, Body::Solid, 0.0))
            }
            _ => 1.0,
        };
        strains.push(Strain {
            part: "band",
            strain: true_strain(solid.strain),
            allowed: allowed(&given.whole, thin),
        });
    }
    if let Some(hollow) = &stretch.hollow {
        strains.push(Strain {
            part: "sleeve",
            strain: true_strain(hollow.strain),
            allowed: allowed(&given.sleeve, 1.0),
        });
        if hollow.shell_strain > 0.0 && given.past.is_some() {
            let thin = if given.cut_before { hollow.notch } else { 1.0 };
            strains.push(Strain {
                part: "shell",
                strain: true_strain(hollow.shell_strain),
                allowed: allowed(&given.shell, thin),
            });
        }
    }
    strains
}
