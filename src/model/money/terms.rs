//! Prices and the workshop read once a recipe, and what of them concerns one band.

use crate::schema::{self, FieldId};
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::band::Band;
use crate::model::error::ModelError;
use crate::model::merge::has_broken;
use crate::model::merge::node;
use crate::model::resolve::{Progress, Resolver, Sought};
use crate::quantity::{Currency, Dimension};
use crate::source::Span;
use crate::suggest::{listed, nearest};

use super::exchange::Exchange;
use super::read::deviates;
use super::{Making, Money, Sale, Setting, Stock, Terms, prices, shop, stock};
use crate::model::values::Values;

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
    let mut fields = Vec::new();
    let shop = shop::shop(&shop_block, &mut exchange, resolver, findings, &mut fields);
    let prices = prices::prices(&price_block, &mut exchange, resolver, findings, &mut fields);
    let stocks = resolver.money.written.stocks.clone();
    for (name, entry) in stocks {
        let read = stock::stock(&name, entry, &mut exchange, resolver, findings).map(Arc::new);
        let values = read.iter().flat_map(|stock| stock.fields.iter());
        fields.extend(values.map(|value| {
            let path = value
                .field
                .path
                .replacen("stock", &format!("stock.{name}"), 1);
            Setting::new(path, value.clone())
        }));
        resolver.money.stocks.insert(name, read);
    }
    let money = Money {
        currency: exchange.to,
        prices,
        shop,
        rates: exchange.rates.clone(),
        fields,
    };
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
    let against = match (values.word(FieldId::Against), values.at(FieldId::Against)) {
        (Some(name), Some(at)) => other(name, at, own, resolver, findings),
        _ => None,
    };
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
        against,
    }))
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
    let key = Sought::Band(place);
    if matches!(resolver.states.get(&key), Some(Progress::Working)) {
        return resolver.circle(key, at, findings);
    }
    resolver.band(place, findings)
}

/// A price is made in one way.
fn exclusive(values: &Values, findings: &mut Vec<Finding>) {
    let ways = [FieldId::SaleMarkup, FieldId::SaleMargin, FieldId::SaleAt];
    let mut given = ways.iter().filter_map(|id| values.at(*id));
    if let (Some(first), Some(second)) = (given.next(), given.next()) {
        findings.push(
            ModelError::Conflict {
                second,
                first,
                message: "a price is made by a markup on cost, a margin on price, or stated: not by two of them",
                help: "keep one of the two",
            }
            .into(),
        );
    }
}

fn sale(values: &Values, exchange: &mut Exchange, findings: &mut Vec<Finding>) -> Option<Sale> {
    match values.word(FieldId::Sale)? {
        "piece" => {
            if let Some(value) = values.get(FieldId::SaleAt) {
                return exchange.amount(value, findings).map(Sale::At);
            }
            let share = |id: FieldId| values.decimal(id);
            let markup = share(FieldId::SaleMarkup).map(Sale::Markup);
            let found = markup.or_else(|| share(FieldId::SaleMargin).map(Sale::Margin));
            if found.is_none() {
                findings.push(
                    ModelError::Lacks {
                        at: values.at(FieldId::Sale).unwrap_or_default(),
                        what: "sale".to_owned(),
                        fields: "`markup`, `margin` or `at`".to_owned(),
                        help: "as in `sale piece { markup 120 % }`".to_owned(),
                    }
                    .into(),
                );
            }
            found
        }
        _ => {
            let Some(value) = values.get(FieldId::SaleMaking) else {
                findings.push(
                    ModelError::Lacks {
                        at: values.at(FieldId::Sale).unwrap_or_default(),
                        what: "sale".to_owned(),
                        fields: "`making`".to_owned(),
                        help: "as in `sale weight { making 20 EUR/g }`".to_owned(),
                    }
                    .into(),
                );
                return None;
            };
            let is_share = value.value.quantity()?.dimension == Dimension::NONE;
            let making = if is_share {
                Making::Share(values.decimal(FieldId::SaleMaking)?)
            } else {
                Making::ByGram(exchange.amount(value, findings)?)
            };
            Some(Sale::Weight {
                making,
                add: values.decimal(FieldId::SaleAdd).unwrap_or_default(),
            })
        }
    }
}
