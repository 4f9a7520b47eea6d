//! Ring sizes as written: looked up, moved by steps, subtracted, converted.

use num_rational::Rational64;
use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::Finding;
use crate::quantity::{
    Arithmetic, Deviation, Dimension, Number, Quantity, RingSize, SizeError, System, designated,
    unit,
};
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax::ast::Operator;

use super::error::ModelError;
use super::value::Value;

/// Reads a size; a finding says what is wrong with it.
pub(super) fn read(
    system: &Spanned<String>,
    designation: &Spanned<String>,
    findings: &mut Vec<Finding>,
) -> Option<RingSize> {
    let known = known_system(system, &designation.value, findings)?;
    match RingSize::read(known, &designation.value) {
        Ok(size) => Some(size),
        Err(problem) => {
            findings.push(refused(known, &designation.value, designation.span, problem).into());
            None
        }
    }
}

/// The system of a word, or a finding that offers another.
fn known_system(
    system: &Spanned<String>,
    designation: &str,
    findings: &mut Vec<Finding>,
) -> Option<&'static System> {
    let word = &system.value;
    if let Some(known) = catalogue::system(word) {
        return Some(known);
    }
    let undefined = catalogue::undefined()
        .iter()
        .find(|undefined| undefined.word == *word);
    let capitals = word.to_uppercase();
    let same = catalogue::system_words().find(|known| known.to_uppercase() == capitals);
    // Two letters are near to any other two; only a slip in a longer word tells which finger was measured.
    let longer = catalogue::system_words().filter(|known| known.len() > 2);
    let near = same.or_else(|| nearest(word, longer));
    let (message, label, help) = match undefined {
        Some(undefined) => (
            format!(
                "`{word}` is not a defined size system: {}",
                undefined.reason
            ),
            "not defined",
            "give the size in another system, or the inside diameter, as in `17.2 mm`".to_owned(),
        ),
        None if crate::quantity::Currency::new(word).is_some() => (
            format!("`{word}` is a currency, not a size system"),
            "a currency",
            format!("money carries its code after the amount, as in `{designation} {word}`"),
        ),
        None => (
            format!("`{word}` is not a size system"),
            "not known",
            match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!(
                    "systems are {}; or give the inside diameter, as in `17.2 mm`",
                    listed(catalogue::system_words())
                ),
            },
        ),
    };
    let problem = ModelError::Size {
        at: system.span,
        message,
        label,
        help,
        certain: same.filter(|_| undefined.is_none()).map(str::to_owned),
    };
    findings.push(problem.into());
    None
}

/// The word of a size system without a size behind it.
pub(super) fn without_size(word: &str, at: Span) -> Option<ModelError> {
    let Some(known) = catalogue::system(word) else {
        return without_space(word, at);
    };
    let example = RingSize::nearest(known, 54.0)?;
    Some(ModelError::Size {
        at,
        message: format!("`{word}` is a size system, and no size stands after it"),
        label: "a size goes here",
        help: format!("as in `{example}`"),
        certain: None,
    })
}

/// `ISO54`: a size whose system stands tight.
fn without_space(word: &str, at: Span) -> Option<ModelError> {
    let split = word.find(|c: char| c.is_ascii_digit())?;
    let (system, designation) = word.split_at_checked(split)?;
    let size = RingSize::read(catalogue::system(system)?, designation).ok()?;
    Some(ModelError::Size {
        at,
        message: "a size stands after its system, with a space between".to_owned(),
        label: "without a space",
        help: format!("write `{size}`"),
        certain: Some(size.to_string()),
    })
}

/// `7 US`: a size before its system.
pub(super) fn turned(number: Decimal, system: &Spanned<String>, at: Span) -> Option<ModelError> {
    let known = catalogue::system(&system.value)?;
    let size = RingSize::read(known, &number.normalize().to_string()).ok()?;
    Some(ModelError::Size {
        at,
        message: format!(
            "`{}` is a size system, and stands before the size",
            system.value
        ),
        label: "turned round",
        help: format!("write `{size}`"),
        certain: Some(size.to_string()),
    })
}

/// A size as the diameter that it means, where a length stands beside it in a comparison.
pub(super) fn beside_length(operator: Operator, left: &mut Value, right: &mut Value) {
    if !operator.compares() {
        return;
    }
    let is_length = |value: &Value| {
        let quantity = value.quantity();
        quantity.is_some_and(|of| of.dimension == Dimension::LENGTH)
    };
    let (of_left, of_right) = (is_length(left), is_length(right));
    for (size, beside) in [(left, of_right), (right, of_left)] {
        if let Some(found) = across(size).filter(|_| beside) {
            *size = found;
        }
    }
}

