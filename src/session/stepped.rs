//! What a step from a written value comes to, as a recipe would write it.
//!
//! A written number is added up exactly and keeps its unit and its `±`, which `*` and `/` scale with it; an
//! expression is kept, with the step behind it, so that it goes on following what it refers to. Per cent are
//! points of a share, and a part of anything else.

use rust_decimal::Decimal;

use crate::finding::Finding;

use crate::model::{Evaluator, ModelError, Value, check, fineness};
use crate::quantity::{Dimension, Number, Quantity, unit};
use crate::schema::Takes;
use crate::source::{Span, Spanned};
use crate::syntax;
use crate::syntax::ast::{self, Expr, ExprKind, Operator};

use super::question::Results;
use super::{Outcome, Session};

/// What is stepped from.
pub(super) struct From<'a> {
    /// Its value as written.
    pub text: &'a str,
    /// What its field takes.
    pub takes: Takes,
    /// Its path as typed.
    pub path: &'a str,
    /// The band that its names are of.
    pub band: Option<String>,
}

/// A step as typed: the path, which stands for its value, the sign and the amount.
pub(super) struct Sum<'a> {
    pub head: Span,
    pub sign: char,
    pub sign_at: Span,
    pub amount: &'a Expr,
    /// The amount's text.
    pub text: String,
}

/// A written value in its parts.
struct Parts {
    /// What stands before it, such as `stretch`.
    before: String,
    base: Expr,
    base_text: String,
    deviation: Option<(Expr, String)>,
    /// The unit that it takes from its deviation (`0.50 \u{B1} 0.02 mm`).
    shared: Option<Spanned<String>>,
}

/// An operator with what stands behind it, as an expression and as text.
struct By {
    operator: Operator,
    sign: char,
    amount: Expr,
    text: String,
    /// The written `±` is scaled with the value.
    scales: bool,
}

impl Session {
    /// A written value with a step behind it, added up where both are plain numbers.
    pub(super) fn sum(
        &mut self,
        from: &From<'_>,
        sum: &Sum<'_>,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let Some(parts) = self.parts(from.text) else {
            return Ok(format!("{} {} {}", from.text, sum.sign, sum.text));
        };
        let value = base_value(&parts, from, sum, outcome);
        let by = by(from, sum, value.as_ref()).map_err(|problem| vec![problem.into()])?;
        let plain = is_plain(&parts.base) && is_plain(&by.amount);
        let stepped = match value.filter(|_| plain) {
            Some(value) => self.added(&parts, &value, from, sum, &by)?,
            None => None,
        };
        let is_whole = stepped.is_some();
        let text = stepped.unwrap_or_else(|| {
            let base = match by.operator {
                Operator::Add | Operator::Subtract => loose(&parts.base, &parts.base_text),
                _ => tight(&parts.base, &parts.base_text),
            };
            format!("{base} {} {}", by.sign, by.text)
        });
        let text = match self.deviation(&parts, &by) {
            None => text,
            Some(deviation) if is_whole => format!("{text} \u{B1} {deviation}"),
            Some(deviation) => format!("({text}) \u{B1} {deviation}"),
        };
        Ok(parts.before + &text)
    }

    /// A written value in its parts; none where it is no single value.
    fn parts(&mut self, text: &str) -> Option<Parts> {
        let id = self.sources.add("try", text);
        let parsed = syntax::parse_setting(self.sources.get(id)?);
        let mut values = parsed.value;
        let last = values.pop().filter(|_| parsed.findings.is_empty())?;
        let before = match values.as_slice() {
            [] => String::new(),
            [only] => match &only.kind {
                ExprKind::Path(path) if path.single() == Some("stretch") => "stretch ".to_owned(),
                _ => return None,
            },
            _ => return None,
        };
        let slice = |expr: &Expr| self.sources.slice(expr.span).to_owned();
        let ExprKind::Tolerance { value, deviation } = last.kind else {
            let base_text = slice(&last);
            return Some(Parts {
                before,
                base: last,
                base_text,
                deviation: None,
                shared: None,
            });
        };
        let shared = match (&value.kind, &deviation.kind) {
            (
                ExprKind::Quantity { unit: None, .. },
                ExprKind::Quantity {
                    unit: Some(unit), ..
                },
            ) if !is_share(&unit.value) => Some(unit.clone()),
            _ => None,
        };
        Some(Parts {
            before,
            base_text: slice(&value),
            deviation: Some((Expr::clone(&deviation), slice(&deviation))),
            base: *value,
            shared,
        })
    }

    /// Two plain values as one, as a recipe would write it; none where the result does not come out.
    fn added(
        &self,
        parts: &Parts,
        value: &Value,
        from: &From<'_>,
        sum: &Sum<'_>,
        by: &By,
    ) -> Result<Option<String>, Vec<Finding>> {
        let mut findings = Vec::new();
        // What is wrong with the sum is shown in the line: the path stands for its value.
        let base = Expr {
            span: sum.head,
            ..parts.base.clone()
        };
        let mut evaluator = Evaluator {
            scope: &mut Written(value),
            findings: &mut findings,
        };
        let whole = Expr {
            kind: ExprKind::Binary {
                operator: Spanned::new(by.operator, sum.sign_at),
                left: Box::new(Expr {
                    kind: ExprKind::Path(ast::Path(from.path.to_owned())),
                    ..base
                }),
                right: Box::new(by.amount.clone()),
            },
            span: sum.head.to(by.amount.span),
        };
        let Some(result) = evaluator.value(&whole, None) else {
            return Err(findings);
        };
        let (same, result) = like(value, result);
        if !same {
            let amount = evaluator.value(&by.amount, None);
            let problem = ModelError::MixedKinds {
                left: sum.head,
                between: sum.sign_at,
                right: by.amount.span,
                left_kind: value.named(),
                right_kind: amount.map_or_else(String::new, |amount| amount.named()),
                operator: by.operator.sign(),
                help: "a step by `*` or `/` takes a plain number".to_owned(),
            };
            return Err(vec![problem.into()]);
        }
        Ok(exactly(&result).map(|text| match (&parts.shared, &result) {
            (Some(unit), Value::Quantity { quantity, .. }) => {
                check::in_unit(quantity, Some(&unit.value)).0.to_string()
            }
            _ => text,
        }))
    }

    /// The written deviation behind the step.
    fn deviation(&self, parts: &Parts, by: &By) -> Option<String> {
        let (deviation, text) = parts.deviation.as_ref()?;
        let of_itself = match &deviation.kind {
            ExprKind::Quantity { unit, .. } => {
                unit.as_ref().is_some_and(|unit| is_share(&unit.value))
            }
            _ => false,
        };
        if !by.scales || of_itself {
            return Some(text.clone());
        }
        let scaled = Expr {
            kind: ExprKind::Binary {
                operator: Spanned::new(by.operator, deviation.span),
                left: Box::new(deviation.clone()),
                right: Box::new(by.amount.clone()),
            },
            span: deviation.span,
        };
        let plain = is_plain(deviation) && is_plain(&by.amount);
        let value = Evaluator {
            scope: &mut Written(&Value::Truth(false)),
            findings: &mut Vec::new(),
        }
        .value(&scaled, None);
        let exact = value.filter(|_| plain).and_then(|value| exactly(&value));
        let written = || format!("({} {} {})", tight(deviation, text), by.sign, by.text);
        Some(exact.unwrap_or_else(written))
    }
}

