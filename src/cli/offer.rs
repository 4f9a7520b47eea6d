//! `annulet offer`: orders as they are handed to the customer.

use crate::evaluate::Ordered;
use crate::finding::Finding;
use crate::report::{self, document};

use super::arguments::Offer;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::status::Status;

pub(super) fn run(offer: &Offer, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = offer.digits.beside(&[(offer.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(offer.file.as_deref(), &offer.order, laid, output) else {
        return Status::Wrong;
    };
    let outcome = &done.outcome;
    let wanted = offer.order.as_deref();
    let over = asked(laid).request.over();
    let (text, refusal) = report::offers(&outcome.orders, wanted, &over, offer.digits.into());
    if output.is_machine() {
        let meant = |one: &&Ordered| wanted.is_none() || one.order.name.as_deref() == wanted;
        let orders: Vec<Ordered> = outcome.orders.iter().filter(meant).cloned().collect();
        output.recipe(|| document::RecipePart {
            orders: report::orders_json(&orders),
            offers: report::offers_json(&orders, &over),
            ..document::RecipePart::of(done.prepared.files())
        });
    } else {
        output.result(&text);
    }
    let is_known = |name: &&str| {
        let mut orders = outcome.recipe.orders.iter();
        orders.any(|order| order.name.as_deref() == Some(*name))
    };
    let findings = match wanted.filter(is_known) {
        Some(name) => outcome.about(&done.prepared, &outcome.asked_of_order(name)),
        None => outcome.findings.clone(),
    };
    output.findings(&findings, &done.session.sources);
    let status: Status = findings.iter().map(Finding::weight).max().into();
    match refusal {
        Err(message) if status != Status::Wrong => {
            output.complain(&message);
            Status::Wrong
        }
        _ => status,
    }
}
