//! What do the cuts of one span come to: volume, cover, mean depth, sections round the ring?

use super::relief::Relief;

/// What the cuts of one span come to.
#[derive(Clone, Debug, Default)]
pub struct Sums {
    /// Volume taken off, mm3.
    pub volume: f64,
    /// Share of the strip that is cut.
    pub cover: f64,
    /// Integral of the outside's radius over what is cut, angle times axis, mm2.
    outside: f64,
    /// Integral of 1 over what is cut, angle times axis, radians times mm.
    plain: f64,
    /// Area taken of the section at each radial line round the span, mm2.
    pub sections: Vec<f64>,
}

impl Sums {
    /// Sums up a span. Its lists of what lies under metal are put in order.
    #[must_use]
    pub fn of(relief: &mut Relief) -> Self {
        relief.sort_under();
        let relief = &*relief;
        let (turn, round) = (relief.turn(), relief.round());
        let width: f64 = relief.rows.iter().map(|row| row.wide).sum();
        let mut sums = Self {
            sections: vec![0.0; round],
            ..Self::default()
        };
        let mut rest = relief.under();
        for place in 0..relief.rows.len() {
            let Some((row, floors)) = relief.row(place) else {
                continue;
            };
            let (mut volume, mut cut) = (0.0, 0_u32);
            let start = (place * round) as u32;
            let square = row.outside * row.outside;
            for ((line, floor), section) in (start..).zip(floors).zip(sums.sections.iter_mut()) {
                let mut taken = square - floor * floor;
                let mut radial = row.outside - floor;
                // What lies under metal that stays, each part once.
                let mut top = f64::NEG_INFINITY;
                while let Some(((at, part), behind)) = rest.split_first() {
                    if *at != line {
                        break;
                    }
                    rest = behind;
                    let (from, to) = (part.from.max(top), part.to.min(*floor));
                    if to > from {
                        taken += to * to - from * from;
                        radial += to - from;
                        top = to;
                    }
                }
                if radial > 0.0 {
                    volume += taken;
                    cut += 1;
                    *section += radial * row.wide;
                }
            }
            sums.volume += volume / 2.0 * turn * row.wide;
            let area = f64::from(cut) * turn * row.wide;
            sums.plain += area;
            sums.outside += area * row.outside;
            sums.cover += f64::from(cut) * row.wide / (width * round as f64);
        }
        sums
    }

    /// The even depth that takes the same metal off the same cover, mm.
    ///
    /// # Formula
    /// `d` in `integral of (r d - d^2/2) = volume` over what is cut.
    #[must_use]
    pub fn mean_depth(&self) -> f64 {
        if self.plain <= 0.0 {
            return 0.0;
        }
        let root = self.outside * self.outside - 2.0 * self.plain * self.volume;
        // The lesser root, written so that small depths keep their digits.
        2.0 * self.volume / (self.outside + root.max(0.0).sqrt())
    }
}

/// Least and harmonic mean of a section round the ring, of which so much is there uncut and so much taken at each radial
/// line, mm2.
///
/// Both are 0 where a section is cut through.
#[must_use]
pub fn section(taken: &[f64], uncut: f64) -> CutSection {
    let (mut least, mut flexible) = (uncut, 0.0);
    for taken in taken {
        let left = (uncut - taken).max(0.0);
        least = least.min(left);
        flexible += 1.0 / left;
    }
    let harmonic = if taken.is_empty() {
        uncut
    } else {
        taken.len() as f64 / flexible
    };
    CutSection { least, harmonic }
}

/// Sections round a cut ring (`model.md`, 3: `A_min` and `A_eff`).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CutSection {
    /// The thinnest, mm2.
    pub least: f64,
    /// Harmonic mean, mm2.
    pub harmonic: f64,
}
