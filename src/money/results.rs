//! How each result of metal, cost and price is read from an account.

use rust_decimal::Decimal;

use crate::schema::ResultId;

use super::account::Account;
use super::break_even::{Pays, Stand};
use super::cost::Cost;

/// A result of metal, cost or price, exact, in the unit of its row; none where the recipe says nothing that gives it.
#[must_use]
pub fn exact(id: ResultId, account: &Account) -> Option<Decimal> {
    let cost = |read: fn(&Cost) -> Decimal| account.cost.as_ref().map(read);
    let tidy = |level: Decimal| level.round_dp(6).normalize();
    let against = account.against.as_ref();
    let level = |element: &str| {
        let found = against?
            .metals
            .iter()
            .find(|(metal, _)| **metal == *element);
        match found?.1 {
            Stand::Same { at, .. } => Some(tidy(at)),
            Stand::Always { .. } => None,
        }
    };
    match id {
        ResultId::WeightIssued => Some(account.weights.issued),
        ResultId::WeightTurnings => Some(account.weights.turnings),
        ResultId::WeightOffcuts => Some(account.weights.offcuts),
        ResultId::WeightPolishings => Some(account.weights.polishings),
        ResultId::WeightRecovered => Some(account.weights.recovered),
        ResultId::WeightLost => Some(account.weights.lost),
        ResultId::WeightCharged => account.charged,
        ResultId::TimeLabour => account.labour_minutes,
        ResultId::TimeMachine => account.machine_minutes,
        ResultId::Cost => cost(|cost| cost.total),
        ResultId::CostMetal => cost(|cost| cost.metal),
        ResultId::CostMetalBought => cost(|cost| cost.bought),
        ResultId::CostMetalReturned => cost(|cost| cost.returned),
        ResultId::CostMetalRefining => cost(|cost| cost.refining),
        ResultId::CostLabour => cost(|cost| cost.labour),
        ResultId::CostMachine => cost(|cost| cost.machine),
        ResultId::CostOverhead => cost(|cost| cost.overhead),
        ResultId::CostRejects => cost(|cost| cost.rejects),
        ResultId::CostFees => cost(|cost| cost.fees),
        ResultId::CostOnePerCent => account.one_per_cent,
        ResultId::Price => account.net,
        ResultId::PriceMaking => account.making,
        ResultId::PriceTax => account.gross?.checked_sub(account.net?),
        ResultId::PriceTotal => account.gross,
        ResultId::Earning => account.earning,
        ResultId::BreakEvenGold => level("gold"),
        ResultId::BreakEvenSilver => level("silver"),
        ResultId::BreakEvenPlatinum => level("platinum"),
        ResultId::BreakEvenPalladium => level("palladium"),
        ResultId::BreakEvenMaking => against?.making.map(tidy),
        ResultId::BreakEvenRejects => match against?.pays? {
            Pays::UpTo(share) => Some(tidy(share)),
            Pays::Always | Pays::Never => None,
        },
        _ => None,
    }
}
