//! What the kernel needs of a band, as floats.

use super::drawn::Drawn;
use super::join::StretchInput;
use super::marks::Marks;
use super::section::Shape;

/// A band's geometry in mm and its densities in g/mm3.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The geometry.
    pub shape: Shape,
    /// Density of the band's alloy.
    pub density: f64,
    /// Density of the shell.
    pub shell_density: f64,
    /// Density of the sleeve.
    pub sleeve_density: f64,
    /// Weight of the solder in the band, in g.
    pub solder: f64,
    /// Repeats of the pattern round the band.
    pub repeats: Option<u32>,
    /// What stretch and join need beside the shape.
    pub stretch: StretchInput,
    /// Drawn cuts.
    pub drawn: Option<Drawn>,
    /// Depths of struck marks.
    pub marks: Marks,
}

impl Input {
    /// The thinnest section of the part that is cut and the harmonic mean round the ring, both over the uncut one, where
    /// drawn cuts were worked out.
    #[must_use]
    pub fn drawn_shares(&self) -> Option<(f64, f64)> {
        Some(self.drawn.as_ref()?.worked.as_ref()?.shares())
    }
}
