//! How the results of each built-in rulebook are read: the highest figure, and what it has to spare.

use crate::schema::ResultId;
use rust_decimal::Decimal;

use crate::evaluate::Evaluation;

use super::of_band as fineness;

/// A result of fineness; none where the rulebook gives no verdict.
pub(in crate::evaluate) fn exact(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    match id {
        ResultId::FinenessUK => fineness::mark(evaluation, "UK"),
        ResultId::FinenessUKMargin => fineness::margin(evaluation, "UK"),
        ResultId::FinenessVC => fineness::mark(evaluation, "VC"),
        ResultId::FinenessVCMargin => fineness::margin(evaluation, "VC"),
        ResultId::FinenessUS => fineness::mark(evaluation, "US"),
        ResultId::FinenessUSMargin => fineness::margin(evaluation, "US"),
        ResultId::FinenessIN => fineness::mark(evaluation, "IN"),
        ResultId::FinenessINMargin => fineness::margin(evaluation, "IN"),
        ResultId::FinenessCH => fineness::mark(evaluation, "CH"),
        ResultId::FinenessCHMargin => fineness::margin(evaluation, "CH"),
        ResultId::FinenessDE => fineness::mark(evaluation, "DE"),
        ResultId::FinenessDEMargin => fineness::margin(evaluation, "DE"),
        ResultId::FinenessFR => fineness::mark(evaluation, "FR"),
        ResultId::FinenessFRMargin => fineness::margin(evaluation, "FR"),
        ResultId::FinenessIT => fineness::mark(evaluation, "IT"),
        ResultId::FinenessITMargin => fineness::margin(evaluation, "IT"),
        ResultId::FinenessJP => fineness::mark(evaluation, "JP"),
        ResultId::FinenessJPMargin => fineness::margin(evaluation, "JP"),
        ResultId::FinenessCN => fineness::mark(evaluation, "CN"),
        ResultId::FinenessCNMargin => fineness::margin(evaluation, "CN"),
        ResultId::FinenessISO => fineness::mark(evaluation, "ISO"),
        ResultId::FinenessISOMargin => fineness::margin(evaluation, "ISO"),
        _ => None,
    }
}
