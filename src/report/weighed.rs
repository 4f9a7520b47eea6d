//! A ring on the scale: each reading beside the recipe, from stage to stage, and the metal that is missing; text and JSON.

use serde_json::{Value as Json, json};

use crate::evaluate::{Evaluation, Expected, OnScale, RangeBy, Weighings};
use crate::schema::FieldId;
use crate::words::{grams, stage};

use super::page::Page;

/// The section of a report; nothing where nothing was weighed.
pub(super) fn section(page: &mut Page, evaluation: &Evaluation) {
    let Some(all) = evaluation.weighings() else {
        return;
    };
    page.heading("on the scale");
    for reading in &all.readings {
        let word = reading.field.row().word();
        let day = match day(reading) {
            Some(day) => format!(", {day}"),
            None => String::new(),
        };
        page.words(
            word,
            &format!(
                "{} \u{B1} {}{day}: {}",
                grams(reading.grams),
                grams(reading.off),
                beside(reading)
            ),
        );
    }
    for step in &all.steps {
        let before: Vec<&str> = step.before.iter().map(|id| id.row().word()).collect();
        let what = match (step.grams < 0.0, step.expected) {
            (true, None) => format!("{} on", grams(-step.grams)),
            (true, Some(wanted)) => format!(
                "{} on, {} by the recipe",
                grams(-step.grams),
                grams(-wanted)
            ),
            (false, None) => format!("{} off", grams(step.grams)),
            (false, Some(wanted)) => {
                format!("{} off, {} by the recipe", grams(step.grams), grams(wanted))
            }
        };
        page.words(
            "",
            &format!(
                "{} to {}: {what}, \u{B1} {} by the scale",
                before.join(" and "),
                step.after.row().word(),
                grams(step.off)
            ),
        );
    }
    page.words("unaccounted", &unaccounted(&all));
}

/// The readings of a card, in one row: those that agree by name, the others by how far they are off; and what is missing.
pub(super) fn in_short(page: &mut Page, evaluation: &Evaluation) {
    let Some(all) = evaluation.weighings() else {
        return;
    };
    let told = all.readings.iter().map(|reading| {
        let word = reading.field.row().word();
        let read = grams(reading.grams);
        match (reading.agrees(), reading.over().unwrap_or(0.0)) {
            (Some(true), _) => format!("{word} {read} agrees"),
            (Some(false), over) if over > 0.0 => format!("{word} {read}, {} over", grams(over)),
            (Some(false), over) => format!("{word} {read}, {} under", grams(-over)),
            (None, _) => format!("{word} {read} not compared"),
        }
    });
    let mut told: Vec<String> = told.collect();
    if let Some((missing, off)) = all.unaccounted {
        told.push(format!(
            "{} \u{B1} {} unaccounted for",
            grams(missing),
            grams(off)
        ));
    }
    page.card_row("weighed", &told.join("; "));
}

fn unaccounted(all: &Weighings) -> String {
    match all.unaccounted {
        Some((missing, off)) => format!(
            "{} \u{B1} {} of metal: issued less finished less what came back",
            grams(missing),
            grams(off)
        ),
        None => {
            let weighed = |id: FieldId| all.readings.iter().any(|one| one.field == id);
            let issued = weighed(FieldId::WeighedIssued)
                || weighed(FieldId::WeighedShellIssued) && weighed(FieldId::WeighedSleeveIssued);
            let lacks = [
                (issued, "`issued`"),
                (weighed(FieldId::WeighedFinished), "`finished`"),
                (weighed(FieldId::WeighedReturned), "`returned`"),
            ];
            let lacks = lacks.iter().filter(|(is_there, _)| !is_there);
            let lacks: Vec<&str> = lacks.map(|(_, word)| *word).collect();
            format!("not known without {}", lacks.join(" and "))
        }
    }
}

/// A reading beside what the recipe gives.
fn beside(reading: &OnScale) -> String {
    match (reading.expected, reading.agrees()) {
        (
            Expected::Known {
                nominal,
                low,
                high,
                way,
            },
            agrees,
        ) => {
            let found = match way {
                RangeBy::Search => " found",
                RangeBy::Sum | RangeBy::Corners => "",
            };
            let range = match high - low > 1e-9 {
                true => format!(", {} to {} at worst{found}", grams(low), grams(high)),
                false => String::new(),
            };
            let over = reading.over().unwrap_or(0.0);
            let judged = match (agrees, over > 0.0) {
                (Some(true), _) => "agrees".to_owned(),
                (_, true) => format!("{} over", grams(over)),
                (_, false) => format!("{} under", grams(-over)),
            };
            format!("{judged}; {} by the recipe{range}", grams(nominal))
        }
        (Expected::NoPart, _) => "the band has no such part".to_owned(),
        (Expected::LeftOn, _) => {
            "not compared: metal is left on for finishing, of which no weight is reckoned"
                .to_owned()
        }
        (Expected::NoStock, _) => {
            "not compared: no stock is stated for it, or of this part none is reckoned apart"
                .to_owned()
        }
    }
}

fn day(reading: &OnScale) -> Option<String> {
    reading.dated.map(|day| day.to_string())
}

/// The readings of a band for machine output.
pub(super) fn json(evaluation: &Evaluation) -> Json {
    let Some(all) = evaluation.weighings() else {
        return Json::Null;
    };
    let readings = all.readings.iter().map(|reading| {
        let (known, why) = match reading.expected {
            Expected::Known {
                nominal,
                low,
                high,
                way,
            } => {
                let known =
                    json!({ "value": nominal, "low": low, "high": high, "way": way.word() });
                (known, None)
            }
            Expected::NoPart => (Json::Null, Some("no-part")),
            Expected::LeftOn => (Json::Null, Some("left-on")),
            Expected::NoStock => (Json::Null, Some("no-stock")),
        };
        json!({
            "reading": reading.field.row().word(),
            "of": stage(reading.field.row().word()),
            "grams": reading.grams,
            "within": reading.off,
            "dated": day(reading),
            "expected": known,
            "unknown": why,
            "agrees": reading.agrees(),
        })
    });
    let steps = all.steps.iter().map(|step| {
        let before: Vec<&str> = step.before.iter().map(|id| id.row().word()).collect();
        json!({
            "before": before,
            "after": step.after.row().word(),
            "off": step.grams,
            "within": step.off,
            "expected": step.expected,
        })
    });
    json!({
        "readings": readings.collect::<Vec<_>>(),
        "steps": steps.collect::<Vec<_>>(),
        "unaccounted": all.unaccounted.map(|(grams, off)| json!({ "grams": grams, "within": off })),
    })
}
