//! Orders: what is wanted, what it takes, costs and comes to; and the offer made for it, ready to print.

use rust_decimal::Decimal;
use serde_json::{Value as Json, json};

use crate::evaluate::{OLD_METAL, WHO_DECIDES};
use crate::model::money::Order;
use crate::money::{OrderTotals, Ordered};
use crate::quantity::Number;
use crate::source::{cells, printable};

use super::money::{balance, balance_head, cost_lines, money, tied_up};
use super::page::{Page, TextLayout};

/// Every order; nothing where there is none.
#[must_use]
pub(super) fn orders(orders: &[Ordered], layout: TextLayout) -> Option<String> {
    let texts: Vec<String> = orders.iter().map(|one| order(one, layout)).collect();
    (!texts.is_empty()).then(|| texts.join("\n"))
}

/// What each order comes to, in two lines; nothing where there is none.
pub(super) fn orders_in_short(orders: &[Ordered], layout: TextLayout) -> Option<String> {
    let texts = orders.iter().map(|one| in_short(one, layout));
    (!orders.is_empty()).then(|| texts.collect())
}

fn in_short(ordered: &Ordered, layout: TextLayout) -> String {
    let mut page = Page::new(layout);
    let head = head(&ordered.order);
    page.indented_if_long(&head);
    let Some(totals) = &ordered.totals else {
        page.indented(2, NOT_ADDED_UP);
        return page.text;
    };
    let currency = code(totals);
    let weight = page.number(Number::Exact(totals.weights.finished), "g");
    let mut text = format!("{} rings, {weight}", totals.count);
    let amounts = [
        ("cost", totals.cost.map(|cost| cost.total)),
        ("price", totals.net),
        ("to pay", totals.due),
        ("deposit", totals.deposit.filter(|one| !one.is_zero())),
    ];
    for (what, amount) in amounts {
        if let Some(amount) = amount {
            text.push_str(&format!(", {what} {}", money(amount, currency)));
        }
    }
    if totals.cost.is_none() {
        text.push_str("; no cost: a price or a rate that it needs is not stated");
    }
    page.indented(2, &text);
    page.text
}

/// Said of an order without totals.
const NOT_ADDED_UP: &str =
    "not added up: a line of it cannot be made, or nothing is said of prices";

/// The first line of an order.
fn head(order: &Order) -> String {
    let name = order
        .name
        .as_ref()
        .map_or_else(String::new, |name| format!(" {name}"));
    let dated = order
        .dated
        .map_or_else(String::new, |day| format!(", {day}"));
    let customer = order
        .customer
        .as_ref()
        .map_or_else(String::new, |customer| {
            format!(", for {}", printable(customer))
        });
    format!("order{name}{dated}{customer}")
}

fn order(ordered: &Ordered, layout: TextLayout) -> String {
    let mut page = Page::new(layout);
    let order = &ordered.order;
    let head = head(order);
    page.indented_if_long(&head);
    match &ordered.totals {
        Some(totals) => {
            wanted(&mut page, totals);
            metal(&mut page, totals);
            cost(&mut page, totals);
            offer(&mut page, order, totals);
        }
        None => page.row("", NOT_ADDED_UP),
    }
    page.text
}

fn code(totals: &OrderTotals) -> &str {
    totals
        .currency
        .as_ref()
        .map_or("", |currency| currency.code())
}

fn wanted(page: &mut Page, totals: &OrderTotals) {
    let currency = code(totals);
    page.heading("wanted");
    let widest = totals
        .lines
        .iter()
        .map(|line| cells(&line.band))
        .max()
        .unwrap_or(0);
    for line in &totals.lines {
        let pad = widest.saturating_sub(cells(&line.band));
        let weight = page.number(Number::Exact(line.finished), "g");
        let price = line.net.map_or_else(String::new, |net| {
            let all = net
                .checked_mul(Decimal::from(line.count))
                .unwrap_or_default();
            format!(
                "  {:>12} each  {:>13}",
                money(net, currency),
                money(all, currency)
            )
        });
        let band = format!("{}{:pad$}", line.band, "");
        page.hang(
            (4, 6),
            &format!("{:>5}", line.count),
            &format!("{band}  {:<12} {weight:<10}{price}", line.size),
        );
    }
}

