//! The block `shop`: rates, operations, overhead, rejects, scrap, fees and tax.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::merge::Node;
use crate::model::resolve::Resolver;

use super::exchange::Exchange;
use super::read;
use super::values::Values;
use super::{Fee, Operation, Scrap, Setting, Shop, Stream};

/// The entries of the block: its own values, and its named blocks.
pub(super) struct Block<'t> {
    pub values: Values,
    named: Vec<(&'static str, Node<'t>)>,
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
            "operation" => named.push(("shop.operation", node)),
            "fee" => named.push(("shop.fee", node)),
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
    let mut amount = |values: &Values, path: &str, findings: &mut Vec<Finding>| {
        values
            .get(path)
            .and_then(|value| exchange.amount(value, findings))
            .unwrap_or_default()
    };
    let share = |path: &str| values.decimal(path).unwrap_or_default();
    let mut shop = Shop {
        labour: amount(values, "shop.labour", findings),
        machine: amount(values, "shop.machine", findings),
        batch: values.count("shop.batch").unwrap_or(1),
        overhead: share("shop.overhead"),
        overhead_on_cost: values.word("shop.overhead.on") == Some("cost"),
        rejects_solid: share("shop.rejects.solid"),
        rejects_hollow: share("shop.rejects.hollow"),
        tax: share("shop.tax"),
        scrap: Scrap {
            offcuts: stream(values, "offcuts"),
            turnings: stream(values, "turnings"),
            polishings: stream(values, "polishings"),
            polished: share("shop.scrap.polishings.part"),
            charge: amount(values, "shop.scrap.charge", findings),
            minimum: amount(values, "shop.scrap.minimum", findings),
        },
        ..Shop::default()
    };
    for (holder, node) in &block.named {
        let Some(name) = node.word() else {
            let example = match *holder {
                "shop.fee" => "fee hallmark { article 1 EUR }",
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
        let own = read::block(&node.children, holder, None, resolver, findings);
        settings.extend(own.0.iter().map(|value| {
            let path = value
                .field
                .path
                .replacen(holder, &format!("{holder}.{name}"), 1);
            Setting::new(path, value.clone())
        }));
        if *holder == "shop.fee" {
            shop.fees.push(Fee {
                name: name.to_owned(),
                article: amount(&own, "shop.fee.article", findings),
                consignment: amount(&own, "shop.fee.consignment", findings),
                minimum: amount(&own, "shop.fee.minimum", findings),
            });
        } else {
            shop.operations.push(operation(name, &own));
        }
    }
    if block.is_written {
        for value in &values.0 {
            settings.push(Setting::new(value.field.path.to_owned(), value.clone()));
        }
    }
    shop
}

fn operation(name: &str, values: &Values) -> Operation {
    let time = |path: &str| values.decimal(path).unwrap_or_default();
    let at = values.word("shop.operation.at").unwrap_or("labour");
    let whom = values.word("shop.operation.for").unwrap_or("every");
    Operation {
        name: name.to_owned(),
        set_up: time("shop.operation.set-up"),
        run: time("shop.operation.run"),
        labour: at != "machine",
        machine: at != "labour",
        solid: whom != "hollow",
        hollow: whom != "solid",
    }
}

/// What is not stated does not come back.
fn stream(values: &Values, word: &str) -> Stream {
    let share = |end: &str| values.decimal(&format!("shop.scrap.{word}.{end}"));
    match share("paid") {
        Some(paid) => Stream {
            collected: share("collected").unwrap_or(Decimal::ONE),
            paid,
        },
        None => Stream::default(),
    }
}
