//! What is known of drawn cuts on a band: as stated, and as worked out on its outside.

use std::sync::Arc;

use crate::schema::FieldId;

use super::pattern::{self, CutSection, ToolCut, Worked};

/// How the repeats are stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Repeats {
    /// So many.
    Stated(u32),
    /// A wished length, mm, and what they are a multiple of.
    Motif(f64, u32),
}

impl Repeats {
    /// How many close a strip of a length, mm.
    #[must_use]
    pub fn on(self, length: f64) -> u32 {
        match self {
            Self::Stated(count) => count,
            Self::Motif(motif, multiple) => pattern::repeats(length, motif, multiple),
        }
    }
}

/// Drawn cuts of a band.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// The cuts.
    pub cuts: Arc<[ToolCut]>,
    /// The field that states the depth of each; none where a cut with a name states its own.
    pub depths: Arc<[Option<FieldId>]>,
    /// The repeats.
    pub repeats: Repeats,
    /// Worked out on the outside as it is when cut.
    pub worked: Option<Arc<OnBand>>,
}

/// A pattern worked out on a band.
#[derive(Clone, Debug, PartialEq)]
pub struct OnBand {
    /// The outside that is cut.
    pub outside: pattern::StripOutside,
    /// Repeats round it.
    pub repeats: u32,
    /// Section of the part that is cut, in the state of the cut, mm2.
    pub uncut: f64,
    /// Least and harmonic section round the ring, mm2.
    pub section: CutSection,
    /// Figures, and where the cuts lie.
    pub worked: Arc<Worked>,
}

impl OnBand {
    /// The thinnest section over the uncut one, and the harmonic mean over it.
    #[must_use]
    pub fn shares(&self) -> (f64, f64) {
        let section = self.section;
        (section.least / self.uncut, section.harmonic / self.uncut)
    }
}

impl Drawn {
    /// The depth that a field states, mm.
    #[must_use]
    pub fn depth(&self, field: FieldId) -> Option<f64> {
        let place = self.depths.iter().position(|one| *one == Some(field))?;
        self.cuts.get(place).map(ToolCut::deepest)
    }

    /// The same cuts with the depth that a field states at another value, mm.
    #[must_use]
    pub fn with_depth(&self, field: FieldId, depth: f64) -> Self {
        let cuts = self.cuts.iter().zip(self.depths.iter());
        let cuts = cuts.map(|(cut, stated)| {
            let mut cut = cut.clone();
            if *stated == Some(field) {
                cut.depth = depth;
            }
            cut
        });
        Self {
            cuts: cuts.collect(),
            ..self.clone()
        }
    }
}
