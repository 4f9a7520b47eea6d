//! How hard a sleeve holds a shell after both were opened together past seated: an estimate.
//!
//! Uniform mean stresses under load, radial stress kept, elastic (Lamé) release of the compound ring. For plain
//! rings it is 0.3 to 4 % low against an elastic-plastic finite-element model; for a shell that touches only at
//! its feet it gives sign and order of magnitude.

use super::root::root;

/// A sleeve in a shell, before both are opened; mm, MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Contact radius at rest: the shell's foot.
    pub contact: f64,
    /// Thickness of the sleeve, its section spread over its width.
    pub sleeve: f64,
    /// Radial thickness of the shell from foot to crown.
    pub shell: f64,
    /// The shell's thinnest section over that of a full one.
    pub filled: f64,
    /// The harmonic mean of the shell's section round the ring over that of a full one: its thinnest where the pattern is
    /// even.
    pub evened: f64,
    /// Width of the sleeve.
    pub width: f64,
    /// Flow stress of the sleeve at its strain.
    pub sleeve_flow: f64,
    /// Flow stress of the shell at its strain.
    pub shell_flow: f64,
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

/// A fit opened past seated and released.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Residual pressure per width of the sleeve, MPa; 0 or less: no grip.
    pub pressure: f64,
    /// Pressure in the bore under load, MPa.
    pub bore_pressure: f64,
    /// Contact radius under load, mm.
    pub contact: f64,
    /// Bore radius under load, mm.
    pub bore: f64,
    /// Contact radius after release, mm.
    pub released: f64,
}

/// Whether a ring opened past seated grips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grip {
    /// It grips over the enlarger's whole window.
    Grips,
    /// It grips in a part of the window.
    MayGrip,
    /// It does not grip.
    Loose,
    /// No opening past seated is stated.
    Seated,
    /// Yield or modulus of a part is not known.
    Unknown,
}

impl Fit {
    /// The fit opened by `past` (radial, mm) and released.
    ///
    /// # Formula
    /// `p_c = min(Y_h t_h / (r_c + t_h/4), E_h (u/r_c) (r_o^2 - r_c^2) / (r_o^2 + r_c^2 + nu (r_o^2 - r_c^2)))`;
    /// `p_b (r_b + t_s/4) = Y_s t_s + kappa p_c (r_c - t_s/4)`; `y = p_b A / (G + C)`;
    /// `p = min(kappa p_c - y, Y_s t_s / (r_c - t_s/4))`; where the section differs round the ring, the plastic branch of
    /// `kappa p_c` is that of the thinnest, the elastic one that of the harmonic mean.
    ///
    /// # Range
    /// `past` of 0 or more, a sleeve thinner than the contact radius.
    #[must_use]
    pub fn opened(&self, past: f64) -> Press {
        let contact = self.contact + past;
        let (bore, crown) = (contact - self.sleeve, contact + self.shell);
        let (contact2, bore2, crown2) = (contact * contact, bore * bore, crown * crown);
        let lame = (crown2 + contact2) / (crown2 - contact2) + self.shell_contraction;
        let elastic = self.shell_modulus * past / contact / lame;
        let plastic = self.shell_flow * self.shell / (contact + self.shell / 4.0);
        let shell_pressure = (self.evened * elastic).min(self.filled * plastic);
        let strong = self.sleeve_flow * self.sleeve;
        let inward = contact - self.sleeve / 4.0;
        let bore_pressure = (strong + shell_pressure * inward) / (bore + self.sleeve / 4.0);
        let push = 2.0 * bore2 * contact / (self.sleeve_modulus * (contact2 - bore2));
        let give = contact / self.sleeve_modulus
            * ((contact2 + bore2) / (contact2 - bore2) - self.sleeve_contraction);
        let yielding = contact / (self.evened * self.shell_modulus) * lame;
        let lost = bore_pressure * push / (give + yielding);
        let pressure = (shell_pressure - lost).min(strong / inward);
        Press {
            pressure,
            bore_pressure,
            contact,
            bore,
            released: contact - yielding * (shell_pressure - pressure),
        }
    }

    /// The radial opening past seated at which the shell yields.
    #[must_use]
    pub fn yields_at(&self) -> Option<f64> {
        // Where it is thinnest it strains more than in the mean.
        let thin = if self.evened > 0.0 {
            self.filled / self.evened
        } else {
            1.0
        };
        let over = |past: f64| {
            let contact = self.contact + past;
            let crown = contact + self.shell;
            let (contact2, crown2) = (contact * contact, crown * crown);
            let lame = (crown2 + contact2) / (crown2 - contact2) + self.shell_contraction;
            let plastic = self.shell_flow * self.shell / (contact + self.shell / 4.0);
            self.shell_modulus * past / contact / lame - plastic * thin
        };
        root(over, 0.0, self.contact)
    }

    /// The radial openings past seated between which it grips and the shell does not yield yet.
    #[must_use]
    pub fn window(&self) -> Option<(f64, f64)> {
        let to = self.yields_at()?;
        let from = root(|past| self.opened(past).pressure, 0.0, to)?;
        (self.opened(to).pressure > 0.0).then_some((from, to))
    }

    /// The least flow stress of the shell with which it would grip before it yields; `None` where none does.
    #[must_use]
    pub fn shell_flow_needed(&self) -> Option<f64> {
        let best = |flow: f64| {
            let stronger = Self {
                shell_flow: flow,
                ..*self
            };
            stronger
                .yields_at()
                .map_or(-1.0, |to| stronger.opened(to).pressure)
        };
        root(best, self.shell_flow, 20.0 * self.shell_flow)
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
