//! The report of a band as text: what it is, its sizes, dimensions, weights, limits and cautions.

use rust_decimal::Decimal;

use crate::catalogue;
use crate::evaluate::{Evaluation, Verdict};
use crate::kernel::WallId;
use crate::kernel::join::early;
use crate::model::{Alloy, AlloyDensity, Build, Caught, Roof, Value, check};
use crate::quantity::{Number, RingSize};
use crate::schema::{FieldId, ResultId};
use crate::source::printable;
use crate::words;

use super::drawn_cuts;
use super::drawn_section::drawing;
use super::money;
use super::number::{Digits, shown, signed};
use super::page::{Page, TextLayout};
use super::part::ReportPart;

/// The full report of one band, but for what to take care of.
pub(super) fn report(evaluation: &Evaluation, layout: TextLayout) -> String {
    written(evaluation, layout).text
}

/// One part of the report, under the band's name; empty where the band has nothing of it.
pub(super) fn part(evaluation: &Evaluation, part: ReportPart, layout: TextLayout) -> String {
    let text = written(evaluation, layout).text_of(part);
    if text.is_empty() {
        return text;
    }
    format!("{}\n{text}", title(evaluation))
}

fn written(evaluation: &Evaluation, layout: TextLayout) -> Page {
    let mut page = Page::new(layout);
    head(&mut page, evaluation);
    page.part(ReportPart::Made);
    super::stretch_made::first_lines(&mut page, evaluation);
    super::stretch_made::made(&mut page, evaluation);
    super::stretch_made::blank(&mut page, evaluation);
    page.part(ReportPart::Dimensions);
    page.line("");
    drawing(&mut page, evaluation, (4, 48, 24));
    page.part(ReportPart::Size);
    sizes(&mut page, evaluation);
    page.part(ReportPart::Dimensions);
    dimensions(&mut page, evaluation);
    page.part(ReportPart::Parts);
    if let Some(hollow) = &evaluation.band.hollow {
        parts(&mut page, evaluation, hollow);
    }
    page.part(ReportPart::Weights);
    weights(&mut page, evaluation);
    super::weighed::section(&mut page, evaluation);
    page.part(ReportPart::Money);
    money::account(&mut page, evaluation);
    page.part(ReportPart::Limits);
    limits(&mut page, evaluation);
    page.part(ReportPart::Fineness);
    super::fineness::section(&mut page, evaluation);
    super::stretch::sections(&mut page, evaluation);
    page
}

/// The band's name and title.
pub(super) fn title(evaluation: &Evaluation) -> String {
    let band = &evaluation.band;
    let title = band
        .title()
        .map(|title| format!("  {}", printable(title)))
        .unwrap_or_default();
    format!("{}{title}", band.name)
}

/// Build, outside and bore in words.
pub(super) fn kind(evaluation: &Evaluation) -> String {
    let band = &evaluation.band;
    let bore = if band.written(FieldId::Comfort).is_zero() {
        "cylindrical bore"
    } else {
        "comfort bore"
    };
    let build = if band.hollow.is_some() {
        "hollow band in two parts"
    } else {
        "solid band"
    };
    format!("{build}, {} outside, {bore}", band.profile.word())
}

fn head(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    page.indented_if_long(&title(evaluation));
    page.indented(2, &kind(evaluation));
    page.indented(2, &metal(&band.alloy, &band.temper));
    if let Some(hollow) = &band.hollow {
        for (part, of) in [("shell", &hollow.shell), ("sleeve", &hollow.sleeve)] {
            if of.alloy.name != band.alloy.name || of.temper != band.temper {
                page.indented(2, &format!("{part} of {}", metal(&of.alloy, &of.temper)));
            }
        }
    }
}

/// An alloy with its parts and its state.
fn metal(alloy: &Alloy, temper: &str) -> String {
    let parts: Vec<String> = alloy
        .parts
        .iter()
        .map(|(element, part)| format!("{element} {}", part.normalize()))
        .collect();
    let shadows = if alloy.shadows {
        "; the recipe's own, in place of the built-in one"
    } else {
        ""
    };
    format!("{} ({}), {temper}{shadows}", alloy.name, parts.join(", "))
}

