//! Weights, volumes and dimensions of a band.

use std::f64::consts::PI;

use super::join::early;

use super::drawn_state::under_cuts;
use super::input::Input;
use super::section::{Bodies, Parts, Wall, bodies};
use super::walls::WallList;

/// Everything that is computed of a band; mm, mm2, mm3, g, g/cm3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Inside diameter.
    pub bore: f64,
    /// Inside circumference.
    pub circumference: f64,
    /// Largest outside diameter.
    pub outside: f64,
    /// Area of the solid section before cutting.
    pub area: f64,
    /// Volume of the metal before cutting.
    pub volume_uncut: f64,
    /// Volume of the metal of the finished band.
    pub volume: f64,
    /// Weight before cutting, solder included.
    pub weight_uncut: f64,
    /// Weight that the pattern takes off.
    pub weight_cut: f64,
    /// Weight of the finished band, solder included.
    pub weight: f64,
    /// Thinnest wall that remains, under the cut where there is one.
    pub wall_least: f64,
    /// Length of the strip that is the outside unrolled.
    pub strip_length: f64,
    /// Height of the strip.
    pub strip_height: f64,
    /// Length of one repeat along the strip.
    pub pitch: Option<f64>,
    /// Density of the band's alloy.
    pub density: f64,
    /// What only a hollow band has.
    pub hollow: Option<HollowFigures>,
    /// Volumes and walls as geometry gives them.
    pub bodies: Bodies,
}

/// What only a hollow band has; before cutting, save the weight of the solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HollowFigures {
    /// Volumes of the parts, and what lies between them.
    pub parts: Parts,
    /// Weight of the shell.
    pub shell_weight: f64,
    /// Weight of the sleeve, ridges included.
    pub sleeve_weight: f64,
    /// Finished weight of the solid band of the same look, in the band's alloy.
    pub solid_weight: f64,
    /// 1 - hollow / solid, both finished.
    pub saving: f64,
}

/// Computes a band's figures.
///
/// # Units
/// Millimetres and grams, as [`Input`].
///
/// # Range
/// Bands that passed [`super::check`].
///
/// # Example
/// ```
/// use annulet::kernel::section::{Outside, Shape};
/// use annulet::kernel::{Input, Marks, figures};
/// let shape = Shape {
///     radius: 8.0, width: 5.0, thickness: 2.0, comfort: 0.0, outside: Outside::Flat,
///     ease_outer: 0.0, ease_bore: 0.0, cut: None, hollow: None,
/// };
/// let density = 0.01036;
/// let input = Input { shape, density, shell_density: density, sleeve_density: density, solder: 0.0, repeats: None,
///     stretch: Default::default(), marks: Marks::default(), drawn: None };
/// let weight = figures(&input).weight;
/// assert!((weight - density * std::f64::consts::PI * 5.0 * 36.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn figures(input: &Input) -> Figures {
    let shape = &input.shape;
    let mut bodies = bodies(shape);
    let early = early(input);
    if let Some(early) = early.as_ref().filter(|_| input.drawn.is_none()) {
        bodies.cut = early.cut;
        match &mut bodies.parts {
            Some(parts) => parts.walls.under_cut = early.under,
            None => bodies.solid_wall = early.under,
        }
    }
    if let Some(drawn) = &input.drawn {
        bodies.cut = drawn
            .worked
            .as_ref()
            .map_or(0.0, |worked| worked.worked.figures.volume);
        bodies.drawn = under_cuts(input);
        if let (Some(parts), Some(under)) = (&mut bodies.parts, bodies.drawn) {
            parts.walls.under_cut = Wall {
                thickness: under.value,
                x: under.v,
            };
        }
    }
    let bore = 2.0 * shape.radius;
    let outside = bore + 2.0 * shape.thickness;
    let strip_length = PI * early.map_or(outside, |early| early.outside);
    let (volume_uncut, weight_uncut, cut_density) = match &bodies.parts {
        None => (bodies.solid, bodies.solid * input.density, input.density),
        Some(parts) => (
            parts.shell + parts.sleeve,
            parts.shell * input.shell_density + parts.sleeve * input.sleeve_density,
            input.shell_density,
        ),
    };
    let weight_uncut = weight_uncut + input.solder;
    let weight_cut = bodies.cut * cut_density;
    let weight = weight_uncut - weight_cut;
    let hollow = bodies.parts.map(|parts| {
        let solid_weight = (bodies.solid - bodies.cut) * input.density;
        HollowFigures {
            parts,
            shell_weight: parts.shell * input.shell_density,
            sleeve_weight: parts.sleeve * input.sleeve_density,
            solid_weight,
            saving: 1.0 - weight / solid_weight,
        }
    });
    Figures {
        bore,
        circumference: PI * bore,
        outside,
        area: bodies.area,
        volume_uncut,
        volume: volume_uncut - bodies.cut,
        weight_uncut,
        weight_cut,
        weight,
        wall_least: tidied(
            walls_of(input, &bodies)
                .iter()
                .map(|wall| wall.thickness)
                .fold(f64::INFINITY, f64::min),
        ),
        strip_length,
        strip_height: early.map_or(shape.width, |early| early.width),
        pitch: repeats(input).map(|repeats| strip_length / f64::from(repeats)),
        density: input.density * 1000.0,
        hollow,
        bodies,
    }
}

/// Repeats round the band: stated, or as they follow from the motif.
fn repeats(input: &Input) -> Option<u32> {
    let drawn = input.drawn.as_ref().and_then(|drawn| drawn.worked.as_ref());
    drawn.map(|worked| worked.repeats).or(input.repeats)
}

/// Every wall of the bodies, and what is left under the marks.
fn walls_of(input: &Input, bodies: &Bodies) -> WallList {
    let mut walls = bodies.walls();
    walls.extend(input.marks.walls(&input.shape, bodies));
    for wall in &mut walls {
        wall.thickness -= input.stretch.run_out;
    }
    walls
}

/// Every wall of a band, and what is left under its marks.
#[must_use]
pub fn walls(input: &Input, figures: &Figures) -> WallList {
    walls_of(input, &figures.bodies)
}

/// A length without the last bits that sums of decimals leave: rounded to 1e-12 mm.
#[must_use]
pub fn tidied(length: f64) -> f64 {
    (length * 1e12).round() / 1e12
}
