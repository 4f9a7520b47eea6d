//! What a change moved, as the bench tells it: bands, orders, requirements.

use crate::schema::ResultId;
use std::collections::BTreeSet;

use rust_decimal::Decimal;

use crate::evaluate::{Evaluation, Ordered, Verdict};
use crate::explore::{self, Change};
use crate::finding::{Finding, Weight};
use crate::quantity::{Currency, Number};
use crate::report::{self, Digits};
use crate::source::printable;
use crate::words::fineness::Judged;

use super::fresh::{fresh, turned};
use super::{Bench, Reply};

/// How many results that are not looked at first are shown.
pub(super) const MOST: usize = 6;

impl Bench {
    /// What moved since the whole was evaluated before, under a heading; of bands, where it is known, what can have.
    pub(super) fn say_moved(&mut self, heading: &str, reach: Option<&BTreeSet<String>>) -> Reply {
        let before = std::mem::take(&mut self.before);
        let mut text = format!("{heading}\n");
        let changed = turned(before.verdicts, &self.outcome.verdicts);
        let names: BTreeSet<String> = before
            .recipe
            .names
            .iter()
            .chain(&self.outcome.recipe.names)
            .filter(|named| reach.is_none_or(|reach| reach.contains(&named.name)))
            .map(|named| named.name.clone())
            .collect();
        text.push_str(&self.moved(&before.evaluations, &names));
        text.push_str(&orders(&before.orders, &self.outcome.orders));
        text.push_str(&marks(&before.evaluations, &self.outcome.evaluations));
        text.push_str(&verdicts(&changed));
        text.push_str(&self.gone(&before.findings));
        let findings = fresh(&self.outcome.findings, &before.findings, |_| true);
        Reply {
            text,
            findings,
            ..Reply::default()
        }
    }

    /// What moved in some bands: the current one whole, of the others the first figure.
    pub(super) fn moved(&mut self, before: &[Evaluation], names: &BTreeSet<String>) -> String {
        let mut text = String::new();
        let mut behind = None;
        let mut aside: Vec<String> = Vec::new();
        let find =
            |all: &[Evaluation], name: &str| all.iter().position(|one| one.band.name == *name);
        let current = self.band.iter().filter(|band| names.contains(*band));
        let others = names
            .iter()
            .filter(|name| Some(*name) != self.band.as_ref());
        for name in current.chain(others) {
            let old = find(before, name).and_then(|place| before.get(place));
            let new = find(&self.outcome.evaluations, name)
                .and_then(|place| self.outcome.evaluations.get(place));
            let is_current = Some(name) == self.band.as_ref();
            match (old, new) {
                (Some(old), Some(new)) => {
                    let change = explore::change(old, new);
                    if change.is_none() {
                        continue;
                    }
                    if is_current {
                        let most = match self.digits {
                            Digits::All => usize::MAX,
                            Digits::Useful => MOST,
                        };
                        text.push_str(&report::change(&change, most, self.digits, self.width));
                        behind = Some(change).filter(|change| change.left(most) > 0);
                    } else {
                        aside.push(self.in_short(&change));
                    }
                }
                (None, Some(new)) if !new.band.used => {
                    let weight = new
                        .value(ResultId::Weight.row())
                        .map(|weight| report::value(&weight, self.digits));
                    let weight = weight.unwrap_or_default();
                    aside.push(format!("{name}: weight {weight}"));
                }
                (Some(old), None) if !old.band.used => {
                    let became = match self.outcome.recipe.is_band(name) {
                        true => "cannot be worked out now",
                        false => "gone",
                    };
                    aside.push(format!("{name}: {became}"));
                }
                _ => {}
            }
        }
        for line in aside {
            text.push_str(&format!("  {line}\n"));
        }
        self.rest.clear();
        self.behind = behind;
        text
    }

