//! Units, results and fields as rows, the header first.

use rust_decimal::Decimal;

use crate::quantity::{Dimension, unit};
use crate::schema::{self, Takes};

use super::table::row;

/// Units: word, other words, what they measure, what they are, basis.
pub(super) fn units() -> Vec<Vec<String>> {
    let mut rows = vec![row(["unit", "also", "measures", "is", "basis"])];
    for unit in unit::all() {
        let measures = unit.dimension.named();
        let one = unit::all()
            .iter()
            .find(|base| base.dimension == unit.dimension && base.factor == Decimal::ONE);
        let is = match (unit.dimension, one) {
            (Dimension::FINENESS, _) => format!("{} = 1000/24 parts per thousand", unit.meaning),
            (Dimension::NONE, _) => format!("{} = {}", unit.meaning, unit.factor.normalize()),
            (_, Some(one)) if one.word != unit.word => format!(
                "{} = {} {}",
                unit.meaning,
                unit.factor.normalize(),
                one.word
            ),
            _ => unit.meaning.to_owned(),
        };
        rows.push(vec![
            unit.word.to_owned(),
            unit.also.join(", "),
            measures,
            is,
            format!("{}: {}", unit.status, unit.source),
        ]);
    }
    rows
}

/// Results: path, unit, meaning, formula.
pub(super) fn results() -> Vec<Vec<String>> {
    let mut rows = vec![row(["path", "unit", "meaning", "formula"])];
    let of_bands = schema::RESULTS.iter();
    let of_bands = of_bands.map(|one| {
        let unit = counted(one.unit, one.counts, one.dimension);
        ("BAND", one.path, unit, one.meaning, one.formula)
    });
    let of_orders = schema::ORDER_RESULTS.iter();
    let of_orders = of_orders.map(|one| {
        let unit = counted(one.unit, true, one.dimension);
        ("order.NAME", one.path, unit, one.meaning, one.formula)
    });
    for (of, path, unit, meaning, formula) in of_bands.chain(of_orders) {
        rows.push(row([&format!("{of}.{path}"), unit, meaning, formula]));
    }
    rows
}

/// The unit of a bare number, in words where it has none: a share of one is shown in per cent.
fn counted(unit: &'static str, counts: bool, dimension: Dimension) -> &'static str {
    match (unit, dimension) {
        ("", Dimension::FINENESS) => "\u{2030}",
        ("", _) if counts => "count",
        ("", _) => "share",
        _ => unit,
    }
}

/// Whether the words that a field chooses from are too many for a column.
fn is_long(words: &[&str]) -> bool {
    words.len() > 3
}

/// Fields: path, what they take, default, meaning.
pub(super) fn fields() -> Vec<Vec<String>> {
    let mut rows = vec![row(["path", "takes", "default", "meaning"])];
    for field in schema::of_band().iter().chain(schema::of_blocks()) {
        let takes = match field.takes {
            Takes::Text => "text",
            Takes::Size => "size or diameter",
            Takes::Start => "size, diameter or stretch",
            Takes::Length => "length",
            Takes::LengthOrZero => "length, 0 or more",
            Takes::LengthOr(_) => "length or word",
            Takes::Share => "0 % to 100 %",
            Takes::ShareBelow => "0 % to less than 100 %",
            Takes::ShareOrMore => "0 % or more",
            Takes::Time => "time",
            Takes::Mass => "mass",
            Takes::MassAboveZero => "mass above 0",
            Takes::Money => "money",
            Takes::MoneyByWeight => "money by weight",
            Takes::MoneyByWeightOrShare => "money by weight, or per cent",
            Takes::MoneyByTime => "money by time",
            Takes::Date => "day",
            Takes::Currency => "currency",
            Takes::Stock => "stock",
            Takes::Band => "band",
            Takes::Count => "whole number",
            Takes::Number => "number",
            Takes::Steps => "size steps",
            Takes::Word(_) => "word",
            Takes::Place => "length of either sign",
            Takes::Angle => "angle",
            Takes::Speed => "speed",
            Takes::Cutter => "cutter",
            Takes::Alloy => "alloy",
            Takes::Temper => "temper",
            Takes::Fineness => "parts per thousand",
            Takes::Day => "day",
            Takes::Profile => "profile",
            Takes::Density => "density",
            Takes::Stress => "stress",
            Takes::Poisson => "0 to 0.5",
            Takes::AnyWord => "word",
            Takes::Rulebook => "rulebook",
            Takes::MetalStandards => "metal, parts per thousand",
            Takes::MetalParts => "metal, parts per thousand",
            Takes::MetalMass => "metal, mass",
            Takes::Block => "block",
            Takes::Anything => "value",
        };
        let takes = match field.takes {
            Takes::Word(words) if !is_long(words) => words.join(" or "),
            Takes::LengthOr(word) => format!("length or {word}"),
            _ => takes.to_owned(),
        };
        let default = field
            .default
            .map_or_else(String::new, |(text, basis)| format!("{text} ({basis})"));
        rows.push(vec![
            match field.block {
                schema::BlockId::Band => format!("BAND.{}", field.path),
                _ => field.path.to_owned(),
            },
            takes,
            default,
            match field.takes {
                Takes::Word(words) if is_long(words) => {
                    format!("{}: {}", field.meaning, words.join(", "))
                }
                _ => field.meaning.to_owned(),
            },
        ]);
    }
    rows
}
