//! Metal left on for finishing: what is taken off before the stretch, and what still takes part in it.

/// Metal left on each surface, per side: bore, outside, faces; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Layers {
    /// How thick it is.
    pub left: [f64; 3],
    /// It is taken off before the stretch.
    pub early: [bool; 3],
}

impl Layers {
    /// What is still on when the ring is stretched, and comes off last.
    #[must_use]
    pub fn on(&self) -> [f64; 3] {
        self.those(false)
    }

    /// What comes off before the stretch.
    #[must_use]
    pub fn before(&self) -> [f64; 3] {
        self.those(true)
    }

    /// Whether any is left on at all.
    #[must_use]
    pub fn any(&self) -> bool {
        self.left.iter().any(|left| *left > 0.0)
    }

    /// Whether any comes off after the stretch.
    #[must_use]
    pub fn last(&self) -> bool {
        self.on().iter().any(|left| *left > 0.0)
    }

    fn those(&self, early: bool) -> [f64; 3] {
        let [bore, outside, faces] = self.left;
        let [first, second, third] = self.early;
        [(bore, first), (outside, second), (faces, third)]
            .map(|(left, before)| if before == early { left } else { 0.0 })
    }
}
