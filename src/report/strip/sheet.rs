//! What do all drawings of a pattern show?

use crate::kernel::pattern::cuts::ToolCut;
use crate::kernel::pattern::laid::{Facet, Layout};
use crate::kernel::pattern::outside::StripOutside;
use crate::kernel::pattern::relief::Relief;
use crate::kernel::pattern::stroke::StripPlace;

/// All that a drawing shows.
#[derive(Clone, Copy)]
pub struct Sheet<'a> {
    /// Name of the band.
    pub name: &'a str,
    /// The outside that is cut.
    pub outside: &'a StripOutside,
    /// Repeats round the band.
    pub repeats: u32,
    /// The cuts; none for a blank strip.
    pub cuts: &'a [ToolCut],
    /// What each cut is called, in the order of the cuts; one left out is called by its number.
    pub names: &'a [&'a str],
    /// Where the cuts lie.
    pub layout: &'a Layout,
    /// A grid on which they are cut, for shades; none for lines only.
    pub relief: Option<&'a Relief>,
}

impl Sheet<'_> {
    /// What a cut is called.
    #[must_use]
    pub fn name_of(&self, cut: usize) -> String {
        self.names
            .get(cut)
            .map_or_else(|| format!("cut {}", cut + 1), |name| (*name).to_owned())
    }

    /// Half the width of a cut at its depth, mm.
    #[must_use]
    pub fn half_width(&self, cut: usize) -> f64 {
        self.cuts.get(cut).map_or(0.0, ToolCut::half_width)
    }

    /// Length of a repeat, mm.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        self.outside.length() / f64::from(self.repeats.max(1))
    }

    /// Length of what the layout holds, and how often it goes round; a repeat where it is empty.
    #[must_use]
    pub fn span(&self) -> (f64, u32) {
        if self.layout.spans == 0 {
            (self.pitch(), self.repeats.max(1))
        } else {
            (self.layout.length, self.layout.spans)
        }
    }

    /// The edge of what a plane takes off, corner by corner; empty where it takes nothing.
    #[must_use]
    pub fn facet_edge(&self, facet: &Facet) -> Vec<StripPlace> {
        const ROWS: u32 = 48;
        let (mut there, mut back) = (Vec::new(), Vec::new());
        for row in 0..=ROWS {
            let v = self.outside.left() + self.outside.width() * f64::from(row) / f64::from(ROWS);
            let share = (facet.radius - (v - facet.row) * facet.falls) / self.outside.radius(v);
            if share >= 1.0 {
                continue;
            }
            let aside = libm::acos(share.max(0.02)) * self.outside.largest();
            there.push(StripPlace {
                u: facet.u + aside,
                v,
            });
            back.push(StripPlace {
                u: facet.u - aside,
                v,
            });
        }
        back.reverse();
        there.extend(back);
        there
    }
}
