//! What readings of the scale contradict, in words: by how much, and what that would be in each number by itself.

use miette::Diagnostic;
use thiserror::Error;

use crate::evaluate::{Evaluation, Explained, OffBefore, OnScale, Settled, WeighedShort};
use crate::finding::{Finding, Identity, Problem};
use crate::model::check;
use crate::quantity::{Dimension, Number, Quantity};
use crate::source::Span;
use crate::suggest::listed;

use super::told::of_band;

/// What a reading contradicts.
#[derive(Debug, Error, Diagnostic)]
enum WeighedError {
    /// A reading that the recipe cannot give.
    #[error("{message}")]
    #[diagnostic(code(weighed::apart), severity(warning), help("{help}"))]
    Apart {
        #[label("{label}")]
        at: Span,
        message: String,
        label: String,
        help: String,
    },
    /// A reading of a part that the band has not.
    #[error("`{band}` has no such part to weigh: {what}")]
    #[diagnostic(code(weighed::no_part), severity(warning), help("{help}"))]
    NoPart {
        #[label("compared with nothing")]
        at: Span,
        band: String,
        what: &'static str,
        help: &'static str,
    },
    /// A ring that grew heavier where metal comes off.
    #[error("`{band}` grew {by} heavier where metal only comes off")]
    #[diagnostic(
        code(weighed::heavier),
        severity(warning),
        help("weigh both again; readings may be of two rings")
    )]
    Heavier {
        #[label("heavier than before")]
        at: Span,
        band: String,
        by: String,
    },
    /// More came out than was issued.
    #[error("{by} more came out of `{band}` than was issued to it")]
    #[diagnostic(
        code(weighed::more),
        severity(warning),
        help("what came back may be of other rings too; weigh it again")
    )]
    More {
        #[label("with the ring more than was issued")]
        at: Span,
        band: String,
        by: String,
    },
}

impl Problem for WeighedError {}

/// Masses are compared within this, g.
const ROUNDING: f64 = 1e-9;

/// The most numbers that a difference is told in.
const MOST: usize = 4;

/// What a reading contradicts.
pub(super) fn told(evaluation: &Evaluation, short: &WeighedShort) -> Finding {
    let band = &evaluation.band;
    let at = band.place(short.field());
    let name = band.name.clone();
    let problem = match *short {
        WeighedShort::Apart {
            field,
            found,
            nominal,
        } => {
            let over = found - nominal;
            let side = if over > 0.0 { "over" } else { "under" };
            WeighedError::Apart {
                at,
                message: format!(
                    "`{name}` weighs {} {}, {} {side} the {} of the recipe",
                    grams(found),
                    stage(field.word()),
                    grams(over.abs()),
                    grams(nominal)
                ),
                label: format!("{} {side}", grams(over.abs())),
                help: says(evaluation, short).unwrap_or_else(|| {
                    "no number of the recipe alone would explain it; weigh it again".to_owned()
                }),
            }
        }
        WeighedShort::NoPart { .. } => WeighedError::NoPart {
            at,
            band: name,
            what: match band.hollow.is_some() {
                true => "it is made of shell and sleeve",
                false => "it is solid",
            },
            help: match band.hollow.is_some() {
                true => "write `shell-turned`, `shell-cut`, `sleeve-turned` or `joined`",
                false => "write `turned`, `cut` or `finished`",
            },
        },
        WeighedShort::Heavier { by, .. } => WeighedError::Heavier {
            at,
            band: name,
            by: grams(by),
        },
        WeighedShort::More { by, .. } => WeighedError::More {
            at,
            band: name,
            by: grams(by),
        },
    };
    Finding::from(problem).of(Identity {
        field: Some(short.field().path()),
        ..of_band(band)
    })
}

