//! Shares: `%` and `‰` say one, `3/4` and `0` serve too; any other bare number is refused with both its readings.
//!
//! Whether a number is bare is read from how it is written, through names: `let most = 90` is as bare as `90`,
//! while a quotient of two weights is a share that nobody wrote in per cent.

use rust_decimal::Decimal;

use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{Field, Takes};
use crate::source::Span;
use crate::syntax::ast::{self, Expr, ExprKind, Operator};

use super::check;
use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::fraction::quotient;
use super::value::Value;
use super::written::Written;

/// How an expression is written, its names looked up.
pub(super) fn written(expr: &Expr, scope: &dyn Scope) -> Written {
    use Written::{Bare, Other, Share};
    let inner = |expr: &Expr| written(expr, scope);
    match &expr.kind {
        ExprKind::Quantity { number, unit } => match (number, unit) {
            (_, Some(unit)) if is_share_unit(&unit.value) => Share,
            (ast::Numeral::Decimal(number), None) if !number.is_zero() => Bare,
            _ => Other,
        },
        ExprKind::Path(path) => scope.written(path),
        ExprKind::Group(value) | ExprKind::Negate(value) => inner(value),
        ExprKind::Tolerance { value, .. } => inner(value),
        ExprKind::Convert { unit, .. } if is_share_unit(&unit.value) => Share,
        ExprKind::Call { name, arguments } => {
            let all = arguments.iter().map(inner);
            let found = all.reduce(either).unwrap_or_default();
            if name.value == "sqrt" && found == Share {
                Other
            } else {
                found
            }
        }
        ExprKind::Binary {
            operator,
            left,
            right,
        } => match (operator.value, inner(left), inner(right)) {
            (Operator::Add, a, b) => either(a, b),
            // The whole, less a part of it.
            (Operator::Subtract, _, b) if is_one(left) => b,
            (Operator::Subtract, a, b) => either(a, b),
            (Operator::Multiply, Share, _) | (Operator::Multiply, _, Share) => Share,
            (Operator::Divide, Share, Bare) => Share,
            (Operator::Multiply | Operator::Divide, Bare, Bare) => Bare,
            _ => Other,
        },
        _ => Other,
    }
}

/// Of two that are added up or chosen from.
fn either(a: Written, b: Written) -> Written {
    match (a, b) {
        (Written::Share, _) | (_, Written::Share) => Written::Share,
        (Written::Bare, _) | (_, Written::Bare) => Written::Bare,
        _ => Written::Other,
    }
}

fn is_one(expr: &Expr) -> bool {
    let one = ast::Numeral::Decimal(Decimal::ONE);
    matches!(&expr.kind, ExprKind::Quantity { number, unit: None } if *number == one)
}

fn is_share_unit(unit: &str) -> bool {
    matches!(unit, "%" | "\u{2030}")
}

impl Takes {
    /// Whether it is a part of something, and so takes `%`.
    #[must_use]
    pub fn is_share(self) -> bool {
        matches!(self, Self::Share | Self::ShareBelow | Self::ShareOrMore)
    }
}

