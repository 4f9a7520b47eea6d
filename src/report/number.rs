//! Numbers as people read them: rounded to what a workshop can measure, and marked so.

use rust_decimal::Decimal;

use crate::model::check;
use crate::quantity::{Currency, Dimension, Number, Quantity, from_f64, unit};

/// How many digits are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Digits {
    /// As many as a workshop can use; shortened numbers carry `≈`.
    #[default]
    Useful,
    /// Every digit.
    All,
}

/// A number as text, and whether digits were left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The digits.
    pub text: String,
    /// Fewer digits are shown than the number has.
    pub rounded: bool,
}

impl Shown {
    /// With the mark of a rounded number.
    #[must_use]
    pub fn marked(&self) -> String {
        if self.rounded {
            format!("\u{2248} {}", self.text)
        } else {
            self.text.clone()
        }
    }
}

/// Shows a number with at most `places` digits behind the point, halves to even.
///
/// # Example
/// ```
/// use annulet::quantity::Number;
/// use annulet::report::{Digits, shown};
/// assert_eq!(shown(Number::Computed(4.29396), 3, Digits::Useful).marked(), "≈ 4.294");
/// assert_eq!(shown(Number::Exact(rust_decimal::dec!(4.50)), 3, Digits::Useful).marked(), "4.5");
/// ```
#[must_use]
pub fn shown(number: Number, places: u32, digits: Digits) -> Shown {
    let all = |text: String| Shown {
        text,
        rounded: false,
    };
    let exact = match number {
        Number::Exact(value) => value.normalize(),
        Number::Computed(value) => match from_f64(value) {
            Some(value) => value,
            None => return all(value.to_string()),
        },
    };
    if digits == Digits::All || exact.scale() <= places {
        return all(number.to_string());
    }
    let rounded = exact.round_dp(places);
    // What rounds to nothing has no sign.
    let digits = if rounded.is_zero() {
        rounded.abs()
    } else {
        rounded
    };
    Shown {
        text: format!("{digits:.*}", places as usize),
        rounded: rounded != exact,
    }
}

/// A computed number, or nothing where it is less than the machine resolves: a micrometre, a tenth of a milligram,
/// the last digits of everything else.
pub(super) fn above_noise(number: Number, unit: &str, digits: Digits) -> Number {
    let Number::Computed(value) = number else {
        return number;
    };
    let scale = unit::scale(unit).ok();
    let resolved = match scale.map(|scale| scale.dimension) {
        _ if digits == Digits::All => LAST_DIGITS,
        Some(Dimension::LENGTH) => 1e-3,
        Some(Dimension::MASS) => 1e-4,
        _ => LAST_DIGITS,
    };
    let resolved = scale
        .and_then(|scale| scale.of_base(Number::Computed(resolved)))
        .map_or(resolved, Number::to_f64);
    if value.abs() < resolved {
        Number::ZERO
    } else {
        number
    }
}

/// What solving leaves behind.
const LAST_DIGITS: f64 = 1e-12;

/// Shows a number of a unit: as [`shown`], money with all places of its minor unit, a small conversion with three
/// digits.
///
/// # Example
/// ```
/// use annulet::quantity::Number;
/// use annulet::report::{Digits, shown_in};
/// let shown = |value, unit| shown_in(Number::Computed(value), unit, Digits::Useful).marked();
/// assert_eq!(shown(0.001_234_56, "ozt"), "≈ 0.00123");
/// assert_eq!(shown(0.001_234_56, "in"), "≈ 0.00123");
/// assert_eq!(shown(4.29396, "g"), "≈ 4.294");
/// ```
#[must_use]
pub fn shown_in(number: Number, unit: &str, digits: Digits) -> Shown {
    let number = above_noise(number, unit, digits);
    let shown = shown(number, enough(number, unit), digits);
    let whole = match number {
        Number::Exact(value) if !shown.rounded => {
            Currency::new(unit).map(|of| (value, of.places()))
        }
        _ => None,
    };
    match whole.filter(|(value, places)| value.normalize().scale() <= *places) {
        Some((value, places)) => Shown {
            text: format!("{:.*}", places as usize, value.normalize()),
            rounded: false,
        },
        None => shown,
    }
}

/// Shows a quantity in a unit, with how far it may be off at worst.
#[must_use]
pub fn shown_quantity(quantity: &Quantity, unit: Option<&str>, digits: Digits) -> String {
    let (number, word) = check::in_unit(quantity, unit);
    let with_unit = |number: Shown| {
        let number = number.marked();
        if word.is_empty() {
            number
        } else {
            format!("{number} {word}")
        }
    };
    let number = with_unit(shown_in(number, &word, digits));
    if quantity.deviations.is_empty() {
        return number;
    }
    let worst = Quantity::new(Number::Computed(quantity.worst()), quantity.dimension);
    let (worst, _) = check::in_unit(&worst, Some(word.as_str()));
    // How far it may be off is no noise, however little.
    let worst = with_unit(shown(worst, places(&word), digits));
    format!("{number} \u{B1} {worst}")
}

/// Units that figures are converted to, of which the millimetre's and the gram's places leave too few digits.
const CONVERTED: &[&str] = &["in", "cm", "m", "kg", "ozt", "ozav", "tola", "dwt"];

/// Places behind the point for a number: those of its unit; of a converted one as many as leave three digits that say
/// something.
fn enough(number: Number, unit: &str) -> u32 {
    let least = places(unit);
    let value = number.to_f64().abs();
    if value == 0.0 || !CONVERTED.contains(&unit) {
        return least;
    }
    let first = -libm::floor(libm::log10(value));
    least.max((first + 2.0).clamp(0.0, 12.0) as u32)
}

/// Places behind the point that a workshop can use, by unit.
#[must_use]
pub fn places(unit: &str) -> u32 {
    match unit {
        "g" | "mm" | "g/cm3" => 3,
        // As fine as the millimetre's and the gram's.
        "in" | "cm" | "ozt" | "ozav" | "tola" => 4,
        "m" | "kg" => 6,
        _ => Currency::new(unit).map_or(2, |currency| currency.places()),
    }
}

/// A decimal with its sign, for differences.
#[must_use]
pub fn signed(value: Decimal, places: u32) -> String {
    let rounded = value.round_dp(places);
    let sign = if rounded.is_sign_negative() && !rounded.is_zero() {
        "\u{2212}"
    } else {
        "+"
    };
    format!("{sign}{:.*}", places as usize, rounded.abs())
}
