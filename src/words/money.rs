//! What falls short in money, in words: each with its place, and the line to write.

use rust_decimal::Decimal;

use crate::evaluate::{self, Evaluation};
use crate::finding::Finding;
use crate::model::money::{Making, Money, Order, Sale};
use crate::model::{Alloy, Band, check};
use crate::money::{Book, MoneyShortfall, PartOf, Unpriced};
use crate::schema::FieldId;
use crate::source::Span;

use super::length::{apart, mm};

pub use super::money_limit::MoneyLimit;

/// Something that the recipe does not state, and a cost needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// What it is: `price of gold`, `rate for the machine`.
    pub what: String,
    /// The line to write.
    pub help: String,
}

/// What is said of a shortfall of a band; none for one that is no band's.
#[must_use]
pub fn of_band(short: MoneyShortfall, band: &Band) -> Option<Finding> {
    let found = match short {
        MoneyShortfall::Stock { .. } => unfit(short, band, None)?,
        MoneyShortfall::NoPrice { of } => {
            let Missing { what, help } = missing(short, band)?;
            let at = match of {
                Unpriced::Part(part) => band.fields.at(part.alloy_field()),
                Unpriced::OldMetal => None,
            };
            let at = at.unwrap_or_else(|| band.place(FieldId::Alloy));
            let needs = format!("the cost of `{}`", band.name);
            match band.terms.as_ref()?.sale {
                Some(Sale::At(_)) => MoneyLimit::UnjudgedPrice {
                    at,
                    needs,
                    what,
                    help,
                },
                _ => MoneyLimit::NoPrice {
                    at,
                    needs,
                    what,
                    help,
                },
            }
        }
        MoneyShortfall::UnderCost {
            field, price, cost, ..
        } => {
            let money = &band.terms.as_ref()?.money;
            let each = amounts(money, price, cost)?;
            let code = code(money);
            let word = field.word();
            let help = match (field, short.fits()) {
                (FieldId::SaleAt, Some(fits)) => {
                    format!("`{word} {fits} {code}` is the lowest price that earns something")
                }
                (_, Some(fits)) if is_share(band) => {
                    let share = (fits * Decimal::ONE_HUNDRED).normalize();
                    format!("`{word} {share} %` would just earn something")
                }
                (_, Some(fits)) => format!("`{word} {fits} {code}/g` would just earn something"),
                (_, None) => format!("a larger `{word}` earns something"),
            };
            let [price, cost, lost] = each;
            let what = format!("`{}` is sold", band.name);
            let at = band.fields.at(field);
            let at = at.unwrap_or_else(|| band.place(FieldId::Sale));
            MoneyLimit::UnderCost {
                at,
                what,
                price,
                cost,
                lost,
                help,
            }
        }
        // A rate is missing for all bands alike.
        MoneyShortfall::UnpaidTime { operation, .. } => {
            let Missing { what, help } = missing(short, band)?;
            let shop = &band.terms.as_ref()?.money.shop;
            let at = match operation {
                Some(operation) => shop.operations.get(operation)?.place,
                None => band.place(FieldId::Pattern),
            };
            match band.terms.as_ref()?.sale {
                // Such a price is known without the rate.
                Some(Sale::At(_) | Sale::Weight { .. }) => {
                    MoneyLimit::UnjudgedTime { at, what, help }
                }
                _ => MoneyLimit::UnpaidTime { at, what, help },
            }
        }
        MoneyShortfall::Untimed { cut, field } => {
            let cut = band.cuts.get(cut)?;
            let cutter = cut
                .cutter
                .as_ref()
                .filter(|_| field.row().holder() != cut.kind.block.path());
            let line = crate::schema::example(field.row());
            MoneyLimit::Untimed {
                at: cut.at,
                what: cut.called(),
                word: field.word(),
                help: match cutter {
                    Some(cutter) => format!("add `{line}` to the cutter `{}`", cutter.name),
                    None => format!("add `{line}` to the cut"),
                } + ", or state the `minutes` that the whole pattern takes",
            }
        }
        _ => return None,
    };
    Some(found.into())
}

