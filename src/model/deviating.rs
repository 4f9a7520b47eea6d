//! `0.50 ± 0.02 mm`: a value and what it may be off by.

use crate::quantity::unit;
use crate::quantity::{Arithmetic, Dimension, Number, Quantity};
use crate::syntax::ast::Expr;

use super::error::ModelError;
use super::expression::Evaluator;
use super::sizes;
use super::value::Value;

impl Evaluator<'_> {
    pub(super) fn tolerance(
        &mut self,
        expr: &Expr,
        deviation: &Expr,
        due: Option<Dimension>,
    ) -> Option<Value> {
        let value = self.value(expr, due);
        let known = match &value {
            Some(Value::Quantity { quantity, .. }) if quantity.dimension != Dimension::NONE => {
                Some(quantity.dimension)
            }
            _ => due,
        };
        let by = self.value(deviation, known);
        let (value, by) = (value?.plain(), by?);
        self.bare_deviation(expr, (deviation, &by))?;
        if let Value::Size { size, off, .. } = value {
            return sizes::deviating(size, off, &by, deviation.span, self.findings);
        }
        let by = by.plain();
        let mixed = |value: &Value, by: &Value| ModelError::MixedKinds {
            left: expr.span,
            between: deviation.span.before(),
            right: deviation.span,
            left_kind: value.named(),
            right_kind: by.named(),
            operator: "\u{B1}",
            help: "a deviation is of the same kind as its value, or in % of it".to_owned(),
        };
        let (
            Value::Quantity { quantity, unit },
            Value::Quantity {
                quantity: by,
                unit: by_unit,
            },
        ) = (&value, &by)
        else {
            let problem = mixed(&value, &by);
            return self.report(problem);
        };
        // `0.50 ± 0.02 mm`: the value takes the unit of its deviation.
        let shared = unit.is_none()
            && quantity.dimension == Dimension::NONE
            && by.dimension != Dimension::NONE;
        // A share that is computed is no length, whatever it may be off by.
        let shared = quantity.number.exact().filter(|_| shared);
        let (quantity, unit) = if let Some(number) = shared {
            let word = by_unit.clone().unwrap_or_default();
            let base = unit::scale(&word).ok().and_then(|of| of.to_base(number));
            let Some(base) = base else {
                return self.no_result(Arithmetic::Range, deviation.span);
            };
            (
                Quantity {
                    number: Number::Exact(base),
                    dimension: by.dimension,
                    deviations: Vec::new(),
                },
                by_unit.clone(),
            )
        } else {
            (quantity.clone(), unit.clone())
        };
        // Of a share, per cent are points; of anything else, a bare number included, a part of it.
        let share = quantity.dimension == Dimension::NONE && unit.is_some();
        let percent = by.dimension == Dimension::NONE && by_unit.is_some() && !share;
        let amount = if percent {
            by.number.times(quantity.number)
        } else {
            Some(by.number)
        };
        if !percent && by.dimension != quantity.dimension {
            let problem = mixed(&Value::of(quantity), &Value::of(by.clone()));
            return self.report(problem);
        }
        let Some(amount) = amount else {
            return self.no_result(Arithmetic::Range, deviation.span);
        };
        if amount.is_negative() {
            return self.report(ModelError::NoResult {
                at: deviation.span,
                message: "a deviation has no sign",
                help: "`\u{B1} 0.02 mm` already means to either side",
            });
        }
        Some(Value::Quantity {
            quantity: quantity.deviating(deviation.span, amount),
            unit,
        })
    }
}
