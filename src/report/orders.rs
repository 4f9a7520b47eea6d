//! Orders: what is wanted, what it takes, costs and comes to; and the offer made for it, ready to print.

use rust_decimal::Decimal;
use serde_json::{Map, Value as Json, json};

use crate::evaluate::{OLD_METAL, Ordered, Rest, WHO_DECIDES};
use crate::model::AlloyDensity;
use crate::model::money::Order;
use crate::money::OrderTotals;
use crate::quantity::Number;
use crate::schema::{ORDER_RESULTS, OrderResult};
use crate::source::{cells, printable};

use super::json::{add_rests, spread_json};
use super::money::{balance, balance_head, balance_off, cost_lines, cost_off, money, tied_up};
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
    let off = page.off(ordered.range(OrderResult::Finished).as_ref(), "g");
    let mut text = format!("{} rings, {weight}{off}", totals.count);
    let cost = totals.cost.map(|cost| cost.total);
    let deposit = totals.deposit.filter(|one| !one.is_zero());
    let amounts = [
        ("cost", OrderResult::Cost, cost),
        ("price", OrderResult::Price, totals.net),
        ("to pay", OrderResult::Due, totals.due),
        ("deposit", OrderResult::Deposit, deposit),
    ];
    for (what, id, amount) in amounts {
        if let Some(amount) = amount {
            let off = page.off(ordered.range(id).as_ref(), currency);
            text.push_str(&format!(", {what} {}{off}", money(amount, currency)));
        }
    }
    if totals.cost.is_none() {
        text.push_str("; no cost: a price or rate it needs is not stated");
    }
    page.indented(2, &text);
    page.text
}

/// Said of an order without totals.
const NOT_ADDED_UP: &str = "not added up: one of its lines cannot be made, or no prices are stated";

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
            metal(&mut page, ordered, totals);
            cost(&mut page, ordered, totals);
            offer(&mut page, ordered, totals);
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

/// The weights of an order in the columns of its balance.
const BALANCE: [OrderResult; 4] = [
    OrderResult::Issued,
    OrderResult::Finished,
    OrderResult::Recovered,
    OrderResult::Lost,
];

