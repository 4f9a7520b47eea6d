//! An `order` block: how many of which band in which size, old metal that comes in, and the offer made.

use crate::schema::{self, FieldId};
use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use rustc_hash::FxHashMap;

use crate::finding::Finding;
use crate::model::alloy::Alloy;
use crate::model::calendar::Day;
use crate::model::check;
use crate::model::error::ModelError;
use crate::model::expression::Evaluator;
use crate::model::laid::{self, Holder, Override};
use crate::model::merge::{self, Node};
use crate::model::note::ModelNote;
use crate::model::value::Value;
use crate::quantity::Dimension;
use crate::source::Span;
use crate::suggest::{nearest, of_bands};
use crate::syntax::ast::{self, Entry, Expr, ExprKind, entries};

use super::around::Around;
use super::derive::in_days;
use super::read;
use crate::model::values::{FieldValue, Values};

/// An order.
#[derive(Clone, Debug)]
pub struct Order {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// Its day.
    pub dated: Option<Day>,
    /// Whom it is for.
    pub customer: Option<String>,
    /// What is wanted, in the order written.
    pub items: Vec<OrderItem>,
    /// Old metal.
    pub credit: Option<Credit>,
    /// The offer.
    pub quote: Option<Quote>,
    /// Its header.
    pub at: Span,
    /// Its place among the orders as written.
    pub(in crate::model) place: usize,
    /// What its fields say, from which credit and offer follow.
    pub values: Values,
}

/// So many of a band in a size.
#[derive(Clone, Debug)]
pub struct OrderItem {
    /// The band.
    pub band: String,
    /// How many.
    pub count: u32,
    /// The size as written; none: the band's own.
    pub size: Option<String>,
    /// Where it is written.
    pub at: Span,
}

/// Old metal that a customer brings.
#[derive(Clone, Debug)]
pub struct Credit {
    /// Its weight in g.
    pub grams: Decimal,
    /// Its metal.
    pub alloy: Arc<Alloy>,
    /// Share of its fine metal that is credited.
    pub paid: Decimal,
    /// Taken for this very job.
    pub supplied: bool,
    /// Where it is written.
    pub at: Span,
}

/// The offer made for an order.
#[derive(Clone, Debug)]
pub struct Quote {
    /// Its day.
    pub dated: Option<Day>,
    /// How many days it stands.
    pub valid: Option<Decimal>,
    /// Part of the total to be paid beforehand.
    pub deposit: Decimal,
    /// Move of the metal price at which a new offer is made.
    pub trigger: Option<Decimal>,
    /// Where it is written.
    pub at: Span,
}

/// The name of an order: none or one.
pub(crate) fn name(entry: &Entry, findings: &mut Vec<Finding>) -> Option<Option<String>> {
    let name = match entry.values.as_slice() {
        [] => Some(None),
        [one] => match &one.kind {
            ExprKind::Path(path) => path.single().map(|name| Some(name.to_owned())),
            _ => None,
        },
        _ => None,
    };
    if let Some(name) = name.filter(|_| entry.block.is_some()) {
        return Some(name);
    }
    findings.push(
        ModelError::ValueCount {
            at: entry
                .values
                .first()
                .map_or(entry.head_span().after(), |value| value.span),
            field: "order".to_owned(),
            wanted: "a name, if any, and a block".to_owned(),
            label: "here",
            help: "as in `order spring { harvest { 3 of ISO 52, 8 of ISO 54 } }`".to_owned(),
        }
        .into(),
    );
    None
}

/// Reads all orders of the recipe.
pub(crate) fn orders(around: &mut dyn Around<'_>, findings: &mut Vec<Finding>) -> Vec<Order> {
    let written: Vec<(Option<String>, &Entry)> = around.money().written.orders.clone();
    let orders = written.into_iter().enumerate();
    orders
        .filter_map(|(place, (name, entry))| {
            around.money().row = Some(place);
            order(name, entry, place, around, findings)
        })
        .collect()
}

