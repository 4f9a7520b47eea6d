//! How sure figures are: ranges, rings drawn, what the spread comes from as bars, limits at their worst; text and JSON.

use serde_json::{Value as Json, json};

use crate::evaluate::{Keeping, Range, RangeBy, Sure, SureBand, SureFigure, SureRequirement};
use crate::model::{MIXING_ERROR, Ranged, Value, check};
use crate::quantity::{Dimension, Number, Quantity, from_f64};
use crate::schema::ResultId;
use crate::source::{Sources, Span};
use crate::words;

use super::number::{Digits, places, shown, shown_in};
use super::page::{TextLayout, wrapped};
use super::table::{row, table};

/// Results that a page shows; machine output has all.
const SHOWN: [ResultId; 22] = [
    ResultId::Weight,
    ResultId::ShellWeight,
    ResultId::SleeveWeight,
    ResultId::WeightIssued,
    ResultId::Saving,
    ResultId::Bore,
    ResultId::Outside,
    ResultId::WallLeast,
    ResultId::WallUnderCut,
    ResultId::StretchMandrel,
    ResultId::StretchTouchMandrel,
    ResultId::StretchSeatedMandrel,
    ResultId::StretchTurningMandrel,
    ResultId::StretchFixedMandrel,
    ResultId::StretchFinishedBore,
    ResultId::StretchOverlap,
    ResultId::StretchStrain,
    ResultId::GripPressure,
    ResultId::StrengthLoad,
    ResultId::TimeMachine,
    ResultId::Cost,
    ResultId::Price,
];

/// Results of which it is told what their spread comes from.
const EXPLAINED: [ResultId; 7] = [
    ResultId::Weight,
    ResultId::WallLeast,
    ResultId::StretchMandrel,
    ResultId::StretchTurningMandrel,
    ResultId::StretchFixedMandrel,
    ResultId::StretchOverlap,
    ResultId::Price,
];

/// Cells of the longest bar.
const BAR: usize = 30;

/// Inputs that a bar is drawn of, for each result.
const BARS: usize = 6;

/// How sure a recipe's figures are, as text.
#[must_use]
pub fn sure(sure: &Sure, unit: &dyn Fn(&str, ResultId) -> String, layout: TextLayout) -> String {
    let mut text = String::new();
    for band in &sure.bands {
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(&of_band(band, &|id| unit(&band.band, id), layout));
    }
    if !sure.bands.is_empty() && !sure.requirements.is_empty() {
        text.push_str("\n  what is required, at its worst\n");
        for one in &sure.requirements {
            text.push_str(&required(one));
        }
    }
    if sure.bands.is_empty() {
        text.push_str(
            "nothing may be off: no `\u{B1}` is written, and the shop states no tolerance\n",
        );
    } else {
        text.push_str(&how(sure));
    }
    text
}

fn of_band(band: &SureBand, unit: &dyn Fn(ResultId) -> String, layout: TextLayout) -> String {
    let digits = layout.digits;
    let mut text = format!("{}\n\n  what may be off\n", band.band);
    let inputs = band.inputs.iter().map(|one| {
        let by = match one.tolerance {
            Some(tolerance) => format!("by `{}`", tolerance.path()),
            None => String::new(),
        };
        vec![own(&band.band, &one.path).to_owned(), amount(one), by]
    });
    text.push_str(&table(&inputs.collect::<Vec<_>>(), 4, layout.width));
    text.push_str("\n  what follows\n");
    let mut rows = vec![row(["", "as written", "from", "to", "deviation"])];
    let mut left = 0;
    for figure in &band.figures {
        if !SHOWN.contains(&figure.id) {
            left += 1;
            continue;
        }
        rows.push(figure_row(figure, &unit(figure.id), digits));
    }
    text.push_str(&table(&rows, 4, layout.width));
    if left > 0 {
        text.push_str(&format!("    and {left} more results with `--json`\n"));
    }
    for figure in &band.figures {
        if EXPLAINED.contains(&figure.id) {
            text.push_str(&bars(band, figure, layout));
        }
    }
    if !band.walls.is_empty() || !band.limits.is_empty() {
        text.push_str("\n  limits, at their worst\n");
    }
    let mut rows = Vec::new();
    for wall in &band.walls {
        let number = |value: f64| shown(Number::Computed(value), 3, digits).text;
        let worst = wall.range.low;
        let holds = worst >= wall.limit - 1e-9;
        rows.push(vec![
            words::wall(wall.id).to_owned(),
            format!("{} mm, {} wanted", number(worst), number(wall.limit)),
            keeping(wall.kept, holds, wall.range.way),
        ]);
    }
    for (code, field, kept) in &band.limits {
        let what = format!("`{code}` at `{}`", field.path());
        rows.push(vec![
            what,
            String::new(),
            keeping(*kept, false, RangeBy::Search),
        ]);
    }
    text.push_str(&table(&rows, 4, layout.width));
    for alloy in &band.derived {
        let said = format!(
            "the density of {alloy} is derived by ideal mixing, which may be off by about {} %; no figure here counts that",
            MIXING_ERROR * 100.0
        );
        for line in wrapped(&said, 72) {
            text.push_str(&format!("    {line}\n"));
        }
    }
    text
}

