//! Figures far from what a ring measures, as after a slip of a unit: asked about, once, and taken as they are.

use rust_decimal::Decimal;

use crate::catalogue;
use crate::quantity::{Number, RingSize, unit};
use crate::schema::FieldId;
use crate::source::Span;

use super::alloy::{self, Alloy, AlloyDensity};
use super::band::{Band, Profile};
use super::check;
use super::note::ModelNote;
use super::value::Value;

/// Inside diameters of finger rings, in mm: common practice.
const BORES: std::ops::RangeInclusive<f64> = 10.0..=30.0;
/// The widest ring, in mm: common practice.
const WIDEST: f64 = 30.0;
/// The thickest ring, as a part of its bore: common practice.
const THICKEST: f64 = 1.0 / 3.0;

/// What to ask about the figures of a band.
pub(super) fn unlikely(band: &Band) -> Vec<ModelNote> {
    let asked = [bore(band), width(band), thickness(band), friction(band)];
    let asked = asked.into_iter().flatten();
    let more = solder(band).into_iter().chain(mark(band));
    asked.chain(more).chain(plating(band)).collect()
}

/// The thickest plating, in mm: common practice.
const THICKEST_PLATING: Decimal = rust_decimal::dec!(0.05);

/// A plating thicker than any, as after a slip of a unit, and the thickness of one that is not there.
fn plating(band: &Band) -> Option<ModelNote> {
    let thick = band.marking.plating_thick?.value();
    let none = band.marking.plating.is_none();
    let message = match none {
        true => "the thickness of a plating, and no plating".to_owned(),
        false if thick > THICKEST_PLATING => format!(
            "a plating {} mm thick is far from the few micrometres of one",
            thick.normalize()
        ),
        false => return None,
    };
    Some(ModelNote::Unlikely {
        at: band.field(FieldId::PlatingThickness)?.at?,
        message,
        label: "as meant?".to_owned(),
        help: match none {
            true => {
                "say what it is plated with, as in `plating gold { thickness 3 um }`".to_owned()
            }
            false => {
                "check its decimal point and its unit: `thickness 3 um` is 3 micrometres".to_owned()
            }
        },
    })
}

/// A mark of no stated depth, which counts in no wall.
fn mark(band: &Band) -> Option<ModelNote> {
    band.marking
        .mark
        .as_ref()
        .filter(|mark| mark.deep.is_none())?;
    let place = |id: FieldId| band.field(id).and_then(|field| field.at);
    Some(ModelNote::Unlikely {
        at: place(FieldId::MarkOn).or(place(FieldId::MarkStruck))?,
        message: "no depth of the mark is stated: it counts in no wall".to_owned(),
        label: "how deep?".to_owned(),
        help: "write it, as in `mark { deep 0.1 mm }`".to_owned(),
    })
}

/// Solder that neither weighs nor costs, and what is said of none.
fn solder(band: &Band) -> Vec<ModelNote> {
    let place = |id: FieldId| band.field(id).and_then(|field| field.at);
    if let Some(solder) = &band.marking.solder {
        let at = place(FieldId::Solder).filter(|_| solder.amount.is_none());
        let name = solder.alloy.name.clone();
        return at
            .map(|at| ModelNote::Unweighed { at, name })
            .into_iter()
            .collect();
    }
    if band.fields.word(FieldId::Solder) != Some("none") {
        return Vec::new();
    }
    [FieldId::SolderAmount, FieldId::SolderAuthorised]
        .into_iter()
        .filter_map(|id| {
            // What a variant takes over from a parent that is soldered is no slip.
            let inherited = |at: &Span| {
                let mut above = band.inherits.iter();
                above.any(|line| line.start <= at.start && at.end <= line.end)
            };
            let at = place(id).filter(|at| !inherited(at))?;
            let word = id.word();
            Some(ModelNote::NoSolder { at, word })
        })
        .collect()
}

/// Yield stresses of metals that rings are made of, in MPa, and their moduli, in GPa: common practice.
const YIELDS: std::ops::RangeInclusive<f64> = 30.0..=1500.0;
const MODULI: std::ops::RangeInclusive<f64> = 10.0..=300.0;
/// Vickers hardnesses of the same: common practice.
const HARDNESSES: std::ops::RangeInclusive<f64> = 20.0..=600.0;
/// How far a stated density may lie from that of the mix: three times what mixing is off at most.
const OFF_THE_MIX: f64 = 3.0 * alloy::MIXING_ERROR;