fn order(
    name: Option<String>,
    entry: &Entry,
    place: usize,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Order> {
    let before = findings.len();
    let block = entry.block.as_ref()?;
    let is_field = |head: &str| schema::held_in_blocks("order").any(|field| field.word() == head);
    let (mut plain, mut items) = (Vec::new(), Vec::new());
    let holder = Holder::Block("order", name.clone());
    let (laid, laid_lines) = laid_over(around.overrides(), &holder, &is_field);
    for entry in entries(&block.items) {
        // The line of a band is laid over whole.
        let line = laid_lines
            .iter()
            .find(|(head, _)| entry.head_name() == Some(*head));
        let entry = line.map_or(entry, |(_, line)| line);
        match entry.head_name() {
            Some(head) if is_field(head) => plain.push(ast::Item::Entry(entry.clone())),
            Some(head) if around.band_place(head).is_some() => {
                wanted(head, entry, around, &mut items, findings);
            }
            None => findings.push(without_band(entry, around).into()),
            _ => findings.push(unknown(entry, around).into()),
        }
    }
    for (head, line) in &laid_lines {
        if !entries(&block.items).any(|entry| entry.head_name() == Some(*head)) {
            if around.band_place(head).is_some() {
                wanted(head, line, around, &mut items, findings);
            } else {
                findings.push(unknown(line, around).into());
            }
        }
    }
    let mut nodes: Vec<Node<'_>> = Vec::new();
    merge::lay(&mut nodes, &plain, &|_| false, findings);
    for items in &laid {
        laid::lay_over(&mut nodes, items, &|_| false, findings);
    }
    let mut values = Values::default();
    for node in &nodes {
        if let Some(field) = schema::find_in_blocks(&format!("order.{}", node.head)) {
            read::entry(&mut values, node, field, around, findings);
        }
    }
    let at = |word: &str| {
        let mut nodes = nodes.iter();
        nodes.find(|node| node.head == word).map(|node| node.at)
    };
    let exchange = nodes.iter().find(|node| node.head == "exchange");
    let credit = exchange.and_then(|node| credit(&values, node, around, findings));
    let quote = at("quote").map(|at| quote(&values, at));
    if items.is_empty() && findings.len() == before {
        findings.push(
            ModelError::ValueCount {
                at: block.open,
                field: "order".to_owned(),
                wanted: "bands with their counts".to_owned(),
                label: "nothing is ordered here",
                help: "as in `harvest { 3 of ISO 52, 8 of ISO 54 }`".to_owned(),
            }
            .into(),
        );
    }
    if findings.len() > before {
        return None;
    }
    findings.extend(again(&items));
    Some(Order {
        name,
        dated: values.day(FieldId::OrderDated),
        customer: values.text(FieldId::OrderFor).map(str::to_owned),
        items,
        credit,
        quote,
        at: entry.header_span(),
        place,
        values,
    })
}

fn quote(values: &Values, at: Span) -> Quote {
    let dated = values.day(FieldId::OrderQuoteDated);
    let deposit = values.decimal(FieldId::OrderQuoteDeposit);
    Quote {
        dated: dated.or_else(|| values.day(FieldId::OrderDated)),
        valid: values.decimal(FieldId::OrderQuoteValid).map(in_days),
        deposit: deposit.unwrap_or_default(),
        trigger: values.decimal(FieldId::OrderQuoteTrigger),
        at,
    }
}

impl Order {
    /// Puts another number in its place, and what follows from it.
    pub(in crate::model) fn put(&mut self, value: FieldValue) {
        self.values.put(value);
        let values = &self.values;
        self.quote = self.quote.as_ref().map(|old| quote(values, old.at));
        if let Some(credit) = &mut self.credit {
            let number = |id: FieldId| values.decimal(id);
            credit.grams = number(FieldId::OrderExchangeWeight).unwrap_or(credit.grams);
            credit.paid = number(FieldId::OrderExchangePaid).unwrap_or(credit.paid);
        }
    }
}

/// What is laid over an order: its fields layer by layer, and the line of each band that holds in the end.
fn laid_over<'t>(
    overrides: &'t [Override],
    holder: &Holder,
    is_field: &dyn Fn(&str) -> bool,
) -> (Vec<Vec<ast::Item>>, Vec<(&'t str, &'t Entry)>) {
    let (mut fields, mut lines): (Vec<Vec<ast::Item>>, Vec<(&str, &Entry)>) = Default::default();
    for items in laid::over(overrides, holder) {
        let mut layer = Vec::new();
        for entry in entries(items) {
            let head = entry.head_name().unwrap_or_default();
            if is_field(head) {
                layer.push(ast::Item::Entry(entry.clone()));
            } else {
                lines.retain(|(known, _)| *known != head);
                lines.push((head, entry));
            }
        }
        fields.push(layer);
    }
    (fields, lines)
}

