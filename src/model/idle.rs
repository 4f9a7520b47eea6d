//! Values that are read and do nothing where they stand: said once, as a note. What a variant
//! takes over from its parent serves there.

use num_rational::Rational64;

use crate::quantity::Number;
use crate::schema::FieldId;
use crate::source::Span;

use super::band::Band;
use super::check;
use super::note::ModelNote;
use super::value::Value;

/// What of a band does nothing.
pub(super) fn idle(band: &Band) -> Vec<ModelNote> {
    let word = |id: FieldId| band.fields.word(id);
    let solid = band.hollow.is_none();
    let stretched = band.field(FieldId::Start).is_some();
    let mut found = Vec::new();
    let mut note = |id: FieldId, why: &str, help: &str| {
        let field = band.field(id);
        let field = field.and_then(|field| Some((field, field.at?)));
        // A variant takes over what serves its parent.
        let own = |at: Span| {
            let mut above = band.inherits.iter();
            !above.any(|above| (above.start..above.end).contains(&at.start))
        };
        if let Some((field, at)) = field.filter(|(_, at)| own(*at)) {
            found.push(ModelNote::Idle {
                at,
                what: format!("{} {}", field.field.word(), check::written(&field.value)),
                why: why.to_owned(),
                help: help.to_owned(),
            });
        }
    };
    let least = band
        .field(FieldId::LimitWall)
        .and_then(|field| field.value.quantity());
    if least.is_some_and(|least| least.number == Number::ZERO) {
        let help = "write the least wall that you would make, as in `limit { wall 0.20 mm }`";
        note(FieldId::LimitWall, "no wall is thinner than nothing", help);
    }
    if solid {
        let help = "leave it out, or say `hollow`";
        note(FieldId::MarkOn, "a solid band is one part", help);
    }
    if solid && !stretched {
        let why = "the band is not stretched";
        let help = "leave it out, or say what it starts from, as in `start stretch 2 %`";
        if word(FieldId::Kinematics) == Some("held") {
            note(FieldId::Kinematics, why, help);
        }
        if word(FieldId::PatternCut) == Some("before") {
            note(FieldId::PatternCut, why, help);
        }
    }
    if band.fields.count(FieldId::HollowRidgeCount) == Some(1) {
        note(
            FieldId::HollowRidgePlay,
            "one ridge has no second one to clear",
            "leave it out, or write `count 2`",
        );
    }
    if word(FieldId::HollowStage) == Some("turning") {
        let why = "the ring is built to turn, so that nothing is to grip";
        let help =
            "leave it out, or build the ring to be fixed, as in `stage fixed { past 0.05 mm }`";
        note(FieldId::HollowFriction, why, help);
        note(FieldId::HollowEnlarger, why, help);
    }
    let both = [FieldId::HollowShellStock, FieldId::HollowSleeveStock];
    if !solid {
        let (why, help) = match both.iter().all(|id| band.field(*id).is_some()) {
            true => (
                "shell and sleeve have stocks of their own",
                "leave it out; it is what a solid band is made of",
            ),
            false => (
                "it is what a solid band is made of, and shell and sleeve take none of it",
                "write the stock of each part, as in `shell 0.5 mm { stock NAME }`",
            ),
        };
        note(FieldId::Stock, why, help);
    }
    if let Some(Value::Quantity { .. }) = band.field(FieldId::Size).map(|size| &size.value) {
        for id in [FieldId::AllowWide, FieldId::AllowComfort] {
            let steps = band.field(id).and_then(|field| field.value.steps());
            if steps.is_some_and(|steps| steps != Rational64::from_integer(0)) {
                note(
                    id,
                    "a size in millimetres has no steps",
                    "write the size in its system, as in `US 7 1/2`, or the diameter with the allowance in it",
                );
            }
        }
    }
    found
}
