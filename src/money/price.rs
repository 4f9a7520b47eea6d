//! What a ring is sold for.

use rust_decimal::Decimal;

use crate::model::money::{Making, Sale};

use super::balance::Balance;
use super::book::Book;
use super::cost::Job;
use super::exact::Exact;

/// What a ring is sold for, unrounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sold {
    /// Before tax.
    pub net: Exact,
    /// Of that the making charge, in a sale by weight.
    pub making: Option<Exact>,
}

/// What one ring is sold for, given its cost; none where it is not said how.
///
/// # Formula
/// - markup: cost * (1 + markup)
/// - margin: cost / (1 - margin)
/// - by weight: charged * worth of the metal + making, where charged = finished * (1 + add), and making is a
///   charge on each gram charged, or a share of the worth of the metal charged
#[must_use]
pub fn sold(job: &Job<'_>, cost: Exact) -> Option<Sold> {
    let (balance, book) = (&job.balance, &job.book());
    let plain = |net| Sold { net, making: None };
    let sold = match job.terms.sale.as_ref()? {
        Sale::Markup(markup) => plain(cost * (Exact::ONE + (*markup).into())),
        Sale::Margin(margin) => plain(cost / (Exact::ONE - (*margin).into())),
        Sale::At(price) => plain((*price).into()),
        Sale::Weight { making, add } => {
            let metal = charged_worth(*add, balance, book);
            let making = match making {
                Making::ByGram(by_gram) => charged(*add, balance) * (*by_gram).into(),
                Making::Share(share) => metal * (*share).into(),
            };
            Sold {
                net: metal + making,
                making: Some(making),
            }
        }
    };
    Some(sold)
}

/// The weight that is charged.
pub(super) fn charged(add: Decimal, balance: &Balance) -> Exact {
    Exact::from(balance.finished()) * (Exact::ONE + add.into())
}

/// What the metal in the charged weight is worth.
pub(super) fn charged_worth(add: Decimal, balance: &Balance, book: &Book<'_>) -> Exact {
    let parts = balance.parts.iter();
    let worth: Exact = parts
        .map(|part| Exact::from(part.finished) * book.worth(&part.alloy))
        .sum();
    worth * (Exact::ONE + add.into())
}
