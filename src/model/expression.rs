//! Expressions to values: dimension-checked, exact where what was written is exact.
//!
//! Names are looked up through a [`Scope`], so that the same evaluation serves fields, `let`s, questions
//! about results and overrides. `None` means that a finding was made; both operands are always evaluated
//! first, so that two slips in one expression are two findings.

use crate::finding::Finding;
use crate::quantity::unit;
use crate::quantity::{Arithmetic, Dimension, Number, Quantity, RingSize};
use crate::source::{Span, Spanned};
use crate::suggest::listed;
use crate::syntax::ast::{self, Expr, ExprKind, ListItem, Operator, Path};

use super::calendar::is_day;
use super::comparison::compare;
use super::error::ModelError;
use super::fineness;
use super::fraction;
use super::sizes;
use super::value::Value;
use super::written::{Written, kept_unit};

/// Where names come from.
pub trait Scope {
    /// The value of a name. `None` when there is none, after saying so in `findings`.
    fn name(&mut self, path: &Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value>;

    /// The value of a word that stands beside a field that takes one, in a comparison (`b.temper = hard`); none
    /// where the field takes no word. The word is `None` after saying in `findings` that nothing has it.
    fn word(
        &mut self,
        _field: &Path,
        _word: &Path,
        _at: Span,
        _findings: &mut Vec<Finding>,
    ) -> Option<Option<Value>> {
        None
    }

    /// Whether a name stands for a share, or for a bare number that could be one; asked of names whose value was
    /// looked up.
    fn written(&self, _path: &Path) -> Written {
        Written::Other
    }
}

/// A scope without any name of its own, for values that refer to nothing.
pub struct NoNames;

impl Scope for NoNames {
    fn name(&mut self, path: &Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        let help = "only plain values stand here".to_owned();
        findings.push(
            ModelError::UnknownName {
                at,
                name: path.0.clone(),
                kind: "the name",
                help,
                nearest: None,
            }
            .into(),
        );
        None
    }
}

/// Evaluates expressions.
pub struct Evaluator<'a> {
    /// Where names come from.
    pub scope: &'a mut dyn Scope,
    /// Where problems go.
    pub findings: &'a mut Vec<Finding>,
}

