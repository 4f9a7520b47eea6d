//! Whether a value is what its field takes, and within the field's range.

use crate::schema::{self, Field, Takes};
use num_rational::Rational64;
use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::quantity::{Dimension, Number, Quantity, from_f64, unit};
use crate::source::Span;
use crate::suggest::listed;

use super::error::ModelError;
use super::fineness;
use super::note::ModelNote;
use super::sizes;
use super::strip_range::strip_range;
use super::value::Value;
use super::workshop::unworkable;

/// What a field wants, in words, and the dimension for suggestions.
#[must_use]
pub fn due(takes: Takes) -> (&'static str, Option<Dimension>) {
    match takes {
        Takes::Text => ("a text in quotes", None),
        Takes::Size => ("a ring size or an inside diameter", Some(Dimension::LENGTH)),
        Takes::Start => (
            "a ring size, an inside diameter, or `stretch` and per cent",
            Some(Dimension::LENGTH),
        ),
        Takes::Length | Takes::LengthOrZero | Takes::LengthOr(_) => {
            ("a length", Some(Dimension::LENGTH))
        }
        Takes::Share => ("a part of the whole", Some(Dimension::NONE)),
        Takes::ShareBelow | Takes::ShareOrMore => ("a share", Some(Dimension::NONE)),
        Takes::Time => ("a time", Some(Dimension::TIME)),
        Takes::Mass | Takes::MassAboveZero => ("a mass", Some(Dimension::MASS)),
        Takes::Money => ("money", Some(Dimension::MONEY)),
        Takes::MoneyByWeight | Takes::MoneyByWeightOrShare => {
            ("a price by weight", Some(Dimension::MONEY_BY_MASS))
        }
        Takes::MoneyByTime => ("a rate of money by time", Some(Dimension::MONEY_BY_TIME)),
        Takes::Date => ("a day", None),
        Takes::Currency => ("the ISO 4217 code of a currency", None),
        Takes::Stock => ("the name of a stock", None),
        Takes::Band => ("the name of a band", None),
        Takes::Count => ("a whole number", Some(Dimension::NONE)),
        Takes::Number => ("a plain number", Some(Dimension::NONE)),
        Takes::Steps => ("steps of the size", Some(Dimension::NONE)),
        Takes::Word(_) | Takes::Profile => ("one of its words", None),
        Takes::Place => ("a length", Some(Dimension::LENGTH)),
        Takes::Angle => ("an angle", Some(Dimension::ANGLE)),
        Takes::Speed => ("a speed", Some(Dimension::SPEED)),
        Takes::Cutter => ("the name of a cutter", None),
        Takes::Alloy => ("the name of an alloy", None),
        Takes::Temper => ("the name of a temper", None),
        Takes::Fineness => ("parts per thousand", Some(Dimension::FINENESS)),
        Takes::Day => ("a day", None),
        Takes::Density => ("a density", Some(Dimension::DENSITY)),
        Takes::Stress => ("a stress", Some(Dimension::STRESS)),
        Takes::Poisson => ("a plain number", Some(Dimension::NONE)),
        Takes::AnyWord => ("one word", None),
        Takes::Rulebook => ("the name of a rulebook", None),
        Takes::MetalStandards | Takes::MetalParts => {
            ("a metal and parts per thousand", Some(Dimension::FINENESS))
        }
        Takes::MetalMass => ("a metal and a mass", Some(Dimension::MASS)),
        Takes::Block => ("a block", None),
        Takes::Anything => ("a value", None),
    }
}

