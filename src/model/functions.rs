//! Functions of the language: `min`, `max`, `abs`, `round`, `sqrt`.

use std::cmp::Ordering;

use crate::quantity::{Arithmetic, Dimension, Number, Quantity, unit};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::Expr;

use super::error::ModelError;
use super::expression::Evaluator;
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
            let wanted = if least == most {
                format!("{least} value")
            } else {
                format!("{least} or more values")
            };
            return self.report(ModelError::ValueCount {
                at,
                field: (*word).to_owned(),
                wanted,
                label: "count them",
                help: "as in `min(a, b)`, `round(a)`".to_owned(),
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
        for value in values {
            match value? {
                Value::Quantity { quantity, unit } => quantities.push((quantity, unit)),
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
        self.apply(word, quantities, at)
    }

    fn apply(
        &mut self,
        word: &str,
        quantities: Vec<(Quantity, Option<String>)>,
        at: Span,
    ) -> Option<Value> {
        let mut quantities = quantities.into_iter();
        let (first, unit) = quantities.next()?;
        let result = match word {
            "abs" => Ok(if first.number.is_negative() {
                first.negated()
            } else {
                first
            }),
            "sqrt" => first.root(),
            "round" => round(&first, unit.as_deref()),
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
                        Err(problem) => Err(problem),
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
            Err(problem) => self.no_result(problem, at),
        }
    }
}

/// Functions: name, least and most arguments.
const FUNCTIONS: &[(&str, usize, usize)] = &[
    ("min", 1, 32),
    ("max", 1, 32),
    ("abs", 1, 1),
    ("round", 1, 1),
    ("sqrt", 1, 1),
];

/// To a whole number of the unit it is written in, halves to even.
fn round(quantity: &Quantity, unit: Option<&str>) -> Result<Quantity, Arithmetic> {
    let (_, scale) =
        match unit.and_then(|word| unit::scale(word).ok().map(|scale| (word.to_owned(), scale))) {
            Some(found) => found,
            None => match unit::shown(quantity.dimension) {
                Some(found) => found,
                None => {
                    let whole = Number::Exact(
                        crate::quantity::from_f64(quantity.number.to_f64())
                            .ok_or(Arithmetic::Range)?
                            .round(),
                    );
                    let number = quantity
                        .number
                        .exact()
                        .map_or(whole, |value| Number::Exact(value.round()));
                    return Ok(Quantity::new(number, quantity.dimension));
                }
            },
        };
    let shown = scale.of_base(quantity.number).ok_or(Arithmetic::Range)?;
    let exact = shown
        .exact()
        .or_else(|| crate::quantity::from_f64(shown.to_f64()))
        .ok_or(Arithmetic::Range)?;
    let base = scale.to_base(exact.round()).ok_or(Arithmetic::Range)?;
    Ok(Quantity::new(Number::Exact(base), quantity.dimension))
}