impl Evaluator<'_> {
    /// The value of an expression; `due` is the dimension expected there, for suggestions only.
    pub fn value(&mut self, expr: &Expr, due: Option<Dimension>) -> Option<Value> {
        match &expr.kind {
            ExprKind::Quantity { number, unit } => {
                self.literal(*number, unit.as_ref(), due, expr.span)
            }
            ExprKind::Size {
                system,
                designation,
            } => sizes::read(system, designation, self.findings).map(|size| Value::Size {
                size,
                deviations: Vec::new(),
                steps: None,
                off: None,
            }),
            ExprKind::Path(path) => self.scope.name(path, expr.span, self.findings),
            ExprKind::Text(text) => Some(Value::Text(text.clone())),
            ExprKind::Date(year, month, day) => self.date(*year, *month, *day, expr.span),
            ExprKind::List { items, .. } => {
                let values: Vec<Option<Value>> = items
                    .iter()
                    .filter_map(|item| match item {
                        ListItem::Value(value) => Some(self.value(value, due)),
                        ListItem::Comment(_) => None,
                    })
                    .collect();
                let values = values.into_iter().collect::<Option<Vec<_>>>()?;
                // By way of names lists could lie in each other without end.
                if values.iter().any(|value| matches!(value, Value::List(_))) {
                    return self.report(ModelError::NoResult {
                        at: expr.span,
                        message: "a list holds no other list",
                        help: "write its values side by side, as in `[4 mm, 5 mm]`",
                    });
                }
                Some(Value::List(values))
            }
            ExprKind::Negate(inner) => {
                let value = self.value(inner, due)?;
                if let Value::Steps(steps) = value {
                    return Some(Value::Steps(-steps));
                }
                let Some((quantity, unit)) = value.measured() else {
                    return self.no_fit(&value, inner.span, expr.span, "-");
                };
                Some(value.with(quantity.negated(), unit.map(str::to_owned)))
            }
            ExprKind::Group(inner) => self.value(inner, due),
            ExprKind::Unread(_) => self.report(ModelError::Unread { at: expr.span }),
            ExprKind::Binary {
                operator,
                left,
                right,
            } => self.binary(operator, left, right, due),
            ExprKind::Convert { value, unit } => self.convert(value, unit),
            ExprKind::Tolerance { value, deviation } => self.tolerance(value, deviation, due),
            ExprKind::Call { name, arguments } => self.call(name, arguments, due, expr.span),
            ExprKind::Range { .. } => self.report(ModelError::NoResult {
                at: expr.span,
                message: "a range has no single value",
                help: "ranges are for sweeps and runs; give one value here",
            }),
        }
    }

    /// Reads a size beside a length, in a comparison, as the diameter that it means.
    pub fn beside_length(&self, operator: Operator, left: &mut Value, right: &mut Value) {
        sizes::beside_length(operator, left, right);
    }

    pub(super) fn report<T>(&mut self, problem: ModelError) -> Option<T> {
        self.findings.push(problem.into());
        None
    }

    // Apart from what goes down into operands, which needs all of the stack that there is.
    #[inline(never)]
    fn literal(
        &mut self,
        number: ast::Numeral,
        unit: Option<&Spanned<String>>,
        due: Option<Dimension>,
        at: Span,
    ) -> Option<Value> {
        let number = match (number, unit) {
            (ast::Numeral::Decimal(number), _) => number,
            (
                ast::Numeral::Fraction {
                    whole,
                    numerator,
                    denominator,
                },
                None,
            ) => {
                return match crate::quantity::mixed(whole, numerator, denominator) {
                    Some(steps) => Some(Value::Steps(steps)),
                    None => self.no_result(Arithmetic::Range, at),
                };
            }
            (
                ast::Numeral::Fraction {
                    whole,
                    numerator,
                    denominator,
                },
                Some(unit),
            ) => {
                let scale = self.unit(unit, due)?;
                let part = crate::quantity::mixed(whole, numerator, denominator);
                let Some(quantity) = part.and_then(|part| fraction::of_unit(part, &scale)) else {
                    return self.no_result(Arithmetic::Range, at);
                };
                let unit = Some(unit.value.clone());
                return Some(Value::Quantity { quantity, unit });
            }
        };
        let Some(unit) = unit else {
            return Some(Value::of(Quantity::new(
                Number::Exact(number),
                Dimension::NONE,
            )));
        };
        if let Some(problem) = sizes::turned(number, unit, at) {
            return self.report(problem);
        }
        let scale = self.unit(unit, due)?;
        let Some(base) = scale.to_base(number) else {
            return self.no_result(Arithmetic::Range, at);
        };
        let quantity = Quantity::new(Number::Exact(base), scale.dimension);
        Some(Value::Quantity {
            quantity,
            unit: Some(unit.value.clone()),
        })
    }

    fn date(&mut self, year: i32, month: u8, day: u8, at: Span) -> Option<Value> {
        if is_day(year, month, day) {
            Some(Value::Date(year, month, day))
        } else {
            self.report(ModelError::Date { at })
        }
    }

    fn binary(
        &mut self,
        operator: &Spanned<Operator>,
        left: &Expr,
        right: &Expr,
        due: Option<Dimension>,
    ) -> Option<Value> {
        let additive = matches!(operator.value, Operator::Add | Operator::Subtract);
        let inner = if additive { due } else { None };
        if let Some((left_value, right_value)) = self.words(operator.value, left, right) {
            return self.joined(operator, (left, left_value?), (right, right_value?));
        }
        let left_value = self.value(left, inner);
        let right_due = match (&left_value, additive || operator.value.compares()) {
            (Some(value), true) => value.measured().map(|(of, _)| of.dimension).or(inner),
            _ => inner,
        };
        let right_value = self.value(right, right_due);
        self.joined(operator, (left, left_value?), (right, right_value?))
    }

    /// Both sides of a comparison in which a word stands beside a field that takes one; none where it is no such.
    pub fn words(
        &mut self,
        operator: Operator,
        left: &Expr,
        right: &Expr,
    ) -> Option<(Option<Value>, Option<Value>)> {
        let (ExprKind::Path(one), ExprKind::Path(other)) = (&left.kind, &right.kind) else {
            return None;
        };
        if !operator.compares() {
            return None;
        }
        if let Some(word) = self.scope.word(one, other, right.span, self.findings) {
            return Some((self.value(left, None), word));
        }
        let word = self.scope.word(other, one, left.span, self.findings)?;
        Some((word, self.value(right, None)))
    }

    /// Two values joined; apart from where operands are read, which goes down into them.
    #[inline(never)]
    fn joined(
        &mut self,
        operator: &Spanned<Operator>,
        (left, left_value): (&Expr, Value),
        (right, right_value): (&Expr, Value),
    ) -> Option<Value> {
        let additive = matches!(operator.value, Operator::Add | Operator::Subtract);
        let (left_value, right_value) = if additive || operator.value.compares() {
            let (mut left_value, mut right_value) = fineness::alike(
                operator.value,
                (left, left_value),
                (right, right_value),
                self.findings,
            )?;
            let sides = ((left, &mut left_value), (right, &mut right_value));
            self.beside(operator.value, sides.0, sides.1)?;
            sizes::beside_length(operator.value, &mut left_value, &mut right_value);
            (left_value, right_value)
        } else {
            (left_value, right_value)
        };
        let (left_value, right_value) = fraction::beside(left_value, right_value);
        let result = match (&left_value, &right_value) {
            (Value::Size { .. }, _) | (_, Value::Size { .. }) => {
                sizes::arithmetic(operator.value, &left_value, &right_value)
            }
            (Value::Circumference { .. }, _) | (_, Value::Circumference { .. }) => {
                sizes::round(operator.value, &left_value, &right_value)
            }
            _ if operator.value.compares() => compare(operator.value, &left_value, &right_value)
                .map(Value::Truth)
                .map(Ok),
            _ if !additive
                && let Some(found) =
                    fraction::multiplied(operator.value, &left_value, &right_value) =>
            {
                Some(found)
            }
            (
                Value::Quantity { quantity: a, unit },
                Value::Quantity {
                    quantity: b,
                    unit: other,
                },
            ) => {
                let quantity = match operator.value {
                    Operator::Add => a.plus(b),
                    Operator::Subtract => a.minus(b),
                    Operator::Multiply => a.times(b),
                    _ => a.over(b),
                };
                let unit = if additive {
                    unit.clone().or_else(|| other.clone())
                } else {
                    kept_unit(a, b, unit, other, operator.value)
                };
                match quantity {
                    Ok(quantity) => Some(Ok(Value::Quantity { quantity, unit })),
                    Err(Arithmetic::Dimensions) => None,
                    Err(problem) => Some(Err(problem)),
                }
            }
            // Steps of a size: fractions, or a fraction and a plain number.
            (a, b) if additive && matches!((a, b), (Value::Steps(_), _) | (_, Value::Steps(_))) => {
                a.steps().zip(b.steps()).map(|(a, b)| {
                    let b = if operator.value == Operator::Add {
                        b
                    } else {
                        -b
                    };
                    let sum = sizes::steps_together(a, b).map(Value::Steps);
                    sum.ok_or(Arithmetic::Range)
                })
            }
            _ => None,
        };
        match result {
            Some(Ok(value)) => Some(value),
            Some(Err(problem)) => self.no_result(problem, left.span.to(right.span)),
            None => self.report(ModelError::MixedKinds {
                left: left.span,
                between: operator.span,
                right: right.span,
                left_kind: left_value.named(),
                right_kind: right_value.named(),
                operator: operator.value.sign(),
                help: mixed_help(&left_value, &right_value),
            }),
        }
    }

    fn no_fit<T>(
        &mut self,
        value: &Value,
        inner: Span,
        whole: Span,
        operator: &'static str,
    ) -> Option<T> {
        self.report(ModelError::MixedKinds {
            left: whole.before(),
            between: whole.before(),
            right: inner,
            left_kind: "a sign".to_owned(),
            right_kind: value.named(),
            operator,
            help: "only numbers and quantities have a sign".to_owned(),
        })
    }

    pub(super) fn no_result<T>(&mut self, problem: Arithmetic, at: Span) -> Option<T> {
        let (message, help) = match problem {
            Arithmetic::Zero => ("a division by zero has no result", "check the divisor"),
            Arithmetic::NegativeRoot => ("a negative number has no square root", "check the sign"),
            Arithmetic::Currencies => (
                "two currencies cannot be added up",
                "state a dated `rate` between them",
            ),
            Arithmetic::Dimensions => ("these units have no such result", "check the units"),
            Arithmetic::NoSize => (
                "the system has no size there",
                "`annulet list sizes` shows where sizes begin and end, and what lies between two",
            ),
            Arithmetic::Range => (
                "the result has more digits than are kept",
                "check the units; workshop figures are far smaller",
            ),
        };
        self.report(ModelError::NoResult { at, message, help })
    }
}

