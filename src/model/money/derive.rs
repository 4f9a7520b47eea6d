//! From what the blocks say to exact amounts in one currency: the one place where prices, workshop and stock follow.
//!
//! Reading comes here once, and whoever moves a number comes here again.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::check;
use crate::model::error::ModelError;
use crate::model::values::Values;
use crate::quantity::Length;
use crate::schema::FieldId;

use super::exchange::Exchange;
use super::said::{Form, Row, RowOf, Said};
use super::sale::sale;
use super::view::{
    Fee, Money, Operation, Price, Prices, Scrap, Shop, Stock, Stocks, Stream, Terms,
};

/// What follows from all that is said. The first amount of all settles the currency where none is stated; where no block
/// states one, it is that of a band's price.
pub(super) fn derived(said: Said, exchange: &mut Exchange, findings: &mut Vec<Finding>) -> Money {
    let shop = shop(&said, exchange, findings);
    let prices = prices(&said, exchange, findings);
    let mut stocks = Vec::new();
    for row in &said.rows {
        if let RowOf::Stock(form) = row.of {
            stocks.extend(stock(row, form, exchange, findings).map(Arc::new));
        }
    }
    Money {
        currency: exchange.to,
        prices,
        shop,
        rates: exchange.rates.clone(),
        stocks,
        said,
    }
}

/// The same with other numbers in what is said.
///
/// # Errors
/// Findings, where an amount or what follows from it is out of range.
pub(crate) fn moved(money: &Money, said: Said) -> Result<Money, Vec<Finding>> {
    let mut findings = Vec::new();
    let money = derived(said, &mut exchange(money), &mut findings);
    match findings.is_empty() {
        true => Ok(money),
        false => Err(findings),
    }
}

/// The terms of a band with other prices, workshop and stock, or with other numbers in its own fields.
///
/// # Errors
/// Findings, where what it is sold for is out of range.
pub(crate) fn termed(
    terms: &Terms,
    fields: &Values,
    money: &Arc<Money>,
) -> Result<Terms, Vec<Finding>> {
    let mut findings = Vec::new();
    let stock = |stocks: &Stocks| -> Stocks {
        let known = |stock: &Arc<Stock>| money.stocks.iter().rfind(|one| one.name == stock.name);
        stocks.iter().filter_map(known).map(Arc::clone).collect()
    };
    let terms = Terms {
        money: Arc::clone(money),
        solid: stock(&terms.solid),
        shell: stock(&terms.shell),
        sleeve: stock(&terms.sleeve),
        sale: sale(fields, &mut exchange(money), &mut findings),
    };
    match findings.is_empty() {
        true => Ok(terms),
        false => Err(findings),
    }
}

/// Its rates, and the currency that was settled.
fn exchange(money: &Money) -> Exchange {
    Exchange {
        rates: money.rates.clone(),
        to: money.currency,
        faulty: false,
    }
}

/// An amount, where it is stated; what is not stated is not nothing.
fn stated(
    values: &Values,
    id: FieldId,
    exchange: &mut Exchange,
    findings: &mut Vec<Finding>,
) -> Option<Decimal> {
    let value = values.get(id)?;
    Some(exchange.amount(value, findings).unwrap_or_default())
}

fn shop(said: &Said, exchange: &mut Exchange, findings: &mut Vec<Finding>) -> Shop {
    let values = &said.shop;
    let mut amount = |values: &Values, id: FieldId| stated(values, id, exchange, findings);
    let share = |id: FieldId| values.decimal(id).unwrap_or_default();
    let mut shop = Shop {
        labour: amount(values, FieldId::ShopLabour),
        machine: amount(values, FieldId::ShopMachine),
        batch: values.count(FieldId::ShopBatch).unwrap_or(1),
        overhead: share(FieldId::ShopOverhead),
        overhead_on_cost: values.word(FieldId::ShopOverheadOn) == Some("cost"),
        rejects_solid: share(FieldId::ShopRejectsSolid),
        rejects_hollow: share(FieldId::ShopRejectsHollow),
        tax: share(FieldId::ShopTax),
        scrap: Scrap {
            offcuts: stream(
                values,
                FieldId::ShopScrapOffcutsCollected,
                FieldId::ShopScrapOffcutsPaid,
            ),
            turnings: stream(
                values,
                FieldId::ShopScrapTurningsCollected,
                FieldId::ShopScrapTurningsPaid,
            ),
            polishings: stream(
                values,
                FieldId::ShopScrapPolishingsCollected,
                FieldId::ShopScrapPolishingsPaid,
            ),
            polished: share(FieldId::ShopScrapPolishingsPart),
            charge: amount(values, FieldId::ShopScrapCharge).unwrap_or_default(),
            minimum: amount(values, FieldId::ShopScrapMinimum).unwrap_or_default(),
            consignment: values
                .decimal(FieldId::ShopScrapConsignment)
                .filter(|grams| !grams.is_zero()),
            wait: values.decimal(FieldId::ShopScrapWait).map(in_days),
        },
        ..Shop::default()
    };
    for row in &said.rows {
        match row.of {
            RowOf::Operation => shop.operations.push(operation(row)),
            RowOf::Fee => {
                let mut amount = |id: FieldId| amount(&row.values, id).unwrap_or_default();
                shop.fees.push(Fee {
                    name: row.name.to_string(),
                    article: amount(FieldId::ShopFeeArticle),
                    consignment: amount(FieldId::ShopFeeConsignment),
                    minimum: amount(FieldId::ShopFeeMinimum),
                });
            }
            RowOf::Metal | RowOf::Stock(_) => {}
        }
    }
    shop
}

