//! Metal, cost, price, and how a band stands against another build, as sections of its report.

use rust_decimal::Decimal;

use crate::evaluate::{Evaluation, Spread, range_of};
use crate::model::money::{Money, Sale, Terms};
use crate::money::{Account, Against, Book, Cost, PartOf, Pays, Stand, Weights};
use crate::quantity::Number;
use crate::schema::ResultId;
use crate::source::printable;
use crate::words;

use super::number::{Digits, shown_in};
use super::page::{LABEL, Page};

/// Everything that is known of a band's metal and money; nothing where the recipe says nothing of it.
pub(super) fn account(page: &mut Page, evaluation: &Evaluation) {
    let (Some(terms), Some(account)) = (&evaluation.band.terms, evaluation.account()) else {
        return;
    };
    metal(page, terms, account);
    match account.cost() {
        Some(cost) => costs(page, terms, evaluation, account, cost),
        None => not_given(page, evaluation),
    }
    if let Some(sale) = &terms.sale {
        price(page, evaluation, sale, account);
    }
    if let Some(against) = evaluation.against() {
        stand(page, evaluation, account, against);
    }
}

/// The columns of a metal balance.
const COLUMNS: [&str; 4] = ["issued", "finished", "recovered", "lost"];

/// Cells that the columns of a balance take.
const COLUMN: usize = 12;

/// Whether a balance has room for its columns.
fn has_columns(page: &Page) -> bool {
    page.width >= 4 + LABEL + COLUMNS.len() * COLUMN
}

/// The heads of a balance's columns; a narrow page says them in each line.
pub(super) fn balance_head(page: &mut Page) {
    if has_columns(page) {
        let heads = COLUMNS.map(|head| format!("{head:<COLUMN$}"));
        page.row("", &heads.concat());
    }
}

/// Grams of a balance.
pub(super) fn balance(page: &mut Page, label: &str, weights: &Weights) {
    let grams = [
        weights.issued,
        weights.finished,
        weights.recovered,
        weights.lost,
    ];
    let grams = grams.map(|grams| page.number(Number::Exact(grams), "g"));
    columns(page, label, grams);
}

/// How far the grams of a balance may be off; nothing where none of them may.
pub(super) fn balance_off(page: &mut Page, spreads: [Option<Spread>; 4]) {
    if spreads.iter().all(Option::is_none) {
        return;
    }
    let grams = spreads.map(|spread| match spread {
        Some(spread) => {
            let worst = Number::Computed(spread.high.max(-spread.low));
            format!("\u{B1} {}", shown_in(worst, "g", Digits::Useful).text)
        }
        None => String::new(),
    });
    let grams = grams.map(|text| match text.is_empty() {
        true => text,
        false => format!("{text} g"),
    });
    columns(page, "at worst", grams);
}

fn columns(page: &mut Page, label: &str, grams: [String; 4]) {
    if has_columns(page) {
        let cells = grams.map(|grams| format!("{grams:<COLUMN$}"));
        return page.row(label, &cells.concat());
    }
    let said: Vec<String> = COLUMNS
        .iter()
        .zip(grams)
        .filter(|(_, grams)| !grams.is_empty())
        .map(|(what, grams)| format!("{what} {grams}"))
        .collect();
    page.row(label, &said.join(", "));
}

fn metal(page: &mut Page, terms: &Terms, account: &Account) {
    let scrap = &terms.money.shop.scrap;
    let of = &account.balance;
    page.heading(&format!("metal of one ring{}", batch(of.batch)));
    balance_head(page);
    for part in &of.parts {
        balance(page, part.of.word(), &part.weights(scrap));
    }
    if of.parts.len() > 1 {
        balance(page, "ring", account.weights());
    }
    for price in &terms.money.prices.metals {
        let fine = of.fine_weights(scrap, &price.metal);
        if !fine.issued.is_zero() {
            balance(page, &format!("fine {}", price.metal), &fine);
        }
    }
    if of.batch > 1 {
        balance(page, "batch", &account.weights().times(of.batch));
    }
    let streams = [
        ("turnings", account.weights().turnings),
        ("offcuts", account.weights().offcuts),
        ("polishings", account.weights().polishings),
    ];
    let streams: Vec<String> = streams
        .iter()
        .filter(|(_, grams)| !grams.is_zero())
        .map(|(word, grams)| format!("{} {word}", page.number(Number::Exact(*grams), "g")))
        .collect();
    if !streams.is_empty() {
        page.row("taken off", &streams.join(", "));
    }
    for part in &of.parts {
        let text = match (&part.stock, &part.need) {
            (Some(stock), Some(need)) => {
                let length = page.number(Number::Computed(need.length), "mm");
                let pieces = match need.lengths {
                    Some(lengths) if stock.form.is_parted() => {
                        let one = stock.length.map_or(Decimal::ZERO, |length| length.value());
                        format!("{lengths} of {} mm", one.normalize())
                    }
                    Some(blanks) => format!("{blanks} blank{}", if blanks == 1 { "" } else { "s" }),
                    None => length,
                };
                format!("{} `{}`: {pieces} a batch", stock.form.word(), stock.name)
            }
            _ if part.of == PartOf::Solder => "the amount that is stated".to_owned(),
            _ => "no stock stated: the uncut weight counts as issued".to_owned(),
        };
        page.row(&format!("{} from", part.of.word()), &text);
    }
    if let Some(charged) = account.charged {
        let text = page.number(Number::Exact(charged), "g");
        page.row(
            "charged",
            &format!("{text}: what the price by weight counts, not a loss of metal"),
        );
    }
}

