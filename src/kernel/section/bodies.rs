//! The bodies of a band: solid, shell, sleeve, ridges, cavity, with their volumes and walls.
//!
//! Definitions: the sleeve reaches from the inside curve to its floor, a cylinder; the shell is what lies
//! beyond the floor within the wall's distance of the outside or of a side face; the cavity is the rest.

use std::f64::consts::PI;

use crate::kernel::pattern::Least;
use crate::schema::FieldId;

use super::cavity::{Cavity, ROUNDING, Stretches, above};
use super::curve::{Integrals, Piece, Pieces, clipped, height, integrals};
use super::curves::Curves;
use super::distance::{Wall, shortest};
use super::shape::{Catch, Cut, Hollow, Outside, Shape};
use super::walls::{Underside, Walls, walls};

/// Volumes in mm3 before the pattern is cut, lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bodies {
    /// Area of the solid section, mm2.
    pub area: f64,
    /// The solid band of the same outside.
    pub solid: f64,
    /// What the pattern takes off.
    pub cut: f64,
    /// The least metal under drawn cuts, once it is sought.
    pub drawn: Option<Least>,
    /// Thinnest wall of the solid band, under a cut that may be anywhere.
    pub solid_wall: Wall,
    /// The field that makes it thick or thin.
    pub solid_field: FieldId,
    /// The two parts, when the band has two.
    pub parts: Option<Parts>,
}

/// The two parts of a hollow band, and what is between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parts {
    /// The shell.
    pub shell: f64,
    /// The sleeve, ridges included.
    pub sleeve: f64,
    /// All ridges together.
    pub ridge: f64,
    /// The enclosed empty space, ridges taken off, relief included.
    pub cavity: f64,
    /// Axial width of the left foot.
    pub foot_left: f64,
    /// Axial width of the right foot.
    pub foot_right: f64,
    /// Outer faces of the outermost ridges, axial from mid width; left, right.
    pub ridges: Option<(f64, f64)>,
    /// How far what catches may wander along the finger, in all; none where nothing catches.
    pub float: Option<f64>,
    /// Height of the roof over the smallest bore at mid width; none for a full shell.
    pub roof: Option<f64>,
    /// The walls.
    pub walls: Walls,
}

/// Computes the bodies of a shape; without `walls_wanted`, walls under a cut are not numbers.
///
/// # Formula
/// `pi * integral of (outer^2 - inner^2) dx` of each body's section (Pappus and Guldinus).
///
/// # Range
/// Shapes without anything impossible ([`super::impossible`]).
#[must_use]
pub fn bodies(curves: &Curves<'_>, walls_wanted: bool) -> Bodies {
    let shape = curves.shape;
    let (outer, inner) = sums(curves);
    let mut bodies = Bodies::NONE;
    bodies.fill(SolidVolumes::of(
        shape.radius,
        shape.cut.as_ref(),
        (outer, inner),
    ));
    match &shape.hollow {
        Some(hollow) => bodies.parts = Some(parts(curves, hollow, (outer, inner), walls_wanted)),
        None if walls_wanted => {
            let reach = shape.thickness + 1e-9;
            let wall = shortest(&lowered(curves), &curves.inside, reach).unwrap_or(Wall {
                thickness: 0.0,
                x: 0.0,
            });
            bodies.solid_field = thin_by(shape, wall);
            bodies.solid_wall = wall;
        }
        None => {}
    }
    bodies
}

impl Bodies {
    /// Those of nothing.
    pub const NONE: Self = Self {
        area: 0.0,
        solid: 0.0,
        cut: 0.0,
        drawn: None,
        solid_wall: UNSOUGHT,
        solid_field: FieldId::Thickness,
        parts: None,
    };

    /// Puts the volumes of the solid band in.
    #[inline]
    pub(in crate::kernel) fn fill(&mut self, volumes: SolidVolumes) {
        self.area = volumes.area;
        self.solid = volumes.solid;
        self.cut = volumes.cut;
    }
}

/// The solid band, and what its pattern takes off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolidVolumes {
    area: f64,
    solid: f64,
    cut: f64,
}

impl SolidVolumes {
    /// From the integrals under outside and bore.
    #[inline]
    pub(super) fn of(
        radius: f64,
        cut: Option<&Cut>,
        (outer, inner): (Integrals, Integrals),
    ) -> Self {
        Self {
            area: outer.area - inner.area,
            solid: outer.revolved(radius) - inner.revolved(radius),
            cut: cut.map_or(0.0, |cut| cut_volume(radius, cut, outer)),
        }
    }
}

/// A wall that was not asked for.
const UNSOUGHT: Wall = Wall {
    thickness: f64::NAN,
    x: f64::NAN,
};

/// Integrals under outside and bore, eased.
fn sums(curves: &Curves<'_>) -> (Integrals, Integrals) {
    let shape = curves.shape;
    let eased = |curve: &Pieces, leg: f64, sign: f64| match leg > 0.0 {
        true => integrals(&shape.eased(curve, leg, sign)),
        false => integrals(curve),
    };
    (
        eased(&curves.outside, shape.ease_outer, -1.0),
        eased(&curves.inside, shape.ease_bore, 1.0),
    )
}

/// The outside lowered by a cut that may be anywhere; what is drawn is found where it is, and judged apart.
fn lowered(curves: &Curves<'_>) -> Pieces {
    let even = curves.shape.cut.filter(|cut| !cut.drawn);
    let depth = even.map_or(0.0, |cut| cut.depth);
    let outside = curves.outside.iter();
    outside.map(|piece| piece.lifted(-depth)).collect()
}

