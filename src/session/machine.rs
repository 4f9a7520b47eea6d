//! The machine output of an outcome: one text for prompt and command line.

use serde_json::Value as Json;

use crate::report;
use crate::source::Sources;

use super::Outcome;

impl Outcome {
    /// Bands, results, requirements, findings and, where there are any, orders as one JSON object.
    #[must_use]
    pub fn json(&self, sources: &Sources, on: Option<&str>) -> Json {
        let mut json = report::results(
            self.shown(),
            &self.verdicts,
            self.findings.iter(),
            sources,
            on,
        );
        if let Some(object) = json.as_object_mut()
            && !self.orders.is_empty()
        {
            object.insert("orders".to_owned(), report::orders_json(&self.orders));
        }
        json
    }
}
