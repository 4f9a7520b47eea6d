//! Words of units: what each means, exactly, and which ones are refused with a reason.

use rust_decimal::Decimal;

use super::units::UNITS;
pub use super::units::Unit;
use super::{Currency, Dimension, Number, exact};

/// A unit or quotient of units as written, looked up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one of it: the first over the second, both exact.
    factor: (Decimal, Decimal),
}

/// Why a word is not a unit here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// No such unit.
    Unknown,
    /// `oz`: troy or avoirdupois?
    Ounce,
    /// `ct`: a stone's weight, or a fineness?
    Carat,
    /// `gr`: gram or grain?
    GramOrGrain,
    /// `1e3`: an exponent.
    Exponent,
    /// `Nm`, `mmm`: two currencies, or powers that no table knows.
    Currencies,
}

impl Scale {
    /// A number of this unit, in base units: exact, or to 28 digits where one unit is no decimal of the base
    /// unit (a karat, a price by the troy ounce). None where the number has more digits than can be kept.
    #[must_use]
    pub fn to_base(&self, value: Decimal) -> Option<Decimal> {
        let (above, below) = self.factor;
        let whole = exact::product(value, above)?;
        let kept = exact::quotient(whole, below);
        let decimal = exact::quotient(above, below).is_some();
        match kept {
            None if decimal => None,
            kept => kept.or_else(|| Some(whole.checked_div(below)?.normalize())),
        }
    }

    /// A number of base units, in this unit. An exact number that comes out in 24 digits stays exact.
    #[must_use]
    pub fn of_base(&self, number: Number) -> Option<Number> {
        let (above, below) = self.factor;
        match number {
            Number::Exact(value) => {
                let quotient = value.checked_mul(below)?.checked_div(above)?;
                let short = quotient.round_sf(24).unwrap_or(quotient).normalize();
                let exact = self.to_base(short) == Some(value.normalize());
                Some(if exact {
                    Number::Exact(short)
                } else {
                    Number::Computed(super::to_f64(quotient))
                })
            }
            Number::Computed(value) => {
                let factor = super::to_f64(above.checked_div(below)?);
                Some(Number::Computed(if factor == 1.0 {
                    value
                } else {
                    value / factor
                }))
            }
        }
    }
}

/// Looks up a unit as written, quotients included.
///
/// # Errors
/// Why it is refused, with the part of the text that is to blame (offset and length in bytes).
///
/// # Example
/// ```
/// use annulet::quantity::{Dimension, unit};
/// assert_eq!(unit::scale("g/cm3").unwrap().dimension, Dimension::DENSITY);
/// assert_eq!(unit::scale("oz").unwrap_err().0, unit::Refused::Ounce);
/// ```
pub fn scale(text: &str) -> Result<Scale, (Refused, usize, usize)> {
    if let Some(unit) = row(text) {
        return Ok(Scale::of(unit));
    }
    let mut whole: Option<Scale> = None;
    let mut place = 0;
    for word in text.split('/') {
        let part = word_scale(word).map_err(|reason| (reason, place, word.len()))?;
        let joined = match whole {
            None => Some(part),
            Some(before) => before.over(&part),
        };
        whole = Some(joined.ok_or((Refused::Currencies, place, word.len()))?);
        place += word.len() + 1;
    }
    whole.ok_or((Refused::Unknown, 0, text.len()))
}

/// Looks up a unit as written where a quantity of a dimension is meant: a fineness may be read in per cent and
/// per thousand, which elsewhere are parts of one.
///
/// # Errors
/// As [`scale`].
///
/// # Example
/// ```
/// use annulet::quantity::{Dimension, Number, unit};
/// let percent = unit::scale_in("%", Dimension::FINENESS).unwrap();
/// let whole = percent.of_base(Number::Exact(rust_decimal::dec!(750))).unwrap();
/// assert_eq!(whole.to_string(), "75");
/// ```
pub fn scale_in(text: &str, dimension: Dimension) -> Result<Scale, (Refused, usize, usize)> {
    let found = scale(text)?;
    if dimension != Dimension::FINENESS || found.dimension != Dimension::NONE {
        return Ok(found);
    }
    let (above, below) = found.factor;
    Ok(Scale {
        dimension,
        factor: (above * Decimal::ONE_THOUSAND, below),
    })
}

impl Scale {
    fn of(unit: &Unit) -> Self {
        Self {
            dimension: unit.dimension,
            factor: (unit.factor, unit.per),
        }
    }