/// `0.06 g over is 0.04 mm more of width, or 0.13 g/cm3 more of silver-925.density`.
fn says(evaluation: &Evaluation, short: &WeighedShort) -> Option<String> {
    let (found, nominal) = short.figures()?;
    let weighings = evaluation.weighings()?;
    let mut readings = weighings.readings.iter();
    let reading = readings.find(|one| one.field == short.field())?;
    let over = found - nominal;
    let side = if over > 0.0 { "over" } else { "under" };
    // What was off before is off behind it too; only what came between is looked for.
    if let Some(OffBefore {
        over: before,
        off,
        fields,
    }) = evaluation.off_before(&weighings, reading)
    {
        let words: Vec<String> = fields
            .iter()
            .map(|id| format!("`{}`", id.row().word()))
            .collect();
        let words = listed(words.iter().map(String::as_str)).replace(" or ", " and ");
        let more = over - before;
        let of_before = if before > 0.0 { "over" } else { "under" };
        if more.abs() <= off + ROUNDING {
            return Some(format!(
                "the {} {of_before} of {words} goes on here, and nothing more is apart: settle that one",
                grams(before.abs())
            ));
        }
        let rest = OnScale {
            grams: reading.grams - before,
            ..reading.clone()
        };
        let explained = evaluation.explained(&rest, MOST, &fields);
        let ways: Vec<String> = explained.iter().map(way).collect();
        let between = if more > 0.0 { "more" } else { "less" };
        let lead = format!(
            "{words} was {} {of_before} already; {} {between} came between",
            grams(before.abs()),
            grams(more.abs())
        );
        return Some(match ways.is_empty() {
            true => format!(
                "{lead}, which no number of the recipe alone would explain; weigh both again"
            ),
            false => format!("{lead}, which is {}, each by itself", listed_or(&ways)),
        });
    }
    let explained = evaluation.explained(reading, MOST, &[]);
    let ways: Vec<String> = explained.iter().map(way).collect();
    if ways.is_empty() {
        return None;
    }
    Some(format!(
        "{} {side} is {}, each by itself; one reading settles one number: `annulet settle {}`",
        grams(over.abs()),
        listed_or(&ways),
        explained.first().map_or("width", |one| one.path.as_str())
    ))
}

fn listed_or(ways: &[String]) -> String {
    match ways {
        [all @ .., last] if !all.is_empty() => format!("{}, or {last}", all.join(", ")),
        ways => ways.join(""),
    }
}

/// `0.04 mm more of width`, `a pattern.depth 0.03 mm shallower`.
fn way(one: &Explained) -> String {
    let by = one.wanted - one.written;
    let amount = shown(by.abs(), one.dimension, one.unit.as_deref());
    let path = &one.path;
    let deep = path.ends_with("depth");
    match (deep, by > 0.0) {
        (true, true) => format!("a `{path}` {amount} deeper"),
        (true, false) => format!("a `{path}` {amount} shallower"),
        (false, true) => format!("{amount} more of `{path}`"),
        (false, false) => format!("{amount} less of `{path}`"),
    }
}

/// A number to three digits or a thousandth, whichever is finer.
#[must_use]
pub fn shown(value: f64, dimension: Dimension, unit: Option<&str>) -> String {
    let quantity = Quantity::new(Number::Computed(value), dimension);
    let (number, word) = check::in_unit(&quantity, unit);
    let number = number.to_f64();
    let places = (2.0 - libm::floor(libm::log10(number.abs()))).clamp(0.0, 4.0) as usize;
    let text = format!("{number:.*}", places.min(4));
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    };
    match word.as_str() {
        "" => text,
        word => format!("{text} {word}"),
    }
}

/// A mass to a milligram.
#[must_use]
pub fn grams(value: f64) -> String {
    // What is nothing has no sign.
    let value = if value.abs() < 0.0005 { 0.0 } else { value };
    let text = format!("{value:.3}");
    format!("{} g", text.trim_end_matches('0').trim_end_matches('.'))
}

/// What a ring is at a reading.
#[must_use]
pub fn stage(word: &str) -> &'static str {
    match word {
        "issued" => "as issued",
        "turned" => "turned",
        "cut" => "cut",
        "shell-issued" => "of shell as issued",
        "shell-turned" => "of shell turned",
        "shell-cut" => "of shell cut",
        "sleeve-issued" => "of sleeve as issued",
        "sleeve-turned" => "of sleeve turned",
        "joined" => "joined",
        "finished" => "finished",
        "returned" => "of what came back",
        _ => "on the scale",
    }
}

/// A number with what it may be off by, as a recipe writes it.
#[must_use]
pub fn line(one: &Settled) -> String {
    let of = &one.number;
    let write = |value: f64| {
        let quantity = Quantity::new(Number::Computed((value * 1e9).round() / 1e9), of.dimension);
        let (number, unit) = check::in_unit(&quantity, of.unit.as_deref());
        (number.to_f64(), unit)
    };
    let (value, unit) = write(of.wanted);
    let (off, _) = write(one.at_worst.max(one.by_scale));
    // Two digits of what it may be off by, and the value as finely.
    let places = (1.0 - libm::floor(libm::log10(off.abs().max(1e-6)))).clamp(0.0, 6.0) as usize;
    let value = format!("{value:.places$}");
    let off = format!("{off:.places$}");
    match unit.as_str() {
        "" => format!("{value} \u{B1} {off}"),
        unit => format!("{value} \u{B1} {off} {unit}"),
    }
}
