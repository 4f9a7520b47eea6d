//! What a job sheet says, in the order of the work.

use crate::evaluate::{Evaluation, WHO_DECIDES};
use crate::explore::{ContourOf, contours};
use crate::kernel::lathe::{Contour, ContourPoint, LatheState, Part, SurfaceId};
use crate::quantity::Number;
use crate::report::number::{Digits, shown};
use crate::schema::{FieldId, ResultId};
use crate::words;

use super::facts::{Facts, SheetBlock};
use super::of::SheetOf;
use super::{metal, work};

/// Every block of a sheet.
pub(super) fn blocks(of: &SheetOf<'_>) -> Vec<SheetBlock> {
    let evaluation = of.evaluation;
    let mut all = Vec::new();
    all.extend(job(of));
    all.push(short(of));
    all.extend(metal::stock(evaluation));
    all.extend(work::parts(evaluation));
    all.extend(arcs(evaluation));
    all.extend(work::pattern(evaluation));
    all.extend(work::enlarger(evaluation));
    all.extend(metal::weights(evaluation));
    all.extend(walls(evaluation));
    all.extend(metal::marking(evaluation));
    all.extend(metal::minutes(evaluation));
    if of.price {
        all.push(metal::price(evaluation));
    }
    all.extend(contour_tables(evaluation));
    all.push(care(evaluation));
    all
}

fn job(of: &SheetOf<'_>) -> Option<SheetBlock> {
    let mut facts = Facts::of(of.evaluation);
    for (label, text) in &of.job {
        facts.say(label, text.clone());
    }
    let band = &of.evaluation.band;
    if let Some(size) = band.inside().size {
        facts.say("size", size.to_string());
    }
    facts.diameter("inside", ResultId::Bore);
    facts.result("circumference", ResultId::SizeCircumference);
    facts.diameter("outside", ResultId::Outside);
    if let Some(width) = band.length(FieldId::Width) {
        let width = facts.number(width, "mm");
        facts.say("width", width);
    }
    let build = match &band.hollow {
        Some(_) => "hollow, in two parts",
        None => "solid",
    };
    facts.say("build", format!("{build}, {} outside", band.profile.word()));
    for (label, id) in [
        ("wide band", FieldId::AllowWide),
        ("comfort bore", FieldId::AllowComfort),
    ] {
        let steps = band.fields.number(id).filter(|steps| *steps != 0.0);
        if let Some(steps) = steps {
            let steps = facts.number(steps, "");
            facts.say(label, format!("{steps} steps of the size are for it"));
        }
    }
    facts.done("the ring")
}

fn short(of: &SheetOf<'_>) -> SheetBlock {
    let heading = "falls short".to_owned();
    match of.short.is_empty() {
        true => SheetBlock::Words(heading, vec!["nothing that was judged".to_owned()]),
        false => SheetBlock::Words(heading, of.short.clone()),
    }
}

fn arcs(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let all = [
        (
            "outside",
            ResultId::MachinedCurveDomeRadius,
            ResultId::MachinedCurveDomeCentre,
        ),
        (
            "channel's roof",
            ResultId::MachinedCurveRoofRadius,
            ResultId::MachinedCurveRoofCentre,
        ),
        (
            "comfort bore",
            ResultId::MachinedCurveComfortRadius,
            ResultId::MachinedCurveComfortCentre,
        ),
    ];
    for (label, radius, centre) in all {
        if let Some((radius, centre)) = facts.text(radius).zip(facts.text(centre)) {
            facts.say(label, format!("R {radius}, centre {centre} from the axis"));
        }
    }
    facts.diameter(
        "channel at its walls",
        ResultId::MachinedShellChannelAtWalls,
    );
    facts.diameter("outside at the faces", ResultId::MachinedShellEdgeOutside);
    facts.diameter("outside at the faces", ResultId::MachinedEdgeOutside);
    facts.diameter("bore at the faces", ResultId::MachinedEdgeBore);
    let shape = &evaluation.input.shape;
    if let Some(hollow) = shape.hollow.filter(|hollow| hollow.nose > 0.0) {
        let nose = facts.number(hollow.nose, "mm");
        facts.say("channel's corners", format!("R {nose}"));
    }
    if shape.ease_outer > 0.0 || shape.ease_bore > 0.0 {
        let (outer, bore) = (
            facts.number(shape.ease_outer, "mm"),
            facts.number(shape.ease_bore, "mm"),
        );
        facts.say(
            "broken edges",
            format!("{outer} outside, {bore} in the bore, both legs"),
        );
    }
    facts.done("arcs and corners, as machined; before edges are broken")
}