fn operation(row: &Row) -> Operation {
    let values = &row.values;
    let time = |id: FieldId| values.decimal(id).unwrap_or_default();
    let at = values.word(FieldId::ShopOperationAt).unwrap_or("labour");
    let whom = values.word(FieldId::ShopOperationFor).unwrap_or("every");
    Operation {
        name: row.name.to_string(),
        set_up: time(FieldId::ShopOperationSetUp),
        run: time(FieldId::ShopOperationRun),
        labour: at != "machine",
        machine: at != "labour",
        solid: whom != "hollow",
        hollow: whom != "solid",
        place: row.at,
    }
}

/// What is not stated does not come back.
fn stream(values: &Values, collected: FieldId, paid: FieldId) -> Stream {
    match values.decimal(paid) {
        Some(paid) => Stream {
            collected: values.decimal(collected).unwrap_or(Decimal::ONE),
            paid,
        },
        None => Stream::default(),
    }
}

fn prices(said: &Said, exchange: &mut Exchange, findings: &mut Vec<Finding>) -> Prices {
    let values = &said.prices;
    let mut metals = Vec::new();
    for row in said.rows.iter().filter(|row| row.of == RowOf::Metal) {
        let own = &row.values;
        let Some(price) = own.get(FieldId::PricesMetal) else {
            continue;
        };
        let by_gram = exchange.amount(price, findings);
        let dated = own.day(FieldId::PricesMetalDated);
        let dated = dated.or_else(|| values.day(FieldId::PricesDated));
        // That one is missing was said where it was read.
        let Some((by_gram, dated)) = by_gram.zip(dated) else {
            continue;
        };
        let premium = own.decimal(FieldId::PricesMetalPremium);
        let source = own.text(FieldId::PricesMetalSource);
        metals.push(Price {
            metal: Arc::clone(&row.name),
            by_gram,
            premium: premium
                .or_else(|| values.decimal(FieldId::PricesPremium))
                .unwrap_or_default(),
            dated,
            source: source
                .or_else(|| values.text(FieldId::PricesSource))
                .map(str::to_owned),
            at: price.at.unwrap_or(row.at),
        });
    }
    let fabrication = stated(values, FieldId::PricesFabrication, exchange, findings);
    Prices {
        metals,
        fabrication: fabrication.unwrap_or_default(),
        oldest: values.decimal(FieldId::PricesOldest).map(in_days),
    }
}

/// A time in seconds as days.
pub(super) fn in_days(seconds: Decimal) -> Decimal {
    seconds / Decimal::from(86_400)
}

fn stock(
    row: &Row,
    form: Form,
    exchange: &mut Exchange,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let (values, before) = (&row.values, findings.len());
    let zero = Length::mm(Decimal::ZERO);
    let outside = values.length(FieldId::StockOutside)?;
    let bore = values.length(FieldId::StockBore).unwrap_or(zero);
    if bore >= outside {
        findings.push(
            ModelError::OutOfRange {
                at: values.at(FieldId::StockBore).unwrap_or(row.at),
                field: "bore".to_owned(),
                found: values
                    .get(FieldId::StockBore)
                    .map_or(String::new(), |bore| check::shown(&bore.value)),
                range: format!(
                    "smaller than the outside of {} mm",
                    outside.value().normalize()
                ),
                help: "check both diameters".to_owned(),
            }
            .into(),
        );
    }
    if let (Some(length), Some(rest)) = (
        values.length(FieldId::StockLength),
        values.length(FieldId::StockRest),
    ) && rest >= length
    {
        findings.push(
            ModelError::OutOfRange {
                at: values.at(FieldId::StockRest).unwrap_or(row.at),
                field: "rest".to_owned(),
                found: values
                    .get(FieldId::StockRest)
                    .map_or(String::new(), |rest| check::shown(&rest.value)),
                range: format!(
                    "shorter than the length of {} mm",
                    length.value().normalize()
                ),
                help: "the rest is what stays in the chuck of each length".to_owned(),
            }
            .into(),
        );
    }
    let fabrication = match values.get(FieldId::StockFabrication) {
        Some(value) => Some(exchange.amount(value, findings)?),
        None => None,
    };
    if findings.len() > before {
        return None;
    }
    Some(Stock {
        name: row.name.to_string(),
        form,
        outside,
        bore,
        length: values.length(FieldId::StockLength),
        kerf: values.length(FieldId::StockKerf).unwrap_or(zero),
        facing: values.length(FieldId::StockFacing).unwrap_or(zero),
        clean_up: values.length(FieldId::StockCleanUp).unwrap_or(zero),
        rest: values.length(FieldId::StockRest).unwrap_or(zero),
        sprue: values.decimal(FieldId::StockSprue).unwrap_or_default(),
        fabrication,
        at: row.at,
        fields: values.clone(),
    })
}