/// What the written value comes to without its deviation; none where a mistake keeps it from that, and where it
/// is an expression whose kind does not matter.
fn base_value(parts: &Parts, from: &From<'_>, sum: &Sum<'_>, outcome: &Outcome) -> Option<Value> {
    let mut base = parts.base.clone();
    if let (ExprKind::Quantity { unit, .. }, Some(shared)) = (&mut base.kind, &parts.shared) {
        *unit = Some(shared.clone());
    }
    let mut findings = Vec::new();
    let value = if is_plain(&base) {
        Evaluator {
            scope: &mut Written(&Value::Truth(false)),
            findings: &mut findings,
        }
        .value(&base, None)?
    } else {
        // Only a bare number and a share step differently from a share and from anything else.
        let matters = match &sum.amount.kind {
            ExprKind::Quantity { unit, .. } => {
                unit.as_ref().is_none_or(|unit| is_share(&unit.value))
            }
            _ => false,
        };
        if !matters {
            return None;
        }
        let chosen = Outcome {
            chosen: from.band.clone(),
            ..outcome.clone()
        };
        Evaluator {
            scope: &mut Results { outcome: &chosen },
            findings: &mut findings,
        }
        .value(&base, None)?
    };
    match (from.takes, value) {
        (Takes::Fineness, value) => fineness::read(&value),
        (Takes::Share | Takes::ShareBelow | Takes::ShareOrMore, Value::Steps(part)) => {
            let whole = |number: i64| Number::Exact(Decimal::from(number));
            let number = whole(*part.numer()).over(whole(*part.denom()))?;
            Some(Value::Quantity {
                quantity: Quantity::new(number, Dimension::NONE),
                unit: Some("%".to_owned()),
            })
        }
        (_, value) => Some(value),
    }
}

/// The one name of a step: its path, which stands for the written value.
struct Written<'a>(&'a Value);

impl crate::model::Scope for Written<'_> {
    fn name(&mut self, _: &ast::Path, _: Span, _: &mut Vec<Finding>) -> Option<Value> {
        Some(self.0.clone())
    }
}

