//! Parts as they came off the machine, evaluated forward: what ring they come to, and the sleeve for this shell.
//!
//! Any measured subset will do. What is not measured is as worked back from the finished ring; of a sleeve the first
//! of bore, outside and ridge that is measured moves the others with it.

use std::f64::consts::PI;

use crate::geometry::Catch;

use super::super::figures::Figures;
use super::super::input::Input;
use super::hollow::Joined;
use super::kinematics::Pair;

/// Measured diameters and widths, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// Bore of the shell's feet.
    pub shell_bore: Option<f64>,
    /// Largest outside of the shell.
    pub shell_outside: Option<f64>,
    /// Bore of the sleeve.
    pub sleeve_bore: Option<f64>,
    /// Outside of the sleeve beside the ridges.
    pub sleeve_floor: Option<f64>,
    /// Outside of the ridges.
    pub sleeve_ridge: Option<f64>,
    /// Width of the sleeve.
    pub sleeve_width: Option<f64>,
}

impl Measured {
    /// Whether nothing is measured.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What parts come to; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Made {
    /// Bore of the ring when it is done.
    pub bore: f64,
    /// Stretch of the sleeve's bore until then, of one.
    pub strain: f64,
    /// Clearance on the diameter at which the parts go together; negative: they do not.
    pub entry: f64,
    /// Bore after release where the sleeve is caught.
    pub loose_ends: Option<f64>,
    /// Bore after release where it turns and cannot come off.
    pub turning: Option<f64>,
    /// Bore after release where no play is left.
    pub seated: f64,
    /// Weight of the finished ring, g.
    pub weight: f64,
    /// Deepest cut that leaves the least wall.
    pub deepest: f64,
    /// The sleeve to turn for this shell, so that the ring comes to the ordered size: bore, outside, ridge.
    pub turn: (f64, f64, Option<f64>),
    /// The parts as they are: foot, sleeve's bore, outside and ridge.
    pub parts: (f64, f64, f64, f64),
}

/// What the measured parts of a hollow band come to; `None` where nothing is measured, or they cannot be joined.
#[must_use]
pub fn made(input: &Input, figures: &Figures, joined: &Joined) -> Option<Made> {
    let given = &input.stretch;
    let measured = &given.made;
    let (shape, hollow) = (&input.shape, input.shape.hollow?);
    if measured.is_empty() {
        return None;
    }
    let kinematics = given.kinematics;
    let nominal = (
        joined.start,
        joined.sleeve.floor,
        joined.sleeve.ridge_top.unwrap_or(joined.sleeve.floor),
    );
    let moved = [
        measured.sleeve_bore.map(|bore| bore - nominal.0),
        measured.sleeve_floor.map(|floor| floor - nominal.1),
        measured.sleeve_ridge.map(|ridge| ridge - nominal.2),
    ];
    let moved = moved.into_iter().flatten().next().unwrap_or(0.0);
    let bore = measured.sleeve_bore.unwrap_or(nominal.0 + moved);
    let floor = measured.sleeve_floor.unwrap_or(nominal.1 + moved);
    let ridge = match joined.sleeve.ridge_top {
        Some(_) => measured.sleeve_ridge.unwrap_or(nominal.2 + moved),
        None => floor,
    };
    let foot = measured.shell_bore.unwrap_or(joined.shell.bore);
    // Lips move with the feet, since one tool turns both.
    let passes = joined
        .shell
        .lip
        .map_or(foot, |lip| lip + foot - joined.shell.bore);
    let pair = Pair {
        inner: bore / 2.0,
        outer: floor / 2.0,
    };
    let until = |radius: f64, wanted: f64| pair.until(radius / 2.0, wanted / 2.0, kinematics);
    let seated = until(floor, foot)?;
    // The shell grows as in the ring worked back, and the running play is as stated.
    let last = foot + 2.0 * (shape.radius + hollow.sleeve) - joined.shell.bore;
    let done = until(floor, last)?;
    let caught = !matches!(hollow.catch, Catch::None);
    let bore_at = |wanted: f64| {
        until(ridge, wanted)
            .filter(|_| caught)
            .map(|state| 2.0 * state.pair.inner)
    };
    let pi4 = PI / 4.0;
    let parts = figures.hollow?.parts;
    let square = |diameter: f64| diameter * diameter;
    let width = measured.sleeve_width.unwrap_or(joined.sleeve.width);
    let sleeve_more = pi4
        * (width * (square(floor) - square(bore))
            - joined.sleeve.width * (square(nominal.1) - square(nominal.0)));
    let outside_more = measured
        .shell_outside
        .map_or(0.0, |outside| outside - joined.shell.outside);
    let shell_more = pi4
        * (shape.width
            * (square(joined.shell.outside + outside_more) - square(joined.shell.outside))
            - (parts.foot_left + parts.foot_right) * (square(foot) - square(joined.shell.bore)));
    let depth = shape.cut.map_or(0.0, |cut| cut.depth);
    // The sleeve for this shell: its outside done is where this shell's feet come to, its bore the ordered one.
    let wanted = Pair {
        inner: shape.radius,
        outer: last / 2.0,
    };
    let catch = wanted.outer
        + match hollow.catch {
            Catch::Ridge { height, .. } => height,
            _ => 0.0,
        };
    let enters = passes / 2.0 - given.entry / 2.0;
    let turned = if enters >= catch {
        wanted.stretched(1.0, kinematics)
    } else {
        wanted.until(catch, enters, kinematics)?
    };
    Some(Made {
        bore: 2.0 * done.pair.inner,
        strain: done.pair.inner / pair.inner - 1.0,
        entry: passes - ridge,
        loose_ends: bore_at(passes),
        turning: bore_at(passes + joined.hold),
        seated: 2.0 * seated.pair.inner,
        weight: figures.weight
            + sleeve_more * input.sleeve_density
            + shell_more * input.shell_density,
        deepest: depth + figures.hollow?.parts.walls.under_cut.thickness - given.least_wall
            + outside_more / 2.0,
        turn: (
            2.0 * turned.pair.inner,
            2.0 * turned.pair.outer,
            joined
                .sleeve
                .ridge_top
                .map(|_| 2.0 * turned.carried(&wanted, catch)),
        ),
        parts: (foot, bore, floor, ridge),
    })
}
