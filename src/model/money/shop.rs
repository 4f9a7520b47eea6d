//! The block `shop`: rates, operations, overhead, rejects, scrap, fees and tax.

use crate::schema::FieldId;
use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::merge::Node;
use crate::model::resolve::Resolver;

use super::exchange::Exchange;
use super::read;
use super::{Fee, Operation, Scrap, Setting, Shop, Stream};
use crate::model::values::Values;

/// The entries of the block: its own values, and its named blocks.
pub(super) struct Block<'t> {
    pub values: Values,
    named: Vec<(FieldId, Node<'t>)>,
    is_written: bool,
}

/// Reads the plain values.
pub(super) fn block<'t>(
    nodes: Vec<Node<'t>>,
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Block<'t> {
    let is_written = !nodes.is_empty();
    let (mut own, mut named) = (Vec::new(), Vec::new());
    for node in nodes {
        match node.head {
            "operation" => named.push((FieldId::ShopOperation, node)),
            "fee" => named.push((FieldId::ShopFee, node)),
            _ => own.push(node),
        }
    }
    Block {
        values: read::block(&own, "shop", None, resolver, findings),
        named,
        is_written,
    }
}

/// The workshop, all amounts in the currency that is counted in.
pub(super) fn shop(
    block: &Block<'_>,
    exchange: &mut Exchange,
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
    settings: &mut Vec<Setting>,
) -> Shop {
    let values = &block.values;
    let mut amount = |values: &Values, id: FieldId, findings: &mut Vec<Finding>| {
        values
            .get(id)
            .and_then(|value| exchange.amount(value, findings))
            .unwrap_or_default()
    };
    let share = |id: FieldId| values.decimal(id).unwrap_or_default();
    let mut shop = Shop {
        labour: amount(values, FieldId::ShopLabour, findings),
        machine: amount(values, FieldId::ShopMachine, findings),
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
            charge: amount(values, FieldId::ShopScrapCharge, findings),
            minimum: amount(values, FieldId::ShopScrapMinimum, findings),
        },
        ..Shop::default()
    };
    for (holder, node) in &block.named {
        let Some(name) = node.word() else {
            let example = match *holder {
                FieldId::ShopFee => "fee hallmark { article 1 EUR }",
                _ => "operation turning { run 6 min }",
            };
            findings.push(
                ModelError::ValueCount {
                    at: node.winner().map_or(node.at, |place| place.at),
                    field: node.head.to_owned(),
                    wanted: "a name and a block".to_owned(),
                    label: "here",
                    help: format!("as in `{example}`"),
                }
                .into(),
            );
            continue;
        };
        let own = read::block(&node.children, holder.path(), None, resolver, findings);
        settings.extend(own.iter().map(|value| {
            let path =
                value
                    .field
                    .path
                    .replacen(holder.path(), &format!("{}.{name}", holder.path()), 1);
            Setting::new(path, value.clone())
        }));
        if *holder == FieldId::ShopFee {
            shop.fees.push(Fee {
                name: name.to_owned(),
                article: amount(&own, FieldId::ShopFeeArticle, findings),
                consignment: amount(&own, FieldId::ShopFeeConsignment, findings),
                minimum: amount(&own, FieldId::ShopFeeMinimum, findings),
            });
        } else {
            shop.operations.push(operation(name, &own));
        }
    }
    if block.is_written {
        for value in values.iter() {
            settings.push(Setting::new(value.field.path.to_owned(), value.clone()));
        }
    }
    shop
}

fn operation(name: &str, values: &Values) -> Operation {
    let time = |id: FieldId| values.decimal(id).unwrap_or_default();
    let at = values.word(FieldId::ShopOperationAt).unwrap_or("labour");
    let whom = values.word(FieldId::ShopOperationFor).unwrap_or("every");
    Operation {
        name: name.to_owned(),
        set_up: time(FieldId::ShopOperationSetUp),
        run: time(FieldId::ShopOperationRun),
        labour: at != "machine",
        machine: at != "labour",
        solid: whom != "hollow",
        hollow: whom != "solid",
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
