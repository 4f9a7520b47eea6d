//! How each result of metal, cost and price is read from an account.

use rust_decimal::Decimal;

use crate::schema::ResultId;

use super::account::{Account, Against};
use super::break_even::{Pays, Stand};
use super::cost::Cost;

/// A result of metal, cost or price, exact, in the unit of its row; none where the recipe says nothing that gives it.
#[must_use]
pub fn exact(id: ResultId, account: &Account) -> Option<Decimal> {
    let cost = |read: fn(&Cost) -> Decimal| account.cost().map(read);
    match id {
        ResultId::WeightIssued => Some(account.weights().issued),
        ResultId::WeightTurnings => Some(account.weights().turnings),
        ResultId::WeightOffcuts => Some(account.weights().offcuts),
        ResultId::WeightPolishings => Some(account.weights().polishings),
        ResultId::WeightRecovered => Some(account.weights().recovered),
        ResultId::WeightLost => Some(account.weights().lost),
        ResultId::WeightCharged => account.charged,
        ResultId::TimeLabour => account.labour_minutes(),
        ResultId::TimeMachine => account.machine_minutes(),
        ResultId::Cost => account.whole_cost(),
        ResultId::CostMetal => cost(|cost| cost.metal),
        ResultId::CostMetalBought => cost(|cost| cost.bought),
        ResultId::CostMetalReturned => cost(|cost| cost.returned),
        ResultId::CostMetalRefining => cost(|cost| cost.refining),
        ResultId::CostLabour => cost(|cost| cost.labour),
        ResultId::CostMachine => cost(|cost| cost.machine),
        ResultId::CostOverhead => cost(|cost| cost.overhead),
        ResultId::CostRejects => cost(|cost| cost.rejects),
        ResultId::CostFees => cost(|cost| cost.fees),
        ResultId::CostTiedUp => account.tied_up(),
        ResultId::Price => account.net,
        ResultId::PriceMaking => account.making,
        ResultId::PriceTax => account.gross?.checked_sub(account.net?),
        ResultId::PriceTotal => account.gross,
        ResultId::Earning => account.earning,
        _ => None,
    }
}

/// A level at which a build stands even with another, in the unit of its row; none where there is none.
#[must_use]
pub fn level(id: ResultId, against: &Against) -> Option<Decimal> {
    let tidy = |level: Decimal| level.round_dp(6).normalize();
    let of = |element: &str| {
        let mut metals = against.metals.iter();
        match metals.find(|(metal, _)| **metal == *element)?.1 {
            Stand::Same { at, .. } => Some(tidy(at)),
            Stand::Always { .. } => None,
        }
    };
    match id {
        ResultId::BreakEvenGold => of("gold"),
        ResultId::BreakEvenSilver => of("silver"),
        ResultId::BreakEvenPlatinum => of("platinum"),
        ResultId::BreakEvenPalladium => of("palladium"),
        ResultId::BreakEvenMaking => against.making.map(tidy),
        ResultId::BreakEvenRejects => match against.pays? {
            Pays::UpTo(share) => Some(tidy(share)),
            Pays::Always | Pays::Never => None,
        },
        _ => None,
    }
}
