//! What a ring is sold for.

use rust_decimal::Decimal;

use crate::model::money::{Making, Sale};

use super::balance::Balance;
use super::cost::Book;
use super::exact::Exact;

/// A price, unrounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Price {
    /// Before tax.
    pub net: Exact,
    /// Of that the making charge, in a sale by weight.
    pub making: Option<Exact>,
}

/// The price of one ring.
///
/// # Formula
/// - markup: cost * (1 + markup)
/// - margin: cost / (1 - margin)
/// - by weight: charged * worth of the metal + making, where charged = finished * (1 + add), and making is a
///   charge on each gram charged, or a share of the worth of the metal charged
#[must_use]
pub fn price(sale: &Sale, cost: Exact, balance: &Balance, book: &Book<'_>) -> Price {
    let plain = |net| Price { net, making: None };
    match sale {
        Sale::Markup(markup) => plain(cost * (Exact::ONE + (*markup).into())),
        Sale::Margin(margin) => plain(cost / (Exact::ONE - (*margin).into())),
        Sale::At(price) => plain((*price).into()),
        Sale::Weight { making, add } => {
            let metal = charged_worth(*add, balance, book);
            let making = match making {
                Making::ByGram(by_gram) => charged(*add, balance) * (*by_gram).into(),
                Making::Share(share) => metal * (*share).into(),
            };
            Price {
                net: metal + making,
                making: Some(making),
            }
        }
    }
}

/// The weight that is charged.
pub(super) fn charged(add: Decimal, balance: &Balance) -> Exact {
    let finished: Decimal = balance.parts.iter().map(|part| part.finished).sum();
    Exact::from(finished) * (Exact::ONE + add.into())
}

/// What the metal in the charged weight is worth.
pub(super) fn charged_worth(add: Decimal, balance: &Balance, book: &Book<'_>) -> Exact {
    let parts = balance.parts.iter();
    let worth: Exact = parts
        .map(|part| Exact::from(part.finished) * book.worth(&part.alloy))
        .sum();
    worth * (Exact::ONE + add.into())
}
