//! Prices and the workshop read once a recipe, and what of them concerns one band.

use crate::schema::{self, FieldId};
use std::collections::HashMap;
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::band::Band;
use crate::model::error::ModelError;
use crate::model::laid::{Holder, Override};
use crate::model::resolve::{Key, Resolver, State as Known, node};
use crate::model::top::has_broken;
use crate::quantity::Currency;
use crate::source::Span;
use crate::suggest::{listed, nearest};

use super::derive::derived;
use super::exchange::Exchange;
use super::read::{Written, deviates};
use super::said::Said;
use super::sale::{exclusive, sale};
use super::view::{Money, Stock, Terms};
use super::{prices, shop, stock};
use crate::model::values::Values;

/// What is known of money while a recipe is resolved.
#[derive(Default)]
pub(crate) struct State<'t> {
    /// What is written.
    pub written: Written<'t>,
    /// Read already: none where nothing is written, or while it is being read.
    pub read: Option<Option<Arc<Money>>>,
    /// Something of it is wrong, so that nothing of it is known.
    pub is_faulty: bool,
    /// It is being read.
    is_working: bool,
    /// The place of the row that is being read, where it has one.
    pub row: Option<usize>,
    /// Rates.
    exchange: Exchange,
    /// Stocks by name; none for faulty ones.
    stocks: HashMap<String, Option<Arc<Stock>>>,
}

impl State<'_> {
    fn says_something(&self, overrides: &[Override]) -> bool {
        let written = &self.written;
        let blocks = !written.prices.is_empty() || !written.shop.is_empty();
        let laid = |one: &Override| matches!(one.holder, Holder::Block("prices" | "shop", _));
        let laid = overrides.iter().any(laid);
        blocks || laid || !written.stocks.is_empty() || !written.orders.is_empty()
    }
}

/// Reads prices, shop and stocks, once.
pub(crate) fn money(
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Money>> {
    if let Some(read) = &resolver.money.read {
        return read.clone();
    }
    resolver.money.read = Some(None);
    if !resolver.money.says_something(resolver.overrides) {
        return None;
    }
    resolver.money.is_working = true;
    let before = findings.len();
    let written = &resolver.money.written;
    // What a block would come to whose text could not be read is not known.
    let mut blocks = written.prices.iter().chain(&written.shop);
    let unread = blocks.any(|entry| entry.block.as_ref().is_some_and(has_broken));
    let price_nodes = written.merged("prices", resolver.overrides, findings);
    let shop_nodes = written.merged("shop", resolver.overrides, findings);
    let price_block = prices::block(&price_nodes, resolver, findings);
    let shop_block = shop::block(shop_nodes, resolver, findings);
    let mut exchange = Exchange {
        rates: price_block.rates.clone(),
        to: currency(&shop_block.values, findings),
        faulty: price_block.faulty_rate,
    };
    let mut said = Said {
        shop_is_written: shop_block.is_written,
        ..Said::default()
    };
    shop::rows(&shop_block, &mut said.rows, resolver, findings);
    prices::rows(&price_block, &mut said.rows, resolver, findings);
    (said.prices, said.shop) = (price_block.values, shop_block.values);
    let stocks = resolver.money.written.stocks.clone();
    for (name, entry) in &stocks {
        said.rows
            .push(stock::row(name, entry, said.rows.len(), resolver, findings));
    }
    let money = derived(said, &mut exchange, findings);
    for (name, _) in stocks {
        let known = money.stocks.iter().rfind(|stock| stock.name == name);
        resolver.money.stocks.insert(name, known.cloned());
    }
    resolver.money.exchange = exchange;
    let sound = findings.len() == before && !unread;
    let money = sound.then(|| Arc::new(money));
    resolver.money.is_working = false;
    resolver.money.is_faulty = !sound;
    resolver.money.read = Some(money.clone());
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
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Terms>> {
    if resolver.money.is_working {
        let at = resolver
            .bands
            .get(own)
            .map_or_else(Span::default, |band| band.at);
        let name = resolver
            .bands
            .get(own)
            .map_or("", |band| band.name.as_str());
        findings.push(
            ModelError::Circle {
                at,
                name: "prices".to_owned(),
                chain: format!("a price needs {name}, and what {name} costs needs the prices"),
            }
            .into(),
        );
        return None;
    }
    let stocked = |id: FieldId, findings: &mut Vec<Finding>| {
        let name = values.word(id)?;
        named(name, values.at(id).unwrap_or_default(), resolver, findings)
    };
    let (solid, shell, sleeve) = (
        stocked(FieldId::Stock, findings),
        stocked(FieldId::HollowShellStock, findings),
        stocked(FieldId::HollowSleeveStock, findings),
    );
    exclusive(values, findings);
    for field in values.iter() {
        if let Some(at) = field.at
            && field.field.path.starts_with("sale.")
        {
            deviates(&field.value, at, findings);
        }
    }
    // What is written and was refused is not missing.
    let faulty = resolver.bands.get(own).is_some_and(|band| {
        let sale = node(&band.nodes, "sale");
        let stated = sale.iter().flat_map(|sale| &sale.children);
        let of = |word: &str| schema::find(&format!("sale.{word}"));
        stated
            .into_iter()
            .any(|one| of(one.head).is_none_or(|field| values.get(field.id).is_none()))
    });
    let mut missing = Vec::new();
    let sale = sale(values, &mut resolver.money.exchange, &mut missing);
    if !faulty {
        findings.extend(missing);
    }
    Some(Arc::new(Terms {
        money: resolver.money.read.clone()??,
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
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Band>> {
    let (name, at) = (values.word(FieldId::Against)?, values.at(FieldId::Against)?);
    if resolver.money.is_working {
        return None;
    }
    other(name, at, own, resolver, findings)
}

/// The stock of a name; what is wrong with one is said where it is defined.
fn named(
    name: &str,
    at: Span,
    resolver: &Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Stock>> {
    if let Some(known) = resolver.money.stocks.get(name) {
        return known.clone();
    }
    let known = || {
        resolver
            .money
            .written
            .stocks
            .iter()
            .map(|(name, _)| name.as_str())
    };
    let near = nearest(name, known()).map(str::to_owned);
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
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Band>> {
    let found = resolver.bands.iter().position(|band| band.name == name);
    let Some(place) = found.filter(|place| *place != own) else {
        let bands = || {
            let others = resolver
                .bands
                .iter()
                .enumerate()
                .filter(|(place, _)| *place != own);
            others.map(|(_, band)| band.name.as_str())
        };
        let near = nearest(name, bands()).map(str::to_owned);
        let help = match &near {
            _ if found.is_some() => "name another band".to_owned(),
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("bands are {}", listed(bands())),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: name.to_owned(),
                kind: "another band",
                help,
                nearest: near.filter(|_| found.is_none()),
            }
            .into(),
        );
        return None;
    };
    let key = Key::Band(place);
    if matches!(resolver.states.get(&key), Some(Known::Working)) {
        return resolver.circle(key, at, findings);
    }
    resolver.band(place, findings)
}
