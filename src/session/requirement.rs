//! What a recipe requires: each comparison judged, with its margin; what cannot be decided is broken.

use crate::evaluate::{Verdict, compared, short};
use crate::finding::Finding;
use crate::model::{Evaluator, Requirement, Value, compare, fineness};
use crate::quantity::{Deviation, Number};
use crate::source::{Sources, Span};
use crate::suggest::listed;
use crate::syntax::ast::{Expr, ExprKind, Operator};

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
            at_worst: Vec::new(),
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
        if !matches!(&condition.kind, ExprKind::Binary { operator, .. } if operator.value.compares())
        {
            findings.push(SessionError::NoComparison { at: condition.span }.into());
            return verdict;
        }
        let Some((operator, mut left_value, mut right_value)) =
            self.both_sides(condition, findings)
        else {
            return verdict;
        };
        verdict.found = format!(
            "{} {} {}",
            short(&left_value),
            operator.sign(),
            short(&right_value)
        );
        if let Some(worst) = self.worst_of(requirement) {
            verdict.at_worst = worst.inputs;
            spare_of(&mut left_value, &mut right_value, worst.less);
        }
        let judged = match compared(operator, &left_value, &right_value) {
            Some(comparison) => {
                verdict.margin = comparison.margin;
                Some(comparison.holds)
            }
            None => compare(operator, &left_value, &right_value),
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

    /// The two sides of a comparison, each read as the other asks for.
    pub(super) fn both_sides(
        &self,
        condition: &Expr,
        findings: &mut Vec<Finding>,
    ) -> Option<(Operator, Value, Value)> {
        let ExprKind::Binary {
            operator,
            left,
            right,
        } = &condition.kind
        else {
            return None;
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
        let (mut left_value, mut right_value) = fineness::alike(
            operator.value,
            (left, left_value?),
            (right, right_value?),
            evaluator.findings,
        )?;
        let sides = ((&**left, &mut left_value), (&**right, &mut right_value));
        evaluator.beside(operator.value, sides.0, sides.1)?;
        evaluator.beside_length(operator.value, &mut left_value, &mut right_value);
        Some((operator.value, left_value, right_value))
    }
}

/// Puts on one side all that two sides may be off from each other at worst.
fn spare_of(left: &mut Value, right: &mut Value, less: f64) {
    for side in [&mut *left, &mut *right] {
        match side {
            Value::Quantity { quantity, .. } | Value::Circumference { quantity, .. } => {
                quantity.deviations.clear();
            }
            Value::Size { deviations, .. } => deviations.clear(),
            _ => {}
        }
    }
    if let Value::Quantity { quantity, .. } | Value::Circumference { quantity, .. } = left {
        let variable = Span::default();
        let amount = Number::Computed(less);
        quantity.deviations.push(Deviation { variable, amount });
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
        help: match verdict.at_worst.as_slice() {
            [] => "change the recipe, or what it requires".to_owned(),
            inputs => format!(
                "judged at its worst, where {}; change the recipe, or what it requires",
                listed(inputs.iter().map(String::as_str))
            ),
        },
    }
}
