//! How hard a sleeve holds a shell after both were opened together past touch: an estimate.
//!
//! Uniform mean stresses under load, radial stress kept, elastic (Lamé) release of the compound ring. For plain
//! rings it is 0.3 to 4 % low against an elastic-plastic finite-element model; for a shell that touches only at
//! its feet it gives sign and order of magnitude.

use super::metal::{Flow, Hardening};

/// A sleeve in a shell while both are opened, metal for finishing that is still on included; mm, MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Thickness of the sleeve, its section spread over its width.
    pub sleeve: f64,
    /// Radial thickness of the shell from foot to crown.
    pub shell: f64,
    /// The shell's sections over `width * shell`.
    pub filled: Filled,
    /// What is left of both when all metal is taken off.
    pub finished: Finally,
    /// Width of the sleeve when all metal is taken off.
    pub width: f64,
    /// Flow stress of the sleeve.
    pub sleeve_flow: Flow,
    /// Flow stress of the shell.
    pub shell_flow: Flow,
    /// Modulus of the sleeve.
    pub sleeve_modulus: f64,
    /// Modulus of the shell.
    pub shell_modulus: f64,
    /// Poisson's ratio of the sleeve.
    pub sleeve_contraction: f64,
    /// Poisson's ratio of the shell.
    pub shell_contraction: f64,
    /// Coefficient of friction.
    pub friction: f64,
}

/// A shell's sections as parts of a full rectangle: the hoop force is the same all round, so that it yields where it
/// is thinnest, and gives way by what it is on the whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filled {
    /// The thinnest.
    pub least: f64,
    /// The harmonic mean round the ring.
    pub even: f64,
    /// What the strain at first yield is reckoned with, no less than `even`.
    pub yielding: f64,
}

/// Both parts when all metal is taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finally {
    /// Thickness of the sleeve.
    pub sleeve: f64,
    /// Thickness of the shell.
    pub shell: f64,
    /// The harmonic mean of its section, over `width * shell`.
    pub even: f64,
}

/// Both parts opened past touch and released.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Pressure that stays in the finished ring per width of the sleeve, MPa; 0 or less: no grip.
    pub pressure: f64,
    /// The same on release, before metal is taken off.
    pub on_release: f64,
    /// Pressure in the bore under load, MPa.
    pub bore_pressure: f64,
    /// Contact radius under load, mm.
    pub contact: f64,
    /// Bore radius under load, mm.
    pub bore: f64,
    /// Radius that the sleeve's floor comes to after release, mm.
    pub floor: f64,
    /// Radius that the shell's feet come to after release, mm: above the floor where they spring free of each other.
    pub foot: f64,
}

impl Press {
    /// The radial gap that is left where the parts spring free of each other.
    #[must_use]
    pub fn gap(&self) -> f64 {
        (self.foot - self.floor).max(0.0)
    }
}

/// Whether a ring opened past touch grips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grip {
    /// It grips over the enlarger's whole window.
    Grips,
    /// It grips in a part of the window, or the metals are not known well enough.
    MayGrip,
    /// It does not grip.
    Loose,
    /// No opening past touch is stated.
    Seated,
    /// Yield or modulus of a part is not known.
    Unknown,
}

/// What radii give of a compound ring: how far the contact moves for each MPa.
struct Compound {
    /// Outward, by pressure in the bore.
    push: f64,
    /// Of the sleeve, inward by pressure from outside.
    give: f64,
    /// Of the shell, outward by pressure from inside.
    yielding: f64,
    /// `(r_o^2 + r_c^2) / (r_o^2 - r_c^2) + nu` of the shell.
    lame: f64,
}

impl Fit {
    fn compound(&self, contact: f64, sleeve: f64, shell: f64, even: f64) -> Compound {
        let (bore, crown) = (contact - sleeve, contact + shell);
        let (contact2, bore2, crown2) = (contact * contact, bore * bore, crown * crown);
        let lame = (crown2 + contact2) / (crown2 - contact2) + self.shell_contraction;
        Compound {
            push: 2.0 * bore2 * contact / (self.sleeve_modulus * (contact2 - bore2)),
            give: contact / self.sleeve_modulus
                * ((contact2 + bore2) / (contact2 - bore2) - self.sleeve_contraction),
            yielding: contact / (even * self.shell_modulus) * lame,
            lame,
        }
    }