    /// What was found before and is not found now, but for limits and requirements, which are told as such.
    pub(super) fn gone(&self, before: &[Finding]) -> String {
        let told = |one: &Finding| {
            let code = one.code();
            code == "session::broken" || code == "model::missing_field" || code == "model::no_band"
        };
        let mut gone = fresh(before, &self.outcome.findings, |weight| {
            weight > Weight::Note
        });
        // The same thing with other figures is not gone.
        let still = |one: &Finding| {
            let mut now = self.outcome.findings.iter();
            now.any(|other| other.code() == one.code())
        };
        gone.retain(|one| !told(one) && !still(one) && !one.code().starts_with("evaluate::"));
        let lines = gone
            .iter()
            .map(|one| format!("  no more: {}\n", one.message()));
        lines.collect()
    }

    /// A change of another band in one line.
    fn in_short(&self, change: &Change) -> String {
        let first = change
            .moved
            .iter()
            .find(|one| one.is_headline())
            .or_else(|| change.moved.iter().find(|one| one.of.is_result()))
            .or_else(|| change.moved.first());
        let moved = first.map_or_else(String::new, |one| {
            let after = report::after(one, self.digits);
            let difference = report::difference(one, self.digits);
            format!("{} {after}  {difference}", one.of.path())
        });
        let short = match change.broken.len() {
            0 => "",
            _ => "; a limit falls short now",
        };
        format!("{}: {}{short}", change.band, moved.trim_end())
    }
}

/// What moved of orders, a line each.
pub(super) fn orders(before: &[Ordered], after: &[Ordered]) -> String {
    let mut text = String::new();
    for new in after {
        let old = before.iter().find(|old| old.order.name == new.order.name);
        let Some((old, totals)) = old
            .and_then(|old| old.totals.as_ref())
            .zip(new.totals.as_ref())
        else {
            continue;
        };
        let currency = totals.currency.as_ref().map_or("", Currency::code);
        let amounts = [
            ("price", old.gross, totals.gross),
            ("to pay", old.due, totals.due),
            ("deposit", old.deposit, totals.deposit),
            (
                "cost",
                old.cost.map(|cost| cost.total),
                totals.cost.map(|cost| cost.total),
            ),
        ];
        let shown = |amount: Option<Decimal>| match amount {
            Some(amount) => {
                let amount = report::shown_in(Number::Exact(amount), currency, Digits::Useful);
                format!("{} {currency}", amount.marked())
            }
            None => "\u{2013}".to_owned(),
        };
        let mut moved: Vec<String> = amounts
            .iter()
            .filter(|(_, old, new)| old != new)
            .map(|(what, old, new)| format!("{what} {} \u{2192} {}", shown(*old), shown(*new)))
            .collect();
        if old.count != totals.count {
            moved.insert(0, format!("rings {} \u{2192} {}", old.count, totals.count));
        }
        if !moved.is_empty() {
            let name = new.order.name.as_deref().unwrap_or_default();
            let order = format!("order {name}");
            text.push_str(&format!("  {}: {}\n", order.trim_end(), moved.join(", ")));
        }
    }
    text
}

/// Marks that rulebooks asked for grant now, and did before, where that has changed.
pub(super) fn marks(before: &[Evaluation], after: &[Evaluation]) -> String {
    let mut text = String::new();
    for new in after.iter().filter(|one| !one.band.used) {
        let Some(old) = before.iter().find(|old| old.band.name == new.band.name) else {
            continue;
        };
        for word in &new.band.marking.asked {
            let line = |of: &Evaluation| Judged::of(of, word).map(|judged| judged.verdict_line());
            let (old, now) = (line(old), line(new));
            if let (Some(old), Some(now)) = (old, now)
                && old != now
            {
                text.push_str(&format!(
                    "  {}: fineness {word}: {} \u{2192} {}\n",
                    new.band.name,
                    printable(&old),
                    printable(&now)
                ));
            }
        }
    }
    text
}

/// Requirements whose verdict changed, as lines.
pub(super) fn verdicts(changed: &[(Verdict, Verdict)]) -> String {
    let line = |after: &Verdict| {
        let state = if after.holds == Some(true) {
            "holds again"
        } else {
            "broken now"
        };
        let margin = if after.margin.is_empty() {
            String::new()
        } else {
            format!(", {}", after.margin)
        };
        format!(
            "  required, {state}: {}: {}{margin}\n",
            after.what, after.found
        )
    };
    changed.iter().map(|(_, after)| line(after)).collect()
}