fn sizes(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    page.heading("size");
    let bore = page.result(evaluation, ResultId::Bore);
    let circumference = page.result(evaluation, ResultId::SizeCircumference);
    let name = match &band.field(FieldId::Size).map(|field| &field.value) {
        Some(Value::Size { size, .. }) => size.to_string(),
        Some(value) => format!("\u{D8} {}", check::shown(value)),
        None => String::new(),
    };
    page.row(
        &name,
        &format!("inside \u{D8} {bore}, circumference {circumference}"),
    );
    let own = band.inside().size.map(|size| size.system.word.as_str());
    let inside = evaluation.figures.circumference;
    for word in ["ISO", "US", "UK", "JP"] {
        if own == Some(word) {
            continue;
        }
        let Some(system) = catalogue::system(word) else {
            continue;
        };
        match RingSize::nearest(system, inside) {
            Some(near) => {
                let off = crate::quantity::from_f64(inside - near.circumference().to_f64())
                    .unwrap_or_default();
                let off = if off.abs() < rust_decimal::dec!(0.005) {
                    "exactly".to_owned()
                } else {
                    format!("{} mm of circumference", signed(off, 2))
                };
                page.row("", &format!("nearest {near:<10} {off}"));
            }
            None => page.row("", &format!("outside the {word} sizes")),
        }
    }
    if let Some(text) = own.and_then(known_by) {
        page.row("", text);
    }
    let reading = if band.written(FieldId::Comfort).is_zero() {
        "flat bore: read the stick at the lower edge of the band"
    } else {
        "comfort bore: read the stick at the middle of the band"
    };
    page.row("", reading);
}

/// How well a size system is known, where it is no standard that was read.
fn known_by(word: &str) -> Option<&'static str> {
    let basis = catalogue::system_basis(word)?;
    match basis.status.as_str() {
        "read" => None,
        "from memory" => Some("sizes from memory: check on your stick"),
        _ => Some("trade convention, not a standard"),
    }
}

fn dimensions(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    page.heading("dimensions");
    let outside = page.result(evaluation, ResultId::Outside);
    page.row("outside", &format!("\u{D8} {outside}"));
    let width = field(page, evaluation, FieldId::Width);
    page.row("width", &width);
    let thickness = field(page, evaluation, FieldId::Thickness);
    let thickness = if thickness.is_empty() {
        page.number(
            Number::Exact(
                band.thickness()
                    .map_or(Decimal::ZERO, |length| length.value()),
            ),
            "mm",
        )
    } else {
        thickness
    };
    let edge = edges(evaluation);
    page.row("thickness", &format!("{thickness}{edge}"));
    if !band.written(FieldId::Comfort).is_zero() {
        let comfort = field(page, evaluation, FieldId::Comfort);
        page.row(
            "comfort",
            &format!("bore opens {comfort} to each edge, radial"),
        );
    }
    let (length, height) = (
        page.result(evaluation, ResultId::StripLength),
        page.result(evaluation, ResultId::StripHeight),
    );
    let as_cut = if early(&evaluation.input).is_some() {
        ", as cut before the stretch"
    } else {
        ""
    };
    page.row(
        "pattern strip",
        &format!("{length} long, {height} high{as_cut}"),
    );
    if band.is_drawn() {
        return drawn_cuts::rows(page, evaluation);
    }
    if band.is_cut() {
        if let Some(repeats) = band.fields.count(FieldId::PatternRepeats) {
            let pitch = page.result(evaluation, ResultId::StripPitch);
            page.row("repeats", &format!("{repeats} of {pitch}"));
        }
        let depth = band.written(FieldId::PatternDepth);
        let mean = band.written(FieldId::PatternMeanDepth);
        let mean = if mean.is_zero() || mean == depth {
            "the same depth throughout".to_owned()
        } else {
            format!("{mean} mm on average")
        };
        let cover = band.fields.decimal(FieldId::PatternCover);
        let cover = (cover.unwrap_or_default() * Decimal::ONE_HUNDRED).normalize();
        page.row(
            "cut",
            &format!("{depth} mm deep, radial, {mean}, over {cover} % of the outside"),
        );
    }
}

