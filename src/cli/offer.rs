//! `annulet offer`: orders as they are handed to the customer.

use crate::finding::Finding;
use crate::report;

use super::arguments::{Laid, Offer};
use super::ask::one;
use super::check::{day, knows_band, request};
use super::output::Output;
use super::status::Status;

pub(super) fn run(offer: &Offer, laid: &Laid, output: &mut Output) -> Status {
    if day(laid, output).is_none() {
        return Status::Wrong;
    }
    let Some(done) = one(offer.file.as_deref(), &request(laid), output) else {
        return Status::Wrong;
    };
    let outcome = &done.outcome;
    if !knows_band(laid, outcome, output) {
        return Status::Wrong;
    }
    let ring = |name: &str| {
        let mut rings = outcome.evaluations.iter();
        rings.find(|one| one.band.name == name)
    };
    let wanted = offer.order.as_deref();
    let (text, refusal) = report::offers(&outcome.orders, wanted, &ring, offer.digits.into());
    output.result(&text);
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
