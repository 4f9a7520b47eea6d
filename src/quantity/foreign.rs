//! Words of units that the language does not have: other prefixes and other customs, short forms, and slips.
//!
//! Whatever is offered for a word is as large as what the word means: a slip is answered with the unit of the
//! dimension due that it comes nearest to, and only where no unit of another size is as near.

use rust_decimal::Decimal;

use super::Dimension;
use super::unit::{all, scale};

/// Short forms of units of the language.
const ALIASES: &[(&str, &[&str])] = &[
    ("mm", &["mms"]),
    ("cm", &["cms"]),
    ("in", &["ins"]),
    ("g", &["gm", "gms", "grm", "grms", "gramm"]),
    ("kg", &["kgs", "Kg", "KG"]),
    ("mg", &["mgs"]),
    ("dwt", &["dwts", "pwt"]),
    ("ozt", &["oztr", "toz"]),
    ("s", &["secs"]),
    ("min", &["mins"]),
    ("h", &["hr", "hrs"]),
    ("%", &["pct"]),
];

/// Other customs, each in a unit of the language.
const CUSTOMS: &[(&[&str], &str)] = &[
    (&["ft", "foot", "feet"], "a foot is 304.8 mm"),
    (&["yd", "yard", "yards"], "a yard is 914.4 mm"),
    (
        &["mil", "mils", "thou"],
        "a thousandth of an inch is 0.0254 mm",
    ),
    (
        &["lb", "lbs", "pound", "pounds"],
        "an avoirdupois pound is 453.59237 g",
    ),
    (
        &["dram", "drams", "dr"],
        "an avoirdupois dram is 1.7718451953125 g",
    ),
    (&["momme"], "a momme is 3.75 g"),
    (&["tonne", "tonnes"], "a tonne is 1000 kg"),
    (&["week", "weeks"], "a week is 7 day"),
    (&["bar"], "a bar is 0.1 MPa"),
    (&["psi"], "a pound to the square inch is about 0.006895 MPa"),
    (
        &["ksi"],
        "a thousand pounds to the square inch are about 6.895 MPa",
    ),
    (&["kgf", "kp"], "a kilogram-force is 9.80665 N"),
    (
        &["rad", "radian", "radians"],
        "a radian is about 57.2958 deg",
    ),
];

/// Prefixes by sign and by word, and their powers of ten.
const PREFIXES: &[(&str, &str, i32)] = &[
    ("da", "deca", 1),
    ("d", "deci", -1),
    ("c", "centi", -2),
    ("h", "hecto", 2),
    ("k", "kilo", 3),
    ("m", "milli", -3),
    ("u", "micro", -6),
    ("\u{B5}", "micro", -6),
    ("\u{3BC}", "micro", -6),
    ("n", "nano", -9),
    ("p", "pico", -12),
    ("M", "mega", 6),
    ("G", "giga", 9),
];

/// What a prefix can stand before: signs, words, and the unit of the language with its power of ten.
const BASES: &[(&str, &[&str], &str, i32)] = &[
    ("Nm", &[], "Nmm", 3),
    ("m", &["metre", "meter", "metres", "meters"], "mm", 3),
    ("g", &["gram", "gramme", "grams", "grammes"], "g", 0),
    ("s", &["second", "seconds"], "s", 0),
    ("Pa", &["pascal", "pascals"], "MPa", -6),
    ("N", &["newton", "newtons"], "N", 0),
    ("", &["Nm"], "Nmm", 3),
    ("", &["Ncm"], "Nmm", 1),
];

/// What a word of another custom or with another prefix is in a unit of the language.
///
/// # Example
/// ```
/// use annulet::quantity::foreign;
/// assert_eq!(foreign::explained("dm").unwrap(), "1 dm is 100 mm");
/// assert_eq!(foreign::explained("dram").unwrap(), "an avoirdupois dram is 1.7718451953125 g");
/// assert_eq!(foreign::explained("mmm"), None);
/// ```
#[must_use]
pub fn explained(word: &str) -> Option<String> {
    if let Some((_, says)) = CUSTOMS.iter().find(|(words, _)| words.contains(&word)) {
        return Some((*says).to_owned());
    }
    let whole = |(_, words, unit, power): &(&str, &[&str], &'static str, i32)| {
        words.contains(&word).then_some((*unit, *power))
    };
    let prefixed = || {
        PREFIXES.iter().find_map(|(sign, long, power)| {
            BASES.iter().find_map(|(short, words, unit, base)| {
                let by_sign = word.strip_prefix(sign) == Some(*short) && !short.is_empty();
                let by_word = word
                    .strip_prefix(long)
                    .is_some_and(|rest| words.contains(&rest));
                (by_sign || by_word).then_some((*unit, power + base))
            })
        })
    };
    let (unit, power) = BASES.iter().find_map(whole).or_else(prefixed)?;
    let ten = Decimal::from(10_i64.checked_pow(power.unsigned_abs())?);
    let factor = if power < 0 {
        Decimal::ONE.checked_div(ten)?
    } else {
        ten
    };
    Some(format!("1 {word} is {} {unit}", factor.normalize()))
}

/// The unit of a dimension that a word is a short form of, or a slip of the pen; any unit where no dimension
/// is due. None where the word means something else, or where units of two sizes are as near.
///
/// # Example
/// ```
/// use annulet::quantity::{Dimension, foreign};
/// let length = |word| foreign::meant(word, Some(Dimension::LENGTH));
/// assert_eq!(length("milimetre"), Some("millimetre"));
/// assert_eq!(length("mmm"), Some("mm"));
/// // As near to mm as to cm.
/// assert_eq!(length("cmm"), None);
/// assert_eq!(length("dm"), None);
/// ```
#[must_use]
pub fn meant(word: &str, due: Option<Dimension>) -> Option<&'static str> {
    if let Some(unit) = alias(word, due) {
        return Some(unit);
    }
    if explained(word).is_some() {
        return None;
    }
    let length = word.chars().count();
    let most = if length < 8 { 1 } else { 2 };
    let written = word.to_lowercase();
    let known = all()
        .iter()
        .filter(|unit| due.is_none_or(|due| unit.dimension == due));
    let words = known.flat_map(|unit| unit.also.iter().copied().chain([unit.word]));
    let near = words
        .filter(|known| known.len() > 1)
        .map(|known| {
            (
                strsim::damerau_levenshtein(&written, &known.to_lowercase()),
                known,
            )
        })
        .filter(|(distance, _)| *distance <= most && *distance < length);
    let near: Vec<(usize, &'static str)> = near.collect();
    let (least, first) = near.iter().min_by_key(|(distance, _)| *distance).copied()?;
    let size = |word: &str| scale(word).ok();
    let as_near = near.iter().filter(|(distance, _)| *distance == least);
    let alike = as_near
        .map(|(_, word)| size(word))
        .all(|other| other == size(first));
    alike.then_some(first)
}

/// The unit of a dimension that a word is a short form of.
#[must_use]
pub fn alias(word: &str, due: Option<Dimension>) -> Option<&'static str> {
    let (unit, _) = ALIASES.iter().find(|(_, words)| words.contains(&word))?;
    let dimension = scale(unit).ok()?.dimension;
    due.is_none_or(|due| due == dimension).then_some(*unit)
}
