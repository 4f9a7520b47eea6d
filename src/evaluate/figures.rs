//! The kernel: figures of a band from plain floats, nothing else.

use std::f64::consts::PI;

use crate::geometry::Section;

use super::input::Input;

/// Everything that is computed of a solid band; mm, mm2, mm3, g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Inside diameter.
    pub bore: f64,
    /// Inside circumference.
    pub circumference: f64,
    /// Largest outside diameter.
    pub outside: f64,
    /// Area of the section before cutting.
    pub area: f64,
    /// Volume before cutting.
    pub volume_uncut: f64,
    /// Volume that the pattern takes off.
    pub volume_cut: f64,
    /// Volume of the finished band.
    pub volume: f64,
    /// Weight before cutting.
    pub weight_uncut: f64,
    /// Weight that the pattern takes off.
    pub weight_cut: f64,
    /// Weight of the finished band.
    pub weight: f64,
    /// Thinnest wall that remains, under the cut where there is one.
    pub wall_least: f64,
    /// Length of the strip that is the outside unrolled.
    pub strip_length: f64,
    /// Height of the strip.
    pub strip_height: f64,
    /// Length of one repeat along the strip.
    pub pitch: Option<f64>,
    /// Density, g/cm3.
    pub density: f64,
}

/// Computes a band's figures.
///
/// # Units
/// Millimetres and grams, as [`Input`].
///
/// # Range
/// Bands that passed [`crate::geometry::check`].
///
/// # Example
/// ```
/// use annulet::evaluate::{Input, figures};
/// use annulet::geometry::Outside;
/// let input = Input {
///     bore: 16.0, width: 5.0, thickness: 2.0, comfort: 0.0, outside: Outside::Flat,
///     density: 0.01036, cut: None, repeats: None,
/// };
/// let weight = figures(&input).weight;
/// assert!((weight - 0.01036 * std::f64::consts::PI * 5.0 * 36.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn figures(input: &Input) -> Figures {
    let section = Section::new(
        input.bore / 2.0,
        input.width,
        input.thickness,
        input.comfort,
        input.outside,
    );
    let volume_uncut = section.volume();
    let volume_cut = input.cut.map_or(0.0, |cut| section.cut_volume(&cut));
    let volume = volume_uncut - volume_cut;
    let strip_length = section.strip_length();
    Figures {
        bore: input.bore,
        circumference: PI * input.bore,
        outside: input.bore + 2.0 * input.thickness,
        area: section.area(),
        volume_uncut,
        volume_cut,
        volume,
        weight_uncut: volume_uncut * input.density,
        weight_cut: volume_cut * input.density,
        weight: volume * input.density,
        wall_least: section.least_wall(input.cut.map_or(0.0, |cut| cut.depth)),
        strip_length,
        strip_height: input.width,
        pitch: input
            .repeats
            .map(|repeats| strip_length / f64::from(repeats)),
        density: input.density * 1000.0,
    }
}
