//! A curve of the finished ring as it stands on the part before the stretch, and integrals of squares along it.

use smallvec::SmallVec;

use crate::kernel::Input;
use crate::kernel::join::{Carried, Pair};
use crate::kernel::section::curve::{Pieces, height};

/// Places and weights of Gauss and Legendre's rule of eight points on -1 to 1, half of them.
const RULE: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// A curve of the finished ring as it stands on the part before the stretch.
pub(super) struct Turned<'a> {
    curve: &'a Pieces,
    radius: f64,
    back: &'a (Pair, Carried),
}

impl<'a> Turned<'a> {
    pub(super) fn new(input: &Input, curve: &'a Pieces, back: &'a (Pair, Carried)) -> Self {
        Self {
            curve,
            radius: input.shape.radius,
            back,
        }
    }

    /// Its radius at an axial place of the part; level beyond its ends.
    pub(super) fn at(&self, x: f64) -> f64 {
        let (done, state) = self.back;
        state.carried(done, self.radius + height(self.curve, x / state.across))
    }

    /// `integral of of(radius)^2 dx` between two axial places of the part.
    pub(super) fn square(&self, from: f64, to: f64, of: impl Fn(f64, f64) -> f64) -> f64 {
        let across = self.back.1.across;
        let ends = self
            .curve
            .iter()
            .flat_map(|piece| [piece.from.x * across, piece.to.x * across]);
        let mut places: SmallVec<[f64; 16]> = ends.filter(|x| *x > from && *x < to).collect();
        places.extend([from, to]);
        places.sort_unstable_by(f64::total_cmp);
        let mut sum = 0.0;
        for (low, high) in places.iter().zip(places.iter().skip(1)) {
            let (middle, reach) = ((low + high) / 2.0, (high - low) / 2.0);
            for (place, weight) in RULE {
                for x in [middle - place * reach, middle + place * reach] {
                    let radius = of(x, self.at(x));
                    sum += weight * reach * radius * radius;
                }
            }
        }
        sum
    }
}