fn batch(batch: u32) -> String {
    if batch > 1 {
        format!(", in batches of {batch}")
    } else {
        String::new()
    }
}

/// Money with all places of its minor unit, and its currency.
pub(super) fn money(amount: Decimal, currency: &str) -> String {
    let shown = shown_in(Number::Exact(amount), currency, Digits::All);
    format!("{} {currency}", shown.text)
}

/// Lines of a cost, each with its share of the total.
pub(super) fn cost_lines(page: &mut Page, cost: &Cost, currency: &str) {
    let widest = [cost.total, cost.bought, -cost.returned];
    let width = widest
        .iter()
        .map(|amount| money(*amount, currency).len())
        .max()
        .unwrap_or(0);
    let mut line = |label: &str, amount: Decimal, always: bool| {
        if amount.is_zero() && !always {
            return;
        }
        let share = amount
            .checked_mul(Decimal::ONE_HUNDRED)
            .and_then(|amount| amount.checked_div(cost.total))
            .filter(|_| !label.starts_with(' '))
            .map_or_else(String::new, |share| {
                format!("   {:>5.1} %", share.round_dp(1))
            });
        page.row(
            label,
            &format!("{:>width$}{share}", money(amount, currency)),
        );
    };
    line("metal", cost.metal, true);
    if cost.metal != cost.bought {
        line("  bought", cost.bought, true);
        line("  returned", -cost.returned, false);
        line("  refining", cost.refining, false);
    }
    line("labour", cost.labour, false);
    line("machine", cost.machine, false);
    line("overhead", cost.overhead, false);
    line("rejects", cost.rejects, false);
    line("fees", cost.fees, false);
    page.row("cost", &format!("{:>width$}", money(cost.total, currency)));
}

/// How far a cost may be off, as [`Page::off`] says it; nothing where it may not.
pub(super) fn cost_off(page: &mut Page, off: &str) {
    let off = off.trim_start().trim_end_matches(" at worst");
    if !off.is_empty() {
        page.row("at worst", off);
    }
}

/// That there is no cost, and for what.
fn not_given(page: &mut Page, evaluation: &Evaluation) {
    let missing = words::money::all_missing(evaluation);
    if missing.is_empty() {
        return;
    }
    page.heading("cost of one ring");
    for one in missing {
        page.row("not given", &format!("no {} is stated", one.what));
    }
}

fn costs(page: &mut Page, terms: &Terms, evaluation: &Evaluation, account: &Account, cost: &Cost) {
    let currency = account
        .currency
        .map_or_else(String::new, |of| of.code().to_owned());
    page.heading(&format!("cost of one ring{}", batch(account.balance.batch)));
    cost_lines(page, cost, &currency);
    let off = |page: &mut Page, id: ResultId| {
        page.off(range_of(evaluation, id.row()).as_ref(), &currency)
    };
    let all = off(page, ResultId::Cost);
    cost_off(page, &all);
    if let Some(more) = evaluation.one_per_cent() {
        let off = off(page, ResultId::CostOnePerCent);
        page.row(
            "if metal rises 1 %",
            &format!("+{}{off}", money(more, &currency)),
        );
    }
    if let Some((tied, wait)) = account.tied_up().zip(terms.money.shop.scrap.wait) {
        let off = off(page, ResultId::CostTiedUp);
        page.words("tied up", &tied_up(tied, wait, &currency, &off));
    }
    let time = [
        ("labour", account.labour_minutes()),
        ("machine", account.machine_minutes()),
    ];
    let time: Vec<String> = time
        .into_iter()
        .filter_map(|(word, minutes)| Some((word, minutes.filter(|minutes| !minutes.is_zero())?)))
        .map(|(word, minutes)| format!("{} {word}", page.number(Number::Exact(minutes), "min")))
        .collect();
    if !time.is_empty() {
        page.row("time", &time.join(", "));
    }
    basis(page, &terms.money, &currency);
    if let Some(unpriced) = unpriced(terms, account) {
        page.row("not priced", &format!("{unpriced}: counted as nothing"));
    }
}

