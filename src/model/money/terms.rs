//! Prices and the workshop read once a recipe, and what of them concerns one band.

use crate::schema::{self, FieldId};
use std::sync::Arc;

use crate::finding::{Finding, is_full};
use crate::model::band::Band;
use crate::model::error::ModelError;
use crate::model::merge::{has_broken, node};
use crate::quantity::Currency;
use crate::source::Span;
use crate::suggest::{nearest, of_bands};

use super::around::Around;
use super::derive::derived;
use super::exchange::Exchange;
use super::said::Said;
use super::sale::{exclusive, sale};
use super::view::{Money, Stock, Stocks, Terms};
use super::{prices, shop, stock};
use crate::model::value::Value;
use crate::model::values::Values;

/// Reads prices, shop and stocks, once.
pub(crate) fn money(
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Money>> {
    if let Some(read) = &around.money().read {
        return read.clone();
    }
    around.money().read = Some(None);
    let overrides = around.overrides();
    if !around.money().says_something(overrides) {
        return None;
    }
    around.money().is_working = true;
    let before = findings.len();
    let written = &around.money().written;
    // What a block would come to whose text could not be read is not known.
    let mut blocks = written.prices.iter().chain(&written.shop);
    let unread = blocks.any(|entry| entry.block.as_ref().is_some_and(has_broken));
    let price_nodes = written.merged("prices", overrides, findings);
    let shop_nodes = written.merged("shop", overrides, findings);
    let price_block = prices::block(&price_nodes, around, findings);
    let shop_block = shop::block(shop_nodes, around, findings);
    let mut exchange = Exchange {
        rates: price_block.rates.clone(),
        to: currency(&shop_block.values, findings),
        faulty: price_block.faulty_rate,
    };
    let mut said = Said {
        shop_is_written: shop_block.is_written,
        ..Said::default()
    };
    shop::rows(&shop_block, &mut said.rows, around, findings);
    prices::rows(&price_block, &mut said.rows, around, findings);
    (said.prices, said.shop) = (price_block.values, shop_block.values);
    let stocks = around.money().written.stocks.clone();
    for (name, entry) in &stocks {
        said.rows
            .push(stock::row(name, entry, said.rows.len(), around, findings));
    }
    let money = derived(said, &mut exchange, findings);
    for (name, _) in stocks {
        let known = money.stocks.iter().rfind(|stock| stock.name == name);
        around.money().stocks.insert(name, known.cloned());
    }
    around.money().exchange = exchange;
    let sound = findings.len() == before && !unread;
    let money = sound.then(|| Arc::new(money));
    around.money().is_working = false;
    around.money().is_faulty = !sound;
    around.money().read = Some(money.clone());
    money
}

/// The currency that the shop states.
fn currency(shop: &Values, findings: &mut Vec<Finding>) -> Option<Currency> {
    let code = shop.word(FieldId::ShopCurrency)?;
    let found = Currency::new(code);
    if found.is_none() {
        findings.push(
            ModelError::UnknownName {
                at: shop.at(FieldId::ShopCurrency).unwrap_or_default(),
                name: code.to_owned(),
                kind: "the currency",
                help: "write a code of ISO 4217 in capitals, as in `currency EUR`".to_owned(),
                nearest: None,
            }
            .into(),
        );
    }
    found
}

/// What of it concerns one band, from the band's own fields.
pub(crate) fn terms(
    values: &Values,
    own: usize,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Terms>> {
    if around.money().is_working {
        let at = around.band_at(own);
        let names = around.band_names();
        let name = names.get(own).copied().unwrap_or_default();
        findings.push(
            ModelError::Circle {
                help: "give one of them a value of its own".to_owned(),
                at,
                name: "prices".to_owned(),
                chain: format!("a price needs {name}, and what {name} costs needs the prices"),
            }
            .into(),
        );
        return None;
    }
    let mut stocked = |id: FieldId, findings: &mut Vec<Finding>| -> Stocks {
        let value = values.get(id).map(|field| &field.value);
        let names: &[Value] = match value {
            Some(Value::List(names)) => names,
            Some(one) => std::slice::from_ref(one),
            None => &[],
        };
        let at = values.at(id).unwrap_or_default();
        let mut found = Stocks::new();
        for name in names {
            if let Value::Word(name) = name {
                found.extend(named(name, at, around, findings));
            }
        }
        found
    };
    let (solid, shell, sleeve) = (
        stocked(FieldId::Stock, findings),
        stocked(FieldId::HollowShellStock, findings),
        stocked(FieldId::HollowSleeveStock, findings),
    );
    exclusive(values, findings);
    // What is written and was refused is not missing.
    let sale_node = node(around.band_nodes(own), "sale");
    let mut stated = sale_node.iter().flat_map(|sale| &sale.children);
    let of = |word: &str| schema::find(&format!("sale.{word}"));
    let faulty = stated.any(|one| of(one.head).is_none_or(|field| values.get(field.id).is_none()));
    let mut missing = Vec::new();
    let sale = sale(values, &mut around.money().exchange, &mut missing);
    if !faulty {
        findings.extend(missing);
    }
    let state = around.money();
    let mut money = state.read.clone()?;
    // Where no block states an amount, the price of a band settles the currency.
    if sale.is_some() && state.exchange.to.is_some() && !state.is_faulty {
        money = match money {
            Some(known) if known.currency.is_some() => Some(known),
            Some(known) => Some(Arc::new(Money {
                currency: state.exchange.to,
                ..(*known).clone()
            })),
            None => {
                let said = Said::default();
                Some(Arc::new(derived(said, &mut state.exchange, findings)))
            }
        };
    }
    Some(Arc::new(Terms {
        money: money?,
        solid,
        shell,
        sleeve,
        sale,
    }))
}

/// The band that break-even figures compare with, where it is named.
pub(crate) fn against(
    values: &Values,
    own: usize,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Band>> {
    let (name, at) = (values.word(FieldId::Against)?, values.at(FieldId::Against)?);
    if around.money().is_working {
        return None;
    }
    other(name, at, own, around, findings)
}

/// The stock of a name; what is wrong with one is said where it is defined.
fn named(
    name: &str,
    at: Span,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Stock>> {
    let state = around.money();
    if let Some(known) = state.stocks.get(name) {
        return known.clone();
    }
    let known = state.written.stocks.iter();
    let known = known.map(|(name, _)| name.as_str());
    let near = nearest(name, known).map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "define it with `stock {name} tube {{ outside 22 mm, bore 16 mm }}` at the top level"
        ),
    };
    findings.push(
        ModelError::UnknownName {
            at,
            name: name.to_owned(),
            kind: "the stock",
            help,
            nearest: near,
        }
        .into(),
    );
    None
}

/// Another band by its name.
fn other(
    name: &str,
    at: Span,
    own: usize,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Band>> {
    let found = around.band_place(name);
    let Some(place) = found.filter(|place| *place != own) else {
        let names = around.band_names();
        let bands = || {
            let others = names.iter().enumerate();
            let others = others.filter(|(place, _)| *place != own);
            others.map(|(_, band)| *band)
        };
        let sought = found.is_none() && !is_full(findings);
        let near = sought
            .then(|| nearest(name, bands()))
            .flatten()
            .map(str::to_owned);
        let help = match &near {
            _ if found.is_some() => "name another band".to_owned(),
            near => of_bands(near.as_deref(), bands()),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: name.to_owned(),
                kind: if found.is_some() {
                    "another band than"
                } else {
                    "the band"
                },
                help,
                nearest: near.filter(|_| found.is_none()),
            }
            .into(),
        );
        return None;
    };
    around.band(place, at, findings)
}