/// A path without the name of the band that is told of.
fn own<'a>(band: &str, path: &'a str) -> &'a str {
    let rest = path
        .strip_prefix(band)
        .and_then(|rest| rest.strip_prefix('.'));
    rest.unwrap_or(path)
}

/// `0.55 mm ± 0.02 mm`.
fn amount(one: &Ranged) -> String {
    let shown = |value: f64| {
        let number = from_f64((value * 1e12).round() / 1e12).map_or(Number::ZERO, Number::Exact);
        let quantity = Quantity::new(number, one.dimension);
        let (number, unit) = check::in_unit(&quantity, one.unit.as_deref());
        let text = shown(number, places(&unit).max(3), Digits::Useful).text;
        match unit.as_str() {
            "" => text,
            unit => format!("{text} {unit}"),
        }
    };
    format!("{} \u{B1} {}", shown(one.nominal), shown(one.amount.abs()))
}

fn figure_row(figure: &SureFigure, unit: &str, digits: Digits) -> Vec<String> {
    let range = &figure.range;
    let number = |value: f64| {
        // A part of the whole reads best in per cent.
        if unit.is_empty() && figure.id.row().dimension == Dimension::NONE {
            let shown = shown(Number::Computed(value * 100.0), 2, digits).text;
            return format!("{shown} %");
        }
        let shown = shown_in(Number::Computed(value), unit, digits).text;
        match unit {
            "" => shown,
            unit => format!("{shown} {unit}"),
        }
    };
    let mark = match (range.gaps, range.way) {
        (true, _) => " (not everywhere)",
        (false, RangeBy::Search) => " (found)",
        (false, RangeBy::Sum | RangeBy::Corners) => "",
    };
    vec![
        figure.id.path().to_owned(),
        number(range.nominal),
        number(range.low),
        format!("{}{mark}", number(range.high)),
        number(figure.drawn.1),
    ]
}

/// What the spread of a result comes from: parts of its variance as bars.
fn bars(band: &SureBand, figure: &SureFigure, layout: TextLayout) -> String {
    let parts = figure.range.parts();
    let most = parts.first().map_or(0.0, |(_, part)| *part);
    if most <= 0.0 {
        return String::new();
    }
    let mut rows = Vec::new();
    for (variable, part) in parts.iter().take(BARS).filter(|(_, part)| *part >= 0.001) {
        let input = band.inputs.iter().find(|one| one.variable == *variable);
        let path = input.map_or("", |one| own(&band.band, &one.path));
        let cells = (part / most * BAR as f64).round().max(1.0) as usize;
        rows.push(vec![
            path.to_owned(),
            format!("{:>5.1} %", part * 100.0),
            "\u{2588}".repeat(cells),
        ]);
    }
    let path = figure.id.path();
    format!(
        "\n  what the spread of {path} comes from\n{}",
        table(&rows, 4, layout.width)
    )
}

/// `holds everywhere`, `fails at worst; 97.6 % of drawn rings keep it`.
fn keeping(kept: Keeping, holds: bool, way: RangeBy) -> String {
    match kept.part() {
        _ if holds && way == RangeBy::Search => "holds at the worst found".to_owned(),
        _ if holds => "holds everywhere".to_owned(),
        Some(_) if kept.kept == kept.of => {
            format!("fails at worst; all {} drawn rings keep it", kept.of)
        }
        Some(part) => format!(
            "fails at worst; {:.1} % of drawn rings keep it",
            part * 100.0
        ),
        None => "fails at worst".to_owned(),
    }
}

