//! What a custom outline is: its runs from left to right.

use crate::source::Span;

/// A custom outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Its runs, left to right.
    pub runs: Vec<Run>,
}

/// One run of an outline: a line or an arc; lengths in mm, heights from the smallest bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Left end: axial place and height.
    pub from: (f64, f64),
    /// Right end.
    pub to: (f64, f64),
    /// Radius: positive where it bulges away from the finger, negative towards it, 0 for a line.
    pub radius: f64,
    /// Where it is written.
    pub at: Span,
}

impl Outline {
    /// Where the run at a place on the width is written.
    #[must_use]
    pub fn place(&self, x: f64) -> Option<Span> {
        self.runs.iter().find(|run| x <= run.to.0).map(|run| run.at)
    }

    /// Its greatest height.
    #[must_use]
    pub fn crown(&self) -> f64 {
        self.runs
            .iter()
            .map(Run::top)
            .fold(f64::NEG_INFINITY, f64::max)
    }
}

impl Run {
    /// The greatest height of a run.
    fn top(&self) -> f64 {
        let ends = self.from.1.max(self.to.1);
        let (dx, dy) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let length = (dx * dx + dy * dy).sqrt();
        if self.radius <= 0.0 {
            return ends;
        }
        let off = ((self.radius - length / 2.0) * (self.radius + length / 2.0))
            .max(0.0)
            .sqrt();
        let centre = (
            (self.from.0 + self.to.0) / 2.0 + off * dy / length,
            (self.from.1 + self.to.1) / 2.0 - off * dx / length,
        );
        if centre.0 > self.from.0 && centre.0 < self.to.0 {
            centre.1 + self.radius
        } else {
            ends
        }
    }
}