fn credit(
    values: &Values,
    node: &Node<'_>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Credit> {
    let at = node.at;
    // What is written and was refused is not missing.
    let is_written = |id: FieldId| {
        let mut children = node.children.iter();
        children.any(|one| id.row().word() == one.head)
    };
    let mut wanted = vec![FieldId::OrderExchangeWeight, FieldId::OrderExchangeAlloy];
    wanted.retain(|id| !is_written(*id));
    read::lacking("exchange", at, &wanted, values, findings);
    let alloy = values.word(FieldId::OrderExchangeAlloy)?.to_owned();
    let place = values.at(FieldId::OrderExchangeAlloy).unwrap_or(at);
    Some(Credit {
        grams: values.decimal(FieldId::OrderExchangeWeight)?,
        alloy: around.alloy(&alloy, place, findings)?,
        paid: values.decimal(FieldId::OrderExchangePaid)?,
        supplied: values.word(FieldId::OrderExchangeAs) == Some("supplied"),
        at,
    })
}

/// `harvest 3`, or `harvest { 3 of ISO 52, 8 of ISO 54 }`.
fn wanted(
    band: &str,
    entry: &Entry,
    around: &mut dyn Around<'_>,
    items: &mut Vec<OrderItem>,
    findings: &mut Vec<Finding>,
) {
    if let (Some(block), []) = (&entry.block, entry.values.as_slice()) {
        for line in entries(&block.items) {
            if line.head.is_some() || line.block.is_some() {
                findings.push(uncounted(line.span).into());
                continue;
            }
            items.extend(item(band, &line.values, line.span, around, findings));
        }
    } else if entry.block.is_none() && !entry.values.is_empty() {
        items.extend(item(
            band,
            &entry.values,
            entry.header_span(),
            around,
            findings,
        ));
    } else {
        let at = entry
            .values
            .first()
            .map_or(entry.head_span().after(), |value| value.span);
        findings.push(uncounted(at).into());
    }
}

/// Lines of one band in one size: both count, and one may be a slip.
fn again(items: &[OrderItem]) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut counted: FxHashMap<(&str, Option<&str>), u32> = FxHashMap::default();
    for item in items {
        let so_far = counted
            .entry((&item.band, item.size.as_deref()))
            .or_default();
        let before = *so_far;
        *so_far = before.saturating_add(item.count);
        if before == 0 {
            continue;
        }
        let size = item
            .size
            .as_ref()
            .map_or_else(String::new, |size| format!(" in {size}"));
        let note = ModelNote::Unlikely {
            at: item.at,
            message: format!(
                "`{}`{size} stands here again: {} with those before",
                item.band,
                before.saturating_add(item.count)
            ),
            label: "as well?".to_owned(),
            help: "both count; write one line of one size".to_owned(),
        };
        found.push(note.into());
    }
    found
}

