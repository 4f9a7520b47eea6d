//! The values that a range or a list means, each as a recipe would write it.

use crate::explore::{MOST, ranged};
use crate::finding::Finding;
use crate::model::{ModelError, check};
use crate::syntax;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

use super::question::Results;
use super::{Outcome, Session};

impl Session {
    /// The values of a text such as `0.45 mm .. 0.60 mm by 0.05 mm` or `[US 6, US 7 1/2]`; none, and nothing found,
    /// where it is neither a range nor a list.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn values(&mut self, text: &str, outcome: &Outcome) -> (Option<Vec<String>>, Vec<Finding>) {
        let id = self.sources.add("values", text);
        let Some(source) = self.sources.get(id) else {
            return (None, Vec::new());
        };
        let parsed = syntax::parse_query(source);
        let is_many =
            |expr: &Expr| matches!(expr.kind, ExprKind::Range { .. } | ExprKind::List { .. });
        let Some(expr) = parsed.value.filter(is_many) else {
            return (None, Vec::new());
        };
        let mut findings = parsed.findings;
        if !findings.is_empty() {
            return (None, findings);
        }
        let found = self.each(&expr, outcome, &mut findings);
        let found = match found {
            Some(all) if all.len() > MOST => {
                let problem = ModelError::NoResult {
                    at: expr.span,
                    message: "these are more than 1000 values",
                    help: "take a longer step",
                };
                findings.push(problem.into());
                None
            }
            found => found,
        };
        (found, findings)
    }

    fn each(
        &self,
        expr: &Expr,
        outcome: &Outcome,
        findings: &mut Vec<Finding>,
    ) -> Option<Vec<String>> {
        match &expr.kind {
            ExprKind::List { items, .. } => {
                let mut all = Vec::new();
                for item in items {
                    if let ListItem::Value(value) = item {
                        all.extend(self.each(value, outcome, findings)?);
                    }
                }
                Some(all)
            }
            ExprKind::Range { .. } => {
                let all = ranged(expr, &mut Results { outcome }, findings)?;
                Some(all.iter().map(check::written).collect())
            }
            _ => Some(vec![self.sources.slice(expr.span).trim().to_owned()]),
        }
    }
}
