//! Sections as thin slices along the axis, for integrals that have no closed form: those with `1 / r` in them.
//!
//! Input: the [`Curves`] of a shape and which body of it. Output: slices with their heights and weights, eight to each
//! stretch between two places where a curve changes (Gauss and Legendre's rule of eight points).

use smallvec::SmallVec;

use super::cavity::Cavity;
use super::curve::{Piece, Pieces, height, heights};
use super::curves::Curves;
use super::shape::Catch;

/// A body of a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    /// The solid band of the same look.
    Solid,
    /// The shell, without its lips.
    Shell,
    /// The sleeve, without its ridges.
    Sleeve,
}

/// A slice of a section; heights over the smallest bore, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// Axial place.
    pub x: f64,
    /// What it counts for, axial.
    pub width: f64,
    /// Where the metal begins.
    pub from: f64,
    /// Where it ends; not below where it begins.
    pub to: f64,
}

impl Slice {
    /// What it counts for in the area of its body, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.width * (self.to - self.from)
    }
}

/// Slices of one body; only outlines of many runs have more than fit without the heap.
pub type Slices = SmallVec<[Slice; 256]>;

/// Places and weights of the rule on -1 to 1, half of them.
const RULE: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// The slices of a body, its outside lowered by `cut` all over; where a curve begins, ends or turns also one without
/// any width, so that no place of the body lies inside the lowest or outside the highest of them.
///
/// # Range
/// Shapes without anything impossible; a band that is not hollow has no slices of shell and sleeve.
#[must_use]
pub fn slices(curves: &Curves<'_>, body: Body, cut: f64) -> Slices {
    let mut slices = Slices::new();
    slices_into(curves, body, cut, &mut slices);
    slices
}

/// The same behind slices at hand, which are large to be moved.
pub fn slices_into(curves: &Curves<'_>, body: Body, cut: f64, slices: &mut Slices) {
    let sliced = Sliced::of(curves, body, cut);
    sliced.turns(&mut |slice| slices.push(slice));
    sliced.stretches(&mut |slice| slices.push(slice));
}

/// The area of a body, summed over its slices, mm2.
#[must_use]
pub fn area_of(curves: &Curves<'_>, body: Body) -> f64 {
    let mut sum = 0.0;
    Sliced::of(curves, body, 0.0).stretches(&mut |slice| sum += slice.area());
    sum
}

/// A body that is cut into slices.
struct Sliced<'c> {
    curves: &'c Curves<'c>,
    body: Body,
    cut: f64,
    /// The curves beyond which there is no metal, eased.
    outside: Pieces,
    inside: Pieces,
    cavity: Option<&'c Cavity>,
    /// How far out it reaches.
    half: f64,
}

impl<'c> Sliced<'c> {
    fn of(curves: &'c Curves<'c>, body: Body, cut: f64) -> Self {
        let shape = curves.shape;
        let shortened = match shape.hollow.map(|hollow| hollow.catch) {
            Some(Catch::Lip { wide, play, .. }) if body == Body::Sleeve => wide + play / 2.0,
            _ => 0.0,
        };
        Self {
            curves,
            body,
            cut,
            outside: shape.eased(&curves.outside, shape.ease_outer, -1.0),
            inside: shape.eased(&curves.inside, shape.ease_bore, 1.0),
            cavity: curves.cavity(),
            half: shape.half() - shortened,
        }
    }

    /// Every piece of a curve.
    fn pieces(&self) -> impl Iterator<Item = &Piece> {
        let roof = self.cavity.iter().flat_map(|cavity| cavity.roof.iter());
        self.outside.iter().chain(&self.inside).chain(roof)
    }

    /// The slices about a place, as far as no curve begins, ends or turns.
    fn about(&self, place: f64) -> impl Fn(f64, f64) -> Slice + use<> {
        let within = self
            .cavity
            .filter(|cavity| place > cavity.left && place < cavity.right);
        let top = || heights(&self.outside, place);
        let bore = || heights(&self.inside, place);
        // Each body has its own two heights; the sleeve's upper one does not follow a curve.
        let (lower, upper, level, over) = match (self.curves.shape.hollow, self.body) {
            (Some(hollow), Body::Shell) => {
                let roof = within.map(|cavity| heights(&cavity.roof, place));
                (roof, Some(top()), hollow.foot(), 0.0)
            }
            (Some(hollow), Body::Sleeve) => {
                let turned = hollow.relief.filter(|_| within.is_some());
                (
                    Some(bore()),
                    None,
                    hollow.sleeve,
                    turned.unwrap_or(f64::INFINITY),
                )
            }
            (None, _) | (_, Body::Solid) => (Some(bore()), Some(top()), f64::NEG_INFINITY, 0.0),
        };
        let cut = self.cut;
        move |x: f64, width: f64| {
            let from = lower.as_ref().map_or(level, |lower| lower(x));
            let (from, to) = match &upper {
                Some(upper) => (from.max(level), upper(x) - cut),
                None => (from, level.min(from + over)),
            };
            Slice {
                x,
                width,
                from,
                to: to.max(from),
            }
        }
    }

    /// Hands on a slice without any width wherever a curve begins, ends or turns.
    fn turns(&self, each: &mut impl FnMut(Slice)) {
        let turns = self
            .pieces()
            .flat_map(|piece| [piece.extreme(true).x, piece.extreme(false).x]);
        let edges = [-self.half, self.half];
        turns
            .filter(|x| x.abs() <= self.half)
            .chain(edges)
            .for_each(|x| each(self.about(x)(x, 0.0)));
    }

    /// Hands on one slice after the other between these.
    fn stretches(&self, each: &mut impl FnMut(Slice)) {
        let cavity = self.cavity;
        let (left, right) = cavity.map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right));
        let mut places: SmallVec<[f64; 64]> =
            SmallVec::from_slice(&[-self.half, self.half, left, right]);
        places.extend(self.pieces().flat_map(|piece| [piece.from.x, piece.to.x]));
        places.retain(|x| x.abs() <= self.half);
        places.sort_unstable_by(f64::total_cmp);
        for (low, high) in places.iter().zip(places.iter().skip(1)) {
            let (middle, reach) = ((low + high) / 2.0, (high - low) / 2.0);
            if reach <= 0.0 {
                continue;
            }
            let slice = self.about(middle);
            for (place, weight) in RULE {
                for x in [middle - place * reach, middle + place * reach] {
                    each(slice(x, weight * reach));
                }
            }
        }
    }
}

/// The ridges on the sleeve, each as one slice.
#[must_use]
pub fn ridges(curves: &Curves<'_>) -> SmallVec<[Slice; 2]> {
    let shape = curves.shape;
    let Some(hollow) = shape.hollow else {
        return SmallVec::new();
    };
    let Catch::Ridge { height: high, .. } = hollow.catch else {
        return SmallVec::new();
    };
    let Some(cavity) = curves.cavity() else {
        return SmallVec::new();
    };
    let slice = |(from, to): &(f64, f64)| {
        let x = (from + to) / 2.0;
        // A sleeve that is turned down stays as it is under them.
        let turned = hollow.relief.map(|wall| height(&curves.inside, x) + wall);
        Slice {
            x,
            width: to - from,
            from: turned.map_or(hollow.sleeve, |turned| turned.min(hollow.sleeve)),
            to: hollow.sleeve + high,
        }
    };
    cavity.ridges(&hollow).iter().map(slice).collect()
}

/// The area of slices, mm2.
#[must_use]
pub fn area(slices: &[Slice]) -> f64 {
    slices.iter().map(Slice::area).sum()
}