/// Checks a value; gives it back as the field keeps it.
pub(super) fn take(
    field: &Field,
    value: Value,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    if let Value::Quantity { quantity, .. } = &value
        && let Some((fits, range)) = strip_range(field, quantity)
    {
        return within(field, fits, value.clone(), range, at, findings);
    }
    // A fraction is a number wherever no step of a size is due.
    let steps = matches!(field.takes, Takes::Size | Takes::Start | Takes::Steps);
    let value = if steps { value } else { value.plain() };
    match (field.takes, &value) {
        (Takes::Anything | Takes::Block, _)
        | (Takes::Text, Value::Text(_))
        | (
            Takes::Word(_) | Takes::Profile | Takes::Alloy | Takes::Temper | Takes::LengthOr(_),
            Value::Word(_),
        )
        | (
            Takes::Currency | Takes::Stock | Takes::Band | Takes::Cutter | Takes::AnyWord,
            Value::Word(_),
        )
        | (Takes::Date, Value::Date(..)) => Some(value),
        (Takes::Size | Takes::Start, Value::Size { off, .. }) => {
            if off.is_some() {
                let nearest = shown(&value);
                findings.push(ModelNote::NearestSize { at, nearest }.into());
            }
            Some(value)
        }
        (
            Takes::Size | Takes::Start | Takes::Length | Takes::LengthOr(_),
            Value::Quantity { quantity, .. },
        ) if quantity.dimension == Dimension::LENGTH => {
            if let Some(range) = unworkable(field.id, quantity.number) {
                return within(field, false, value.clone(), &range, at, findings);
            }
            let (long, range) = too_long(quantity);
            let range = if long { range } else { "greater than 0 mm" };
            let fits = !long && quantity.number.compared(Number::ZERO).is_gt();
            within(field, fits, value.clone(), range, at, findings)
        }
        (Takes::LengthOrZero, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::LENGTH =>
        {
            let (long, range) = too_long(quantity);
            let range = if long { range } else { "0 mm or more" };
            let fits = !long && !quantity.number.is_negative();
            within(field, fits, value.clone(), range, at, findings)
        }
        (Takes::Share, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE =>
        {
            let one = Number::Exact(Decimal::ONE);
            let fits = !quantity.number.is_negative() && quantity.number.compared(one).is_le();
            within(
                field,
                fits,
                value.clone(),
                "from 0 % to 100 %",
                at,
                findings,
            )
        }
        (Takes::Count, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE =>
        {
            let count = whole(quantity.number);
            let fits = count
                .is_some_and(|count| count >= Decimal::ONE && count <= Decimal::from(1_000_000));
            let counted = count.filter(|_| fits).map(|count| {
                Value::of(Quantity {
                    number: Number::Exact(count),
                    ..quantity.clone()
                })
            });
            let range = "a whole number from 1 to 1000000";
            within(field, fits, counted.unwrap_or(value), range, at, findings)
        }
        (Takes::Number, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE =>
        {
            let fits = quantity.number.compared(Number::ZERO).is_gt();
            within(field, fits, value.clone(), "greater than 0", at, findings)
        }
        (Takes::ShareBelow, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE =>
        {
            let one = Number::Exact(Decimal::ONE);
            let fits = !quantity.number.is_negative() && quantity.number.compared(one).is_lt();
            let range = "from 0 % to less than 100 %";
            within(field, fits, value.clone(), range, at, findings)
        }
        (Takes::ShareOrMore | Takes::MoneyByWeightOrShare, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE
                && (field.takes == Takes::ShareOrMore || is_share(&value)) =>
        {
            let most = Number::Exact(Decimal::from(1000));
            let fits = !quantity.number.is_negative() && quantity.number.compared(most).is_le();
            let range = "from 0 % to 100000 %";
            within(field, fits, value.clone(), range, at, findings)
        }
        (
            Takes::Time
            | Takes::Mass
            | Takes::MassAboveZero
            | Takes::Money
            | Takes::MoneyByWeight
            | Takes::MoneyByWeightOrShare
            | Takes::MoneyByTime,
            Value::Quantity { quantity, .. },
        ) if due(field.takes).1 == Some(quantity.dimension.without_currency()) => {
            // Whatever is larger is a slip of units; it would also cost digits behind the point.
            let most = Number::Exact(Decimal::from(1_000_000_000_000_u64));
            let nothing = field.takes == Takes::MassAboveZero;
            let small = match nothing {
                true => quantity.number.compared(Number::ZERO).is_le(),
                false => quantity.number.is_negative(),
            };
            let fits = !small && quantity.number.compared(most).is_le();
            let range = match (small, nothing) {
                (true, true) => "greater than 0 g",
                (true, false) => "0 or more",
                (false, _) => "at most 1000000000000 in base units",
            };
            within(field, fits, value.clone(), range, at, findings)
        }
        (Takes::Steps, _) if value.steps().is_some() => Some(value),
        (Takes::Start, Value::Quantity { quantity, .. })
            if quantity.dimension == Dimension::NONE && is_share(&value) =>
        {
            let fits = !quantity.number.is_negative()
                && quantity
                    .number
                    .compared(Number::Exact(Decimal::ONE))
                    .is_lt();
            within(
                field,
                fits,
                value.clone(),
                "a stretch from 0 % to under 100 %",
                at,
                findings,
            )
        }
        (Takes::Day, Value::Date(..)) => Some(value),
        (Takes::Fineness, Value::Quantity { .. }) if fineness::per_thousand(&value).is_some() => {
            if let Some(problem) = fineness::small(&value, at) {
                findings.push(problem.into());
                return None;
            }
            let found = fineness::read(&value)?;
            let parts = fineness::per_thousand(&found)?;
            let fits = !parts.is_sign_negative() && parts <= Decimal::ONE_THOUSAND;
            let range = "from 0 to 1000 per thousand";
            within(field, fits, found, range, at, findings)
        }
        _ => {
            findings.push(unfit(field, &value, at).into());
            None
        }
    }
}

/// A number as a count: whole as it stands, or but for the rounding of what is computed.
fn whole(number: Number) -> Option<Decimal> {
    let count = match number {
        Number::Exact(count) => count,
        Number::Computed(value) => from_f64(value)?.round(),
    };
    let same = number.about(Number::Exact(count)).is_eq();
    (same && count.fract().is_zero()).then_some(count)
}

/// Whether a plain number is written as a share: per cent or per thousand.
fn is_share(value: &Value) -> bool {
    matches!(value, Value::Quantity { unit: Some(_), .. })
}

/// Whether a length is longer than anything about a ring can be. What is computed of such lengths loses the
/// digits that matter: beside a bore of a kilometre the wall is lost in rounding.
fn too_long(quantity: &Quantity) -> (bool, &'static str) {
    let most = Number::Exact(Decimal::ONE_THOUSAND);
    (quantity.number.compared(most).is_gt(), "at most 1000 mm")
}

fn within(
    field: &Field,
    fits: bool,
    value: Value,
    range: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    if fits {
        return Some(value);
    }
    let negative = value.quantity().filter(|one| one.number.is_negative());
    let help = match negative.filter(|_| field.takes.is_measured()) {
        // `try width -1 mm` looks like a step.
        Some(less) => format!(
            "as in `{}`; a step has a space after its sign, as in `try {} - {}`",
            schema::example(field),
            field.word(),
            shown(&Value::Quantity {
                quantity: less.negated(),
                unit: unit_of(&value),
            })
        ),
        None => format!("as in `{}`", schema::example(field)),
    };
    findings.push(
        ModelError::OutOfRange {
            at,
            field: field.word().to_owned(),
            found: shown(&value),
            range: range.to_owned(),
            help,
        }
        .into(),
    );
    None
}

/// The unit that a value is written in.
fn unit_of(value: &Value) -> Option<String> {
    match value {
        Value::Quantity { unit, .. } => unit.clone(),
        _ => None,
    }
}

/// The difference of two sizes where a length across is due: a diameter, or a range, was meant.
fn not_across(field: &str, due: &str, round: &Quantity, at: Span) -> ModelError {
    let diameter = round.number.to_f64() / std::f64::consts::PI;
    ModelError::WrongKind {
        at,
        field: field.to_owned(),
        due: due.to_owned(),
        found: format!("a circumference of {}", shown_quantity(round, None)),
        help: format!(
            "the difference of two sizes is a circumference, as a diameter \u{2248} {diameter:.2} mm; from one size to another is written `ISO 52 .. ISO 58`"
        ),
    }
}

/// The finding for what is neither a ring size nor an inside diameter, among the sizes of a run.
#[must_use]
pub fn not_a_size(value: &Value, at: Span) -> ModelError {
    let due = "a ring size or an inside diameter";
    match value {
        Value::Circumference { quantity, .. } => not_across("size", due, quantity, at),
        other if other.steps().is_some() => sizes::without_system(&shown(other), at),
        other => ModelError::WrongKind {
            at,
            field: "size".to_owned(),
            due: due.to_owned(),
            found: other.named(),
            help: "as in `ISO 48 .. ISO 62 by 2`".to_owned(),
        },
    }
}

/// The finding for a value of the wrong kind.
fn unfit(field: &Field, value: &Value, at: Span) -> ModelError {
    let (wanted, dimension) = due(field.takes);
    let name = field.word().to_owned();
    if matches!(field.takes, Takes::Size | Takes::Start) && value.steps().is_some() {
        return sizes::without_system(&shown(value), at);
    }
    if let (
        Value::Quantity {
            quantity,
            unit: None,
        },
        Some(dimension),
    ) = (value, dimension)
        && quantity.dimension == Dimension::NONE
        && dimension != Dimension::NONE
    {
        let units = listed(unit::of_dimension(dimension));
        return ModelError::UnitMissing {
            at,
            field: name,
            due: wanted.to_owned(),
            units: match field.takes {
                Takes::MoneyByWeightOrShare => format!("{units}, or `%` of the metal's worth"),
                _ => units,
            },
        };
    }
    let found = value.named();
    if let Value::Circumference { quantity, .. } = value {
        return not_across(&name, wanted, quantity, at);
    }
    let help = match (
        dimension,
        value.quantity().map(|quantity| quantity.dimension),
    ) {
        (Some(Dimension::MASS), Some(Dimension::FINENESS)) => {
            "a karat is a fineness, 1/24 of gold by mass; write the weight in `g`".to_owned()
        }
        _ => format!("as in `{}`", schema::example(field)),
    };
    ModelError::WrongKind {
        at,
        field: name,
        due: wanted.to_owned(),
        found,
        help,
    }
}

/// A value as a person would write it, all digits.
#[must_use]
pub fn shown(value: &Value) -> String {
    match value {
        Value::Size { off: Some(off), .. } => {
            let more = if *off < 0.0 { "smaller" } else { "larger" };
            let off = off.abs();
            format!("\u{2248} {} (\u{D8} {off:.3} mm {more})", written(value))
        }
        other => written(other),
    }
}

/// A value as a recipe says it, all digits; of a size that is only the nearest to what was meant, the size alone.
#[must_use]
pub fn written(value: &Value) -> String {
    match value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            shown_quantity(quantity, unit.as_deref())
        }
        Value::Size {
            size, deviations, ..
        } if deviations.is_empty() => size.to_string(),
        Value::Size {
            size,
            steps: Some(steps),
            ..
        } => format!("{size} \u{B1} {}", mixed(*steps)),
        Value::Size {
            size, deviations, ..
        } => {
            let worst: f64 = deviations
                .iter()
                .map(|deviation| deviation.amount.to_f64().abs())
                .sum();
            format!("{size} \u{B1} {worst} mm")
        }
        Value::Steps(steps) => mixed(*steps),
        Value::Text(text) => format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")),
        Value::Date(year, month, day) => format!("{year:04}-{month:02}-{day:02}"),
        Value::Word(word) => word.clone(),
        Value::List(values) => format!(
            "[{}]",
            values.iter().map(shown).collect::<Vec<_>>().join(", ")
        ),
        Value::Truth(holds) => if *holds { "holds" } else { "does not hold" }.to_owned(),
    }
}

/// A fraction as it is written: `1 1/2`, `3/4`, `2`.
fn mixed(steps: Rational64) -> String {
    let (whole, rest) = (steps.trunc(), steps.fract());
    match (whole.numer(), rest.numer()) {
        (_, 0) => whole.to_string(),
        (0, _) => rest.to_string(),
        _ => format!("{whole} {}", if rest < 0.into() { -rest } else { rest }),
    }
}

/// A quantity in a unit, or in the unit that its dimension is shown in.
#[must_use]
pub fn shown_quantity(quantity: &Quantity, unit: Option<&str>) -> String {
    let (number, word) = in_unit(quantity, unit);
    let deviation = match quantity.deviations.as_slice() {
        [] => String::new(),
        _ => {
            let worst = match quantity.deviations.as_slice() {
                [one] if !one.amount.is_negative() => one.amount,
                [one] => one.amount.negated(),
                _ => Number::Computed(quantity.worst()),
            };
            let (worst, _) = in_unit(&Quantity::new(worst, quantity.dimension), unit);
            format!(" \u{B1} {worst}{}", spaced(&word))
        }
    };
    format!("{number}{}{deviation}", spaced(&word))
}

/// A quantity's number in a unit, and that unit's word.
#[must_use]
pub fn in_unit(quantity: &Quantity, unit: Option<&str>) -> (Number, String) {
    let asked = unit.and_then(|word| {
        let scale = unit::scale_in(word, quantity.dimension).ok()?;
        Some((word.to_owned(), scale))
    });
    match asked
        .filter(|(_, scale)| scale.dimension == quantity.dimension)
        .or_else(|| unit::shown(quantity.dimension))
    {
        Some((word, scale)) => (
            scale.of_base(quantity.number).unwrap_or(quantity.number),
            word,
        ),
        // A fineness without a unit is parts per thousand.
        None if matches!(quantity.dimension, Dimension::NONE | Dimension::FINENESS) => {
            (quantity.number, String::new())
        }
        None => (quantity.number, quantity.dimension.to_string()),
    }
}

fn spaced(word: &str) -> String {
    if word.is_empty() {
        String::new()
    } else {
        format!(" {word}")
    }
}
