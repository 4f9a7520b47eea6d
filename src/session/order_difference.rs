//! What two states of a recipe differ in by their orders, as a person reads them: totals, lines, metal to buy.

use rust_decimal::Decimal;

use crate::evaluate::Ordered;
use crate::explore::{Became, MovedFigure, MovedText, OrderDifference};
use crate::money::OrderTotals;
use crate::quantity::{Currency, Number};
use crate::report::{self, Digits};
use crate::schema::{ORDER_RESULTS, OrderResult};

use super::order_results::value;

/// What is told of an order that came or went.
const FIRST: [OrderResult; 5] = [
    OrderResult::Count,
    OrderResult::Cost,
    OrderResult::Price,
    OrderResult::Total,
    OrderResult::Due,
];

/// Orders that differ, in the order of the new text; those that are gone behind them.
pub(super) fn orders(old: &[Ordered], new: &[Ordered]) -> Vec<OrderDifference> {
    let find = |all: &'_ [Ordered], name: &Option<String>| -> Option<usize> {
        all.iter().position(|one| one.order.name == *name)
    };
    let gone = old
        .iter()
        .filter(|one| find(new, &one.order.name).is_none());
    let mut found = Vec::new();
    for one in new.iter().chain(gone) {
        let name = &one.order.name;
        let before = find(old, name).and_then(|place| old.get(place));
        let after = find(new, name).and_then(|place| new.get(place));
        let became = match (before, after) {
            (None, _) => Became::New,
            (_, None) => Became::Gone,
            (Some(before), Some(after)) => {
                match (before.totals.is_some(), after.totals.is_some()) {
                    (true, false) => Became::Impossible,
                    (false, true) => Became::Possible,
                    _ => Became::Other,
                }
            }
        };
        let stated = match became {
            Became::New | Became::Gone => Vec::new(),
            _ => stated(before, after),
        };
        let difference = OrderDifference {
            order: name.clone(),
            moved: moved(before, after, became),
            stated,
            became,
        };
        let is_same =
            became == Became::Other && difference.stated.is_empty() && difference.moved.is_empty();
        if !is_same {
            found.push(difference);
        }
    }
    found
}

/// Totals that differ.
fn moved(
    before: Option<&Ordered>,
    after: Option<&Ordered>,
    became: Became,
) -> Vec<MovedFigure<OrderResult>> {
    let rows = ORDER_RESULTS.iter();
    let rows = rows.filter(|row| became == Became::Other || FIRST.contains(&row.id));
    let both = rows.map(|row| MovedFigure {
        of: row.id,
        before: before.and_then(|of| value(of, row)),
        after: after.and_then(|of| value(of, row)),
    });
    both.filter(|one| match (&one.before, &one.after) {
        (Some(before), Some(after)) => !before.means_as(after),
        (None, None) => false,
        _ => true,
    })
    .collect()
}

/// What is said of an order beside its totals, a line each.
fn stated(before: Option<&Ordered>, after: Option<&Ordered>) -> Vec<MovedText> {
    let (before, after) = (before.map(said), after.map(said));
    let (before, after) = (before.unwrap_or_default(), after.unwrap_or_default());
    let find = |all: &[(String, String)], what: &str| {
        let found = all.iter().find(|(known, _)| known == what);
        found.map(|(_, text)| text.clone())
    };
    let gone = before
        .iter()
        .filter(|(what, _)| find(&after, what).is_none());
    let all = after.iter().chain(gone);
    all.map(|(what, _)| MovedText {
        path: what.clone(),
        before: find(&before, what),
        after: find(&after, what),
    })
    .filter(|one| one.before != one.after)
    .collect()
}

fn said(of: &Ordered) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    let Some(totals) = &of.totals else {
        return all;
    };
    for line in &totals.lines {
        let each = money(totals, line.net).map_or_else(String::new, |each| format!(" at {each}"));
        let weight = figure(line.finished, "g");
        all.push((
            format!("{} in {}", line.band, line.size),
            format!("{}{each}, {weight} each", line.count),
        ));
    }
    for one in &totals.to_buy {
        let what = one.stock.as_deref().unwrap_or(&one.alloy);
        let lengths = one.lengths.map(|count| match count {
            1 => "1 length".to_owned(),
            count => format!("{count} lengths"),
        });
        let parts = [
            lengths,
            Some(figure(one.grams, "g")),
            money(totals, one.money),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        all.push((format!("to buy, {what}"), parts.join(", ")));
    }
    for one in &totals.set_ups {
        all.push((format!("set-ups, {}", one.band), one.times.to_string()));
    }
    for one in &totals.returned {
        let text = format!(
            "{}, {} expected",
            figure(one.found, "g"),
            figure(one.expected, "g")
        );
        all.push((format!("returned, {}", one.field.word()), text));
    }
    all
}

fn money(totals: &OrderTotals, amount: Option<Decimal>) -> Option<String> {
    let currency = totals.currency.as_ref().map_or("", Currency::code);
    amount.map(|amount| figure(amount, currency))
}

fn figure(number: Decimal, unit: &str) -> String {
    let shown = report::shown_in(Number::Exact(number), unit, Digits::Useful);
    format!("{} {unit}", shown.marked())
}
