//! `weight in dwt`: a value shown in another unit.

use crate::quantity::unit;
use crate::quantity::{Dimension, Quantity};
use crate::source::Spanned;
use crate::suggest::listed;
use crate::syntax::ast::Expr;

use super::error::ModelError;
use super::expression::{Evaluator, bare};
use super::fineness;
use super::sizes;
use super::value::Value;

impl Evaluator<'_> {
    pub(super) fn convert(&mut self, expr: &Expr, unit: &Spanned<String>) -> Option<Value> {
        let value = self.value(expr, None)?.plain();
        self.converted(expr, value, unit)
    }

    #[inline(never)]
    fn converted(&mut self, expr: &Expr, value: Value, unit: &Spanned<String>) -> Option<Value> {
        let due = value.measured().map(|(quantity, _)| quantity.dimension);
        let across = matches!(&value, Value::Quantity { quantity, .. } if quantity.dimension == Dimension::LENGTH);
        let is_size = matches!(value, Value::Size { .. });
        // A size in millimetres is the diameter that it means; a diameter in a system, the nearest size there.
        let is_length =
            unit::scale(&unit.value).is_ok_and(|scale| scale.dimension == Dimension::LENGTH);
        let value = match sizes::across(&value).filter(|_| is_length) {
            Some(across) => across,
            None if is_size || across && sizes::like_system(&unit.value) => {
                return sizes::convert(&value, unit, self.findings);
            }
            None => value,
        };
        let due = value
            .measured()
            .map(|(quantity, _)| quantity.dimension)
            .or(due);
        let scale = self.unit(unit, due)?;
        let value = match fineness::read(&value) {
            Some(_) if scale.dimension != Dimension::FINENESS => value,
            Some(read) => match fineness::small(&value, expr.span) {
                Some(problem) => return self.report(problem),
                None => read,
            },
            None => value,
        };
        let fits = |quantity: &Quantity| {
            let scale = unit::scale_in(&unit.value, quantity.dimension);
            scale.is_ok_and(|scale| scale.dimension == quantity.dimension)
        };
        match value {
            Value::Quantity { quantity, .. } if fits(&quantity) => Some(Value::Quantity {
                quantity,
                unit: Some(unit.value.clone()),
            }),
            Value::Circumference { quantity, .. } if fits(&quantity) => {
                Some(Value::Circumference {
                    quantity,
                    unit: Some(unit.value.clone()),
                })
            }
            other => {
                let help = due.map_or_else(String::new, |due| {
                    format!(
                        "units of {}: {}",
                        bare(&due.named()),
                        listed(unit::of_dimension(due))
                    )
                });
                self.report(ModelError::WrongKind {
                    at: unit.span,
                    field: "in".to_owned(),
                    due: format!("a unit of {}", bare(&other.named())),
                    found: format!("a unit of {}", bare(&scale.dimension.named())),
                    help,
                })
            }
        }
    }
}