fn required(one: &SureRequirement) -> String {
    let judged = match (one.holds, &one.spare) {
        (None, _) => "it cannot be decided".to_owned(),
        (Some(true), None) => "holds; nothing that it compares may be off".to_owned(),
        (Some(false), None) => "does not hold; nothing that it compares may be off".to_owned(),
        (Some(holds), Some(spare)) => keeping(one.kept, holds, spare.way),
    };
    let mut text = String::new();
    for line in wrapped(&format!("{}: {judged}", one.what), 74) {
        text.push_str(&format!("    {line}\n"));
    }
    if let (Some(false), false) = (one.holds, one.at_worst.is_empty()) {
        let said = format!("worst where {}", one.at_worst.join(", "));
        for line in wrapped(&said, 72) {
            text.push_str(&format!("      {line}\n"));
        }
    }
    text
}

/// How the figures were found.
fn how(sure: &Sure) -> String {
    let said = [
        "From and to are the widest range found over all that may be off together: a sum where a figure is one, else every \
         corner of up to five things that move it, and what lies between. Of more it is searched, one thing after the \
         other, and marked `(found)`: no wider one was, which is no proof."
            .to_owned(),
        format!(
            "Deviations and shares of rings are those of {} rings drawn with every place of a range as likely as another, \
             the same in every run. What a spread comes from is to first order.",
            sure.draws
        ),
    ];
    let mut text = String::from("\n");
    for paragraph in said {
        for line in wrapped(&paragraph, 76) {
            text.push_str(&format!("  {line}\n"));
        }
    }
    text
}

/// How sure a recipe's figures are, for machine output.
#[must_use]
pub fn sure_json(sure: &Sure, unit: &dyn Fn(&str, ResultId) -> String, sources: &Sources) -> Json {
    let bands = sure.bands.iter().map(|band| {
        let place = |span: Span| sources.locate(span);
        let inputs = band.inputs.iter().map(|one| {
            json!({
                "path": one.path,
                "place": place(one.variable),
                "tolerance": one.tolerance.map(|id| id.path()),
                "display": amount(one),
            })
        });
        let figures = band.figures.iter().map(|figure| {
            let range = &figure.range;
            let parts = range.parts().into_iter().map(|(variable, part)| {
                let input = band.inputs.iter().find(|one| one.variable == variable);
                json!({ "path": input.map(|one| one.path.as_str()), "part": part })
            });
            json!({
                "path": format!("{}.{}", band.band, figure.id.path()),
                "unit": unit(&band.band, figure.id),
                "value": range.nominal,
                "low": range.low,
                "high": range.high,
                "range-by": range.way.word(),
                "everywhere": !range.gaps,
                "lowest": stands(band, &range.lowest),
                "highest": stands(band, &range.highest),
                "deviation": figure.drawn.1,
                "first-order": range.spread().deviation,
                "mean": figure.drawn.0,
                "from": parts.collect::<Vec<_>>(),
            })
        });
        let walls = band.walls.iter().map(|wall| {
            json!({
                "wall": words::wall_word(wall.id),
                "value": wall.range.nominal,
                "low": wall.range.low,
                "limit": wall.limit,
                "holds": wall.range.low >= wall.limit - 1e-9,
                "kept": wall.kept.part(),
            })
        });
        let limits = band.limits.iter().map(|(code, field, kept)| {
            json!({ "code": code, "field": field.path(), "kept": kept.part() })
        });
        json!({
            "band": band.band,
            "inputs": inputs.collect::<Vec<_>>(),
            "figures": figures.collect::<Vec<_>>(),
            "walls": walls.collect::<Vec<_>>(),
            "limits": limits.collect::<Vec<_>>(),
            "derived-density": band.derived,
        })
    });
    let requirements = sure.requirements.iter().map(|one| {
        let spare = |read: fn(&Range) -> f64| one.spare.as_ref().map(read);
        json!({
            "what": one.what,
            "holds": one.holds,
            "spare": spare(|range| range.nominal),
            "spare-low": spare(|range| range.low),
            "kept": one.kept.part(),
            "worst": one.at_worst,
        })
    });
    json!({
        "draws": sure.draws,
        "bands": bands.collect::<Vec<_>>(),
        "requirements": requirements.collect::<Vec<_>>(),
    })
}

fn stands(band: &SureBand, point: &[(Span, f64)]) -> Vec<Json> {
    let found = point.iter().filter_map(|(variable, t)| {
        let input = band.inputs.iter().find(|one| one.variable == *variable)?;
        let quantity = Quantity::new(
            Number::Computed(input.nominal + t * input.amount),
            input.dimension,
        );
        let unit = input.unit.clone();
        let display = check::shown(&Value::Quantity { quantity, unit });
        Some(json!({ "path": input.path, "at": t, "display": display }))
    });
    found.collect()
}