/// Whether a word is a size system's, or would be one: no unit of length is written in capitals.
pub(super) fn like_system(word: &str) -> bool {
    let mut letters = word.chars();
    catalogue::system(word).is_some()
        || word.len() > 1 && letters.all(|c| c.is_ascii_uppercase()) && unit::scale(word).is_err()
}

/// The inside diameter of a size.
pub(super) fn across(value: &Value) -> Option<Value> {
    let Value::Size {
        size, deviations, ..
    } = value
    else {
        return None;
    };
    Some(Value::Quantity {
        quantity: Quantity {
            deviations: deviations.clone(),
            ..Quantity::new(Number::Computed(size.diameter()), Dimension::LENGTH)
        },
        unit: Some("mm".to_owned()),
    })
}

/// A bare number where a size is due, with what it is in the systems that have it.
pub(super) fn without_system(designation: &str, at: Span) -> ModelError {
    let readings: Vec<String> = catalogue::system_words()
        .filter_map(catalogue::system)
        .filter_map(|system| RingSize::read(system, designation).ok())
        .take(3)
        .map(|size| format!("`{size}` (\u{D8} {:.2} mm)", size.diameter()))
        .collect();
    let diameter = "an inside diameter with its unit, as in `17.2 mm`";
    ModelError::Size {
        at,
        message: format!("`{designation}` names no size system, and has no unit to be a diameter"),
        label: "of which system?",
        help: match readings.as_slice() {
            [] => format!("write the system before it, as in `ISO 54`, or {diameter}"),
            some => format!(
                "write the system before it, as in {}, or {diameter}",
                listed(some.iter().map(String::as_str))
            ),
        },
        certain: None,
    }
}

/// Why a designation is refused, with what would do.
pub(super) fn refused(
    system: &System,
    designation: &str,
    at: Span,
    problem: SizeError,
) -> ModelError {
    let word = &system.word;
    let (low, high) = (
        designated(system, system.lowest),
        designated(system, system.highest),
    );
    let (message, label, help) = match problem {
        SizeError::Form => (
            format!("`{designation}` is not how {word} sizes are written"),
            "not a size",
            if system.letters {
                format!(
                    "write a capital letter, halves with 1/2, as in `{word} N 1/2` or `{word} Z+3`"
                )
            } else {
                format!("write a number, as in `{word} {low}`")
            },
        ),
        SizeError::Between(below, above) => (
            format!("{word} has no size {designation}"),
            "between two sizes",
            format!(
                "write `{word} {}` or `{word} {}`, or give the inside diameter",
                designated(system, below),
                designated(system, above)
            ),
        ),
        SizeError::Range => (
            format!("{word} sizes run from {low} to {high}"),
            "outside the system",
            "give the inside diameter, as in `17.2 mm`".to_owned(),
        ),
    };
    ModelError::Size {
        at,
        message,
        label,
        help,
        certain: None,
    }
}

/// Arithmetic in which a size takes part; `None` where it makes no sense.
pub(super) fn arithmetic(
    operator: Operator,
    left: &Value,
    right: &Value,
) -> Option<Result<Value, Arithmetic>> {
    match (left, right) {
        (
            Value::Size {
                size, deviations, ..
            },
            Value::Size {
                size: other,
                deviations: off,
                ..
            },
        ) => {
            let (a, b) = (size.circumference(), other.circumference());
            if operator.compares() {
                return Some(Ok(Value::Truth(super::comparison::holds(
                    operator,
                    a.about(b),
                ))));
            }
            if operator != Operator::Subtract {
                return None;
            }
            let number = a.minus(b)?;
            let mut difference = Quantity::new(number, Dimension::LENGTH);
            let pi = std::f64::consts::PI;
            for (deviation, sign) in deviations
                .iter()
                .map(|one| (one, pi))
                .chain(off.iter().map(|one| (one, -pi)))
            {
                let amount = Number::Computed(deviation.amount.to_f64() * sign);
                difference = difference.deviating(deviation.variable, amount);
            }
            Some(Ok(Value::Circumference {
                quantity: difference,
                unit: None,
            }))
        }
        (
            Value::Size {
                size,
                deviations,
                steps: within,
                off,
            },
            steps,
        ) => {
            let steps = steps.steps()?;
            let steps = match operator {
                Operator::Add => steps,
                Operator::Subtract => -steps,
                _ => return None,
            };
            let moved = size.stepped(steps).map(|size| Value::Size {
                size,
                deviations: deviations.clone(),
                steps: *within,
                off: *off,
            });
            Some(moved.map_err(|_| Arithmetic::NoSize))
        }
        _ => None,
    }
}