/// What a step does to a value: per cent of anything but a share or a fineness are a factor.
fn by(from: &From<'_>, sum: &Sum<'_>, value: Option<&Value>) -> Result<By, ModelError> {
    let operator = match sum.sign {
        '+' => Operator::Add,
        '-' => Operator::Subtract,
        '/' => Operator::Divide,
        _ => Operator::Multiply,
    };
    let additive = matches!(operator, Operator::Add | Operator::Subtract);
    let typed = By {
        operator,
        sign: sum.sign,
        amount: sum.amount.clone(),
        text: sum.text.clone(),
        scales: !additive,
    };
    let ExprKind::Quantity {
        number: ast::Numeral::Decimal(number),
        unit,
    } = &sum.amount.kind
    else {
        return Ok(typed);
    };
    let number = *number;
    let points = match from.takes {
        Takes::Share | Takes::ShareBelow | Takes::ShareOrMore => true,
        _ => matches!(
            value,
            Some(Value::Quantity { quantity, unit: Some(_) }) if quantity.dimension == Dimension::NONE
        ),
    };
    let of_fineness = from.takes == Takes::Fineness
        || value
            .and_then(Value::quantity)
            .is_some_and(|quantity| quantity.dimension == Dimension::FINENESS);
    if !additive {
        return Ok(typed);
    }
    match unit.as_ref().map(|unit| is_share(&unit.value)) {
        // `cover + 5` may be five points, or five times the whole.
        None if points && !number.is_zero() => Err(ModelError::BareShare {
            at: sum.amount.span,
            message: format!(
                "`{}` is a share, and this step may mean {} % or {} %",
                from.path,
                number.normalize(),
                number.saturating_mul(Decimal::ONE_HUNDRED).normalize()
            ),
            help: format!(
                "write `{} {} {} %`, or `{} %` if you mean that",
                from.path,
                sum.sign,
                number.normalize(),
                number.saturating_mul(Decimal::ONE_HUNDRED).normalize()
            ),
        }),
        Some(true) if !points && !of_fineness => {
            let Some(part) = share(number, unit.as_ref()) else {
                return Ok(typed);
            };
            let factor = match operator {
                Operator::Subtract => Decimal::ONE.checked_sub(part),
                _ => Decimal::ONE.checked_add(part),
            };
            let Some(factor) = factor else {
                return Ok(typed);
            };
            Ok(By {
                operator: Operator::Multiply,
                sign: '*',
                amount: Expr {
                    kind: ExprKind::Quantity {
                        number: ast::Numeral::Decimal(factor),
                        unit: None,
                    },
                    span: sum.amount.span,
                },
                text: factor.normalize().to_string(),
                scales: false,
            })
        }
        _ => Ok(typed),
    }
}

/// A share as a part of one.
fn share(number: Decimal, unit: Option<&Spanned<String>>) -> Option<Decimal> {
    unit::scale(&unit?.value).ok()?.to_base(number)
}

/// Whether a word is a unit of shares.
fn is_share(word: &str) -> bool {
    unit::scale(word).is_ok_and(|scale| scale.dimension == Dimension::NONE)
}

/// A result with the unit of what it was stepped from, and whether it is of the same kind.
fn like(value: &Value, result: Value) -> (bool, Value) {
    match (value, result) {
        (
            Value::Quantity { quantity: of, unit },
            Value::Quantity {
                quantity,
                unit: other,
            },
        ) => {
            let same = of.dimension == quantity.dimension;
            // A bare fineness stays one, whatever is added to it.
            let other = other.filter(|_| of.dimension != Dimension::FINENESS);
            let unit = unit.clone().or(other).filter(|_| same);
            (same, Value::Quantity { quantity, unit })
        }
        (_, result) => (true, result),
    }
}

/// A value as a recipe would write it, when it is exact.
fn exactly(value: &Value) -> Option<String> {
    match value {
        Value::Quantity {
            quantity:
                Quantity {
                    number: Number::Exact(_),
                    ..
                },
            ..
        }
        | Value::Size { off: None, .. }
        | Value::Steps(_) => Some(check::written(value)),
        _ => None,
    }
}

/// Whether a value is a number or a size as written.
fn is_plain(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Quantity { .. } | ExprKind::Size { .. } => true,
        ExprKind::Group(inner) | ExprKind::Negate(inner) => is_plain(inner),
        _ => false,
    }
}

/// The text of a value before a sum: brackets round what binds less.
fn loose(expr: &Expr, text: &str) -> String {
    match &expr.kind {
        ExprKind::Convert { .. } => format!("({text})"),
        _ => text.to_owned(),
    }
}

/// The text of a value before a product.
fn tight(expr: &Expr, text: &str) -> String {
    match &expr.kind {
        ExprKind::Convert { .. } | ExprKind::Binary { .. } => format!("({text})"),
        _ => text.to_owned(),
    }
}