/// What to ask about the figures that an alloy states.
pub(super) fn of_alloy(alloy: &Alloy) -> Vec<ModelNote> {
    let stated = |path: &str| {
        let (_, places) = alloy.places.iter().find(|(known, _)| known == path)?;
        places.last().copied()
    };
    let mut found = Vec::new();
    if let (AlloyDensity::Stated { value, .. }, Some(mix), Some(at)) = (
        &alloy.density,
        alloy::mixed_density(&alloy.parts),
        stated("density"),
    ) {
        let density = value.to_grams_per_cm3();
        if (density / mix - 1.0).abs() > OFF_THE_MIX {
            found.push(ModelNote::Unlikely {
                at,
                message: format!(
                    "a density of {} g/cm3 is far from the \u{2248} {mix:.2} g/cm3 of the mix in `{}`",
                    value.value().normalize(),
                    alloy.name
                ),
                label: "as meant?".to_owned(),
                help: "check its decimal point and its unit, and the parts".to_owned(),
            });
        }
    }
    for temper in &alloy.tempers {
        for (id, value, _) in &temper.figures {
            let (range, per, said) = match id {
                FieldId::AlloyTemperYield => (YIELDS, 1.0, "the 30 to 1500 MPa"),
                FieldId::AlloyTemperModulus => (MODULI, 1000.0, "the 10 to 300 GPa"),
                FieldId::AlloyTemperHardness => (HARDNESSES, 1.0, "the 20 to 600"),
                _ => continue,
            };
            let path = format!("temper.{}.{}", temper.name, id.row().word());
            let figure = value.quantity().and_then(|of| match id {
                FieldId::AlloyTemperHardness => Some(of.number),
                _ => unit::scale("MPa").ok()?.of_base(of.number),
            });
            if let (Some(figure), Some(at)) = (figure, stated(&path))
                && !range.contains(&(figure.to_f64() / per))
            {
                found.push(ModelNote::Unlikely {
                    at,
                    message: format!(
                        "a {} of {} lies outside {said} of metals that rings are made of",
                        id.row().word(),
                        check::shown(value)
                    ),
                    label: "as meant?".to_owned(),
                    help: match id {
                        FieldId::AlloyTemperHardness => "it is a Vickers hardness, without a unit",
                        _ => "check its unit: strength is stated in MPa, the modulus in GPa",
                    }
                    .to_owned(),
                });
            }
        }
    }
    found
}

fn bore(band: &Band) -> Option<ModelNote> {
    let diameter = band.inside().diameter.to_f64();
    if BORES.contains(&diameter) || band.fields.word(FieldId::Bangle) == Some("yes") {
        return None;
    }
    let (at, value) = said(band, FieldId::Size)?;
    Some(ModelNote::Unlikely {
        at,
        message: format!(
            "an inside diameter of {} lies outside the 10 to 30 mm of finger rings",
            inside(band, value)
        ),
        label: "as meant?".to_owned(),
        help: match circumference(band) {
            Some(size) => {
                format!("as a circumference it is `{size}`; a bangle says `bangle yes`")
            }
            None => "a size stands after its system, as in `US 7`; a bangle says `bangle yes`"
                .to_owned(),
        },
    })
}

/// The diameter as it is written, or what the size comes to.
fn inside(band: &Band, value: &Value) -> String {
    match value {
        Value::Size { size, .. } => {
            format!(
                "{:.2} mm, as {size} has it,",
                band.inside().diameter.to_f64()
            )
        }
        value => check::shown(value),
    }
}

/// The size whose circumference a written diameter would be.
fn circumference(band: &Band) -> Option<RingSize> {
    let Number::Exact(diameter) = band.inside().diameter else {
        return None;
    };
    let whole = diameter.normalize();
    let system = catalogue::system("ISO")?;
    RingSize::read(system, &whole.to_string()).ok()
}

fn width(band: &Band) -> Option<ModelNote> {
    if band.length(FieldId::Width)? <= WIDEST {
        return None;
    }
    let (at, value) = said(band, FieldId::Width)?;
    Some(ModelNote::Unlikely {
        at,
        message: format!(
            "a width of {} is more than the 30 mm of the widest rings",
            check::shown(value)
        ),
        label: "as meant?".to_owned(),
        help: "check its unit".to_owned(),
    })
}

fn thickness(band: &Band) -> Option<ModelNote> {
    let bore = band.inside().diameter.to_f64();
    let thickness = band.thickness()?.to_mm();
    if thickness <= bore * THICKEST {
        return None;
    }
    let much = format!("more than a third of the bore of {bore:.2} mm");
    let shown = |mm: Decimal| format!("{} mm", mm.round_dp(3).normalize());
    let by_outline =
        matches!(band.profile, Profile::Custom(_)) && said(band, FieldId::Thickness).is_none();
    let (at, message, help) = match (said(band, FieldId::Thickness), said(band, FieldId::Outside)) {
        (Some((at, value)), _) => (
            at,
            format!("a thickness of {} is {much}", check::shown(value)),
            "check its unit",
        ),
        (None, Some((at, value))) => (
            at,
            format!(
                "an outside of {} makes the band {} thick, {much}",
                check::shown(value),
                shown(band.thickness()?.value())
            ),
            "check its unit",
        ),
        (None, None) if by_outline => (
            said(band, FieldId::Profile)?.0,
            format!(
                "the outline stands up to {} above the bore, {much}",
                shown(band.thickness()?.value())
            ),
            "heights of an outline are measured from the smallest bore, not from the axis",
        ),
        (None, None) => return None,
    };
    Some(ModelNote::Unlikely {
        at,
        message,
        label: "as meant?".to_owned(),
        help: help.to_owned(),
    })
}

/// A written field: its place and its value.
fn said(band: &Band, id: FieldId) -> Option<(Span, &Value)> {
    let field = band.field(id)?;
    Some((field.at?, &field.value))
}

fn friction(band: &Band) -> Option<ModelNote> {
    let (at, value) = said(band, FieldId::HollowFriction)?;
    let number = value.quantity()?.number;
    if number.compared(Number::Exact(Decimal::ONE)).is_le() {
        return None;
    }
    let hundredth = number.over(Number::Exact(Decimal::ONE_HUNDRED))?;
    Some(ModelNote::Unlikely {
        at,
        message: format!("`friction` is {number}: for metal on metal it is under 1"),
        label: "as meant?".to_owned(),
        help: format!("write `friction {hundredth}` if that is meant"),
    })
}