/// What is said of a stock that cannot make a part of a ring that is ordered in a line; none for anything else.
#[must_use]
pub fn of_line(short: MoneyShortfall, band: &Band, line: Span) -> Option<Finding> {
    unfit(short, band, Some(line)).map(Finding::from)
}

/// Said where a recipe says nothing of prices.
pub const NO_PRICES: &str = "no cost yet: write a `prices { \u{2026} }` block";

/// Everything that the cost of a band cannot be given without, in words.
#[must_use]
pub fn all_missing(evaluation: &Evaluation) -> Vec<Missing> {
    let short = evaluation.shortfalls.iter();
    let of_money = short.filter_map(|short| match short {
        evaluate::Shortfall::Money(short) => missing(*short, &evaluation.band),
        _ => None,
    });
    of_money.collect()
}

/// What a cost of a band cannot be given without, in words; none for a shortfall that keeps no cost back.
#[must_use]
pub fn missing(short: MoneyShortfall, band: &Band) -> Option<Missing> {
    let money = &band.terms.as_ref()?.money;
    match short {
        MoneyShortfall::NoPrice {
            of: Unpriced::Part(part),
        } => {
            let hollow = band.hollow.as_ref();
            let alloy = match part {
                PartOf::Band => Some(&band.alloy),
                PartOf::Shell => hollow.map(|hollow| &hollow.shell.alloy),
                PartOf::Sleeve => hollow.map(|hollow| &hollow.sleeve.alloy),
                PartOf::Solder => band.marking.solder.as_ref().map(|solder| &solder.alloy),
            };
            Some(price(alloy?, money))
        }
        MoneyShortfall::UnpaidTime { rate, .. } => {
            let (word, code) = (rate.word(), code(money));
            let name = match rate {
                FieldId::ShopMachine => "the machine",
                _ => "labour",
            };
            Some(Missing {
                what: format!("rate for {name}"),
                help: format!(
                    "write `{word} \u{2026} {code}/h` in `shop`; `{word} 0 {code}/h` where its time costs nothing"
                ),
            })
        }
        _ => None,
    }
}

/// What is said of an order that brings no more than it costs.
#[must_use]
pub fn of_order(short: MoneyShortfall, money: &Money, order: &Order) -> Option<Finding> {
    if let MoneyShortfall::Returned {
        field,
        found,
        wanted,
        ..
    } = short
    {
        let grams = |grams: Decimal| format!("{} g", grams.round_dp(6).normalize());
        let missing = found < wanted;
        let off = match missing {
            true => format!("{} less than should have come back", grams(wanted - found)),
            false => format!("{} more than was taken off", grams(found - wanted)),
        };
        let said = MoneyLimit::Returned {
            at: order.values.at(field)?,
            what: field.word(),
            order: named(order),
            found: grams(found),
            off,
            help: match missing {
                true => "look for the rest, or state the share that is in fact `collected`",
                false => "other metal is in it, or more rings were begun",
            },
        };
        return Some(said.into());
    }
    let MoneyShortfall::OrderUnderCost {
        price, cost, worst, ..
    } = short
    else {
        return None;
    };
    let [price, cost, lost] = amounts(money, price, cost)?;
    let lost = match worst {
        None => lost,
        Some(worst) => at_worst(money, worst)?,
    };
    let what = named(order);
    let found = MoneyLimit::UnderCost {
        at: order.at,
        what: format!("{what} is offered"),
        price,
        cost,
        lost,
        help: "raise the prices of its bands, or make more of them in a batch".to_owned(),
    };
    Some(found.into())
}

/// An order by its name.
pub(super) fn named(order: &Order) -> String {
    match &order.name {
        Some(name) => format!("order `{name}`"),
        None => "the order".to_owned(),
    }
}

/// Price, cost, and what is lost, with their currency.
fn amounts(money: &Money, price: Decimal, cost: Decimal) -> Option<[String; 3]> {
    let (places, code) = (money.currency?.places() as usize, code(money));
    let shown = |amount: Decimal| format!("{amount:.places$} {code}");
    let lost = match (cost - price).is_zero() {
        true => "nothing is earned".to_owned(),
        false => format!("{} is lost", shown(cost - price)),
    };
    Some([shown(price), shown(cost), lost])
}