/// Arithmetic in which a circumference takes part: with a length beside it or a number of times it remains one, so
/// that no way leads from it to a diameter unseen.
pub(super) fn round(
    operator: Operator,
    left: &Value,
    right: &Value,
) -> Option<Result<Value, Arithmetic>> {
    let ((a, unit), (b, other)) = (left.measured()?, right.measured()?);
    if operator.compares() {
        let (a, b) = (Value::of(a.clone()), Value::of(b.clone()));
        return super::comparison::compare(operator, &a, &b).map(|holds| Ok(Value::Truth(holds)));
    }
    let found = match operator {
        Operator::Add => a.plus(b),
        Operator::Subtract => a.minus(b),
        Operator::Multiply => a.times(b),
        _ => a.over(b),
    };
    let unit = unit.or(other).map(str::to_owned);
    match found {
        Ok(quantity) if quantity.dimension == Dimension::LENGTH => {
            Some(Ok(Value::Circumference { quantity, unit }))
        }
        Ok(quantity) => Some(Ok(Value::of(quantity))),
        Err(Arithmetic::Dimensions) => None,
        Err(problem) => Some(Err(problem)),
    }
}

/// The sum of two numbers of steps; none where it has more digits than are kept.
pub(super) fn steps_together(a: Rational64, b: Rational64) -> Option<Rational64> {
    let left = a.numer().checked_mul(*b.denom())?;
    let right = b.numer().checked_mul(*a.denom())?;
    let denominator = a.denom().checked_mul(*b.denom())?;
    Some(Rational64::new(left.checked_add(right)?, denominator))
}

/// A size with a deviation, in steps or as a length on the diameter.
pub(super) fn deviating(
    size: RingSize,
    off: Option<f64>,
    by: &Value,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let (amount, steps) = match by {
        Value::Quantity { quantity, .. } if quantity.dimension == Dimension::LENGTH => {
            (Some(quantity.number), None)
        }
        other => {
            let steps = other.steps();
            let in_mm = |steps: Rational64| {
                let step = size.system.law.step.circumference() / std::f64::consts::PI;
                Number::Computed(step * *steps.numer() as f64 / *steps.denom() as f64)
            };
            (steps.map(in_mm), steps)
        }
    };
    match amount {
        Some(amount) => Some(Value::Size {
            size,
            deviations: vec![Deviation {
                variable: at,
                amount,
            }],
            steps,
            off,
        }),
        None => {
            findings.push(
                ModelError::WrongKind {
                    at,
                    field: "\u{B1}".to_owned(),
                    due: "steps of the size, or a length on the diameter".to_owned(),
                    found: by.named(),
                    help: "as in `ISO 54 \u{B1} 1/2` or `ISO 54 \u{B1} 0.05 mm`".to_owned(),
                }
                .into(),
            );
            None
        }
    }
}

/// `size in US`: the nearest size of another system, and how much larger its inside diameter is.
pub(super) fn convert(
    value: &Value,
    system: &Spanned<String>,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let (diameter, circumference, deviations, off, what) = match value {
        Value::Size {
            size,
            deviations,
            off,
            ..
        } => {
            let what = size.to_string();
            (
                size.diameter(),
                size.circumference(),
                deviations,
                *off,
                what,
            )
        }
        // An inside diameter.
        Value::Quantity { quantity, .. } if quantity.dimension == Dimension::LENGTH => {
            let diameter = quantity.number.to_f64();
            let round = Number::Computed(diameter * std::f64::consts::PI);
            let what = format!("{diameter} mm");
            (diameter, round, &quantity.deviations, None, what)
        }
        _ => return None,
    };
    let known = known_system(system, "", findings)?;
    match RingSize::nearest(known, circumference.to_f64()) {
        Some(near) => {
            let away = near.diameter() - diameter;
            let same = near.circumference().about(circumference).is_eq();
            // What was rounded before is as far off as both times together.
            let away = if same { 0.0 } else { away } + off.unwrap_or(0.0);
            Some(Value::Size {
                size: near,
                deviations: deviations.clone(),
                steps: None,
                off: (away != 0.0).then_some(away),
            })
        }
        None => {
            findings.push(refused(known, &what, system.span, SizeError::Range).into());
            None
        }
    }
}