/// The field that makes the solid band as thick as it is at its thinnest place.
fn thin_by(shape: &Shape, wall: Wall) -> FieldId {
    let at_edge = wall.x.abs() >= shape.half() - ROUNDING;
    match (&shape.outside, shape.cut.filter(|cut| !cut.drawn)) {
        (Outside::Custom(_), None) => FieldId::Profile,
        (Outside::Domed { .. } | Outside::KnifeEdge { .. }, None) if at_edge => {
            FieldId::ProfileEdge
        }
        _ => FieldId::Thickness,
    }
}

/// Volume that a pattern takes off: `cover * 2 pi * integral of (r^2 - (r - m)^2) / 2 dx` along the true
/// outside, `m` the mean depth.
fn cut_volume(radius: f64, cut: &Cut, outer: Integrals) -> f64 {
    let depth = cut.mean_depth;
    cut.cover * PI * depth * (2.0 * (radius * outer.width + outer.area) - depth * outer.width)
}

fn parts(
    curves: &Curves<'_>,
    hollow: &Hollow,
    (outer, inner): (Integrals, Integrals),
    walls_wanted: bool,
) -> Parts {
    let shape = curves.shape;
    let radius = shape.radius;
    let floor = hollow.sleeve;
    let base = hollow.foot();
    let level = |width: f64, height: f64| Integrals::level(width, height).revolved(radius);
    let cavity = curves.cavity();
    let empty = cavity.map_or(0.0, |cavity| {
        integrals(&clipped(&cavity.roof, cavity.left, cavity.right)).revolved(radius)
            - level(cavity.right - cavity.left, base)
    });
    let mut shell = outer.revolved(radius) - level(shape.width, base) - empty;
    let mut sleeve = level(shape.width, floor) - inner.revolved(radius);
    let mut space = empty;
    let mut ridge = 0.0;
    let mut ridges = None;
    if let (Catch::Ridge { height, wide, .. }, Some(cavity)) = (hollow.catch, cavity) {
        let places = cavity.ridges(hollow);
        for (from, to) in &places {
            ridge += level(to - from, floor + height) - level(to - from, floor);
        }
        debug_assert!(wide > 0.0);
        ridges = places
            .first()
            .zip(places.last())
            .map(|(first, last)| (first.0, last.1));
        // What stands within the running gap is not in the cavity.
        let within = places.iter().map(|(from, to)| {
            level(to - from, floor + height) - level(to - from, base.min(floor + height))
        });
        space -= within.sum::<f64>();
        if let Some(wall) = hollow.relief {
            let won = relieved(curves, hollow, wall, cavity, &places);
            sleeve -= won;
            space += won;
        }
    } else if let (Some(wall), Some(cavity)) = (hollow.relief, cavity) {
        let won = relieved(curves, hollow, wall, cavity, &[]);
        sleeve -= won;
        space += won;
    }
    if let Catch::Lip { height, wide, play } = hollow.catch {
        shell += 2.0 * (level(wide, base) - level(wide, floor - height));
        sleeve -= beside(curves, hollow, wide + play / 2.0);
    }
    let half = shape.half();
    Parts {
        shell,
        sleeve: sleeve + ridge,
        ridge,
        cavity: space,
        foot_left: cavity.map_or(half, |cavity| cavity.left + half),
        foot_right: cavity.map_or(half, |cavity| half - cavity.right),
        ridges,
        float: match (hollow.catch, cavity) {
            (Catch::Ridge { .. }, Some(cavity)) => cavity.float(hollow),
            (Catch::Lip { play, .. }, _) => Some(play),
            _ => None,
        },
        roof: cavity.map(|cavity| height(&cavity.roof, 0.0)),
        walls: walls(curves, hollow, || match walls_wanted {
            true => Underside::with(curves, hollow).under(&lowered(curves)),
            false => UNSOUGHT,
        }),
    }
}

/// What a sleeve between lips lacks: `off` on each side.
fn beside(curves: &Curves<'_>, hollow: &Hollow, off: f64) -> f64 {
    let shape = curves.shape;
    let half = shape.half();
    let inner = shape.eased(&curves.inside, shape.ease_bore, 1.0);
    let metal = |from: f64, to: f64| {
        let bore = integrals(&clipped(&inner, from, to)).revolved(shape.radius);
        Integrals::level(to - from, hollow.sleeve).revolved(shape.radius) - bore
    };
    metal(-half, off - half) + metal(half - off, half)
}

/// Volume won by turning the sleeve down to `wall` between the feet, but not under a ridge.
fn relieved(
    curves: &Curves<'_>,
    hollow: &Hollow,
    wall: f64,
    cavity: &Cavity,
    ridges: &[(f64, f64)],
) -> f64 {
    let shape = curves.shape;
    let turned: Pieces = curves
        .inside
        .iter()
        .map(|piece| piece.lifted(wall))
        .collect();
    let low = below(&turned, hollow.sleeve);
    let mut won = 0.0;
    let mut from = cavity.left;
    let stops = ridges.iter().copied().chain([(cavity.right, cavity.right)]);
    for (stop, next) in stops {
        for (left, right) in &low {
            let (left, right) = (left.max(from), right.min(stop));
            if right > left {
                let under = integrals(&clipped(&turned, left, right)).revolved(shape.radius);
                won += Integrals::level(right - left, hollow.sleeve).revolved(shape.radius) - under;
            }
        }
        from = next;
    }
    won
}

/// Stretches of a curve that lie below a level.
fn below(curve: &[Piece], level: f64) -> Stretches {
    let flipped: Pieces = curve.iter().map(Piece::flipped).collect();
    above(&flipped, -level)
}