impl Evaluator<'_> {
    /// The value of a field as it keeps it, within its range; `None` after saying what is wrong.
    pub fn taken(&mut self, field: &Field, expr: &Expr, value: Value) -> Option<Value> {
        let value = self.due(field, expr, value, false)?;
        check::take(field, value, expr.span, self.findings)
    }

    /// The value of a field as it keeps it where it takes a share; `None` after refusing a bare number. A start is
    /// a share behind the word `stretch`.
    pub(super) fn due(
        &mut self,
        field: &Field,
        expr: &Expr,
        value: Value,
        stretched: bool,
    ) -> Option<Value> {
        let share = match field.takes {
            Takes::Start => stretched,
            // A bare number may be money too, which is for the check to say.
            Takes::MoneyByWeightOrShare => written(expr, &*self.scope) != Written::Bare,
            takes => takes.is_share(),
        };
        match share {
            true => self.share(field.word(), expr, value),
            false => Some(value),
        }
    }

    /// The value of an expression as a share; `None` after refusing a bare number.
    pub(super) fn share(&mut self, field: &str, expr: &Expr, value: Value) -> Option<Value> {
        let share = match &value {
            Value::Steps(steps) => quotient(*steps),
            Value::Quantity { quantity, .. } if quantity.dimension == Dimension::NONE => {
                if written(expr, &*self.scope) == Written::Bare {
                    return self.bare(&format!("`{field}` is a share"), expr, quantity);
                }
                quantity.clone()
            }
            _ => return Some(value),
        };
        let unit = match &value {
            Value::Quantity {
                unit: Some(unit), ..
            } => unit.clone(),
            _ => "%".to_owned(),
        };
        Some(Value::Quantity {
            quantity: share,
            unit: Some(unit),
        })
    }

    /// Makes a share of a fraction that is added to a share or compared with one; `None` after refusing a bare
    /// number there.
    // Apart from what calls it, which needs all of the stack that there is.
    #[inline(never)]
    pub fn beside(
        &mut self,
        operator: Operator,
        (left, left_value): (&Expr, &mut Value),
        (right, right_value): (&Expr, &mut Value),
    ) -> Option<()> {
        let plain = |value: &Value| match value {
            Value::Quantity { quantity, .. } => quantity.dimension == Dimension::NONE,
            value => matches!(value, Value::Steps(_)),
        };
        if !plain(left_value) || !plain(right_value) {
            return Some(());
        }
        let each = (written(left, &*self.scope), written(right, &*self.scope));
        if each.0 != Written::Share && each.1 != Written::Share {
            return Some(());
        }
        let whole = operator == Operator::Subtract && is_one(left);
        let bare = match each {
            (Written::Bare, _) if !whole => Some((left, left_value.quantity())),
            (_, Written::Bare) => Some((right, right_value.quantity())),
            _ => None,
        };
        if let Some((expr, Some(quantity))) = bare {
            return self.bare("this stands beside a share", expr, quantity);
        }
        let per_cent = || Some("%".to_owned());
        for value in [left_value, right_value] {
            match value {
                Value::Steps(steps) => {
                    *value = Value::Quantity {
                        quantity: quotient(*steps),
                        unit: per_cent(),
                    };
                }
                // Both sides of a comparison are shown alike.
                Value::Quantity { unit, .. } if operator.compares() && unit.is_none() => {
                    *unit = per_cent();
                }
                _ => {}
            }
        }
        Some(())
    }

    /// Values that one is chosen of; `None` after refusing a bare number among shares.
    #[inline(never)]
    pub(super) fn among(&mut self, all: &[(&Expr, &Quantity)]) -> Option<()> {
        let each: Vec<Written> = all
            .iter()
            .map(|(expr, _)| written(expr, &*self.scope))
            .collect();
        let place = each.iter().position(|one| *one == Written::Bare);
        match place.and_then(|place| all.get(place)) {
            Some((expr, quantity)) if each.contains(&Written::Share) => {
                self.bare("this stands among shares", expr, quantity)
            }
            _ => Some(()),
        }
    }

    /// Refuses a deviation without `%` of a share.
    #[inline(never)]
    pub(super) fn bare_deviation(&mut self, value: &Expr, by: (&Expr, &Value)) -> Option<()> {
        let share = written(value, &*self.scope) == Written::Share;
        let (expr, by) = by;
        match by.quantity() {
            Some(quantity) if share && written(expr, &*self.scope) == Written::Bare => {
                self.bare("a share is off by a share", expr, quantity)
            }
            _ => Some(()),
        }
    }

    fn bare<T>(&mut self, what: &str, expr: &Expr, quantity: &Quantity) -> Option<T> {
        let problem = bare_share(what, expr.span, quantity.number);
        self.report(problem)
    }
}

/// The finding for a bare number where a share is due, with both its readings, the likelier first.
pub(super) fn bare_share(what: &str, at: Span, number: Number) -> ModelError {
    let times = |factor: Decimal| {
        let product = number.times(Number::Exact(factor)).unwrap_or(number);
        let plain = product.exact().map(|exact| exact.normalize());
        let shown = plain.map_or_else(|| product.to_string(), |exact| exact.to_string());
        format!("{shown} %")
    };
    let (as_such, hundred) = (times(Decimal::ONE), times(Decimal::ONE_HUNDRED));
    let small = number.to_f64().abs() <= 1.0;
    let (first, second) = if small {
        (hundred, as_such)
    } else {
        (as_such, hundred)
    };
    ModelError::BareShare {
        at,
        message: format!("{what}, and this number may mean {first} or {second}"),
        help: format!("write `{first}`, or `{second}` if that is meant"),
    }
}
