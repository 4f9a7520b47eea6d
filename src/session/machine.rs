//! The machine output of an outcome: one text for prompt and command line.

use serde_json::Value as Json;

use crate::evaluate::stopped;
use crate::finding::{Finding, Identity};
use crate::model::{Nested, given_name};
use crate::report::{self, document};
use crate::source::Sources;
use crate::syntax::ast;

use super::Outcome;

impl Outcome {
    /// What a document says of the recipe: bands and results, where they are wanted, requirements, orders.
    #[must_use]
    pub fn part(&self, files: &[String], sources: &Sources, results: bool) -> document::RecipePart {
        let mut part = document::RecipePart {
            file: files.first().cloned().unwrap_or_default(),
            files: files.to_vec(),
            bands: self
                .shown()
                .take_while(|_| !stopped())
                .map(report::band_json)
                .collect(),
            requirements: self
                .verdicts
                .iter()
                .map(|verdict| report::verdict(verdict, sources))
                .collect(),
            ..document::RecipePart::default()
        };
        if results {
            part.orders = report::orders_json(&self.orders);
            part.results = self.shown().cloned().collect();
        }
        part
    }

    /// What a document says of it: bands, results, requirements, orders; without any file.
    #[must_use]
    pub fn json(&self, sources: &Sources) -> Json {
        self.part(&[], sources, true).json()
    }

    /// Says of every finding which band and field it lies in, where whoever found it does not.
    pub(super) fn identify(&mut self, trees: &[Nested]) {
        let trees = trees.iter();
        let entries = trees.flat_map(|tree| ast::entries(&tree.items));
        let bands: Vec<&ast::Entry> = entries
            .filter(|entry| matches!(entry.head_name(), Some("band" | "variant")))
            .collect();
        let mut findings = std::mem::take(&mut self.findings);
        for finding in &mut findings {
            if finding.identity().is_none()
                && let Some(identity) = self.identity(finding, &bands)
            {
                *finding = finding.clone().of(identity);
            }
        }
        self.findings = findings;
    }

    fn identity(&self, finding: &Finding, bands: &[&ast::Entry]) -> Option<Identity> {
        if bands.is_empty() {
            return None;
        }
        let at = finding.span()?;
        let mut all = bands.iter();
        let holder = all.find(|entry| entry.span.start <= at.start && at.start < entry.span.end)?;
        let name = given_name(holder)?;
        let band = self.recipe.bands.iter().find(|band| band.name == name);
        let mut fields = band.into_iter().flat_map(|band| band.fields.iter());
        let field = fields.find(|field| field.at == Some(at));
        Some(Identity {
            band: Some(name.into()),
            field: field.map(|field| field.field.path),
            wall: None,
        })
    }
}
