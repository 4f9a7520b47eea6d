//! A recipe resolved anew for rows in which more than numbers is varied, and what is wrong with it then.

use std::sync::Arc;

use crate::explore::Anew;
use crate::finding::{Finding, Weight};
use crate::model::Recipe;

use super::{Asked, Outcome, Prepared, Request, Session, Tried};

/// Resolves a recipe anew for rows in which more than numbers is varied.
pub struct Resolver<'a> {
    session: Session,
    prepared: &'a Prepared,
    request: Request,
    outcome: &'a Outcome,
    bands: Vec<String>,
}

impl<'a> Resolver<'a> {
    /// One for a recipe as it was asked, what that came to, and the bands of it that are read.
    #[must_use]
    pub fn new(
        session: &Session,
        prepared: &'a Prepared,
        request: &Request,
        outcome: &'a Outcome,
        bands: &[String],
    ) -> Self {
        Self {
            session: session.clone(),
            prepared,
            request: request.clone(),
            outcome,
            bands: bands.to_vec(),
        }
    }
}

impl Anew for Resolver<'_> {
    fn anew(&self, lines: &[String]) -> Result<Arc<Recipe>, Vec<Finding>> {
        if lines.is_empty() && self.outcome.is_whole(&self.bands) {
            return self.of(self.outcome);
        }
        let mut session = self.session.clone();
        let mut request = self.request.clone();
        let tries = lines.iter().map(|line| Tried {
            line: line.clone(),
            band: self.request.band.clone(),
            typed: None,
        });
        request.tries.extend(tries);
        self.of(&session.outcome(self.prepared, &request))
    }
}

impl Resolver<'_> {
    fn of(&self, outcome: &Outcome) -> Result<Arc<Recipe>, Vec<Finding>> {
        let wrong = outcome.mistakes_of(self.prepared, &self.bands);
        match wrong.is_empty() {
            true => Ok(Arc::new(outcome.recipe.clone())),
            false => Err(wrong),
        }
    }
}

impl Outcome {
    /// Whether it was resolved in one piece, some bands among it, so that its numbers can be moved.
    fn is_whole(&self, bands: &[String]) -> bool {
        let is_there = |name: &String| self.recipe.bands.iter().any(|band| band.name == *name);
        !self.patched && !self.refused && bands.iter().all(is_there)
    }

    /// What is wrong with what some bands rest on; that a requirement has no value there is no fault of them.
    pub(super) fn mistakes_of(&self, prepared: &Prepared, bands: &[String]) -> Vec<Finding> {
        let asked = Asked {
            names: bands.iter().cloned().collect(),
            order: None,
        };
        let about = self.about(prepared, &asked).into_iter();
        let open = |one: &Finding| one.lacks_value() && self.is_of_a_requirement(one);
        let bears = |one: &Finding| !self.is_of_a_band(one) && !open(one);
        about
            .filter(|one| one.weight() == Weight::Wrong && bears(one))
            .collect()
    }

    /// Whether a finding lies in what is required.
    fn is_of_a_requirement(&self, finding: &Finding) -> bool {
        let mut required = self.verdicts.iter().map(|verdict| verdict.at);
        finding
            .span()
            .is_some_and(|span| required.any(|at| at.start <= span.start && span.end <= at.end))
    }

    /// What is wrong with the recipe, but for bands that are impossible: their numbers may still be moved.
    pub(crate) fn mistakes(&self) -> Vec<Finding> {
        let wrong = self.findings.iter();
        wrong
            .filter(|one| one.weight() == Weight::Wrong && !self.is_of_a_band(one))
            .cloned()
            .collect()
    }
}
