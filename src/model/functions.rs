//! Functions of the language: `min`, `max`, `abs`, `round`, `sqrt`.

use std::cmp::Ordering;

use rust_decimal::Decimal;

use crate::quantity::{Arithmetic, Dimension, Number, Quantity, from_f64, to_f64};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::Expr;

use super::error::ModelError;
use super::expression::Evaluator;
use super::fineness;
use super::value::Value;

impl Evaluator<'_> {
    pub(super) fn call(
        &mut self,
        name: &Spanned<String>,
        arguments: &[Expr],
        due: Option<Dimension>,
        at: Span,
    ) -> Option<Value> {
        let known = FUNCTIONS.iter().find(|(word, ..)| *word == name.value);
        let Some((word, least, most)) = known else {
            let nearest =
                nearest(&name.value, FUNCTIONS.iter().map(|(word, ..)| *word)).map(str::to_owned);
            let help = format!(
                "functions are {}",
                listed(FUNCTIONS.iter().map(|(word, ..)| *word))
            );
            return self.report(ModelError::UnknownName {
                at: name.span,
                name: name.value.clone(),
                kind: "the function",
                help,
                nearest,
            });
        };
        let inner = if *word == "sqrt" { None } else { due };
        let values: Vec<Option<Value>> = arguments
            .iter()
            .map(|argument| self.value(argument, inner))
            .collect();
        if !(*least..=*most).contains(&arguments.len()) {
            let wanted = match (least, most) {
                (1, 1) => "1 value".to_owned(),
                (1, 2) => "1 or 2 values".to_owned(),
                _ => format!("{least} or more values"),
            };
            return self.report(ModelError::ValueCount {
                at,
                field: (*word).to_owned(),
                wanted,
                label: "count them",
                help: "as in `min(a, b)`, `abs(a)`, `round(a, 0.1 mm)`".to_owned(),
            });
        }
        let mut quantities = Vec::new();
        if matches!(*word, "min" | "max") {
            let numbers: Vec<_> = arguments
                .iter()
                .zip(&values)
                .filter_map(|(expr, value)| Some((expr, value.as_ref()?.quantity()?)))
                .collect();
            self.among(&numbers)?;
        }
        let round = values
            .iter()
            .flatten()
            .any(|value| matches!(value, Value::Circumference { .. }));
        for value in values {
            match value?.plain() {
                Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
                    quantities.push((quantity, unit));
                }
                other => {
                    return self.report(ModelError::WrongKind {
                        at,
                        field: (*word).to_owned(),
                        due: "quantities".to_owned(),
                        found: other.named(),
                        help: "functions take numbers and quantities".to_owned(),
                    });
                }
            }
        }
        self.read_as_fineness(word, arguments, &mut quantities)?;
        let found = self.apply(word, quantities, at)?;
        Some(match found {
            // The longest of lengths round a finger and across it is at most a length round it.
            Value::Quantity { quantity, unit }
                if round && quantity.dimension == Dimension::LENGTH =>
            {
                Value::Circumference { quantity, unit }
            }
            found => found,
        })
    }

    /// Where one value is a fineness, bare numbers and shares beside it are read as such.
    fn read_as_fineness(
        &mut self,
        word: &str,
        arguments: &[Expr],
        quantities: &mut [(Quantity, Option<String>)],
    ) -> Option<()> {
        let is_fineness = |one: &Quantity| one.dimension == Dimension::FINENESS;
        if !quantities.iter().any(|(one, _)| is_fineness(one)) {
            return Some(());
        }
        for ((quantity, unit), argument) in quantities.iter_mut().zip(arguments) {
            if is_fineness(quantity) {
                continue;
            }
            let value = Value::Quantity {
                quantity: quantity.clone(),
                unit: unit.clone(),
            };
            // A step to round to is small.
            let problem = fineness::small(&value, argument.span).filter(|_| word != "round");
            if let Some(problem) = problem {
                return self.report(problem);
            }
            if let Some(Value::Quantity { quantity: read, .. }) = fineness::read(&value) {
                *quantity = read;
            }
        }
        Some(())
    }

    fn apply(
        &mut self,
        word: &str,
        quantities: Vec<(Quantity, Option<String>)>,
        at: Span,
    ) -> Option<Value> {
        let mut quantities = quantities.into_iter();
        let (first, unit) = quantities.next()?;
        let result: Result<Quantity, Refused> = match word {
            "abs" => Ok(if first.number.is_negative() {
                first.negated()
            } else {
                first
            }),
            "sqrt" => first.root().map_err(Refused::from),
            "round" => {
                let step = quantities.next().map(|(step, _)| step);
                round(&first, unit.as_deref(), step.as_ref())
            }
            _ => {
                let wanted = if word == "min" {
                    Ordering::Less
                } else {
                    Ordering::Greater
                };
                let mut best = Ok(first);
                for (other, _) in quantities {
                    best = best.and_then(|best| match best.minus(&other) {
                        Ok(_) if other.number.compared(best.number) == wanted => Ok(other),
                        Ok(_) => Ok(best),
                        Err(Arithmetic::Dimensions) => Err(Refused::Kinds),
                        Err(problem) => Err(problem.into()),
                    });
                }
                best
            }
        };
        match result {
            Ok(quantity) => {
                let unit = if word == "sqrt" { None } else { unit };
                Some(Value::Quantity { quantity, unit })
            }
            Err(Refused::Arithmetic(problem)) => self.no_result(problem, at),
            Err(Refused::Kinds) => self.report(ModelError::NoResult {
                at,
                message: "values of two kinds cannot be compared",
                help: "lengths go with lengths, masses with masses, plain numbers with plain numbers",
            }),
            Err(Refused::NoStep) => self.report(ModelError::NoResult {
                at,
                message: "a quantity is rounded to a step, and none is given",
                help: "write the step after it, as in `round(width, 0.1 mm)`",
            }),
            Err(Refused::Step) => self.report(ModelError::NoResult {
                at,
                message: "a step to round to is greater than 0",
                help: "as in `round(width, 0.1 mm)`",
            }),
        }
    }
}

