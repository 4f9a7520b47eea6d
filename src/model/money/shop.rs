//! The block `shop`: rates, operations, overhead, rejects, scrap, fees and tax.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::check;
use crate::model::error::ModelError;
use crate::model::fields::{Field, Takes};
use crate::model::merge::Node;
use crate::model::resolve::{Resolver, node as find_node};
use crate::model::review::{held, named_block};
use crate::source::Span;
use crate::suggest::listed;

use super::exchange::Exchange;
use super::fields::held_by;
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
    let values = read::block(&own, "shop", None, resolver, findings);
    unpaid(&own, findings);
    Block {
        values,
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
        labour: rate(values, "shop.labour", &mut amount, findings),
        machine: rate(values, "shop.machine", &mut amount, findings),
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
        let example = match *holder {
            "shop.fee" => "fee hallmark { article 1 EUR }",
            _ => "operation turning { run 6 min }",
        };
        // What an example shows comes first.
        let mut fields: Vec<_> = held_by(holder).map(held).collect();
        fields.sort_by_key(|one| !example.contains(&format!(" {} ", one.word)));
        let Some(name) = named_block(node, example, &fields, findings) else {
            continue;
        };
        let before = findings.len();
        let own = read::block(&node.children, holder, None, resolver, findings);
        if findings.len() == before {
            says_something(node, holder, name, findings);
        }
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
            let at = node.winner().map_or(node.at, |place| place.at);
            shop.operations.push(operation(name, at, &own));
        }
    }
    if block.is_written {
        for value in &values.0 {
            settings.push(Setting::new(value.field.path.to_owned(), value.clone()));
        }
    }
    shop
}

fn operation(name: &str, place: Span, values: &Values) -> Operation {
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
        place,
    }
}

/// An operation without any time, or a fee without any amount, would count as nothing.
fn says_something(node: &Node<'_>, holder: &str, name: &str, findings: &mut Vec<Finding>) {
    let fields: Vec<&Field> = held_by(holder)
        .filter(|field| matches!(field.takes, Takes::Time | Takes::Money))
        .collect();
    let is_written = |field: &&Field| node.children.iter().any(|one| one.head == field.word());
    if fields.iter().any(is_written) {
        return;
    }
    let words: Vec<String> = fields
        .iter()
        .map(|field| format!("`{}`", field.word()))
        .collect();
    let lines: Vec<String> = fields
        .iter()
        .map(|field| format!("`{}`", check::example(field)))
        .collect();
    findings.push(
        ModelError::Lacks {
            at: node.winner().map_or(node.at, |place| place.at),
            what: format!("{} `{name}`", node.head),
            fields: listed(words.iter().map(String::as_str)),
            help: format!("add {}", listed(lines.iter().map(String::as_str))),
        }
        .into(),
    );
}

/// A rate, where one is stated; what is not stated is not nothing.
fn rate(
    values: &Values,
    path: &str,
    amount: &mut dyn FnMut(&Values, &str, &mut Vec<Finding>) -> Decimal,
    findings: &mut Vec<Finding>,
) -> Option<Decimal> {
    values.get(path)?;
    Some(amount(values, path, findings))
}

/// What is collected of a stream is worth nothing until it is said what the refiner pays for.
fn unpaid(nodes: &[Node<'_>], findings: &mut Vec<Finding>) {
    for stream in ["offcuts", "turnings", "polishings"] {
        let Some(found) = find_node(nodes, &format!("scrap.{stream}")) else {
            continue;
        };
        let collected = found.children.iter().find(|one| one.head == "collected");
        let is_paid = found.children.iter().any(|one| one.head == "paid");
        if let Some(collected) = collected.filter(|_| !is_paid) {
            findings.push(
                ModelError::Lacks {
                    at: collected.at,
                    what: format!("`{stream}`"),
                    fields: "`paid`".to_owned(),
                    help: "add `paid 95 %`, the share that the refiner pays for".to_owned(),
                }
                .into(),
            );
        }
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
