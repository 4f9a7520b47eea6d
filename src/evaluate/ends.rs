//! An evaluation with each written `±` at either end of its range.

use std::sync::Arc;

use crate::kernel::{Input, figures};
use crate::model::money::Terms;
use crate::model::{Band, Values};
use crate::quantity::{Deviation, Number, from_f64};
use crate::source::Span;

use super::deviations::{density_deviations, deviations};
use super::evaluation::{Ends, Evaluation};
use super::join_input::temper_deviations;
use super::of_band;

impl Evaluation {
    /// The same with each `±` at either end.
    pub(super) fn ends(&self) -> &[Ends] {
        self.ends.get_or_init(|| ends(self))
    }

    /// The amount of every `±` that it rests on.
    #[must_use]
    pub fn amounts(&self) -> Vec<Number> {
        let terms = self.band.terms.iter();
        let prices = terms.flat_map(|terms| &terms.money.prices.metals);
        let prices = prices.flat_map(|price| &price.deviations);
        let written = written(self).chain(prices);
        written.map(|deviation| deviation.amount).collect()
    }
}

/// An evaluation with each `±` at either end.
fn ends(evaluation: &Evaluation) -> Vec<Ends> {
    let variables = variables(evaluation, &prices(evaluation));
    let at = |variable: Span| Ends {
        variable,
        low: at_end(evaluation, variable, -1.0),
        high: at_end(evaluation, variable, 1.0),
    };
    variables.into_iter().map(at).collect()
}

/// An evaluation with one variable at one end.
pub(super) fn at_end(evaluation: &Evaluation, variable: Span, sign: f64) -> Evaluation {
    let input = moved(evaluation, variable, sign);
    let figures = figures(&input);
    let band = dearer(evaluation, variable, sign);
    evaluation.with(band, input, figures, (variable, sign))
}

/// Deviations of the prices of metal.
pub(super) fn prices(evaluation: &Evaluation) -> Vec<Span> {
    let terms = evaluation.band.terms.iter();
    let prices = terms.flat_map(|terms| &terms.money.prices.metals);
    prices
        .flat_map(|price| &price.deviations)
        .map(|one| one.variable)
        .collect()
}

/// The band with the prices of metal at one end of a variable.
fn dearer(evaluation: &Evaluation, variable: Span, sign: f64) -> Arc<Band> {
    let band = &evaluation.band;
    let Some(terms) = band
        .terms
        .as_ref()
        .filter(|_| prices(evaluation).contains(&variable))
    else {
        return Arc::clone(band);
    };
    let mut money = (*terms.money).clone();
    for price in &mut money.prices.metals {
        let all = price
            .deviations
            .iter()
            .filter(|one| one.variable == variable);
        let by: f64 = all.map(|one| one.amount.to_f64() * sign).sum();
        let moved = from_f64(by).and_then(|by| price.by_gram.checked_add(by));
        price.by_gram = moved.unwrap_or(price.by_gram);
    }
    let terms = Terms {
        money: Arc::new(money),
        ..(**terms).clone()
    };
    Arc::new(Band {
        terms: Some(Arc::new(terms)),
        ..(**band).clone()
    })
}

/// Every `±` that a band rests on, and some more, each once.
pub(super) fn variables(evaluation: &Evaluation, more: &[Span]) -> Vec<Span> {
    let mut variables: Vec<Span> = written(evaluation)
        .map(|deviation| deviation.variable)
        .chain(more.iter().copied())
        .collect();
    variables.sort_unstable();
    variables.dedup();
    variables
}

/// Every `±` of the band's fields and of its alloys.
fn written(evaluation: &Evaluation) -> impl Iterator<Item = &Deviation> {
    let band = &evaluation.band;
    let parts = band
        .hollow
        .iter()
        .flat_map(|hollow| [&hollow.shell, &hollow.sleeve])
        .map(|metal| (&metal.alloy, &metal.temper));
    let metals = std::iter::once((&band.alloy, &band.temper)).chain(parts);
    let of_metals = metals.flat_map(|(alloy, temper)| {
        density_deviations(&alloy.density)
            .iter()
            .chain(temper_deviations(alloy, temper))
    });
    let fields = band.fields.iter();
    let of_cuts = band.cuts.iter().flat_map(|cut| {
        let cutter = cut.cutter.iter().map(|cutter| &cutter.values);
        cut.own.iter().chain(cutter).flat_map(Values::iter)
    });
    fields
        .chain(of_cuts)
        .flat_map(|field| deviations(&field.value))
        .chain(of_metals)
}

/// The input with one variable at one end.
fn moved(evaluation: &Evaluation, variable: Span, sign: f64) -> Input {
    let share = |deviations: &[Deviation]| {
        deviations
            .iter()
            .filter(|one| one.variable == variable)
            .map(|one| one.amount.to_f64() * sign)
            .sum::<f64>()
    };
    of_band::read(
        &evaluation.band,
        &|field, nominal| nominal + share(deviations(&field.value)),
        &|density, deviations| density + share(deviations),
    )
}
