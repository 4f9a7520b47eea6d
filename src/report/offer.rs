//! An order as it is handed to the customer: what is offered, at what price, and until when. Nothing of the workshop's
//! own cost stands in it.

use rust_decimal::Decimal;
use serde_json::{Value as Json, json};

use crate::evaluate::{Evaluation, Ordered};
use crate::money::{OrderLine, OrderTotals};
use crate::quantity::Number;
use crate::source::printable;
use crate::suggest::listed;

use super::money::money;
use super::number::Digits;
use super::offer_ring::{Told, describe, weight};
use super::page::{Page, TextLayout, wrapped};
use super::told::laid_over;

/// The offers of all orders, or of the one of a name; `over` lies over the recipe, which each says.
///
/// # Errors
/// Why there is none: no order of that name, or one without a price; beside it the offers that there are.
pub fn offers(
    orders: &[Ordered],
    wanted: Option<&str>,
    over: &[String],
    digits: Digits,
) -> (String, Result<(), String>) {
    let name = |one: &'_ Ordered| one.order.name.clone();
    let is_meant =
        |one: &&Ordered| wanted.is_none_or(|wanted| name(one).as_deref() == Some(wanted));
    let meant: Vec<&Ordered> = orders.iter().filter(is_meant).collect();
    let texts: Vec<Option<String>> = meant.iter().map(|one| offer(one, over, digits)).collect();
    let text = texts.iter().flatten().cloned().collect::<Vec<_>>();
    let refusal = if texts.contains(&None) {
        Some("an order has no price: its bands need `sale`, and its metals a price".to_owned())
    } else if texts.is_empty() {
        let names: Vec<String> = orders.iter().filter_map(name).collect();
        Some(match wanted {
            Some(wanted) if !names.is_empty() => format!(
                "there is no order `{}`; orders are {}",
                printable(wanted),
                listed(names.iter().map(String::as_str))
            ),
            _ => {
                "the recipe holds no order; `order fair { harvest 3 of ISO 52 }` is one".to_owned()
            }
        })
    } else {
        None
    };
    (text.join("\n"), refusal.map_or(Ok(()), Err))
}

/// The offers of orders as they are handed over, for machines; null where an order has no price.
#[must_use]
pub fn offers_json(orders: &[Ordered], over: &[String]) -> Vec<Json> {
    let offers = orders.iter().map(|one| {
        let text = offer(one, over, Digits::All);
        json!({ "order": one.order.name, "text": text })
    });
    offers.collect()
}

/// The offer of an order; none where it has no price.
fn offer(ordered: &Ordered, over: &[String], digits: Digits) -> Option<String> {
    let totals = ordered.totals.as_ref()?;
    let order = &ordered.order;
    let currency = totals.currency?;
    let currency = currency.code();
    let (net, gross, due) = (totals.net?, totals.gross?, totals.due?);
    let mut page = Page::new(TextLayout {
        digits,
        ..TextLayout::default()
    });
    let quote = order.quote.as_ref();
    page.line(if quote.is_some() { "Offer" } else { "Order" });
    if let Some(customer) = &order.customer {
        page.line(&format!("for {}", printable(customer)));
    }
    if let Some(day) = quote.and_then(|quote| quote.dated).or(order.dated) {
        page.line(&format!("of {day}"));
    }
    let mut told = Told::default();
    let lines = totals.lines.iter().zip(ordered.rings());
    for (place, (line, ring)) in (1..).zip(lines) {
        told.add(ring);
        item(&mut page, place, line, ring, currency);
    }
    page.line("");
    sums(&mut page, ordered, totals, currency, [net, gross, due]);
    if let Some(quote) = quote {
        page.line("");
        if let (Some(dated), Some(valid)) = (quote.dated, quote.valid) {
            let until = dated
                .after(valid)
                .map_or_else(String::new, |day| format!(", until {day}"));
            page.line(&format!(
                "  This offer stands for {} days{until}.",
                valid.normalize()
            ));
        }
        for (metal, low, high) in &totals.triggers {
            let text = format!(
                "Should a gram of fine {metal} cost less than {} or more than {}, a new offer is made.",
                money(*low, currency),
                money(*high, currency)
            );
            for line in wrapped(&text, 76) {
                page.line(&format!("  {line}"));
            }
        }
    }
    page.line("");
    let words = told.sentences().into_iter().map(str::to_owned);
    let words: Vec<String> = words.chain(laid_over(over)).collect();
    for line in words.iter().flat_map(|text| wrapped(text, 76)) {
        page.line(&format!("  {line}"));
    }
    Some(page.text)
}

fn item(page: &mut Page, place: usize, line: &OrderLine, ring: &Evaluation, currency: &str) {
    let title = ring.band.title().unwrap_or(&line.band);
    page.line("");
    page.line(&format!(
        "  {place}. {}, size {}",
        printable(title),
        line.size
    ));
    describe(page, ring);
    let weight = weight(page, ring, Number::Exact(line.finished));
    let Some(net) = line.net else { return };
    let all = net
        .checked_mul(Decimal::from(line.count))
        .unwrap_or_default();
    let sum = format!("{} at {}", line.count, money(net, currency));
    page.line(&format!("     {weight}"));
    page.line(&format!("     {sum:<46}{:>14}", money(all, currency)));
}

fn sums(
    page: &mut Page,
    ordered: &Ordered,
    totals: &OrderTotals,
    currency: &str,
    [net, gross, due]: [Decimal; 3],
) {
    let mut line = |label: &str, amount: Decimal| {
        page.line(&format!("     {label:<46}{:>14}", money(amount, currency)));
    };
    line("together", net);
    if gross != net {
        line("tax", gross - net);
    }
    if let (Some(credit), Some(of)) = (totals.credit, &ordered.order.credit) {
        let share = (of.paid * Decimal::ONE_HUNDRED).normalize();
        let grams = of.grams.normalize();
        let what = if of.supplied {
            "metal supplied"
        } else {
            "old metal"
        };
        let label = format!("{what}: {grams} g of {}, {share} % credited", of.alloy.name);
        line(&label, -credit);
    }
    if due.is_sign_negative() && !due.is_zero() {
        line("the metal is worth more: paid back to you", -due);
        return;
    }
    line("to pay", due);
    if let Some(deposit) = totals.deposit.filter(|deposit| !deposit.is_zero()) {
        line("deposit", deposit);
        line("balance when ready", due - deposit);
    }
}
