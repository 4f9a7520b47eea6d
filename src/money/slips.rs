//! Prices and terms that look like a slip of a unit: asked about, once, and taken as they are.

use rust_decimal::{Decimal, dec};

use crate::model::money::{Money, RowOf};
use crate::schema::FieldId;

use super::shortfall::MoneyShortfall;

/// Metals that cost more than silver: from memory, of all years in which all of them were traded.
const DEARER: [&str; 6] = [
    "gold",
    "platinum",
    "palladium",
    "rhodium",
    "iridium",
    "ruthenium",
];
/// Currencies of about the size of a euro, in which fine gold costs between these by the gram: from memory.
const LIKE_EURO: [&str; 8] = ["EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "SGD"];
const GOLD: [Decimal; 2] = [dec!(5), dec!(2000)];
/// Gold never cost as many times what silver did: from memory.
const TIMES: Decimal = dec!(1000);

/// The highest tax on a sale, the dearest hour in a currency of about the size of a euro, and the longest time that an
/// operation takes, in seconds: common practice.
const TAX: Decimal = dec!(0.5);
const HOUR: Decimal = dec!(1000);
const DAY: Decimal = dec!(86400);

/// What looks like a slip.
#[must_use]
pub fn slips(money: &Money) -> Vec<MoneyShortfall> {
    let mut found: Vec<MoneyShortfall> = price(money).into_iter().collect();
    let mut term = |field, row| found.push(MoneyShortfall::UnlikelyTerm { field, row });
    if money.shop.tax > TAX {
        term(FieldId::ShopTax, None);
    }
    let known = money
        .currency
        .is_some_and(|of| LIKE_EURO.contains(&of.code()));
    let rates = [
        (FieldId::ShopLabour, money.shop.labour),
        (FieldId::ShopMachine, money.shop.machine),
    ];
    for (field, rate) in rates {
        let by_hour = rate.and_then(|rate| rate.checked_mul(dec!(3600)));
        if known && by_hour.is_some_and(|rate| rate > HOUR) {
            term(field, None);
        }
    }
    for (place, row) in money.said.rows.iter().enumerate() {
        for field in [FieldId::ShopOperationSetUp, FieldId::ShopOperationRun] {
            let long = row.values.decimal(field).is_some_and(|time| time > DAY);
            if row.of == RowOf::Operation && long {
                term(field, Some(place));
            }
        }
    }
    found
}

/// The first price that looks like a slip beside another, or alone.
fn price(money: &Money) -> Option<MoneyShortfall> {
    let metals = &money.prices.metals;
    let place = |metal: &str| metals.iter().position(|price| *price.metal == *metal);
    let by_gram = |place: usize| metals.get(place).map(|price| price.by_gram);
    let silver = place("silver").filter(|place| by_gram(*place) > Some(Decimal::ZERO));
    if let Some(silver) = silver {
        let mut others = DEARER.into_iter().filter_map(place);
        if let Some(other) = others.find(|other| by_gram(*other) <= by_gram(silver)) {
            return Some(MoneyShortfall::UnlikelyPrice {
                price: silver,
                beside: Some(other),
            });
        }
    }
    let gold = place("gold")?;
    let dear = by_gram(gold)?;
    let times = silver.and_then(by_gram).and_then(|of| dear.checked_div(of));
    if times.is_some_and(|times| times > TIMES) {
        return Some(MoneyShortfall::UnlikelyPrice {
            price: gold,
            beside: silver,
        });
    }
    let known = LIKE_EURO.contains(&money.currency?.code());
    let [least, most] = GOLD;
    (known && !dear.is_zero() && !(least..=most).contains(&dear)).then_some(
        MoneyShortfall::UnlikelyPrice {
            price: gold,
            beside: None,
        },
    )
}