fn uncounted(at: Span) -> ModelError {
    ModelError::ValueCount {
        at,
        field: "order".to_owned(),
        wanted: "a count, and a size where it is not the band's own".to_owned(),
        label: "here",
        help: "as in `3 of ISO 52`".to_owned(),
    }
}

fn item(
    band: &str,
    values: &[Expr],
    at: Span,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<OrderItem> {
    let (number, size) = match values {
        [number] => (number, None),
        [number, of, size] if matches!(&of.kind, ExprKind::Path(path) if path.0 == "of") => {
            (number, Some(size))
        }
        _ => {
            findings.push(uncounted(at).into());
            return None;
        }
    };
    let mut evaluate = |expr: &Expr, due: Option<Dimension>, findings: &mut Vec<Finding>| {
        around.evaluated(None, &mut |scope| {
            Evaluator { scope, findings }.value(expr, due)
        })
    };
    let counted = evaluate(number, Some(Dimension::NONE), findings)?;
    let size = match size {
        None => None,
        Some(size) => Some((
            evaluate(size, Some(Dimension::LENGTH), findings)?,
            size.span,
        )),
    };
    let exact = counted
        .quantity()
        .filter(|quantity| quantity.dimension == Dimension::NONE)
        .and_then(|quantity| quantity.number.exact());
    let most = Decimal::from(1_000_000);
    let whole = exact
        .filter(|number| number.fract().is_zero() && *number >= Decimal::ONE && *number <= most)
        .and_then(|number| number.to_u32());
    let Some(count) = whole else {
        findings.push(
            ModelError::OutOfRange {
                at: number.span,
                field: "count".to_owned(),
                found: check::shown(&counted),
                range: "a whole number from 1 to 1000000".to_owned(),
                help: "as in `3 of ISO 52`".to_owned(),
            }
            .into(),
        );
        return None;
    };
    let size = match size {
        None => None,
        Some((value, at)) => match &value {
            Value::Size { .. } => Some(check::written(&value)),
            Value::Quantity { quantity, .. } if quantity.dimension == Dimension::LENGTH => {
                Some(check::shown(&value))
            }
            other => {
                findings.push(
                    ModelError::WrongKind {
                        at,
                        field: "order".to_owned(),
                        due: "a ring size or an inside diameter".to_owned(),
                        found: other.named(),
                        help: "as in `3 of ISO 52`".to_owned(),
                    }
                    .into(),
                );
                return None;
            }
        },
    };
    Some(OrderItem {
        band: band.to_owned(),
        count,
        size,
        at,
    })
}

/// `3 of ISO 52` that stands in no band.
fn without_band(entry: &Entry, around: &mut dyn Around<'_>) -> ModelError {
    let names = around.band_names();
    let band = names.first().copied().unwrap_or("harvest");
    ModelError::ValueCount {
        at: entry.header_span(),
        field: "order".to_owned(),
        wanted: "each count in the block of its band".to_owned(),
        label: "of which band?",
        help: format!("as in `{band} {{ 3 of ISO 52, 8 of ISO 54 }}`"),
    }
}

/// Neither a field of an order nor a band.
fn unknown(entry: &Entry, around: &mut dyn Around<'_>) -> ModelError {
    let names = around.band_names();
    let bands = || names.iter().copied();
    let word = entry.head_name().unwrap_or_default();
    let fields = schema::held_in_blocks("order")
        .map(|field| field.word())
        .filter(|word| *word != "BAND");
    let near = nearest(word, bands().chain(fields)).map(str::to_owned);
    // Of two bands whose names are alike none is certainly meant.
    let of_fields = |near: &String| bands().all(|band| band != near);
    let help = match bands().next() {
        None if near.is_none() => "the recipe defines no band".to_owned(),
        _ => of_bands(near.as_deref(), bands()),
    };
    ModelError::UnknownField {
        at: entry.head_span(),
        word: word.to_owned(),
        holder: "order".to_owned(),
        help,
        nearest: near.filter(of_fields),
    }
}
