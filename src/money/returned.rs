//! What came back of an order, weighed, against what was taken off and should have been collected.

use rust_decimal::{Decimal, dec};

use crate::model::money::Order;
use crate::schema::FieldId;

use super::balance::Weights;
use super::shortfall::MoneyShortfall;

use crate::model::money::Scrap;

/// One stream of scrap, weighed; g.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Returned {
    /// The field that says what it weighs.
    pub field: FieldId,
    /// What it weighs.
    pub found: Decimal,
    /// What of it should have been collected.
    pub expected: Decimal,
    /// What was taken off in all.
    pub taken: Decimal,
}

/// The last place of a scale at the bench, in g: from memory. Less is no difference.
const SCALE: Decimal = dec!(0.01);

/// What was weighed of an order's scrap, by the weights of all its rings begun.
///
/// # Formula
/// expected = mass taken off * collected
pub(super) fn returned(order: &Order, weights: &Weights, scrap: &Scrap) -> Vec<Returned> {
    let streams = [
        (
            FieldId::OrderReturnedTurnings,
            weights.turnings,
            &scrap.turnings,
        ),
        (
            FieldId::OrderReturnedOffcuts,
            weights.offcuts,
            &scrap.offcuts,
        ),
        (
            FieldId::OrderReturnedPolishings,
            weights.polishings,
            &scrap.polishings,
        ),
    ];
    let found = streams.into_iter().filter_map(|(field, taken, stream)| {
        Some(Returned {
            field,
            found: order.values.decimal(field)?,
            expected: taken * stream.collected,
            taken,
        })
    });
    found.collect()
}

impl Returned {
    /// That less came back than should have, or more than was taken off.
    #[must_use]
    pub fn short(&self, order: usize) -> Option<MoneyShortfall> {
        let missing = self.expected - self.found >= SCALE;
        let over = self.found - self.taken >= SCALE;
        (missing || over).then_some(MoneyShortfall::Returned {
            order,
            field: self.field,
            found: self.found,
            wanted: if over { self.taken } else { self.expected },
        })
    }
}
