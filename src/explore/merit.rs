//! What a place of a choice comes to: its aim, and by how much each limit is kept; which of two is better.

use std::cmp::Ordering;

/// What a place comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Merit {
    /// What is aimed at; the less, the better.
    pub aim: f64,
    /// By how much each limit is kept, as a part of what it asks; negative: broken.
    pub spare: Vec<f64>,
}

impl Merit {
    /// By how much all broken limits are broken, summed.
    #[must_use]
    pub fn broken(&self) -> f64 {
        let broken = self.spare.iter().filter(|spare| **spare < -KEPT);
        broken.map(|spare| -spare).sum()
    }

    /// Which of two is better: that one is less.
    #[must_use]
    pub fn order(&self, other: &Self) -> Ordering {
        let broken = self.broken().total_cmp(&other.broken());
        broken.then(self.aim.total_cmp(&other.aim))
    }

    /// Whether it is better than another: breaks less or, where neither breaks any, comes nearer to the aim.
    #[must_use]
    pub fn beats(&self, other: &Self) -> bool {
        self.order(other) == Ordering::Less
    }
}

/// A limit broken by less than this part of what it asks is kept: the rounding of computed values.
const KEPT: f64 = 1e-9;

/// A place and what it comes to.
#[derive(Clone, Debug)]
pub struct Seat {
    /// The numbers, scaled.
    pub at: Vec<f64>,
    /// What they come to.
    pub judged: Merit,
}