    /// Pressure of the shell under load, over the part of it that is full: elastic and plastic.
    fn branches(&self, lame: f64, contact: f64, past: f64, flow: f64) -> (f64, f64) {
        (
            self.shell_modulus * past / contact / lame,
            flow * self.shell / (contact + self.shell / 4.0),
        )
    }

    /// Feet of the radius `machined` and the sleeve in them, opened by `past` (radial, mm) and released; flow
    /// stresses after the lasting strains of sleeve and shell.
    ///
    /// # Formula
    /// `q = min(kappa_min Y_h t_h / (r_c + t_h/4), kappa_eff E_h (u/r_c) (r_o^2 - r_c^2) / (r_o^2 + r_c^2 + nu (r_o^2 - r_c^2)))`;
    /// `p_b (r_b + t_s/4) = Y_s t_s + q (r_c - t_s/4)`; `y = p_b A / (G + C)`; `p = min(q - y, Y_s t_s / (r_c - t_s/4))`;
    /// foot `r_c - C (q - max(p, 0))`; where `p <= 0` the floor `r_c - A p_b + G q`;
    /// finished `p' = p (G + C) / (G' + C')`.
    ///
    /// # Range
    /// `past` of 0 or more, a sleeve thinner than the contact radius.
    #[must_use]
    pub fn opened(&self, machined: f64, past: f64, strains: (f64, f64)) -> Press {
        let contact = machined + past;
        let flow = self.sleeve_flow.at(strains.0);
        let all = self.compound(contact, self.sleeve, self.shell, self.filled.even);
        let (elastic, plastic) =
            self.branches(all.lame, contact, past, self.shell_flow.at(strains.1));
        let shell = (self.filled.even * elastic).min(self.filled.least * plastic);
        let bore = contact - self.sleeve;
        let strong = flow * self.sleeve;
        let inward = contact - self.sleeve / 4.0;
        let bore_pressure = (strong + shell * inward) / (bore + self.sleeve / 4.0);
        let together = all.give + all.yielding;
        let left = (shell - bore_pressure * all.push / together).min(strong / inward);
        let foot = contact - all.yielding * (shell - left.max(0.0));
        let last = &self.finished;
        let thinned = self.compound(contact, last.sleeve, last.shell, last.even);
        let balanced = left * together / (thinned.give + thinned.yielding);
        Press {
            pressure: balanced.min(flow * last.sleeve / (contact - last.sleeve / 4.0)),
            on_release: left,
            bore_pressure,
            contact,
            bore,
            floor: if left > 0.0 {
                foot
            } else {
                contact - all.push * bore_pressure + all.give * shell
            },
            foot,
        }
    }

    /// By how much a shell is strained past its first yield when its feet of the radius `machined` are opened by
    /// `past`; below 0: it is elastic still.
    #[must_use]
    pub fn over_yield(&self, machined: f64, past: f64, strain: f64) -> f64 {
        let contact = machined + past;
        let all = self.compound(contact, self.sleeve, self.shell, self.filled.even);
        let (elastic, plastic) = self.branches(all.lame, contact, past, self.shell_flow.at(strain));
        self.filled.yielding * elastic - self.filled.least * plastic
    }

    /// About the opening past touch at which a shell whose feet are of the radius `machined` first yields: as if it were
    /// strained from there alone.
    #[must_use]
    pub fn yields_about(&self, machined: f64) -> f64 {
        let all = self.compound(machined, self.sleeve, self.shell, self.filled.even);
        let flow = self.shell_flow.at(0.0);
        let (elastic, plastic) = self.branches(all.lame, machined, 1.0, flow);
        self.filled.least * plastic / (self.filled.yielding * elastic)
    }

    /// The same parts with a shell of another yield.
    #[must_use]
    pub fn with_shell(&self, yields: f64) -> Self {
        Self {
            shell_flow: self.shell_flow.yielding(yields),
            ..*self
        }
    }

    /// Whether both metals are known so well that a grip can be promised within the estimate.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.sleeve_flow.hardening != Hardening::Unknown
            && !self.sleeve_flow.estimated
            && !self.shell_flow.estimated
    }

    /// Hoop force in either part, N.
    #[must_use]
    pub fn force(&self, press: &Press) -> f64 {
        press.pressure.max(0.0) * press.contact * self.width
    }

    /// Torque against turning by friction, N mm.
    #[must_use]
    pub fn torque(&self, press: &Press) -> f64 {
        2.0 * std::f64::consts::PI * self.friction * self.force(press) * press.contact
    }
}
