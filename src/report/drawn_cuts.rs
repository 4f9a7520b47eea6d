//! Drawn cuts in a report: the repeats, each cut in a line, what they cover, and how long they take.

use crate::evaluate::{self, Evaluation};
use crate::kernel::pattern::Way;
use crate::model::{BandCut, check};
use crate::quantity::Number;
use crate::schema::{BlockId, FieldId, ResultId};

use super::page::Page;

/// The rows of a pattern with drawn cuts.
pub(super) fn rows(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    let drawn = evaluation.input.drawn.as_ref();
    let Some(on_band) = drawn.and_then(|drawn| drawn.worked.as_ref()) else {
        return;
    };
    let pitch = page.result(evaluation, ResultId::PatternPitch);
    let angle = page.result(evaluation, ResultId::PatternAngle);
    let mut repeats = format!("{} of {pitch}, {angle} each", on_band.repeats);
    if let Some(stretch) = evaluation.number(ResultId::PatternStretch) {
        let stretch = stretch.to_f64() * 100.0;
        let way = if stretch < 0.0 { "shorter" } else { "longer" };
        let share = page.number(Number::Computed(stretch.abs()), "%");
        repeats.push_str(&format!("; {share} {way} than the motif asked for"));
    }
    page.row("repeats", &repeats);
    for (place, cut) in band.cuts.iter().enumerate() {
        let label = if place == 0 { "cuts" } else { "" };
        let way = on_band.worked.figures.ways.get(place);
        let line = line(page, evaluation, cut, way);
        page.row(label, &line);
    }
    let share = |id| {
        evaluation
            .number(id)
            .map_or(0.0, |share| share.to_f64() * 100.0)
    };
    let cover = page.number(Number::Computed(share(ResultId::PatternCover)), "%");
    let mean = page.result(evaluation, ResultId::PatternMeanDepth);
    let deepest = page.result(evaluation, ResultId::PatternDeepest);
    page.row(
        "cover",
        &format!("{cover} of the strip, {mean} deep on average, {deepest} at most"),
    );
    let length = page.result(evaluation, ResultId::PatternGrooveLength);
    let plunges = page.result(evaluation, ResultId::PatternPlunges);
    page.row("grooves", &format!("{length} in all, {plunges} plunges"));
    let mut time = time(page, evaluation);
    if evaluation.band.terms.is_some() {
        let known = evaluation.number(ResultId::PatternTime).is_some();
        time.push_str(match known {
            true => "; in the cost as machine time",
            false => "; not in the cost",
        });
    }
    page.row("cutting time", &time);
}

/// What the lathe needs of drawn cuts: each cutter with its form and speeds, each cut, how long they take; with labels.
pub(super) fn at_the_lathe(page: &mut Page, evaluation: &Evaluation) -> Vec<(String, String)> {
    let band = &evaluation.band;
    let drawn = evaluation.input.drawn.as_ref();
    let Some(on_band) = drawn.and_then(|drawn| drawn.worked.as_ref()) else {
        return Vec::new();
    };
    let cutters = band.cutters().into_iter().map(|cutter| {
        let values = cutter.values.iter().filter(|value| value.at.is_some());
        let said = values.map(|one| format!(", {} {}", one.field.word(), check::shown(&one.value)));
        let text = format!("{}: {}", cutter.name, cutter.kind.word());
        ("cutter".to_owned(), text + &said.collect::<String>())
    });
    let mut all: Vec<(String, String)> = cutters.collect();
    for (place, cut) in band.cuts.iter().enumerate() {
        let way = on_band.worked.figures.ways.get(place);
        all.push((cut.called(), details(page, evaluation, cut, way).join(", ")));
    }
    all.push(("cutting time".to_owned(), time(page, evaluation)));
    all
}

/// The pattern on a card: the repeats, how far the tools go, how long they take.
pub(super) fn in_short(page: &mut Page, evaluation: &Evaluation) {
    let drawn = evaluation.input.drawn.as_ref();
    let Some(on_band) = drawn.and_then(|drawn| drawn.worked.as_ref()) else {
        return;
    };
    let mut said = vec![format!("{} repeats", on_band.repeats)];
    if on_band.worked.figures.groove_length > 0.0 {
        let length = page.result(evaluation, ResultId::PatternGrooveLength);
        said.push(format!("grooves {length}"));
    }
    said.push(match evaluation.number(ResultId::PatternTime) {
        Some(_) => format!("cutting {}", page.result(evaluation, ResultId::PatternTime)),
        None => format!("cutting time {}", time(page, evaluation)),
    });
    page.card_row("pattern", &said.join("; "));
}

/// One cut: what it is called, with what it is cut, and how deep.
fn line(page: &mut Page, evaluation: &Evaluation, cut: &BandCut, way: Option<&Way>) -> String {
    let mut all = vec![cut.called()];
    all.extend(details(page, evaluation, cut, way));
    all.join(", ")
}

/// The same without what it is called.
fn details(
    page: &mut Page,
    evaluation: &Evaluation,
    cut: &BandCut,
    way: Option<&Way>,
) -> Vec<String> {
    let band = &evaluation.band;
    let mut all: Vec<String> = Vec::new();
    all.extend(cut.cutter.as_ref().map(|cutter| cutter.name.clone()));
    if let Some(depth) = cut.depth(&band.fields) {
        let ramp = cut.ramp(&band.fields);
        let ramp = ramp.map_or_else(String::new, |ramp| {
            format!(" to {}", check::shown(&ramp.value))
        });
        all.push(format!("{} deep{ramp}", check::shown(&depth.value)));
    }
    if let Some(way) = way.filter(|way| way.length > 0.0) {
        let length = page.number(Number::Computed(way.length), "mm");
        all.push(format!("{length} long in all"));
    }
    all
}

/// How long it takes, or what is not stated that would say it.
fn time(page: &mut Page, evaluation: &Evaluation) -> String {
    let computed = evaluate::minutes(&evaluation.band, &evaluation.input);
    let computed = match computed {
        Some(Ok(minutes)) => format!(
            "{} by feed and plunge, set-up not counted",
            page.number(Number::Computed(minutes), "min")
        ),
        Some(Err(missing)) => {
            let cut = evaluation.band.cuts.get(missing.cut);
            let cutter = cut.and_then(|cut| cut.cutter.as_ref());
            let what = match cutter {
                Some(cutter) if missing.field.row().block == BlockId::Cutter => {
                    format!("`{}`", cutter.name)
                }
                _ => format!("`{}`", cut.map_or_else(String::new, BandCut::called)),
            };
            format!("not known: {what} states no `{}`", missing.field.word())
        }
        None => String::new(),
    };
    match evaluation.band.field(FieldId::PatternMinutes) {
        Some(stated) => format!("{} as stated; {computed}", check::shown(&stated.value)),
        None => computed,
    }
}
