//! Sections that the pattern thins, cut to its greatest depth all over: as cut, and as they are once stretched.

use crate::kernel::section::Slice;

use super::kinematics::{Carried, Pair};

/// The depth of a cut, and how the part was stretched since: its finished surfaces, and its state as cut.
#[derive(Clone, Copy, Debug)]
pub(in crate::kernel) struct Thinned {
    /// Half the finished bore, which heights are told over.
    pub radius: f64,
    /// Radial depth.
    pub depth: f64,
    /// Where it was cut before the stretch.
    pub cut: Option<(Pair, Carried)>,
    /// The thinnest section over the uncut one, where drawn cuts say it.
    pub share: Option<f64>,
}

impl Thinned {
    /// The height of a finished place of the outside once the metal over it is cut off.
    pub fn height(&self, place: f64) -> f64 {
        let Some((done, state)) = &self.cut else {
            return place - self.depth;
        };
        let forward = Carried {
            pair: *done,
            lambda: 1.0 / state.lambda,
            across: 1.0 / state.across,
        };
        let as_cut = state.carried(done, self.radius + place) - self.depth;
        forward.carried(&state.pair, as_cut) - self.radius
    }

    /// Finished slices without what the cut takes off.
    pub fn finished(&self, slices: &[Slice]) -> impl Iterator<Item = Slice> {
        slices.iter().map(|slice| Slice {
            to: self.height(slice.to).max(slice.from),
            ..*slice
        })
    }

    /// The area of finished slices without what the cut takes off.
    pub fn area(&self, slices: &[Slice]) -> f64 {
        if let Some(share) = self.share {
            let whole = slices.iter();
            return share
                * whole
                    .map(|slice| slice.width * (slice.to - slice.from))
                    .sum::<f64>();
        }
        let finished = self.finished(slices);
        finished
            .map(|slice| slice.width * (slice.to - slice.from))
            .sum()
    }

    /// The thinnest section over the uncut one, as cut: there it begins to take the strain.
    pub fn left(&self, slices: &[Slice]) -> f64 {
        if let Some(share) = self.share {
            return share;
        }
        let place = |height: f64| {
            let radius = self.radius + height;
            match &self.cut {
                Some((done, state)) => state.carried(done, radius),
                None => radius,
            }
        };
        let (mut whole, mut left) = (0.0, 0.0);
        for slice in slices {
            let thick = place(slice.to) - place(slice.from);
            whole += slice.width * thick;
            left += slice.width * (thick - self.depth).max(0.0);
        }
        if whole > 0.0 { left / whole } else { 1.0 }
    }
}