fn mixed_help(left: &Value, right: &Value) -> String {
    if let (Value::Word(_), Value::Word(_)) = (left, right) {
        return "words have no order: compare them with `=` or `!=`".to_owned();
    }
    if matches!(left, Value::Truth(_)) || matches!(right, Value::Truth(_)) {
        return "compare two values at a time, each comparison in a line of its own".to_owned();
    }
    let dimension = |value: &Value| value.quantity().map(|quantity| quantity.dimension);
    let pair = [dimension(left), dimension(right)];
    if pair.contains(&Some(Dimension::FINENESS)) && pair.contains(&Some(Dimension::MASS)) {
        return "a karat is a fineness, 1/24 of gold by mass; a carat is the weight of a stone"
            .to_owned();
    }
    let is_size = |value: &Value| matches!(value, Value::Size { .. });
    if (is_size(left) || is_size(right)) && pair.contains(&Some(Dimension::NONE)) {
        return "a bare number names no size system: write `ISO 54`, or an inside diameter as in `17.2 mm`"
            .to_owned();
    }
    if let [Some(Dimension::NONE), Some(other)] | [Some(other), Some(Dimension::NONE)] = pair {
        let units = listed(unit::of_dimension(other));
        return match units.is_empty() {
            true => "the bare number needs the unit of the other".to_owned(),
            false => format!("write a unit after the bare number: {units}"),
        };
    }
    "both must be of one kind".to_owned()
}

/// A kind without its article.
pub(super) fn bare(named: &str) -> &str {
    named
        .strip_prefix("a ")
        .or_else(|| named.strip_prefix("an "))
        .unwrap_or(named)
}

/// A size and what steps or lengths do to it.
pub(super) fn diameter_of(size: &RingSize) -> Number {
    Number::Computed(size.diameter())
}