/// Thickness at the side faces, where it differs from that at the crown.
fn edges(evaluation: &Evaluation) -> String {
    let shape = &evaluation.input.shape;
    let outside = shape.outside_curve();
    let ends = [
        outside.first().map(|piece| piece.from.y),
        outside.last().map(|piece| piece.to.y),
    ];
    let ends: Vec<f64> = ends
        .into_iter()
        .flatten()
        .map(|y| y - shape.comfort)
        .collect();
    let mm = |value: f64| {
        shown(
            Number::Computed((value * 1e9).round() / 1e9),
            3,
            Digits::Useful,
        )
        .marked()
    };
    match ends.as_slice() {
        [left, right] if (left - right).abs() > 1e-9 => format!(
            " at the crown, {} and {} mm at the edges, radial",
            mm(*left),
            mm(*right)
        ),
        [edge, _] if (edge - shape.thickness).abs() > 1e-9 => {
            format!(" at the crown, {} mm at the edge, radial", mm(*edge))
        }
        _ => String::new(),
    }
}

/// A field as written, with its deviation.
fn field(page: &mut Page, evaluation: &Evaluation, id: FieldId) -> String {
    let Some(field) = evaluation.band.field(id) else {
        return String::new();
    };
    match &field.value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            let (number, word) = check::in_unit(quantity, unit.as_deref());
            if quantity.deviations.is_empty() {
                page.number(number, &word)
            } else {
                check::shown(&field.value)
            }
        }
        other => check::shown(other),
    }
}

/// Shell and sleeve of a hollow band, in the finished ring.
fn parts(page: &mut Page, evaluation: &Evaluation, hollow: &Build) {
    let band = &evaluation.band;
    page.heading("parts, in the finished ring");
    let wall = match hollow.roof {
        Roof::Full => "solid down to the sleeve, no cavity".to_owned(),
        Roof::Straight | Roof::Uniform => format!(
            "{} mm wall, normal to the surface",
            band.written(FieldId::HollowShell)
        ),
    };
    let roof = match hollow.roof {
        Roof::Straight => ", straight roof",
        Roof::Uniform | Roof::Full => "",
    };
    let nose = band.written(FieldId::HollowShellNose);
    let nose = if nose.is_zero() {
        String::new()
    } else {
        format!(", corners of radius {nose} mm")
    };
    page.row("shell", &format!("{wall}{roof}{nose}"));
    let (left, right) = (
        page.result(evaluation, ResultId::FootLeft),
        page.result(evaluation, ResultId::FootRight),
    );
    if hollow.roof != Roof::Full {
        let feet = if left == right {
            format!("{left} wide each")
        } else {
            format!("{left} wide left, {right} right")
        };
        page.row("feet", &feet);
    }
    let relief = band.written(FieldId::HollowSleeveRelief);
    let relief = if relief.is_zero() {
        String::new()
    } else {
        format!(", turned down to {relief} mm between the feet")
    };
    page.row(
        "sleeve",
        &format!(
            "{} mm thick at mid width, radial{relief}",
            band.written(FieldId::HollowSleeve)
        ),
    );
    let catch = match hollow.caught {
        Caught::Nowhere => {
            "nothing catches the shell: the ring can only be loose, seated or fixed".to_owned()
        }
        Caught::ByRidges => {
            let count = band.fields.count(FieldId::HollowRidgeCount).unwrap_or(2);
            let where_ = if count == 1 {
                "at mid width".to_owned()
            } else {
                format!(
                    "{} from each face",
                    page.result(evaluation, ResultId::RidgeFromFace)
                )
            };
            format!(
                "{count} ridge{} {} mm high, radial, {} mm wide, {where_}",
                if count == 1 { "" } else { "s" },
                band.written(FieldId::HollowRidge),
                band.written(FieldId::HollowRidgeWide)
            )
        }
        Caught::ByLips => format!(
            "lips {} mm inwards, radial, {} mm wide",
            band.written(FieldId::HollowLip),
            band.written(FieldId::HollowLipWide)
        ),
    };
    page.row("catch", &catch);
    if hollow.turning {
        page.row(
            "stage",
            &format!(
                "turning, \u{D8} {} mm running clearance",
                band.written(FieldId::HollowStagePlay)
            ),
        );
    }
    let cavity = page.result(evaluation, ResultId::CavityVolume);
    page.row("cavity", &cavity);
}