/// Functions: name, least and most arguments.
const FUNCTIONS: &[(&str, usize, usize)] = &[
    ("min", 1, 32),
    ("max", 1, 32),
    ("abs", 1, 1),
    ("round", 1, 2),
    ("sqrt", 1, 1),
];

/// To the nearest multiple of a step, halves to even; a plain number without a step to the nearest whole one.
fn round(
    value: &Quantity,
    unit: Option<&str>,
    step: Option<&Quantity>,
) -> Result<Quantity, Refused> {
    let one = Quantity::new(Number::Exact(Decimal::ONE), Dimension::NONE);
    let step = match step {
        Some(step) => step,
        None if value.dimension == Dimension::NONE && unit.is_none() => &one,
        None => return Err(Refused::NoStep),
    };
    if step.dimension != value.dimension {
        return Err(Refused::Kinds);
    }
    if step.number.compared(Number::ZERO).is_le() {
        return Err(Refused::Step);
    }
    let number = multiple(value.number, step.number).ok_or(Arithmetic::Range)?;
    Ok(Quantity {
        number,
        ..value.clone()
    })
}

/// The multiple of a step that is nearest to a number, halves to even; of written ones exact.
fn multiple(number: Number, step: Number) -> Option<Number> {
    let (Number::Exact(value), Number::Exact(size)) = (number, step) else {
        let times = libm::rint(number.to_f64() / step.to_f64());
        // The multiple of a written step reads as it would be written.
        return match (step, from_f64(times)) {
            (Number::Exact(size), Some(times)) => {
                let multiple = size.checked_mul(times)?;
                Some(Number::Computed(to_f64(multiple)))
            }
            _ => Some(Number::Computed(times * step.to_f64())),
        };
    };
    let below = value.checked_div(size)?.floor();
    let rest = value.checked_sub(below.checked_mul(size)?)?;
    let odd = !below.checked_rem(Decimal::TWO)?.is_zero();
    let up = match rest.checked_mul(Decimal::TWO)?.cmp(&size) {
        Ordering::Less => false,
        Ordering::Greater => true,
        Ordering::Equal => odd,
    };
    let times = if up {
        below.checked_add(Decimal::ONE)?
    } else {
        below
    };
    Some(Number::Exact(times.checked_mul(size)?.normalize()))
}

/// Why a value is not rounded.
enum Refused {
    /// There is no result.
    Arithmetic(Arithmetic),
    /// Values of two kinds.
    Kinds,
    /// A quantity, and no step to round it to.
    NoStep,
    /// A step that leads nowhere.
    Step,
}

impl From<Arithmetic> for Refused {
    fn from(problem: Arithmetic) -> Self {
        Self::Arithmetic(problem)
    }
}