/// Places along the axis that a sheet has room for.
const PLACES: f64 = 6.0;

fn contour_tables(evaluation: &Evaluation) -> Vec<SheetBlock> {
    let width = evaluation.input.shape.width;
    // Whole twentieths of a millimetre.
    let step = ((width / PLACES) * 20.0).ceil() / 20.0;
    let of = ContourOf {
        part: None,
        state: LatheState::Machined,
        step,
        nose: None,
    };
    let found = contours(evaluation, of);
    let each = found.parts.iter();
    each.flat_map(|(part, paths)| paths.iter().map(move |path| (*part, path)))
        .map(|(part, path)| contour(part, path, step))
        .collect()
}

fn contour(part: Part, path: &Contour, step: f64) -> SheetBlock {
    let surface = match path.surface {
        SurfaceId::Outside => "outside",
        SurfaceId::Bore => "bore",
        SurfaceId::Channel => "channel",
    };
    let word = match part {
        Part::Band => "band",
        Part::Shell => "shell",
        Part::Sleeve => "sleeve",
    };
    let number = |value: f64| shown(Number::Computed(value), 4, Digits::Useful).text;
    let kept = path
        .rows
        .iter()
        .enumerate()
        .filter(|(place, _)| keeps(&path.rows, *place, step));
    let cells: Vec<String> = kept
        .flat_map(|(_, row)| [number(row.x), number(row.diameter)])
        .collect();
    // Three points stand beside each other.
    let rows = cells.chunks(6).map(|row| {
        let mut row = row.to_vec();
        row.resize(6, " ".to_owned());
        row
    });
    let step = number(step);
    SheetBlock::Table(
        format!("{word}, {surface}: every {step} mm and corners; `annulet contour` has all"),
        vec!["x", "\u{D8}", "x", "\u{D8}", "x", "\u{D8}"],
        rows.collect(),
    )
}

/// Whether a point is an end, a corner, or at a whole step.
fn keeps(rows: &[ContourPoint], place: usize, step: f64) -> bool {
    let before = place.checked_sub(1).and_then(|place| rows.get(place));
    let (Some(before), Some(here), Some(next)) = (before, rows.get(place), rows.get(place + 1))
    else {
        return true;
    };
    let steps = here.x / step;
    if (steps - libm::round(steps)).abs() < 1e-6 {
        return true;
    }
    let way = |one: &ContourPoint, two: &ContourPoint| {
        libm::atan2((two.diameter - one.diameter) / 2.0, two.x - one.x)
    };
    // A tenth of a right angle.
    (way(before, here) - way(here, next)).abs() > 0.157
}

fn walls(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    for (wall, worst) in evaluation.walls() {
        let thickness = facts.number((wall.thickness * 1e9).round() / 1e9, "mm");
        let off = match worst > 0.0 {
            true => format!(", {} less at worst", facts.number(worst, "mm")),
            false => String::new(),
        };
        facts.say(words::wall(wall.id), format!("{thickness}{off}"));
    }
    let least = evaluation.band.written(FieldId::LimitWall);
    facts.say("least wall", format!("{least} mm wanted"));
    facts.done("walls")
}

fn care(evaluation: &Evaluation) -> SheetBlock {
    let due = evaluation.cautions.iter();
    let texts = due.map(|one| one.text.to_owned());
    let texts = texts.filter(|text| text != WHO_DECIDES.text);
    let all = texts.chain([WHO_DECIDES.text.to_owned()]).collect();
    SheetBlock::Words("take care".to_owned(), all)
}
