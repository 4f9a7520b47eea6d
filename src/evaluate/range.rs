//! The range of a figure over all that may be off: its ends, where they lie, by what it is known.

use crate::source::Span;

/// How far a result may be off.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// The lowest value in the worst case, as a difference from the nominal one (0 or less).
    pub low: f64,
    /// The highest value in the worst case, as a difference from the nominal one (0 or more).
    pub high: f64,
    /// Standard deviation, to first order.
    pub deviation: f64,
}

/// By what a range is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RangeBy {
    /// The result is a sum of what each variable does, so that the range is the sum of theirs.
    Sum,
    /// All corners of the ranges, and what lies between them along each variable.
    Corners,
    /// From the corners that each variable by itself points to, along one variable after the other: the widest range
    /// found, within the true one.
    Search,
}

impl RangeBy {
    /// Its word in machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sum => "sum",
            Self::Corners => "corners",
            Self::Search => "search",
        }
    }
}

/// What one variable does to a figure by itself, as differences from the nominal figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Single {
    /// The variable.
    pub variable: Span,
    /// At the lower end of its range.
    pub low: f64,
    /// At the upper end.
    pub high: f64,
}

impl Single {
    /// How far it moves the figure at most.
    #[must_use]
    pub fn most(&self) -> f64 {
        self.low.abs().max(self.high.abs())
    }

    fn square(&self) -> f64 {
        self.most() * self.most()
    }

    pub(super) fn moves(&self) -> bool {
        self.low != 0.0 || self.high != 0.0
    }
}

/// The range of one figure over all that may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Range {
    /// As the recipe says.
    pub nominal: f64,
    /// The lowest value found.
    pub low: f64,
    /// The highest value found.
    pub high: f64,
    /// Where the variables stand at the lowest value.
    pub lowest: Vec<(Span, f64)>,
    /// Where they stand at the highest.
    pub highest: Vec<(Span, f64)>,
    /// By what it is known.
    pub way: RangeBy,
    /// What each variable does by itself.
    pub singles: Vec<Single>,
    /// At some place of the ranges there is no such figure.
    pub gaps: bool,
}

impl Range {
    /// As differences from the nominal figure, with the standard deviation to first order.
    #[must_use]
    pub fn spread(&self) -> Spread {
        let squares = self.singles.iter().map(|one| one.most() * one.most() / 3.0);
        Spread {
            low: self.low - self.nominal,
            high: self.high - self.nominal,
            deviation: squares.sum::<f64>().sqrt(),
        }
    }

    /// Parts of the variance, to first order, by variable: largest first, those of nothing left out.
    #[must_use]
    pub fn parts(&self) -> Vec<(Span, f64)> {
        let all: f64 = self.singles.iter().map(|one| one.square()).sum();
        let mut parts: Vec<(Span, f64)> = self
            .singles
            .iter()
            .filter(|one| one.moves())
            .map(|one| (one.variable, one.square() / all))
            .collect();
        parts.sort_by(|one, other| other.1.total_cmp(&one.1));
        parts
    }
}
