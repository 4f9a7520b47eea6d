//! Weights, volumes and dimensions of a band.

use std::f64::consts::PI;

use super::join::{Early, early};

use super::drawn_state::under_cuts;
use super::input::Input;
use super::section::{Bodies, Curves, Level, Parts, Wall, bodies};
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

/// Which figures are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FiguresWanted {
    /// All of them.
    All,
    /// Volumes, weights and outer dimensions: walls under the cut and the least of all are not numbers then.
    Volumes,
    /// Volumes and weights alone: outer dimensions may be those of another band.
    Weights,
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
    figures_of(input, &Curves::of(&input.shape), FiguresWanted::All)
}

/// Those of a band's figures that are wanted, from the curves of its shape; see [`figures`].
#[must_use]
pub fn figures_of(input: &Input, curves: &Curves<'_>, wanted: FiguresWanted) -> Figures {
    let walls = wanted == FiguresWanted::All;
    let mut bodies = bodies(curves, walls);
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
        bodies.drawn = walls.then(|| under_cuts(input)).flatten();
        if let (Some(parts), Some(under)) = (&mut bodies.parts, bodies.drawn) {
            parts.walls.under_cut = Wall {
                thickness: under.value,
                x: under.v,
            };
        }
    }
    let hollow = bodies.parts.map(|parts| HollowFigures {
        parts,
        shell_weight: parts.shell * input.shell_density,
        sleeve_weight: parts.sleeve * input.sleeve_density,
        solid_weight: (bodies.solid - bodies.cut) * input.density,
        saving: 0.0,
    });
    let mut figures = Figures {
        wall_least: match walls {
            true => least(&walls_of(input, &bodies)),
            false => f64::NAN,
        },
        hollow,
        bodies,
        ..Figures::NONE
    };
    figures.weigh(input);
    figures.measure(input, early.as_ref());
    if let Some(hollow) = &mut figures.hollow {
        hollow.saving = 1.0 - figures.weight / hollow.solid_weight;
    }
    figures
}

/// The solid band of level outside and bore whose volumes are all that its weights need; none where it is of another kind.
#[must_use]
pub fn level(input: &Input) -> Option<Level> {
    let before = input.stretch.cut_before && input.shape.cut.is_some();
    match before || input.drawn.is_some() {
        true => None,
        false => Level::of(&input.shape),
    }
}

impl Figures {
    /// Those of nothing.
    pub const NONE: Self = Self {
        bore: 0.0,
        circumference: 0.0,
        outside: 0.0,
        area: 0.0,
        volume_uncut: 0.0,
        volume: 0.0,
        weight_uncut: 0.0,
        weight_cut: 0.0,
        weight: 0.0,
        wall_least: f64::NAN,
        strip_length: 0.0,
        strip_height: 0.0,
        pitch: None,
        density: 0.0,
        hollow: None,
        bodies: Bodies::NONE,
    };

    /// Puts volumes and weights of a band of level outside and bore in, as [`figures_of`] does; false, with nothing put in,
    /// where it cannot be.
    #[inline]
    pub fn weigh_level(&mut self, input: &Input, level: &Level) -> bool {
        let Some(volumes) = level.volumes() else {
            return false;
        };
        self.bodies.fill(volumes);
        self.weigh(input);
        true
    }

    /// Puts outer dimensions in.
    pub fn measure_level(&mut self, input: &Input) {
        self.measure(input, None);
    }

    /// Volumes and weights from those of the bodies.
    #[inline]
    fn weigh(&mut self, input: &Input) {
        let bodies = &self.bodies;
        let (volume, weight, cut_density) = match &bodies.parts {
            None => (bodies.solid, bodies.solid * input.density, input.density),
            Some(parts) => (
                parts.shell + parts.sleeve,
                parts.shell * input.shell_density + parts.sleeve * input.sleeve_density,
                input.shell_density,
            ),
        };
        self.area = bodies.area;
        self.volume_uncut = volume;
        self.volume = volume - bodies.cut;
        self.weight_uncut = weight + input.solder;
        self.weight_cut = bodies.cut * cut_density;
        self.weight = self.weight_uncut - self.weight_cut;
        self.density = input.density * 1000.0;
    }

    /// Diameters, and the strip that the outside is unrolled, as it is cut.
    fn measure(&mut self, input: &Input, early: Option<&Early>) {
        let shape = &input.shape;
        self.bore = 2.0 * shape.radius;
        self.circumference = PI * self.bore;
        self.outside = self.bore + 2.0 * shape.thickness;
        self.strip_length = PI * early.map_or(self.outside, |early| early.outside);
        self.strip_height = early.map_or(shape.width, |early| early.width);
        let length = self.strip_length;
        self.pitch = repeats(input).map(|repeats| length / f64::from(repeats));
    }
}

fn least(walls: &WallList) -> f64 {
    let thick = walls.iter().map(|wall| wall.thickness);
    tidied(thick.fold(f64::INFINITY, f64::min))
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