fn metal(page: &mut Page, totals: &OrderTotals) {
    page.heading(&format!("metal of all {} rings", totals.count));
    balance_head(page);
    balance(page, "rings", &totals.weights);
    for one in &totals.set_ups {
        let ordered = totals.lines.iter().filter(|line| line.band == one.band);
        let ordered: u32 = ordered.map(|line| line.count).fold(0, u32::saturating_add);
        let timed = totals
            .labour_minutes
            .is_some_and(|minutes| !minutes.is_zero())
            || totals
                .machine_minutes
                .is_some_and(|minutes| !minutes.is_zero());
        if ordered == one.begun && !timed {
            continue;
        }
        let batches = match (one.times, one.batch) {
            (1, _) => "one batch".to_owned(),
            (times, batch) => format!("{times} batches of up to {batch}"),
        };
        let text = format!("{} `{}` for {ordered}, in {batches}", one.begun, one.band);
        page.row("begun", &text);
    }
    for one in &totals.returned {
        let [found, expected] =
            [one.found, one.expected].map(|grams| page.number(Number::Exact(grams), "g"));
        let text = format!("{found} of {}, {expected} expected", one.field.word());
        page.row("came back", &text);
    }
    for one in &totals.to_buy {
        let grams = page.number(Number::Exact(one.grams), "g");
        let money = one
            .money
            .map(|sum| format!(", {}", money(sum, code(totals))));
        let money = money.unwrap_or_default();
        let text = match &one.stock {
            Some(stock) => {
                let length = page.number(Number::Computed(one.length), "mm");
                let length = match one.lengths {
                    Some(lengths) => format!("{lengths}, {length} in all"),
                    None => length,
                };
                format!("`{stock}` of {}: {length}, {grams}{money}", one.alloy)
            }
            None => format!("{}: {grams}{money}, no stock stated", one.alloy),
        };
        page.row("to buy", &text);
    }
}

fn cost(page: &mut Page, totals: &OrderTotals) {
    let currency = code(totals);
    if let Some(cost) = &totals.cost {
        page.heading("cost of all");
        cost_lines(page, cost, currency);
        if let Some(singly) = totals.singly {
            let width = money(cost.total, currency).len();
            let rest = cost.total - singly;
            page.row(
                "of it one by one",
                &format!("{:>width$}", money(singly, currency)),
            );
            page.row(
                "of it whole rings",
                &format!(
                    "{:>width$}, batches and consignments",
                    money(rest, currency)
                ),
            );
        }
        for (name, fee) in &totals.fees {
            let fee = page.number(Number::Exact(*fee), currency);
            page.row("of it fee", &format!("{name} {fee}"));
        }
        if let Some((tied, wait)) = totals.tied_up {
            page.words("tied up", &tied_up(tied, wait, currency));
        }
        if let Some(more) = totals.one_per_cent {
            page.row("if metal rises 1 %", &format!("+{}", money(more, currency)));
        }
    }
    if totals.cost.is_none() && totals.currency.is_some() {
        page.heading("cost of all");
        page.row("not given", "a price or a rate that it needs is not stated");
    }
    let time = [
        ("labour", totals.labour_minutes),
        ("machine", totals.machine_minutes),
    ];
    for (word, minutes) in time {
        if let Some(minutes) = minutes.filter(|minutes| !minutes.is_zero()) {
            let minutes = page.number(Number::Exact(minutes), "min");
            page.row("time", &format!("{minutes} {word}"));
        }
    }
}

fn offer(page: &mut Page, order: &Order, totals: &OrderTotals) {
    let currency = code(totals);
    let (Some(net), Some(gross), Some(due)) = (totals.net, totals.gross, totals.due) else {
        return;
    };
    page.heading(if order.quote.is_some() {
        "offer"
    } else {
        "to pay"
    });
    let mut lines = vec![("rings".to_owned(), net)];
    if gross != net {
        lines.push(("tax".to_owned(), gross - net));
    }
    if let (Some(credit), Some(of)) = (totals.credit, &order.credit) {
        let what = if of.supplied {
            "metal supplied"
        } else {
            "old metal"
        };
        lines.push((what.to_owned(), -credit));
    }
    lines.push(("to pay".to_owned(), due));
    let deposit = totals.deposit.filter(|deposit| !deposit.is_zero());
    if let Some(deposit) = deposit {
        lines.push(("deposit".to_owned(), deposit));
        lines.push(("when ready".to_owned(), due - deposit));
    }
    let width = lines
        .iter()
        .map(|(_, amount)| money(*amount, currency).len())
        .max()
        .unwrap_or(0);
    for (label, amount) in &lines {
        page.row(label, &format!("{:>width$}", money(*amount, currency)));
    }
    if let Some(credit) = &order.credit {
        let weight = page.number(Number::Exact(credit.grams), "g");
        let share = (credit.paid * Decimal::ONE_HUNDRED).normalize();
        let text = format!(
            "{weight} of {}, {share} % of its fine metal",
            credit.alloy.name
        );
        page.row("old metal", &text);
        page.words("", &format!("{} {}", OLD_METAL.text, WHO_DECIDES.text));
    }
    let Some(quote) = &order.quote else { return };
    let dated = quote
        .dated
        .map_or_else(|| "of no day".to_owned(), |day| format!("of {day}"));
    let valid = quote.valid.map_or_else(
        || "without end".to_owned(),
        |days| format!("stands for {} days", days.normalize()),
    );
    page.row("offer", &format!("{dated}, {valid}"));
    for (metal, low, high) in &totals.triggers {
        let text = format!(
            "{metal} below {} or above {} a gram: new offer",
            money(*low, currency),
            money(*high, currency)
        );
        page.row("if", &text);
    }
}

