//! `annulet offer`: orders as they are handed to the customer.

use crate::report;

use super::Status;
use super::arguments::{Common, Offer};
use super::ask::one;
use super::check::{day, request};
use super::output::Output;

pub(super) fn run(offer: &Offer, common: &Common, output: &mut Output) -> Status {
    if day(common, output).is_none() {
        return Status::Wrong;
    }
    let Some(done) = one(offer.file.as_deref(), &request(common), output) else {
        return Status::Wrong;
    };
    let outcome = &done.outcome;
    let band = |name: &str| {
        let mut bands = outcome.recipe.bands.iter();
        bands.find(|band| band.name == name).map(AsRef::as_ref)
    };
    let named = |name: Option<&String>| {
        offer
            .order
            .as_ref()
            .is_none_or(|wanted| name == Some(wanted))
    };
    let orders = outcome
        .orders
        .iter()
        .filter(|one| named(one.order.name.as_ref()));
    let mut texts = Vec::new();
    let mut unpriced = false;
    for ordered in orders {
        match report::offer(ordered, &band, offer.digits.into()) {
            Some(text) => texts.push(text),
            None => unpriced = true,
        }
    }
    output.result(&texts.join("\n"));
    output.findings(&outcome.findings, &done.session.sources);
    let status: Status = outcome.weight().into();
    if unpriced {
        output.complain("an order has no price: its bands need `sale`, and its metals a price");
        return Status::Wrong;
    }
    if texts.is_empty() && status != Status::Wrong {
        let names = outcome
            .orders
            .iter()
            .filter_map(|one| one.order.name.as_deref());
        let names = crate::suggest::listed(names);
        output.complain(&match (&offer.order, names.is_empty()) {
            (Some(wanted), false) => {
                format!(
                    "there is no order `{}`; orders are {names}",
                    crate::source::printable(wanted)
                )
            }
            _ => "the recipe holds no such order; see `examples/market-day.annulet`".to_owned(),
        });
        return Status::Wrong;
    }
    status
}