/// What is out for metal, and until when.
pub(super) fn tied_up(tied: Decimal, wait: Decimal, currency: &str, off: &str) -> String {
    let days = match wait.normalize().to_string().as_str() {
        "1" => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    format!(
        "{}{off} of it, until the refiner pays: {days} from sending in",
        money(tied, currency)
    )
}

/// The metals of a ring that have no price; none where all have one.
pub(super) fn unpriced(terms: &Terms, account: &Account) -> Option<String> {
    let book = Book::new(&terms.money.prices);
    let mut all: Vec<&str> = Vec::new();
    for part in &account.balance.parts {
        for element in book.unpriced(&part.alloy) {
            if !all.contains(&element) {
                all.push(element);
            }
        }
    }
    (!all.is_empty()).then(|| all.join(", "))
}

/// Prices and rates with their days and sources.
pub(super) fn basis(page: &mut Page, money: &Money, currency: &str) {
    for price in &money.prices.metals {
        let source = price
            .source
            .as_ref()
            .map_or_else(|| "no source stated".to_owned(), |source| printable(source));
        let by_gram = page.number(Number::Exact(price.by_gram), &format!("{currency}/g"));
        let text = format!("{} at {by_gram}, {}: {source}", price.metal, price.dated);
        page.row("price of", &text);
    }
    for rate in &money.rates {
        let text = format!(
            "1 {} = {} {}, {}",
            rate.of.code(),
            rate.is.normalize(),
            rate.in_.code(),
            rate.dated
        );
        page.row("rate", &text);
    }
}

fn price(page: &mut Page, evaluation: &Evaluation, sale: &Sale, account: &Account) {
    let (Some(net), Some(currency)) = (account.net, account.currency) else {
        return;
    };
    let currency = currency.code();
    let per_cent = |share: &Decimal| (share * Decimal::ONE_HUNDRED).normalize();
    page.heading("price of one ring");
    let how = match sale {
        Sale::Markup(markup) => format!("cost plus {} %", per_cent(markup)),
        Sale::Margin(margin) => format!("of which {} % is earned", per_cent(margin)),
        Sale::At(_) => "as stated".to_owned(),
        Sale::Weight { .. } => {
            let making = account.making.unwrap_or_default();
            format!(
                "metal {}, making {}",
                money(net - making, currency),
                money(making, currency)
            )
        }
    };
    let mut row = |label: &str, id: ResultId, amount: Decimal, rest: &str| {
        let off = page.off(range_of(evaluation, id.row()).as_ref(), currency);
        page.row(label, &format!("{}{off}{rest}", money(amount, currency)));
    };
    row("price", ResultId::Price, net, &format!(": {how}"));
    if let Some(gross) = account.gross.filter(|gross| *gross != net) {
        row("tax", ResultId::PriceTax, gross - net, "");
        row("with tax", ResultId::PriceTotal, gross, "");
    }
    if let Some(earning) = account.earning {
        row("earned", ResultId::Earning, earning, " before tax");
    }
}

fn stand(page: &mut Page, evaluation: &Evaluation, account: &Account, against: &Against) {
    let currency = account
        .currency
        .map_or_else(String::new, |of| of.code().to_owned());
    let name = match &evaluation.band.against {
        Some(other) => format!("`{}`", other.name),
        None => "the solid of the same look".to_owned(),
    };
    page.heading(&format!("against {name}"));
    if let (Some(other), Some(own)) = (against.cost, account.cost()) {
        let difference = own.total - other;
        let word = if difference.is_sign_negative() {
            "less"
        } else {
            "more"
        };
        let text = format!(
            "{}; this one {} {word}",
            money(other, &currency),
            money(difference.abs(), &currency)
        );
        page.row("it costs", &text);
    }
    if against.no_stock {
        page.row(
            "its metal",
            "no stock stated: the uncut weight counts as issued",
        );
    }
    let unit = format!("{currency}/g");
    for (metal, stand) in &against.metals {
        match stand {
            Stand::Same { at, less_above } => {
                let price = page.number(Number::Exact(*at), &unit);
                page.row("costs the same", &format!("with {metal} at {price}"));
                let side = if *less_above { "above" } else { "below" };
                page.row("costs less", &format!("with {metal} {side} that"));
            }
            Stand::Always { less } => {
                let word = if *less { "costs less" } else { "costs more" };
                page.row(word, &format!("at any price of {metal}"));
            }
        }
    }
    match against.pays {
        Some(Pays::UpTo(share)) => {
            let share = page.number(Number::Exact(share * Decimal::ONE_HUNDRED), "%");
            page.row("pays", &format!("up to {share} rejects"));
        }
        Some(Pays::Always) => page.row("pays", "however many are rejected"),
        Some(Pays::Never) => page.row("pays", "not, even without rejects"),
        None => page.row("pays", "not known: a cost is not given"),
    }
    if let Some(making) = against.making {
        let making = page.number(Number::Exact(making), &unit);
        page.row(
            "earns the same",
            &format!("with a making charge of {making}"),
        );
    }
}