fn metal(page: &mut Page, ordered: &Ordered, totals: &OrderTotals) {
    page.heading(&format!("metal of all {} rings", totals.count));
    balance_head(page);
    balance(page, "rings", &totals.weights);
    balance_off(page, BALANCE.map(|id| ordered.spread(id)));
    for alloy in derived(ordered) {
        let text = format!(
            "{alloy} is derived by ideal mixing: grams and money of it may be off by up to about 2.5 %"
        );
        page.words("density", &text);
    }
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

/// Metals of an order whose density no source and no recipe states.
fn derived(ordered: &Ordered) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for alloy in ordered.rings().iter().flat_map(|ring| ring.band.metals()) {
        let name = printable(&alloy.name);
        if matches!(alloy.density, AlloyDensity::Derived(_)) && !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn cost(page: &mut Page, ordered: &Ordered, totals: &OrderTotals) {
    let currency = code(totals);
    let at_worst = |page: &mut Page, id| page.off(ordered.range(id).as_ref(), currency);
    if let Some(cost) = &totals.cost {
        page.heading("cost of all");
        cost_lines(page, cost, currency);
        let off = at_worst(page, OrderResult::Cost);
        cost_off(page, &off);
        if let Some(singly) = totals.singly {
            let width = money(cost.total, currency).len();
            let rest = cost.total - singly;
            page.row(
                "one by one",
                &format!("{:>width$}", money(singly, currency)),
            );
            page.row(
                "whole rings",
                &format!(
                    "{:>width$}, batches and consignments",
                    money(rest, currency)
                ),
            );
        }
        for (name, fee) in &totals.fees {
            let fee = page.number(Number::Exact(*fee), currency);
            page.row("fees for", &format!("{name} {fee}"));
        }
        if let Some((tied, wait)) = totals.tied_up {
            let off = at_worst(page, OrderResult::CostTiedUp);
            page.words("tied up", &tied_up(tied, wait, currency, &off));
        }
        if let Some(more) = totals.one_per_cent {
            let off = at_worst(page, OrderResult::OnePerCent);
            page.row(
                "if metal rises 1 %",
                &format!("+{}{off}", money(more, currency)),
            );
        }
    }
    if totals.cost.is_none() && totals.currency.is_some() {
        page.heading("cost of all");
        page.row("not given", "a price or rate it needs is not stated");
    }
    let time = [
        ("labour", OrderResult::Labour, totals.labour_minutes),
        ("machine", OrderResult::Machine, totals.machine_minutes),
    ];
    for (word, id, minutes) in time {
        if let Some(minutes) = minutes.filter(|minutes| !minutes.is_zero()) {
            let minutes = page.number(Number::Exact(minutes), "min");
            let off = page.off(ordered.range(id).as_ref(), "min");
            page.row("time", &format!("{minutes} {word}{off}"));
        }
    }
}

fn offer(page: &mut Page, ordered: &Ordered, totals: &OrderTotals) {
    let order = &ordered.order;
    let currency = code(totals);
    let (Some(net), Some(gross), Some(due)) = (totals.net, totals.gross, totals.due) else {
        return;
    };
    page.heading(if order.quote.is_some() {
        "offer"
    } else {
        "to pay"
    });
    let mut lines = vec![("rings", Some(OrderResult::Price), net)];
    if gross != net {
        lines.push(("tax", Some(OrderResult::Tax), gross - net));
    }
    if let (Some(credit), Some(of)) = (totals.credit, &order.credit) {
        let what = if of.supplied {
            "metal supplied"
        } else {
            "old metal"
        };
        lines.push((what, Some(OrderResult::Credit), -credit));
    }
    lines.push(("to pay", Some(OrderResult::Due), due));
    let deposit = totals.deposit.filter(|deposit| !deposit.is_zero());
    if let Some(deposit) = deposit {
        lines.push(("deposit", Some(OrderResult::Deposit), deposit));
        lines.push(("when ready", None, due - deposit));
    }
    let width = lines
        .iter()
        .map(|(.., amount)| money(*amount, currency).len())
        .max()
        .unwrap_or(0);
    for (label, id, amount) in &lines {
        let off = page.off(id.and_then(|id| ordered.range(id)).as_ref(), currency);
        let amount = money(*amount, currency);
        page.row(label, &format!("{amount:>width$}{off}"));
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
        .map_or_else(|| "no date".to_owned(), |day| format!("of {day}"));
    let valid = quote.valid.map_or_else(
        || "no end stated".to_owned(),
        |days| format!("stands for {} days", days.normalize()),
    );
    page.row("offer", &format!("{dated}, {valid}"));
    for (metal, low, high) in &totals.triggers {
        let text = format!(
            "if {metal} goes below {} or above {} a gram",
            money(*low, currency),
            money(*high, currency)
        );
        page.row("new offer", &text);
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
            "known": known(ordered),
        })
    });
    json!({
        "name": order.name,
        "dated": order.dated.map(|day| day.to_string()),
        "for": order.customer,
        "totals": totals,
    })
}

/// By the path of each total: how far it may be off, and what it rests on; those of which neither can be said are left
/// out.
fn known(ordered: &Ordered) -> Map<String, Json> {
    let mut all = Map::new();
    for row in ORDER_RESULTS {
        let mut object = Map::new();
        if let Some(spread) = ordered.spread(row.id) {
            object.insert("spread".to_owned(), spread_json(spread));
        }
        add_rests(
            &mut object,
            ordered.rests(row.id).into_iter().map(Rest::word),
        );
        if !object.is_empty() {
            all.insert(row.path.to_owned(), Json::Object(object));
        }
    }
    all
}
