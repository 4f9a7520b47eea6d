//! One line of an order with what is computed of its rings.

use rust_decimal::Decimal;

use super::cost::{Job, Lines};

/// One line with what is computed of it.
pub(super) struct Line<'a> {
    /// One ring of all that are begun of its band.
    pub job: Job<'a>,
    /// Rings ordered.
    pub count: u32,
    /// Rings begun.
    pub begun: u32,
    /// What one costs in a batch of the workshop.
    pub one: Lines,
    /// What one is sold for.
    pub net: Option<Decimal>,
}

impl Line<'_> {
    /// Rings begun beyond those ordered.
    pub fn rejected(&self) -> Decimal {
        Decimal::from(self.begun.saturating_sub(self.count))
    }
}
