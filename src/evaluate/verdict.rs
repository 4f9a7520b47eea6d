//! Whether a comparison holds, and by how much.
//!
//! Written quantities compare as exact decimals, and so do money and fineness; what else is computed compares
//! within 1e-9 of the larger side, a length at least within 1e-9 mm. Where a `±` is written, a comparison must
//! hold in the worst case.

use crate::model::{Value, check, is_counted};
use crate::quantity::{ALIKE, Currency, Dimension, Number, Quantity, to_f64};
use crate::source::Span;
use crate::syntax::ast::Operator;

/// One requirement, judged.
#[derive(Clone, Debug)]
pub struct Verdict {
    /// Its title, or its text.
    pub what: String,
    /// Whether it holds; none when it cannot be decided, which counts as broken.
    pub holds: Option<bool>,
    /// Both sides, as a person reads them.
    pub found: String,
    /// How much there is to spare, or missing; empty where that has no meaning.
    pub margin: String,
    /// Where what may be off stands at the worst, in words; empty where nothing may be.
    pub at_worst: Vec<String>,
    /// Its place.
    pub at: Span,
}

/// Computed lengths are compared within this at least, in mm.
const ROUNDING: f64 = 1e-9;

/// The most places of an exact figure that are shown.
const LONGEST: u32 = 12;

/// A comparison of two quantities.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Whether it holds, in the worst case.
    pub holds: bool,
    /// How much there is to spare or missing; empty where that has no meaning.
    pub margin: String,
}

/// Compares two quantities of one dimension; `None` for those of two.
#[must_use]
pub fn compared(operator: Operator, left: &Value, right: &Value) -> Option<Comparison> {
    let (holds, margin, ordered) = margin(operator, left.measured()?.0, right.measured()?.0)?;
    Some(Comparison {
        holds,
        margin: if ordered {
            spare(operator, holds, &margin, left)
        } else {
            String::new()
        },
    })
}

/// Whether a comparison of two quantities holds in the worst case, and how much is to spare (negative: missing).
fn margin(operator: Operator, left: &Quantity, right: &Quantity) -> Option<(bool, Quantity, bool)> {
    let difference = match operator {
        Operator::Less | Operator::AtMost => right.minus(left).ok()?,
        _ => left.minus(right).ok()?,
    };
    let worst = difference.worst();
    let exact = difference.number.exact().filter(|_| worst == 0.0);
    let larger = left.number.abs().to_f64().max(right.number.abs().to_f64());
    let allowed = match exact {
        Some(_) => 0.0,
        None if is_counted(difference.dimension) => 0.0,
        None if difference.dimension == Dimension::LENGTH => ROUNDING.max(ALIKE * larger),
        None => ALIKE * larger,
    };
    let least = match exact {
        Some(number) => Number::Exact(number),
        None => Number::Computed(difference.number.to_f64() - worst),
    };
    let value = least.to_f64();
    let holds = match operator {
        Operator::AtMost | Operator::AtLeast => !least.is_negative() || value >= -allowed,
        Operator::Less | Operator::More => match exact {
            Some(_) => least.compared(Number::ZERO).is_gt(),
            None => value > allowed,
        },
        Operator::Equal => {
            difference.number.to_f64().abs() + worst <= allowed
                && exact.is_none_or(|number| number.is_zero())
        }
        Operator::Unequal => exact.map_or(
            difference.number.to_f64().abs() - worst > allowed,
            |number| !number.is_zero(),
        ),
        _ => return None,
    };
    let ordered = matches!(
        operator,
        Operator::Less | Operator::AtMost | Operator::More | Operator::AtLeast
    );
    Some((holds, Quantity::new(least, difference.dimension), ordered))
}

/// `0.095 g to spare`, `0.02 mm missing`, `3 g too much`.
fn spare(operator: Operator, holds: bool, margin: &Quantity, like: &Value) -> String {
    let unit = like.measured().and_then(|(_, unit)| unit);
    let short = margin.number.is_negative();
    let amount = if short {
        margin.negated()
    } else {
        margin.clone()
    };
    let (number, word) = check::in_unit(&amount, unit);
    let word = if margin.dimension == Dimension::FINENESS && word.is_empty() {
        " per thousand".to_owned()
    } else if word.is_empty() {
        String::new()
    } else {
        format!(" {word}")
    };
    let what = match (short, operator) {
        (false, _) => "to spare",
        (true, Operator::Less | Operator::AtMost) => "too much",
        (true, _) => "missing",
    };
    // A margin that is nothing but rounding, or a bound that is met and must not be.
    let is_nothing = places(number) == "0";
    let number = of_unit(number, word.trim_start());
    match (short, holds) {
        (false, true) if is_nothing => "nothing to spare".to_owned(),
        (true, true) => "nothing to spare".to_owned(),
        (false, false) => "met, and must not be".to_owned(),
        _ => format!("{number}{word} {what}"),
    }
}

/// A value with no more digits than a workshop can use, and how far it may be off.
#[must_use]
pub fn short(value: &Value) -> String {
    match value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            let shown = in_places(quantity, unit.as_deref());
            if quantity.deviations.is_empty() {
                return shown;
            }
            let worst = Quantity::new(Number::Computed(quantity.worst()), quantity.dimension);
            format!("{shown} \u{B1} {}", in_places(&worst, unit.as_deref()))
        }
        other => check::shown(other),
    }
}

/// `≈ 6.245338 g`.
fn in_places(quantity: &Quantity, unit: Option<&str>) -> String {
    let (number, word) = check::in_unit(quantity, unit);
    if word.is_empty() {
        places(number)
    } else {
        format!("{} {word}", of_unit(number, &word))
    }
}

/// Exact money with the places of its minor unit, all else as [`places`] has it.
fn of_unit(number: Number, word: &str) -> String {
    let minor = Currency::new(word).map(|currency| currency.places());
    match (number, minor) {
        (Number::Exact(value), Some(minor)) if value.normalize().scale() <= minor => {
            format!("{:.*}", minor as usize, value.normalize())
        }
        _ => places(number),
    }
}

/// Exact numbers as they are, computed ones to six places, or as many as the first digit takes.
fn places(number: Number) -> String {
    let value = match number {
        Number::Computed(value) => value,
        // Written figures stand as written; a quotient's row of digits is no figure to read.
        Number::Exact(value) if value.normalize().scale() > LONGEST => to_f64(value),
        Number::Exact(_) => return number.to_string(),
    };
    let rounded = |places: usize| format!("{value:.places$}").parse().unwrap_or(value);
    let enough = (6..20).find(|places| value == 0.0 || rounded(*places) != 0.0);
    let shown = rounded(enough.unwrap_or(20));
    // Sums of decimals leave bits behind the last digit that anyone could mean.
    let mark = if (shown - value).abs() <= 1e-12 * value.abs() {
        ""
    } else {
        "\u{2248} "
    };
    format!("{mark}{shown}")
}