/// What is lost where every `±` stands at its worse end.
fn at_worst(money: &Money, earned: Decimal) -> Option<String> {
    let (places, code) = (money.currency?.places() as usize, code(money));
    Some(match earned.is_zero() {
        true => "with every `±` at its worse end nothing is earned".to_owned(),
        false => format!(
            "with every `±` at its worse end {:.places$} {code} is lost",
            -earned
        ),
    })
}

/// Whether the making charge of a band is a share.
fn is_share(band: &Band) -> bool {
    let sale = band.terms.as_ref().and_then(|terms| terms.sale);
    matches!(
        sale,
        Some(Sale::Weight {
            making: Making::Share(_),
            ..
        })
    )
}

/// What is said of old metal that has no price.
#[must_use]
pub fn of_old_metal(order: &Order, money: &Money) -> Option<Finding> {
    let credit = order.credit.as_ref()?;
    let Missing { what, help } = price(&credit.alloy, money);
    let needs = "what the old metal is credited with".to_owned();
    let at = credit.at;
    Some(
        MoneyLimit::NoPrice {
            at,
            needs,
            what,
            help,
        }
        .into(),
    )
}

fn unfit(short: MoneyShortfall, band: &Band, line: Option<Span>) -> Option<MoneyLimit> {
    let MoneyShortfall::Stock {
        part,
        field,
        found,
        wanted,
        others,
    } = short
    else {
        return None;
    };
    let stocks = part.stocks(band.terms.as_ref()?);
    let stock = stocks.first()?;
    let others_too = match stocks.len() {
        1 => "",
        _ => "; nor does it come out of another of its list",
    };
    let word = field.word();
    let [is, due] = apart([found, wanted]);
    let clean_up = stock.clean_up.to_mm();
    let kept = match field {
        FieldId::StockLength => String::new(),
        _ if clean_up == 0.0 => String::new(),
        _ => format!(", with {} to clean up", mm(clean_up)),
    };
    let stocks = band.terms.as_ref()?.money.stocks.iter().take(64);
    let serving = stocks
        .enumerate()
        .filter(|(place, _)| others & (1 << place) != 0)
        .map(|(_, stock)| format!("`{}`", stock.name));
    let serving: Vec<String> = serving.collect();
    let serving = match serving.is_empty() {
        true => String::new(),
        false => format!(
            "; {} would serve",
            joined(serving.iter().map(String::as_str))
        ),
    };
    let size = band.field(FieldId::Size);
    let size = size.map(|size| format!(" in {}", check::written(&size.value)));
    let bound = match field {
        FieldId::StockBore => "at most",
        _ => "at least",
    };
    Some(MoneyLimit::Stock {
        at: stock.fields.at(field).unwrap_or(stock.at),
        used: line.unwrap_or_else(|| band.place(part.stock_field())),
        stock: stock.name.clone(),
        part: format!(
            "{} of `{}`{}",
            part.word(),
            band.name,
            size.unwrap_or_default()
        ),
        what: word,
        found: format!("{is} mm"),
        due: format!("{bound} {due} mm{kept}"),
        help: format!(
            "`{word} {} mm` would just serve{serving}{others_too}",
            short.fits()?
        ),
    })
}

/// The prices that the worth of an alloy cannot be given without.
fn price(alloy: &Alloy, money: &Money) -> Missing {
    let metals = Book::new(&money.prices).wanting(alloy);
    let code = code(money);
    let lines = metals.iter();
    let lines: Vec<String> = lines
        .map(|metal| format!("`{metal} \u{2026} {code}/g`"))
        .collect();
    Missing {
        what: format!("price of {}", joined(metals.iter().copied())),
        help: format!(
            "write {} in `prices` with the day's figure, or a price for `{}` itself",
            joined(lines.iter().map(String::as_str)),
            alloy.name
        ),
    }
}

pub(super) fn code(money: &Money) -> String {
    let code = money.currency.map(|of| of.code().to_owned());
    code.unwrap_or_default()
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
