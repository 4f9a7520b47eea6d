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
    let wanted = offer.order.as_deref();
    let (text, refusal) = report::offers(&outcome.orders, wanted, &band, offer.digits.into());
    output.result(&text);
    output.findings(&outcome.findings, &done.session.sources);
    let status: Status = outcome.weight().into();
    match refusal {
        Err(message) if status != Status::Wrong => {
            output.complain(&message);
            Status::Wrong
        }
        _ => status,
    }
}