    fn over(&self, other: &Self) -> Option<Self> {
        let (above, below) = self.factor;
        let (other_above, other_below) = other.factor;
        Some(Self {
            dimension: self.dimension.over(other.dimension)?,
            factor: (
                above.checked_mul(other_below)?,
                below.checked_mul(other_above)?,
            ),
        })
    }
}

/// One word of a unit: a row, a power of a length, or a currency.
fn word_scale(word: &str) -> Result<Scale, Refused> {
    if let Some(unit) = row(word) {
        return Ok(Scale::of(unit));
    }
    let power = match word.chars().next_back() {
        Some('2' | '\u{B2}') => Some((2, Dimension::AREA)),
        Some('3' | '\u{B3}') => Some((3, Dimension::VOLUME)),
        _ => None,
    };
    if let Some((power, dimension)) = power {
        let base = word.trim_end_matches(['2', '3', '\u{B2}', '\u{B3}']);
        if let Some(unit) = row(base).filter(|unit| unit.dimension == Dimension::LENGTH) {
            let square = unit.factor * unit.factor;
            let factor = if power == 2 {
                square
            } else {
                square * unit.factor
            };
            return Ok(Scale {
                dimension,
                factor: (factor, Decimal::ONE),
            });
        }
    }
    if let Some(currency) = Currency::new(word) {
        return Ok(Scale {
            dimension: Dimension::of_money(currency),
            factor: (Decimal::ONE, Decimal::ONE),
        });
    }
    Err(match word {
        "oz" | "ounce" | "ounces" => Refused::Ounce,
        "ct" | "cts" | "carat" | "carats" => Refused::Carat,
        "gr" => Refused::GramOrGrain,
        _ if word
            .strip_prefix(['e', 'E'])
            .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit())) =>
        {
            Refused::Exponent
        }
        _ => Refused::Unknown,
    })
}

fn row(word: &str) -> Option<&'static Unit> {
    UNITS
        .iter()
        .find(|unit| unit.word == word || unit.also.contains(&word))
}

/// All rows.
#[must_use]
pub fn all() -> &'static [Unit] {
    UNITS
}

/// Units that measure a dimension, as a person would write them.
#[must_use]
pub fn of_dimension(dimension: Dimension) -> Vec<&'static str> {
    let plain = Dimension {
        currency: None,
        ..dimension
    };
    let derived: &[&'static str] = match plain {
        Dimension::AREA => &["mm2", "cm2"],
        Dimension::VOLUME => &["mm3", "cm3"],
        Dimension::DENSITY => &["g/cm3", "kg/m3"],
        Dimension::SPEED => &["mm/min", "m/min", "mm/s"],
        Dimension {
            money: 1, mass: -1, ..
        } => &["EUR/g", "USD/ozt", "INR/tola"],
        Dimension {
            money: 1,
            mass: 0,
            time: 0,
            ..
        } => &["EUR", "USD", "GBP"],
        Dimension {
            money: 1, time: -1, ..
        } => &["EUR/h", "EUR/min"],
        _ => &[],
    };
    if derived.is_empty() {
        UNITS
            .iter()
            .filter(|unit| unit.dimension == plain)
            .map(|unit| unit.word)
            .collect()
    } else {
        derived.to_vec()
    }
}

/// Every word accepted for a dimension, for suggestions.
#[must_use]
pub fn words_of(dimension: Dimension) -> Vec<&'static str> {
    let table = UNITS.iter().filter(|unit| unit.dimension == dimension);
    let mut words: Vec<&'static str> = table
        .flat_map(|unit| unit.also.iter().copied().chain([unit.word]))
        .collect();
    words.extend(of_dimension(dimension));
    words
}

/// The unit that results of a dimension are shown in, and its word.
#[must_use]
pub fn shown(dimension: Dimension) -> Option<(String, Scale)> {
    let word = match dimension {
        Dimension {
            currency: Some(currency),
            mass: 0,
            time: 0,
            money: 1,
            ..
        } => currency.code().to_owned(),
        Dimension {
            currency: Some(currency),
            mass: -1,
            ..
        } => format!("{}/g", currency.code()),
        Dimension {
            currency: Some(currency),
            time: -1,
            ..
        } => format!("{}/h", currency.code()),
        Dimension::NONE => return None,
        Dimension::TIME => "min".to_owned(),
        Dimension::FINENESS => return None,
        _ => (*of_dimension(dimension).first()?).to_owned(),
    };
    scale(&word).ok().map(|scale| (word, scale))
}
