//! What of a sheet is for the machine and the enlarger: parts to turn, the pattern, the stages.

use crate::evaluate::Evaluation;
use crate::kernel::join::Boundary;
use crate::quantity::Number;
use crate::report::number::{Digits, shown};
use crate::report::stretch_steps::{how_to_open, pins_of_hollow, pins_of_solid};
use crate::schema::{FieldId, ResultId};

use super::facts::{Facts, SheetBlock};

/// The parts as they come off the machine.
pub(super) fn parts(evaluation: &Evaluation) -> Vec<SheetBlock> {
    let mut all = Vec::new();
    if evaluation.band.hollow.is_some() {
        let mut shell = Facts::of(evaluation);
        shell.diameter("bore of the feet", ResultId::MachinedShellBore);
        shell.diameter("bore of the lips", ResultId::MachinedShellLipBore);
        shell.diameter("channel at mid width", ResultId::MachinedShellChannel);
        shell.result("channel's width", ResultId::MachinedShellChannelWidth);
        shell.diameter("outside", ResultId::MachinedShellOutside);
        shell.result("width", ResultId::MachinedShellWidth);
        all.extend(shell.done("to machine: shell"));
        let mut sleeve = Facts::of(evaluation);
        sleeve.diameter("bore", ResultId::MachinedSleeveBore);
        if evaluation.input.shape.comfort > 0.0 {
            sleeve.diameter("bore at the faces", ResultId::MachinedSleeveEdgeBore);
        }
        sleeve.diameter("outside", ResultId::MachinedSleeveFloor);
        sleeve.diameter("ridge", ResultId::MachinedSleeveRidgeTop);
        sleeve.result("ridge from the face", ResultId::MachinedSleeveRidgeFromFace);
        sleeve.result("width", ResultId::MachinedSleeveWidth);
        let entry = sleeve.number(evaluation.input.stretch.entry, "mm");
        sleeve.say(
            "entry",
            format!("\u{D8} {entry} to spare between the parts"),
        );
        all.extend(sleeve.done("to machine: sleeve"));
    } else {
        let mut band = Facts::of(evaluation);
        band.diameter("bore", ResultId::MachinedBore);
        band.diameter("outside", ResultId::MachinedOutside);
        band.result("thickness", ResultId::MachinedThickness);
        band.result("width", ResultId::MachinedWidth);
        all.extend(band.done("to machine"));
    }
    let mut held = Facts::of(evaluation);
    held.say(
        "zero",
        "x is 0 at mid width; make a zero mark on one face and keep it through all work: repeats begin there, and it shows which way round the parts go together (common practice, no source)",
    );
    for (label, id) in [
        ("left on the bore", FieldId::FinishBore),
        ("left outside", FieldId::FinishOutside),
        ("left on each face", FieldId::FinishFaces),
    ] {
        let left = evaluation.band.length(id).filter(|left| *left > 0.0);
        if let Some(left) = left {
            let left = held.number(left, "mm");
            held.say(label, format!("{left}, in the figures above"));
        }
    }
    all.extend(held.done("in the chuck"));
    all
}

/// The pattern on its strip.
pub(super) fn pattern(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let cut = evaluation.input.shape.cut?;
    if let Some(repeats) = evaluation.input.repeats {
        facts.say("repeats", repeats.to_string());
        let degrees = facts.number(360.0 / f64::from(repeats), "");
        facts.say("each", format!("{degrees}\u{B0} of the spindle"));
    }
    facts.result("pitch", ResultId::StripPitch);
    facts.result("strip", ResultId::StripLength);
    facts.result("its height", ResultId::StripHeight);
    let depth = facts.number(cut.depth, "mm");
    facts.say("depth", format!("{depth} at the deepest, radial"));
    if cut.mean_depth != cut.depth {
        let mean = facts.number(cut.mean_depth, "mm");
        facts.say("mean depth", mean);
    }
    let cover = facts.number(cut.cover * 100.0, "%");
    facts.say("cover", cover);
    facts.cuts();
    facts.say(
        "cut",
        match evaluation.input.stretch.cut_before {
            true => "before the stretch",
            false => "after the stretch",
        },
    );
    facts.done("pattern")
}

/// The stages, how to open, the pins.
pub(super) fn enlarger(evaluation: &Evaluation) -> Vec<SheetBlock> {
    let (stretch, given) = (evaluation.stretch(), &evaluation.input.stretch);
    let mut all = Vec::new();
    if let Some(joined) = &stretch.hollow {
        let turns = joined.window.is_some_and(|window| window > 0.0);
        let stages = [
            ("catching", joined.catching),
            ("turning", joined.turning.filter(|_| turns)),
            ("done", given.turning.then_some(joined.finished)),
            ("seated", joined.seated.filter(|_| !given.turning)),
            (
                if given.past.is_some() {
                    "past touch"
                } else {
                    "past touch, aim"
                },
                joined.fixed.filter(|_| !given.turning),
            ),
        ];
        let rows = stages.iter().filter_map(|(name, at)| {
            let at = at.as_ref()?;
            Some(row(name, at, joined.start))
        });
        all.push(SheetBlock::Table(
            "at the enlarger: \u{D8}, mm".to_owned(),
            vec!["stage", "mandrel", "released", "opened", ""],
            rows.collect(),
        ));
        let mut facts = Facts::of(evaluation);
        facts.say(
            "how to open",
            how_to_open(joined.finished.bore - joined.start),
        );
        facts.say("pins", pins_of_hollow(evaluation, joined));
        all.extend(facts.done("pulls and pins"));
    } else if let Some(small) = stretch.solid.as_ref().filter(|_| given.start.is_some()) {
        let mut facts = Facts::of(evaluation);
        let done = 2.0 * evaluation.input.shape.radius;
        if let Some(mandrel) = small.mandrel {
            let mandrel = facts.number(mandrel, "mm");
            facts.say("mandrel", format!("\u{D8} {mandrel} under load"));
        }
        facts.result("stretch of the bore", ResultId::StretchStrain);
        facts.say("how to open", how_to_open(done - small.start));
        facts.say("pins", pins_of_solid(done));
        all.extend(facts.done("at the enlarger"));
    }
    all
}

fn row(name: &str, at: &Boundary, start: f64) -> Vec<String> {
    let number = |value: f64| shown(Number::Computed(value), 3, Digits::Useful).text;
    let mandrel = at.mandrel.map_or_else(|| "not known".to_owned(), number);
    vec![
        name.to_owned(),
        mandrel,
        number(at.bore),
        number(at.bore - start),
        String::new(),
    ]
}
