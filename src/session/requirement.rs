//! What a recipe requires: each comparison judged, with its margin; what cannot be decided is broken.

use crate::evaluate::{Verdict, compared, short};
use crate::finding::Finding;
use crate::model::{Evaluator, Requirement, Value, compare, fineness};
use crate::source::Sources;
use crate::syntax::ast::ExprKind;

use super::Outcome;
use super::error::SessionError;
use super::question::Results;

impl Outcome {
    /// Judges every requirement of the recipe, and reports those that do not hold.
    pub(super) fn judge(&mut self, sources: &Sources) {
        let mut findings = Vec::new();
        let requirements = std::mem::take(&mut self.recipe.requirements);
        for requirement in &requirements {
            let verdict = self.judged(requirement, sources, &mut findings);
            self.verdicts.push(verdict);
        }
        self.recipe.requirements = requirements;
        self.findings.extend(findings);
    }

    /// The verdict on a requirement, and a finding where it does not hold.
    pub(super) fn judged(
        &self,
        requirement: &Requirement,
        sources: &Sources,
        findings: &mut Vec<Finding>,
    ) -> Verdict {
        let verdict = self.verdict(requirement, sources, findings);
        if verdict.holds == Some(false) {
            findings.push(broken(&verdict).into());
        }
        verdict
    }

    fn verdict(
        &self,
        requirement: &Requirement,
        sources: &Sources,
        findings: &mut Vec<Finding>,
    ) -> Verdict {
        let text = sources.slice(requirement.at);
        let what = requirement.title.as_ref().map_or_else(
            || format!("`{text}`"),
            |title| format!("\u{201C}{title}\u{201D}"),
        );
        let mut verdict = Verdict {
            what,
            holds: None,
            found: "it cannot be decided".to_owned(),
            margin: String::new(),
            at: requirement.at,
        };
        if let Some(meets) = &requirement.meets {
            self.meets(meets, &mut verdict, findings);
            return verdict;
        }
        // That it cannot be judged was said where it was read.
        let Some(condition) = &requirement.condition else {
            return verdict;
        };
        let (operator, left, right) = match &condition.kind {
            ExprKind::Binary {
                operator,
                left,
                right,
            } if operator.value.compares() => (operator, left, right),
            _ => {
                findings.push(SessionError::NoComparison { at: condition.span }.into());
                return verdict;
            }
        };
        let mut scope = Results { outcome: self };
        let mut evaluator = Evaluator {
            scope: &mut scope,
            findings,
        };
        let (left_value, right_value) = match evaluator.words(operator.value, left, right) {
            Some(sides) => sides,
            None => {
                let left_value = evaluator.value(left, None);
                let due = left_value
                    .as_ref()
                    .and_then(Value::quantity)
                    .map(|quantity| quantity.dimension);
                let right_value = evaluator.value(right, due);
                (left_value, right_value)
            }
        };
        let (Some(left_value), Some(right_value)) = (left_value, right_value) else {
            return verdict;
        };
        let sides = fineness::alike(
            operator.value,
            (left, left_value),
            (right, right_value),
            evaluator.findings,
        );
        let Some((mut left_value, mut right_value)) = sides else {
            return verdict;
        };
        let sides = ((&**left, &mut left_value), (&**right, &mut right_value));
        if evaluator.beside(operator.value, sides.0, sides.1).is_none() {
            return verdict;
        }
        evaluator.beside_length(operator.value, &mut left_value, &mut right_value);
        verdict.found = format!(
            "{} {} {}",
            short(&left_value),
            operator.value.sign(),
            short(&right_value)
        );
        let judged = match compared(operator.value, &left_value, &right_value) {
            Some(comparison) => {
                verdict.margin = comparison.margin;
                Some(comparison.holds)
            }
            None => compare(operator.value, &left_value, &right_value),
        };
        match judged {
            Some(holds) => verdict.holds = Some(holds),
            // The whole comparison says which two kinds do not go together.
            None => {
                let whole = Evaluator {
                    scope: &mut Results { outcome: self },
                    findings,
                }
                .value(condition, None);
                verdict.holds = whole.map(|value| value == Value::Truth(true));
            }
        }
        verdict
    }
}

fn broken(verdict: &Verdict) -> SessionError {
    SessionError::Broken {
        at: verdict.at,
        what: verdict.what.clone(),
        found: verdict.found.clone(),
        margin: if verdict.margin.is_empty() {
            "broken".to_owned()
        } else {
            verdict.margin.clone()
        },
        help: "change the recipe, or what it requires".to_owned(),
    }
}
