//! The table of units. One row each; nothing is computed here.

use rust_decimal::{Decimal, dec};

use super::dimension::Dimension;

/// One row of the table of units.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The word that canonical text and reports use.
    pub word: &'static str,
    /// Other accepted words.
    pub also: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// How many base units it is, exactly: this many …
    pub factor: Decimal,
    /// … over this many; 1 for all but the karat, of which no decimal holds one.
    pub per: Decimal,
    /// Its name.
    pub meaning: &'static str,
    /// Where the factor is defined.
    pub source: &'static str,
    /// How that is known.
    pub status: &'static str,
}

const SI: &str = "The International System of Units (SI Brochure, 9th edition)";
const YARD: &str = "International yard and pound agreement of 1959";
const TROY: &str = "480, 24 or 1 grain of 1/7000 avoirdupois pound of 453.59237 g (GNU Units 2.22, definitions.units)";
const TOLA: &str = "180 grains (GNU Units 2.22, definitions.units)";
const MEMORY: &str = "from memory";
const READ: &str = "read";

/// All units, by dimension; the first of a dimension is the one that results are shown in.
#[rustfmt::skip]
pub(super) const UNITS: &[Unit] = &[
    Unit { word: "mm", also: &["millimetre", "millimetres", "millimeter"], dimension: Dimension::LENGTH, factor: dec!(1), per: dec!(1), meaning: "millimetre", source: SI, status: MEMORY },
    Unit { word: "cm", also: &["centimetre", "centimetres", "centimeter"], dimension: Dimension::LENGTH, factor: dec!(10), per: dec!(1), meaning: "centimetre", source: SI, status: MEMORY },
    Unit { word: "m", also: &["metre", "metres", "meter"], dimension: Dimension::LENGTH, factor: dec!(1000), per: dec!(1), meaning: "metre", source: SI, status: MEMORY },
    Unit { word: "\u{B5}m", also: &["\u{3BC}m", "um", "micrometre", "micron"], dimension: Dimension::LENGTH, factor: dec!(0.001), per: dec!(1), meaning: "micrometre", source: SI, status: MEMORY },
    Unit { word: "in", also: &["inch", "inches"], dimension: Dimension::LENGTH, factor: dec!(25.4), per: dec!(1), meaning: "inch", source: YARD, status: MEMORY },
    Unit { word: "g", also: &["gram", "grams", "gramme", "grammes"], dimension: Dimension::MASS, factor: dec!(1), per: dec!(1), meaning: "gram", source: SI, status: MEMORY },
    Unit { word: "kg", also: &["kilogram", "kilograms"], dimension: Dimension::MASS, factor: dec!(1000), per: dec!(1), meaning: "kilogram", source: SI, status: MEMORY },
    Unit { word: "mg", also: &["milligram", "milligrams"], dimension: Dimension::MASS, factor: dec!(0.001), per: dec!(1), meaning: "milligram", source: SI, status: MEMORY },
    Unit { word: "grain", also: &["grains"], dimension: Dimension::MASS, factor: dec!(0.06479891), per: dec!(1), meaning: "grain", source: TROY, status: READ },
    Unit { word: "dwt", also: &["pennyweight", "pennyweights"], dimension: Dimension::MASS, factor: dec!(1.55517384), per: dec!(1), meaning: "pennyweight, 24 grains", source: TROY, status: READ },
    Unit { word: "ozt", also: &[], dimension: Dimension::MASS, factor: dec!(31.1034768), per: dec!(1), meaning: "troy ounce, 480 grains", source: TROY, status: READ },
    Unit { word: "ozav", also: &[], dimension: Dimension::MASS, factor: dec!(28.349523125), per: dec!(1), meaning: "avoirdupois ounce, 1/16 pound", source: TROY, status: READ },
    Unit { word: "tola", also: &["tolas"], dimension: Dimension::MASS, factor: dec!(11.6638038), per: dec!(1), meaning: "tola, 180 grains", source: TOLA, status: READ },
    Unit { word: "s", also: &["sec", "second", "seconds"], dimension: Dimension::TIME, factor: dec!(1), per: dec!(1), meaning: "second", source: SI, status: MEMORY },
    Unit { word: "min", also: &["minute", "minutes"], dimension: Dimension::TIME, factor: dec!(60), per: dec!(1), meaning: "minute", source: SI, status: MEMORY },
    Unit { word: "h", also: &["hour", "hours"], dimension: Dimension::TIME, factor: dec!(3600), per: dec!(1), meaning: "hour", source: SI, status: MEMORY },
    Unit { word: "day", also: &["days"], dimension: Dimension::TIME, factor: dec!(86400), per: dec!(1), meaning: "day of 24 hours", source: SI, status: MEMORY },
    Unit { word: "deg", also: &["\u{B0}", "degree", "degrees"], dimension: Dimension::ANGLE, factor: dec!(1), per: dec!(1), meaning: "degree of arc", source: SI, status: MEMORY },
    Unit { word: "MPa", also: &["N/mm2", "N/mm\u{B2}"], dimension: Dimension::STRESS, factor: dec!(1000000), per: dec!(1), meaning: "megapascal, 1 N/mm2", source: SI, status: MEMORY },
    Unit { word: "GPa", also: &[], dimension: Dimension::STRESS, factor: dec!(1000000000), per: dec!(1), meaning: "gigapascal", source: SI, status: MEMORY },
    Unit { word: "Pa", also: &[], dimension: Dimension::STRESS, factor: dec!(1), per: dec!(1), meaning: "pascal", source: SI, status: MEMORY },
    Unit { word: "N", also: &[], dimension: Dimension::FORCE, factor: dec!(1000000), per: dec!(1), meaning: "newton", source: SI, status: MEMORY },
    Unit { word: "Nmm", also: &["N mm"], dimension: Dimension::TORQUE, factor: dec!(1000000), per: dec!(1), meaning: "newton millimetre", source: SI, status: MEMORY },
    Unit { word: "karat", also: &["kt", "karats", "K"], dimension: Dimension::FINENESS, factor: dec!(1000), per: dec!(24), meaning: "karat, 1/24 of fineness", source: "1000/24 parts per thousand by convention", status: "common practice" },
    Unit { word: "%", also: &["percent"], dimension: Dimension::NONE, factor: dec!(0.01), per: dec!(1), meaning: "per cent", source: SI, status: MEMORY },
    Unit { word: "\u{2030}", also: &["permille"], dimension: Dimension::NONE, factor: dec!(0.001), per: dec!(1), meaning: "per thousand", source: SI, status: MEMORY },
];
