//! How each total of an order is read.

use rust_decimal::Decimal;

use crate::schema::OrderResult;

use super::cost::Cost;
use super::order::OrderTotals;

impl OrderTotals {
    /// A total, exact, in the unit of its row; none where the recipe says nothing that gives it.
    #[must_use]
    pub fn exact(&self, id: OrderResult) -> Option<Decimal> {
        let cost = |read: fn(&Cost) -> Decimal| self.cost.as_ref().map(read);
        let weights = &self.weights;
        match id {
            OrderResult::Count => Some(self.count.into()),
            OrderResult::Begun => Some(self.begun.into()),
            OrderResult::Issued => Some(weights.issued),
            OrderResult::Finished => Some(weights.finished),
            OrderResult::Turnings => Some(weights.turnings),
            OrderResult::Offcuts => Some(weights.offcuts),
            OrderResult::Polishings => Some(weights.polishings),
            OrderResult::Recovered => Some(weights.recovered),
            OrderResult::Lost => Some(weights.lost),
            OrderResult::Labour => self.labour_minutes,
            OrderResult::Machine => self.machine_minutes,
            OrderResult::Cost => cost(|cost| cost.total),
            OrderResult::CostMetal => cost(|cost| cost.metal),
            OrderResult::CostBought => cost(|cost| cost.bought),
            OrderResult::CostReturned => cost(|cost| cost.returned),
            OrderResult::CostRefining => cost(|cost| cost.refining),
            OrderResult::CostLabour => cost(|cost| cost.labour),
            OrderResult::CostMachine => cost(|cost| cost.machine),
            OrderResult::CostOverhead => cost(|cost| cost.overhead),
            OrderResult::CostFees => cost(|cost| cost.fees),
            OrderResult::CostSingly => self.singly,
            OrderResult::CostRest => cost(|cost| cost.total)?.checked_sub(self.singly?),
            OrderResult::CostTiedUp => self.tied_up.map(|(tied, _)| tied),
            OrderResult::OnePerCent => self.one_per_cent,
            OrderResult::Price => self.net,
            OrderResult::Tax => self.gross?.checked_sub(self.net?),
            OrderResult::Total => self.gross,
            OrderResult::Earning => self.net?.checked_sub(cost(|cost| cost.total)?),
            OrderResult::Credit => self.credit,
            OrderResult::Due => self.due,
            OrderResult::Deposit => self.deposit,
        }
    }
}
