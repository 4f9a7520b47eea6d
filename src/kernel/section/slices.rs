//! Sections as thin slices along the axis, for integrals that have no closed form: those with `1 / r` in them.
//!
//! Input: the [`Curves`] of a shape and which body of it. Output: slices with their heights and weights, eight to each
//! stretch between two places where a curve changes (Gauss and Legendre's rule of eight points).

use smallvec::SmallVec;

use super::curve::{height, heights};
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
    each_slice(curves, body, cut, &mut |slice| slices.push(slice));
    slices
}

/// The area of a body, summed over its slices, mm2.
#[must_use]
pub fn area_of(curves: &Curves<'_>, body: Body) -> f64 {
    let mut sum = 0.0;
    each_slice(curves, body, 0.0, &mut |slice| sum += slice.area());
    sum
}

/// Hands on one slice after the other.
fn each_slice(curves: &Curves<'_>, body: Body, cut: f64, each: &mut dyn FnMut(Slice)) {
    let shape = curves.shape;
    let half = shape.half();
    let outside = shape.eased(&curves.outside, shape.ease_outer, -1.0);
    let inside = shape.eased(&curves.inside, shape.ease_bore, 1.0);
    let hollow = shape.hollow;
    let cavity = curves.cavity();
    let (left, right) = cavity.map_or((0.0, 0.0), |cavity| (cavity.left, cavity.right));
    let shortened = match hollow.map(|hollow| hollow.catch) {
        Some(Catch::Lip { wide, play, .. }) if body == Body::Sleeve => wide + play / 2.0,
        _ => 0.0,
    };
    let roof = || cavity.iter().flat_map(|cavity| cavity.roof.iter());
    let ends = outside.iter().chain(&inside).chain(roof());
    let mut places: SmallVec<[f64; 64]> =
        SmallVec::from_slice(&[-half + shortened, half - shortened, left, right]);
    places.extend(ends.flat_map(|piece| [piece.from.x, piece.to.x]));
    places.retain(|x| x.abs() <= half - shortened);
    places.sort_unstable_by(f64::total_cmp);
    // The slices about a place, as far as no curve begins, ends or turns.
    let about = |place: f64| {
        let within = cavity.filter(|_| place > left && place < right);
        let roof = within.map(|cavity| heights(&cavity.roof, place));
        let (top, bore) = (heights(&outside, place), heights(&inside, place));
        move |x: f64, width: f64| {
            let (from, to) = match (hollow, body) {
                (Some(hollow), Body::Shell) => {
                    let foot = hollow.foot();
                    let roof = roof.as_ref().map_or(foot, |roof| roof(x).max(foot));
                    (roof, top(x) - cut)
                }
                (Some(hollow), Body::Sleeve) => {
                    let bore = bore(x);
                    match hollow.relief.filter(|_| roof.is_some()) {
                        Some(wall) => (bore, hollow.sleeve.min(bore + wall)),
                        None => (bore, hollow.sleeve),
                    }
                }
                (None, _) | (_, Body::Solid) => (bore(x), top(x) - cut),
            };
            Slice {
                x,
                width,
                from,
                to: to.max(from),
            }
        }
    };
    let turns = outside
        .iter()
        .chain(&inside)
        .chain(roof())
        .flat_map(|piece| [piece.extreme(true).x, piece.extreme(false).x]);
    let edges = [-half + shortened, half - shortened];
    turns
        .filter(|x| x.abs() <= half - shortened)
        .chain(edges)
        .for_each(|x| each(about(x)(x, 0.0)));
    for (low, high) in places.iter().zip(places.iter().skip(1)) {
        let (middle, reach) = ((low + high) / 2.0, (high - low) / 2.0);
        if reach <= 0.0 {
            continue;
        }
        let slice = about(middle);
        for (place, weight) in RULE {
            for x in [middle - place * reach, middle + place * reach] {
                each(slice(x, weight * reach));
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