/// Every order with its totals, as machine output.
#[must_use]
pub fn orders_json(orders: &[Ordered]) -> Vec<Json> {
    orders.iter().map(order_json).collect()
}

fn order_json(ordered: &Ordered) -> Json {
    let order = &ordered.order;
    let totals = ordered.totals.as_ref().map(|of| {
        let exact = |value: Decimal| value.normalize().to_string();
        let maybe = |value: Option<Decimal>| value.map(exact);
        let lines: Vec<Json> = of
            .lines
            .iter()
            .map(|line| {
                json!({
                    "band": line.band, "size": line.size, "count": line.count,
                    "begun": line.begun,
                    "finished": exact(line.finished), "price": maybe(line.net),
                })
            })
            .collect();
        let stocks: Vec<Json> = of
            .to_buy
            .iter()
            .map(|one| {
                json!({
                    "stock": one.stock, "alloy": one.alloy, "length": one.length,
                    "lengths": one.lengths, "grams": exact(one.grams), "money": maybe(one.money),
                })
            })
            .collect();
        let set_ups: Vec<Json> = of
            .set_ups
            .iter()
            .map(|one| {
                json!({
                    "band": one.band, "begun": one.begun, "batch": one.batch, "times": one.times,
                })
            })
            .collect();
        let returned: Vec<Json> = of
            .returned
            .iter()
            .map(|one| {
                json!({
                    "stream": one.field.word(), "found": exact(one.found),
                    "expected": exact(one.expected), "taken": exact(one.taken),
                })
            })
            .collect();
        let rest = of
            .cost
            .zip(of.singly)
            .map(|(cost, singly)| cost.total - singly);
        let cost = of.cost.map(|cost| {
            json!({
                "metal": exact(cost.metal), "bought": exact(cost.bought),
                "returned": exact(cost.returned), "refining": exact(cost.refining),
                "labour": exact(cost.labour), "machine": exact(cost.machine),
                "overhead": exact(cost.overhead), "rejects": exact(cost.rejects),
                "fees": exact(cost.fees), "total": exact(cost.total),
            })
        });
        json!({
            "currency": of.currency.map(|currency| currency.code().to_owned()),
            "count": of.count,
            "begun": of.begun,
            "lines": lines,
            "grams": {
                "issued": exact(of.weights.issued), "finished": exact(of.weights.finished),
                "turnings": exact(of.weights.turnings), "offcuts": exact(of.weights.offcuts),
                "polishings": exact(of.weights.polishings),
                "recovered": exact(of.weights.recovered), "lost": exact(of.weights.lost),
            },
            "stock": stocks,
            "set-ups": set_ups,
            "returned": returned,
            "minutes": { "labour": maybe(of.labour_minutes), "machine": maybe(of.machine_minutes) },
            "cost": cost,
            "singly": maybe(of.singly), "difference": maybe(rest),
            "tied-up": maybe(of.tied_up.map(|(tied, _)| tied)),
            "wait": maybe(of.tied_up.map(|(_, days)| days)),
            "price": maybe(of.net), "total": maybe(of.gross), "credit": maybe(of.credit),
            "due": maybe(of.due), "deposit": maybe(of.deposit),
        })
    });
    json!({
        "name": order.name,
        "dated": order.dated.map(|day| day.to_string()),
        "for": order.customer,
        "totals": totals,
    })
}
