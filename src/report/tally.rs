//! A batch of readings: figures, and a control chart line by line; text and JSON.

use serde_json::{Value as Json, json};

use crate::evaluate::Tallied;

use super::page::{TextLayout, wrapped};

/// What a batch is held against.
#[derive(Clone, Copy, Debug)]
pub struct HeldAgainst {
    /// The least and the most that a reading may be, g.
    pub limits: (f64, f64),
    /// Whether they are those of the recipe rather than of the call.
    pub of_recipe: bool,
    /// What the recipe gives as written, g.
    pub nominal: f64,
}

/// Cells of the chart at least and at most, and the columns beside it: the line, the reading, and what is beyond.
const CELLS: (usize, usize) = (9, 121);
const BESIDE: usize = 29;

/// Readings of a band, each with the line of its file.
#[must_use]
pub fn tally(
    band: &str,
    lines: &[u64],
    of: &Tallied,
    wanted: &HeldAgainst,
    layout: TextLayout,
) -> String {
    let grams = |value: f64| format!("{value:.3} g");
    let mut text = format!("{band}: {} readings\n\n", of.readings.len());
    let mut row = |label: &str, said: String| {
        for (place, line) in wrapped(&said, layout.width.clamp(34, 80) - 14)
            .into_iter()
            .enumerate()
        {
            let label = if place == 0 { label } else { "" };
            text.push_str(&format!("  {label:<12}{line}\n"));
        }
    };
    row(
        "mean",
        format!(
            "{}, {} by the recipe",
            grams(of.mean),
            grams(wanted.nominal)
        ),
    );
    row("deviation", grams(of.deviation));
    row(
        "steady",
        format!(
            "{} to {}: mean and 2.66 times what neighbours differ by ({})",
            grams(of.lower),
            grams(of.upper),
            grams(of.moving)
        ),
    );
    let drift = match (of.drift_error, of.drifts()) {
        (None, _) => "not known of two readings".to_owned(),
        (Some(_), false) => "none that chance would not make".to_owned(),
        (Some(error), true) => format!("{:+.4} g a ring, \u{B1} {error:.4} g", of.drift),
    };
    row("drift", drift);
    if let Some(within) = of.within {
        let (least, most) = wanted.limits;
        let by = match wanted.of_recipe {
            true => "the range of the recipe",
            false => "as asked",
        };
        let count = of.readings.len();
        row(
            "within",
            format!(
                "{within} of {count} ({:.1} %) from {} to {}, {by}",
                100.0 * within as f64 / count as f64,
                grams(least),
                grams(most)
            ),
        );
    }
    let place = |at: &usize| lines.get(*at).map_or_else(String::new, ToString::to_string);
    let listed = |all: &[usize]| all.iter().map(place).collect::<Vec<_>>().join(", ");
    if !of.outliers.is_empty() {
        row("outliers", format!("line {}", listed(&of.outliers)));
    }
    if !of.runs.is_empty() {
        let said = format!(
            "eight on one side of the mean, up to line {}",
            listed(&of.runs)
        );
        row("runs", said);
    }
    text.push('\n');
    text.push_str(&chart(lines, of, layout.width));
    text
}

fn chart(lines: &[u64], of: &Tallied, width: usize) -> String {
    let cells = width.saturating_sub(BESIDE).clamp(CELLS.0, CELLS.1);
    let all = || of.readings.iter().copied().chain([of.lower, of.upper]);
    let (least, most) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    let span = (most - least).max(1e-9);
    let cell = |value: f64| ((value - least) / span * (cells - 1) as f64).round() as usize;
    let (lower, mean, upper) = (cell(of.lower), cell(of.mean), cell(of.upper));
    let mut text = String::new();
    for (place, reading) in of.readings.iter().enumerate() {
        let at = cell(*reading);
        let marks = (0..cells).map(|one| match one {
            one if one == at => '\u{25CF}',
            one if one == mean => '\u{2502}',
            one if one == lower || one == upper => '\u{250A}',
            _ => ' ',
        });
        let marks: String = marks.collect();
        let out = if of.outliers.contains(&place) {
            " beyond"
        } else {
            ""
        };
        let line = lines.get(place).copied().unwrap_or_default();
        let row = format!("  {line:>5}  {reading:>9.3} g  {marks}{out}");
        text.push_str(row.trim_end());
        text.push('\n');
    }
    text.push('\n');
    let key = "\u{25CF} reading  \u{2502} mean  \u{250A} what a steady process keeps within";
    for line in wrapped(key, width.clamp(20, 80) - 2) {
        text.push_str(&format!("  {line}\n"));
    }
    text
}

/// The same for machine output.
#[must_use]
pub fn tally_json(band: &str, lines: &[u64], of: &Tallied, wanted: &HeldAgainst) -> Json {
    let place = |at: &usize| lines.get(*at).copied();
    let places = |all: &[usize]| all.iter().filter_map(place).collect::<Vec<u64>>();
    let readings = lines.iter().zip(&of.readings);
    json!({
        "band": band,
        "readings": readings.map(|(line, grams)| json!({ "line": line, "grams": grams })).collect::<Vec<_>>(),
        "expected": wanted.nominal,
        "least": wanted.limits.0,
        "most": wanted.limits.1,
        "within": of.within,
        "mean": of.mean,
        "deviation": of.deviation,
        "moving-range": of.moving,
        "lower": of.lower,
        "upper": of.upper,
        "drift": of.drift,
        "drift-error": of.drift_error,
        "drifts": of.drifts(),
        "outliers": places(&of.outliers),
        "runs": places(&of.runs),
    })
}
