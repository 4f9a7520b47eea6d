//! An example of each field, as a recipe would write it.

use super::fields::{Field, FieldId};
use super::takes::Takes;

/// Lengths as a ring has them, by the field's path.
const LENGTHS: &[(FieldId, &str)] = &[
    (FieldId::Width, "4.5 mm"),
    (FieldId::ProfileEdge, "1.2 mm"),
    (FieldId::ProfileAcross, "0.5 mm"),
    (FieldId::ProfileDown, "0.2 mm"),
    (FieldId::ProfileDip, "0.2 mm"),
    (FieldId::PatternDepth, "0.3 mm"),
    (FieldId::PatternMeanDepth, "0.18 mm"),
    (FieldId::PatternMotif, "3.5 mm"),
    (FieldId::PatternFlutesDepth, "0.3 mm"),
    (FieldId::PatternLinesDepth, "0.3 mm"),
    (FieldId::PatternWaveDepth, "0.3 mm"),
    (FieldId::PatternRingDepth, "0.15 mm"),
    (FieldId::PatternRingFromEdge, "0.4 mm"),
    (FieldId::PatternDotsDepth, "0.12 mm"),
    (FieldId::PatternFacetsDepth, "0.15 mm"),
    (FieldId::PatternPocketDepth, "0.2 mm"),
    (FieldId::PatternPocketStepOver, "0.4 mm"),
    (FieldId::CutterRadius, "0.3 mm"),
    (FieldId::CutterWidth, "0.8 mm"),
    (FieldId::CutterPass, "0.15 mm"),
    (FieldId::HollowShell, "0.55 mm"),
    (FieldId::HollowSleeve, "0.3 mm"),
    (FieldId::HollowSleeveRelief, "0.25 mm"),
    (FieldId::HollowRidge, "0.12 mm"),
    (FieldId::HollowRidgeWide, "0.4 mm"),
    (FieldId::HollowLip, "0.12 mm"),
    (FieldId::HollowLipWide, "0.4 mm"),
    (FieldId::HollowHold, "0.1 mm"),
    (FieldId::HollowStagePast, "0.03 mm"),
    (FieldId::HollowStageKey, "0.05 mm"),
    (FieldId::HollowStagePlay, "0.06 mm"),
    (FieldId::MarkDeep, "0.1 mm"),
    (FieldId::StockOutside, "22 mm"),
    (FieldId::StockBore, "16 mm"),
];

/// Whole entries, where more stands behind the word than a value of its kind.
const ENTRIES: &[(FieldId, &str)] = &[
    (FieldId::PricesMetal, "gold 98 EUR/g"),
    (FieldId::AlloyTitle, "title \"18 ct rose\""),
    (FieldId::AlloyMetal, "gold 585"),
    (FieldId::AlloyDensity, "density 13.30 g/cm3"),
    (FieldId::AlloyAssay, "assay 585"),
    (FieldId::AlloyAssayLot, "lot \"A17\""),
    (FieldId::AlloyTemper, "temper hard { yield 520 MPa }"),
    (FieldId::AlloyTemperElongation, "elongation 40 %"),
    (FieldId::PatternFlutes, "flutes { count 3 }"),
    (FieldId::PatternDrawingFile, "file \"motifs/reed.svg\""),
    (FieldId::PatternDrawingPart, "part \"veins\""),
    (FieldId::PatternDrawingStepOver, "0.4 mm"),
    (FieldId::PlatingThickness, "thickness 3 um"),
    (FieldId::RulesTitle, "title \"House rules\""),
    (FieldId::RulesShortfall, "shortfall gold 0"),
    (FieldId::RulesFinenesses, "finenesses lowest"),
    (FieldId::RulesMetals, "metals each-own"),
    (FieldId::RulesBase, "base refused"),
    (FieldId::RulesSay, "say \"sold as hollow\""),
];

/// An example of what a field takes, to put into a help.
#[must_use]
pub fn example(field: &Field) -> String {
    let word = field.word();
    if let Some((_, entry)) = ENTRIES.iter().find(|(id, _)| *id == field.id) {
        return (*entry).to_owned();
    }
    if let Some((_, length)) = LENGTHS.iter().find(|(id, _)| *id == field.id) {
        return format!("{word} {length}");
    }
    let value = match field.takes {
        Takes::Text => "\"Harvest\"",
        Takes::Size => "ISO 54",
        Takes::Start => "stretch 4 %",
        Takes::Length | Takes::LengthOr(_) => "1.5 mm",
        Takes::LengthOrZero => "0.1 mm",
        Takes::Share => "90 %",
        Takes::ShareBelow | Takes::ShareOrMore => "5 %",
        Takes::Time => "12 min",
        Takes::Mass => "4 g",
        Takes::MassAboveZero => "0.01 g",
        Takes::Money => "12 EUR",
        Takes::MoneyByWeight | Takes::MoneyByWeightOrShare => "20 EUR/g",
        Takes::MoneyByTime => "40 EUR/h",
        Takes::Date => "2026-11-25",
        Takes::Currency => "EUR",
        Takes::Stock => "tube-22",
        Takes::Band => "harvest",
        Takes::Count => "18",
        Takes::Number => "0.15",
        Takes::Steps => "1/2",
        Takes::Word(words) => words.first().copied().unwrap_or(""),
        Takes::Place => "1.2 mm",
        Takes::Angle if field.id == FieldId::CutterAngle => "90 deg",
        Takes::Angle => "30 deg",
        Takes::Speed => "600 mm/min",
        Takes::Cutter => "vee-90",
        Takes::Profile => "domed { edge 1.2 mm }",
        Takes::Alloy if word == "solder" => "none",
        Takes::Alloy => "silver-925",
        Takes::Temper => "annealed",
        Takes::Fineness => "750.2",
        Takes::Day => "2026-11-25",
        Takes::Density => "13.30 g/cm3",
        Takes::Stress => "300 MPa",
        Takes::Poisson => "0.38",
        Takes::AnyWord => "rose",
        Takes::Rulebook => "UK",
        Takes::MetalStandards => "gold [585, 750]",
        Takes::MetalParts => "gold 10",
        Takes::MetalMass => "gold 1 g",
        Takes::Block | Takes::Anything => "{ }",
    };
    format!("{word} {value}")
}
