//! What a cost cannot be given without: prices of precious metals, rates for time that is spent.
//!
//! Whatever is missing is named with the line to write; nothing of it ever counts as nothing.

use crate::evaluate::Evaluation;
use crate::evaluate::error::LimitError;
use crate::model::money::{Money, Operation, Order};
use crate::model::{Alloy, Band};
use crate::schema::FieldId;
use crate::source::Span;

use super::cost::{Book, is_precious};
use super::exact::Exact;

/// Something that the recipe does not state, and a cost needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// What it is: `price of gold`, `rate for the machine`.
    pub what: String,
    /// The line to write.
    pub help: String,
    /// What needs it.
    at: Span,
    is_price: bool,
}

/// Everything that the cost of a band cannot be given without, where anything is said of money.
#[must_use]
pub fn missing(evaluation: &Evaluation) -> Vec<Missing> {
    let band = &evaluation.band;
    let Some(terms) = band
        .terms
        .as_ref()
        .filter(|terms| terms.money.currency.is_some())
    else {
        return Vec::new();
    };
    let money = &terms.money;
    let parts = match &band.hollow {
        Some(hollow) => vec![
            (&hollow.shell.alloy, FieldId::HollowShellAlloy),
            (&hollow.sleeve.alloy, FieldId::HollowSleeveAlloy),
        ],
        None => vec![(&band.alloy, FieldId::Alloy)],
    };
    let mut found: Vec<Missing> = Vec::new();
    for (alloy, path) in parts {
        let place = band.field(path).or_else(|| band.field(FieldId::Alloy));
        let at = place.and_then(|field| field.at).unwrap_or(band.at);
        let price = price(money, alloy, at);
        found.extend(price.filter(|one| found.iter().all(|known| known.what != one.what)));
    }
    found.extend(rates(money, band));
    found
}

/// The prices that the worth of an alloy cannot be given without.
fn price(money: &Money, alloy: &Alloy, at: Span) -> Option<Missing> {
    let book = Book::new(&money.prices);
    if book.worth(alloy) != Exact::UNKNOWN {
        return None;
    }
    let unpriced = book.unpriced(alloy);
    let mut metals: Vec<&str> = unpriced
        .iter()
        .copied()
        .filter(|one| is_precious(one))
        .collect();
    if metals.is_empty() {
        // Base metals may count as nothing, but not all that there is.
        metals = unpriced.into_iter().take(1).collect();
    }
    let code = money
        .currency
        .map_or_else(String::new, |of| of.code().to_owned());
    let lines: Vec<String> = metals
        .iter()
        .map(|metal| format!("`{metal} \u{2026} {code}/g`"))
        .collect();
    Some(Missing {
        what: format!("price of {}", joined(metals.iter().copied())),
        help: format!(
            "write {} in `prices`, with the figure of the day, or a price of `{}` as such",
            joined(lines.iter().map(String::as_str)),
            alloy.name
        ),
        at,
        is_price: true,
    })
}

/// The rates that no time of a band can be paid without.
fn rates(money: &Money, band: &Band) -> Vec<Missing> {
    let shop = &money.shop;
    let hollow = band.hollow.is_some();
    let mine = |one: &&Operation| {
        let done = if hollow { one.hollow } else { one.solid };
        done && !(one.run.is_zero() && one.set_up.is_zero())
    };
    let first = |at_rate: fn(&Operation) -> bool| {
        let mut all = shop.operations.iter().filter(mine);
        all.find(|one| at_rate(one)).map(|one| one.place)
    };
    let code = money
        .currency
        .map_or_else(String::new, |of| of.code().to_owned());
    let one = |word: &str, name: &str, at: Option<Span>| {
        at.map(|at| Missing {
            what: format!("rate for {name}"),
            help: format!(
                "write `{word} \u{2026} {code}/h` in `shop`; `{word} 0 {code}/h` where its time costs nothing"
            ),
            at,
            is_price: false,
        })
    };
    let labour = first(|one| one.labour).filter(|_| shop.labour.is_none());
    let machine = first(|one| one.machine).filter(|_| shop.machine.is_none());
    let both = [
        one("labour", "labour", labour),
        one("machine", "the machine", machine),
    ];
    both.into_iter().flatten().collect()
}

/// The findings for what the cost of a band cannot be given without.
pub(crate) fn unpriced(evaluation: &Evaluation) -> Vec<LimitError> {
    let band = &evaluation.band.name;
    let all = missing(evaluation).into_iter();
    all.map(|one| one.finding(&format!("the cost of `{band}`")))
        .collect()
}

/// The finding for old metal of an order whose worth no price gives.
#[must_use]
pub fn uncredited(order: &Order, money: &Money) -> Option<crate::finding::Finding> {
    money.currency?;
    let credit = order.credit.as_ref()?;
    let missing = price(money, &credit.alloy, credit.at)?;
    Some(
        missing
            .finding("what the old metal is credited with")
            .into(),
    )
}

impl Missing {
    fn finding(self, needs: &str) -> LimitError {
        let Self {
            what,
            help,
            at,
            is_price,
        } = self;
        // A rate is missing for all bands alike.
        if is_price {
            LimitError::NoPrice {
                at,
                needs: needs.to_owned(),
                what,
                help,
            }
        } else {
            LimitError::UnpaidTime { at, what, help }
        }
    }
}

/// `gold`, `gold and silver`, `gold, silver and copper`.
fn joined<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<&str> = words.collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