fn weights(page: &mut Page, evaluation: &Evaluation) {
    page.heading("weights");
    if evaluation.band.hollow.is_some() {
        for (label, id) in [
            ("shell, uncut", ResultId::ShellWeight),
            ("sleeve", ResultId::SleeveWeight),
        ] {
            let weight = page.result(evaluation, id);
            page.row(label, &weight);
        }
    }
    let finished = page.result(evaluation, ResultId::Weight);
    if evaluation.band.is_cut() {
        let uncut = page.result(evaluation, ResultId::WeightUncut);
        page.row("uncut", &uncut);
        let cut = page.result(evaluation, ResultId::WeightCut);
        page.row("cut away", &cut);
    }
    page.row("finished", &finished);
    if let Some(hollow) = &evaluation.figures.hollow {
        let solid = page.result(evaluation, ResultId::SolidWeight);
        let saving = page.number(Number::Computed(hollow.saving * 100.0), "%");
        page.row(
            "solid, same look",
            &format!("{solid}, so the hollow saves {saving}"),
        );
    }
    let density = page.result(evaluation, ResultId::Density);
    let basis = match &evaluation.band.alloy.density {
        AlloyDensity::Stated { basis, .. } => basis.clone(),
        AlloyDensity::Derived(_) => "derived by ideal mixing: weights may be off by up to about 2.5 %; state a measured density if you have one".to_owned(),
    };
    page.row("density", &density);
    page.row("", &basis);
}

fn limits(page: &mut Page, evaluation: &Evaluation) {
    page.heading("limits");
    let limit = evaluation.band.written(FieldId::LimitWall);
    let stated = evaluation
        .band
        .field(FieldId::LimitWall)
        .is_some_and(|field| field.at.is_some());
    let basis = if stated { "" } else { " (shop practice)" };
    let general = crate::quantity::to_f64(limit);
    for (wall, worst) in evaluation.walls() {
        let thickness = page.number(
            Number::Computed((wall.thickness * 1e12).round() / 1e12),
            "mm",
        );
        let off = if worst > 0.0 {
            format!(
                " \u{2212} {} mm at worst",
                shown(Number::Computed(worst), 3, Digits::Useful).text
            )
        } else {
            String::new()
        };
        let least = evaluation.input.stretch.walls.of(wall.id);
        let short = wall.thickness - worst < least - 1e-9;
        let verdict = if short { "falls short" } else { "holds" };
        // Of one place alone.
        let own = if (least - general).abs() > 1e-9 {
            format!(" of {}", page.mm(least))
        } else {
            String::new()
        };
        let even = evaluation.band.is_cut() && !evaluation.band.is_drawn();
        let name = match (wall.id, even) {
            (WallId::Band, true) => "under the cut",
            (WallId::Band, false) => "thinnest",
            (WallId::ShellUnderCut, false) if wall.cut.is_none() => "shell at its thinnest",
            (id, _) => words::wall(id),
        };
        page.hang((4, 34), name, &format!("{thickness}{off}{own}: {verdict}"));
    }
    page.hang((4, 34), "least wall", &format!("{limit} mm{basis}"));
}

/// Every requirement that could be decided, with its margin; nothing where there is none.
#[must_use]
pub fn requirements(verdicts: &[Verdict], layout: TextLayout) -> Option<String> {
    let mut page = Page::new(layout);
    for verdict in verdicts {
        // Why one cannot be decided is a finding of its own.
        let Some(holds) = verdict.holds else { continue };
        let holds = if holds { "holds" } else { "broken" };
        let margin = if verdict.margin.is_empty() {
            String::new()
        } else {
            format!(", {}", verdict.margin)
        };
        page.hang(
            (4, 0),
            "",
            &format!(
                "{holds}: {} ({}{margin})",
                printable(&verdict.what),
                printable(&verdict.found)
            ),
        );
    }
    let text = page.text;
    (!text.is_empty()).then(|| format!("requirements\n{text}"))
}
