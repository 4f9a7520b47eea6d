//! How each result of metal, cost and price is read from an account.

use crate::schema::ResultId;
use rust_decimal::Decimal;

use crate::evaluate::Evaluation;

use super::cost::Cost;

fn cost(evaluation: &Evaluation, read: fn(&Cost) -> Decimal) -> Option<Decimal> {
    evaluation.account()?.cost.as_ref().map(read)
}

fn level(evaluation: &Evaluation, element: &str) -> Option<Decimal> {
    let metals = &evaluation.account()?.against.as_ref()?.metals;
    let found = metals.iter().find(|(metal, _)| metal == element);
    found.map(|(_, price)| price.round_dp(6).normalize())
}

/// A result of metal, cost or price; none where the recipe says nothing that gives it.
pub(in crate::evaluate) fn exact(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    match id {
        ResultId::WeightIssued => Some(evaluation.account()?.weights.issued),
        ResultId::WeightTurnings => Some(evaluation.account()?.weights.turnings),
        ResultId::WeightOffcuts => Some(evaluation.account()?.weights.offcuts),
        ResultId::WeightPolishings => Some(evaluation.account()?.weights.polishings),
        ResultId::WeightRecovered => Some(evaluation.account()?.weights.recovered),
        ResultId::WeightLost => Some(evaluation.account()?.weights.lost),
        ResultId::WeightCharged => evaluation.account()?.charged,
        ResultId::TimeLabour => evaluation.account()?.labour_minutes,
        ResultId::TimeMachine => evaluation.account()?.machine_minutes,
        ResultId::Cost => cost(evaluation, |evaluation| evaluation.total),
        ResultId::CostMetal => cost(evaluation, |evaluation| evaluation.metal),
        ResultId::CostMetalBought => cost(evaluation, |evaluation| evaluation.bought),
        ResultId::CostMetalReturned => cost(evaluation, |evaluation| evaluation.returned),
        ResultId::CostMetalRefining => cost(evaluation, |evaluation| evaluation.refining),
        ResultId::CostLabour => cost(evaluation, |evaluation| evaluation.labour),
        ResultId::CostMachine => cost(evaluation, |evaluation| evaluation.machine),
        ResultId::CostOverhead => cost(evaluation, |evaluation| evaluation.overhead),
        ResultId::CostRejects => cost(evaluation, |evaluation| evaluation.rejects),
        ResultId::CostFees => cost(evaluation, |evaluation| evaluation.fees),
        ResultId::CostOnePerCent => evaluation.account()?.one_per_cent,
        ResultId::Price => evaluation.account()?.net,
        ResultId::PriceMaking => evaluation.account()?.making,
        ResultId::PriceTax => {
            let evaluation = evaluation.account()?;
            evaluation.gross?.checked_sub(evaluation.net?)
        }
        ResultId::PriceTotal => evaluation.account()?.gross,
        ResultId::Earning => evaluation.account()?.earning,
        ResultId::BreakEvenGold => level(evaluation, "gold"),
        ResultId::BreakEvenSilver => level(evaluation, "silver"),
        ResultId::BreakEvenPlatinum => level(evaluation, "platinum"),
        ResultId::BreakEvenPalladium => level(evaluation, "palladium"),
        ResultId::BreakEvenMaking => evaluation
            .account()?
            .against
            .as_ref()?
            .making
            .map(|making| making.round_dp(6).normalize()),
        ResultId::BreakEvenRejects => evaluation
            .account()?
            .against
            .as_ref()?
            .rejects
            .map(|share| share.round_dp(6).normalize()),
        _ => None,
    }
}
