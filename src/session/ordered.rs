//! Orders of a recipe: each line evaluated in its size, then added up.

use std::collections::BTreeSet;

use crate::evaluate::Evaluation;
use crate::finding::Finding;
use crate::model::money::Item;
use crate::model::{Holder, check};
use crate::money::{Ordered, Workpiece, order_totals, uncredited};
use crate::schema::FieldId;
use crate::words;

use super::edit::find_holder;
use super::{Outcome, Prepared, Request, Session, Tried};

impl Session {
    /// Adds up every order of an outcome.
    pub(super) fn order(&mut self, prepared: &Prepared, request: &Request, outcome: &mut Outcome) {
        if outcome.refused {
            return;
        }
        let orders = std::mem::take(&mut outcome.recipe.orders);
        for order in &orders {
            let mut lines: Vec<Evaluation> = Vec::new();
            for item in &order.items {
                let own = || {
                    outcome
                        .evaluations
                        .iter()
                        .find(|one| one.band.name == item.band)
                };
                let line = match &item.size {
                    None => own().cloned(),
                    Some(size) => {
                        let (line, problems) = self.in_size(prepared, request, &item.band, size);
                        // What is wrong with the band in its own size was said already.
                        if own().is_some() {
                            let of_band = problems.iter().cloned();
                            let of_band = of_band.map(|one| (item.band.clone(), one));
                            outcome.of_bands.extend(of_band);
                            outcome.findings.extend(problems);
                        }
                        line
                    }
                };
                lines.extend(line);
            }
            let whole = lines.len() == order.items.len();
            let money = outcome.recipe.money.as_deref();
            let credit = money.zip(order.credit.as_ref());
            let unknown = credit.and_then(|(money, credit)| {
                uncredited(credit, money)?;
                words::money::of_old_metal(order, money)
            });
            outcome.findings.extend(unknown);
            let rings: Option<Vec<(Workpiece, String)>> = whole
                .then(|| order.items.iter().zip(&lines).map(ring).collect())
                .flatten();
            outcome.orders.push(Ordered {
                order: order.clone(),
                totals: rings.and_then(|rings| order_totals(order, &rings)),
            });
        }
        outcome.recipe.orders = orders;
    }

    /// A band in another size, as if that stood in its recipe; with what then falls short or is wrong.
    pub fn in_size(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        band: &str,
        size: &str,
    ) -> (Option<Evaluation>, Vec<Finding>) {
        let mut request = request.clone();
        // Parts as made are those of one ring.
        let holder = Holder::Block("made", Some(band.to_owned()));
        let is_measured = prepared
            .tree()
            .is_some_and(|tree| find_holder(tree, &holder).is_some());
        let rest = if is_measured { ", without made" } else { "" };
        // A size laid over it from outside stands against the one that is asked for here.
        request.tries.push(Tried {
            line: format!("size {size}{rest}"),
            band: Some(band.to_owned()),
            typed: None,
        });
        let names = BTreeSet::from([band.to_owned()]);
        let mut part = self.part(prepared, &request, &names);
        let place = part
            .evaluations
            .iter()
            .position(|one| one.band.name == band);
        let evaluation = place.map(|place| part.evaluations.swap_remove(place));
        (evaluation, part.findings)
    }
}

/// The ring of a line, and its size as it is shown; none where it cannot be made.
fn ring((item, evaluation): (&Item, &Evaluation)) -> Option<(Workpiece, String)> {
    let own = evaluation.band.field(FieldId::Size);
    let own = own.map(|size| check::written(&size.value));
    let size = item.size.clone().or(own).unwrap_or_default();
    Some((evaluation.workpiece()?, size))
}
