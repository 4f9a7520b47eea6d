//! The block `shop`: rates, operations, overhead, rejects, scrap, fees and tax.

use crate::schema::{self, Field, FieldId, Takes};
use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::merge::Node;
use crate::model::merge::node as find_node;
use crate::model::resolve::Resolver;
use crate::model::review::{held, named_block};
use crate::source::Span;
use crate::suggest::listed;

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
    let mut amount = |values: &Values, id: FieldId, findings: &mut Vec<Finding>| {
        values
            .get(id)
            .and_then(|value| exchange.amount(value, findings))
            .unwrap_or_default()
    };
    let share = |id: FieldId| values.decimal(id).unwrap_or_default();
    let mut shop = Shop {
        labour: rate(values, FieldId::ShopLabour, &mut amount, findings),
        machine: rate(values, FieldId::ShopMachine, &mut amount, findings),
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
        let example = match *holder {
            FieldId::ShopFee => "fee hallmark { article 1 EUR }",
            _ => "operation turning { run 6 min }",
        };
        // What an example shows comes first.
        let mut fields: Vec<_> = schema::held_in_blocks(holder.path()).map(held).collect();
        fields.sort_by_key(|one| !example.contains(&format!(" {} ", one.word)));
        let Some(name) = named_block(node, example, &fields, findings) else {
            continue;
        };
        let before = findings.len();
        let own = read::block(&node.children, holder.path(), None, resolver, findings);
        if findings.len() == before {
            says_something(node, *holder, name, findings);
        }
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
            let at = node.winner().map_or(node.at, |place| place.at);
            shop.operations.push(operation(name, at, &own));
        }
    }
    if block.is_written {
        for value in values.iter() {
            settings.push(Setting::new(value.field.path.to_owned(), value.clone()));
        }
    }
    shop
}

fn operation(name: &str, place: Span, values: &Values) -> Operation {
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
        place,
    }
}

/// An operation without any time, or a fee without any amount, would count as nothing.
fn says_something(node: &Node<'_>, holder: FieldId, name: &str, findings: &mut Vec<Finding>) {
    let fields: Vec<&Field> = schema::held_in_blocks(holder.path())
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
        .map(|field| format!("`{}`", schema::example(field)))
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
    id: FieldId,
    amount: &mut dyn FnMut(&Values, FieldId, &mut Vec<Finding>) -> Decimal,
    findings: &mut Vec<Finding>,
) -> Option<Decimal> {
    values.get(id)?;
    Some(amount(values, id, findings))
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
fn stream(values: &Values, collected: FieldId, paid: FieldId) -> Stream {
    match values.decimal(paid) {
        Some(paid) => Stream {
            collected: values.decimal(collected).unwrap_or(Decimal::ONE),
            paid,
        },
        None => Stream::default(),
    }
}
