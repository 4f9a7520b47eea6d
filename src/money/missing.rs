//! What a cost cannot be given without: prices of precious metals, rates for time that is spent.
//!
//! Nothing of it ever counts as nothing.

use smallvec::SmallVec;

use crate::model::money::{Credit, Money, Operation};
use crate::schema::FieldId;

use super::account::Account;
use super::book::Book;
use super::exact::Exact;
use super::shortfall::{MoneyShortfall, Unpriced};
use super::workpiece::{Cutting, Workpiece};

/// Everything that the cost of a ring cannot be given without, where anything is said of money. `account`: what was
/// worked out of it.
#[must_use]
pub fn missing(work: &Workpiece, account: Option<&Account>) -> SmallVec<[MoneyShortfall; 4]> {
    let money = &work.terms.money;
    let mut found = SmallVec::new();
    if money.currency.is_none() {
        return found;
    }
    // A cost that is known lacks neither a price nor a rate.
    if account.is_none_or(|account| account.total == Exact::UNKNOWN) {
        unpaid(work, &mut found);
    }
    if let Cutting::Unknown(cut, field) = work.cutting {
        found.push(MoneyShortfall::Untimed { cut, field });
    }
    found
}

/// Prices and rates that there are none of.
fn unpaid(work: &Workpiece, found: &mut SmallVec<[MoneyShortfall; 4]>) {
    let money = &work.terms.money;
    let book = Book::new(&money.prices);
    // What is wanted of both parts is missing once.
    let mut wanting: SmallVec<[_; 2]> = SmallVec::new();
    for part in &work.parts {
        let metals = book.wanting(&part.alloy);
        if !metals.is_empty() && !wanting.contains(&metals) {
            let of = Unpriced::Part(part.of);
            found.push(MoneyShortfall::NoPrice { of });
            wanting.push(metals);
        }
    }
    found.extend(rates(money, work));
}

/// The rates that no time of a ring can be paid without.
fn rates(money: &Money, work: &Workpiece) -> impl Iterator<Item = MoneyShortfall> {
    let shop = &money.shop;
    let hollow = work.is_hollow();
    let first = move |at_rate: fn(&Operation) -> bool| {
        shop.operations.iter().position(|one| {
            let done = if hollow { one.hollow } else { one.solid };
            done && !(one.run.is_zero() && one.set_up.is_zero()) && at_rate(one)
        })
    };
    let cut = (!work.cutting.seconds().is_zero()).then_some(None);
    let labour = first(|one| one.labour).map(Some);
    let machine = first(|one| one.machine).map(Some).or(cut);
    let labour = labour.filter(|_| shop.labour.is_none());
    let machine = machine.filter(|_| shop.machine.is_none());
    let both = [
        (FieldId::ShopLabour, labour),
        (FieldId::ShopMachine, machine),
    ];
    both.into_iter().filter_map(|(rate, operation)| {
        let operation = operation?;
        Some(MoneyShortfall::UnpaidTime { rate, operation })
    })
}

/// That old metal has no price, so that what it is credited with cannot be given.
#[must_use]
pub fn uncredited(credit: &Credit, money: &Money) -> Option<MoneyShortfall> {
    let book = Book::new(&money.prices);
    let wanting = money.currency.is_some() && !book.wanting(&credit.alloy).is_empty();
    wanting.then_some(MoneyShortfall::NoPrice {
        of: Unpriced::OldMetal,
    })
}
