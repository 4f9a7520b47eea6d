//! Names of an expression that is asked of rows: what has no value in the recipe as it stands may have one in a row, so
//! that something of its kind stands in for it.

use crate::finding::Finding;
use crate::model::{Scope, Value, Written, check};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{Subject, Takes, find_subject};
use crate::source::Span;
use crate::syntax::ast::Path;

use super::question::{Meant, Results};

/// A number that is neither nought nor one, so that little is undefined with it.
const STANDS_IN: f64 = 0.618;

/// Names with their values, or what stands in for these.
pub(super) struct InRows<'a> {
    pub results: Results<'a>,
}

impl InRows<'_> {
    /// Something of the kind of a result or a field that has no value now; none for other paths.
    fn stand_in(&self, path: &str) -> Option<Value> {
        let Meant::Of(band, rest) = self.results.meant(path, Span::default(), &mut Vec::new())?
        else {
            return None;
        };
        let recipe = &self.results.outcome.recipe;
        let [subject] = find_subject(rest)[..] else {
            return None;
        };
        if !recipe.is_band(&band) {
            return None;
        }
        let dimension = match subject {
            Subject::Result(id) => id.row().dimension,
            Subject::Field(id) => match id.row().takes {
                // A size compares to sizes and to lengths.
                Takes::Size | Takes::Start => return None,
                takes if takes.is_measured() => check::due(takes).1?,
                _ => return Some(Value::Word(String::new())),
            },
        };
        let currency = recipe.money.as_ref().and_then(|money| money.currency);
        let dimension = match dimension.money {
            0 => dimension,
            // Without a currency it is money of none, which nothing is compared with.
            _ => Dimension {
                currency: Some(currency?),
                ..dimension
            },
        };
        Some(Value::of(Quantity::new(
            Number::Computed(STANDS_IN),
            dimension,
        )))
    }
}

impl Scope for InRows<'_> {
    fn name(&mut self, path: &Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        let before = findings.len();
        let value = self.results.name(path, at, findings);
        if value.is_some() {
            return value;
        }
        let stands_in = self.stand_in(&path.0)?;
        findings.truncate(before);
        Some(stands_in)
    }

    fn word(
        &mut self,
        field: &Path,
        word: &Path,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Option<Value>> {
        self.results.word(field, word, at, findings)
    }

    fn written(&self, path: &Path) -> Written {
        self.results.written(path)
    }
}
