//! The report of a band as text: what it is, its sizes, dimensions, weights, limits and cautions.

use crate::catalogue;
use crate::evaluate::{self, Evaluation, Spread, spread};
use crate::model::{AlloyDensity, Value, check};
use crate::quantity::{Number, RingSize};
use crate::source::{cells, printable};

use super::number::{Digits, places, shown, signed};

/// Lines of a report, in columns.
struct Page {
    text: String,
    digits: Digits,
    rounded: bool,
}

/// Width of the column of labels.
const LABEL: usize = 18;

impl Page {
    fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    fn heading(&mut self, text: &str) {
        self.text.push('\n');
        self.line(&format!("  {text}"));
    }

    fn row(&mut self, label: &str, text: &str) {
        let pad = LABEL.saturating_sub(cells(label));
        self.line(&format!("    {label}{:pad$}{text}", ""));
    }

    fn number(&mut self, number: Number, unit: &str) -> String {
        let shown = shown(number, places(unit), self.digits);
        self.rounded |= shown.rounded;
        let unit = if unit.is_empty() {
            String::new()
        } else {
            format!(" {unit}")
        };
        format!("{}{unit}", shown.marked())
    }

    /// A result by its path, with how far it may be off.
    fn result(&mut self, evaluation: &Evaluation, path: &str) -> String {
        let Some(entry) = evaluate::find(path) else {
            return String::new();
        };
        let Some(number) = entry.number(evaluation) else {
            return "none".to_owned();
        };
        let value = self.number(number, entry.unit);
        match spread(evaluation, entry.computed) {
            Some(spread) if spread != Spread::default() => {
                let worst = shown(
                    Number::Computed(spread.high.max(-spread.low)),
                    places(entry.unit),
                    Digits::Useful,
                );
                format!("{value} \u{B1} {} {} at worst", worst.text, entry.unit)
            }
            _ => value,
        }
    }
}

/// The report of one band.
#[must_use]
pub fn report(evaluation: &Evaluation, digits: Digits) -> String {
    let mut page = Page {
        text: String::new(),
        digits,
        rounded: false,
    };
    head(&mut page, evaluation);
    sizes(&mut page, evaluation);
    dimensions(&mut page, evaluation);
    weights(&mut page, evaluation);
    limits(&mut page, evaluation);
    if !evaluation.cautions.is_empty() {
        page.heading("take care");
        for caution in &evaluation.cautions {
            for line in wrapped(caution.text, 76) {
                page.line(&format!("    {line}"));
            }
        }
    }
    if page.rounded {
        page.line("");
        page.line("  \u{2248} rounded for reading; `--digits all` shows every digit");
    }
    page.text
}

fn head(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    let title = band
        .title
        .as_ref()
        .map(|title| format!("  {}", printable(title)))
        .unwrap_or_default();
    page.line(&format!("{}{title}", band.name));
    let bore = if band.comfort.value().is_zero() {
        "cylindrical bore"
    } else {
        "comfort bore"
    };
    page.line(&format!(
        "  solid band, {} outside, {bore}",
        band.profile.word()
    ));
    let alloy = &band.alloy;
    let parts: Vec<String> = alloy
        .parts
        .iter()
        .map(|(element, part)| format!("{element} {}", part.normalize()))
        .collect();
    page.line(&format!(
        "  {} ({}), {}",
        alloy.name,
        parts.join(", "),
        band.temper
    ));
    if alloy.shadows {
        page.line("  the recipe's own alloy stands in place of the built-in one of that name");
    }
}

fn sizes(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    page.heading("size");
    let bore = page.result(evaluation, "bore");
    let circumference = page.result(evaluation, "size.circumference");
    let name = match &band.field("size").map(|field| &field.value) {
        Some(Value::Size { size, .. }) => size.to_string(),
        Some(value) => format!("\u{D8} {}", check::shown(value)),
        None => String::new(),
    };
    page.row(
        &name,
        &format!("inside \u{D8} {bore}, circumference {circumference}"),
    );
    let own = band.inside.size.map(|size| size.system.word.as_str());
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
    if let Some(basis) = own
        .and_then(catalogue::system_basis)
        .filter(|basis| basis.status != "read")
    {
        page.row(
            "",
            &format!(
                "this system is known by {}: {}",
                basis.status.trim_start_matches("from "),
                basis.source
            ),
        );
    }
    let reading = if band.comfort.value().is_zero() {
        "flat bore: read the stick at the lower edge of the band"
    } else {
        "comfort bore: read the stick at the middle of the band"
    };
    page.row("", reading);
}

fn dimensions(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    page.heading("dimensions");
    let outside = page.result(evaluation, "outside");
    page.row("outside", &format!("\u{D8} {outside}"));
    let width = field(page, evaluation, "width");
    page.row("width", &width);
    let thickness = field(page, evaluation, "thickness");
    let thickness = if thickness.is_empty() {
        page.number(Number::Exact(band.thickness.value()), "mm")
    } else {
        thickness
    };
    let edge = edges(evaluation);
    page.row("thickness", &format!("{thickness}{edge}"));
    if !band.comfort.value().is_zero() {
        let comfort = field(page, evaluation, "comfort");
        page.row(
            "comfort",
            &format!("bore opens {comfort} to each edge, radial"),
        );
    }
    let (length, height) = (
        page.result(evaluation, "strip.length"),
        page.result(evaluation, "strip.height"),
    );
    page.row("pattern strip", &format!("{length} long, {height} high"));
    if let Some(pattern) = &band.pattern {
        if let Some(repeats) = pattern.repeats {
            let pitch = page.result(evaluation, "strip.pitch");
            page.row("repeats", &format!("{repeats} of {pitch}"));
        }
        let mean = if pattern.mean_depth == pattern.depth {
            "as deep throughout".to_owned()
        } else {
            format!("{} mm in the mean", pattern.mean_depth.value().normalize())
        };
        let cover = (pattern.cover.value() * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        page.row(
            "cut",
            &format!(
                "{} mm deep, radial, {mean}, over {cover} % of the outside",
                pattern.depth.value().normalize()
            ),
        );
    }
}

/// Thickness at the side faces, where it differs from that at the crown.
fn edges(evaluation: &Evaluation) -> String {
    let shape = &evaluation.input.shape;
    let outside = shape.outside_curve();
    let ends = [outside.first().map(|piece| piece.from.y), outside.last().map(|piece| piece.to.y)];
    let ends: Vec<f64> = ends.into_iter().flatten().map(|y| y - shape.comfort).collect();
    let mm = |value: f64| shown(Number::Computed((value * 1e9).round() / 1e9), 3, Digits::Useful).marked();
    match ends.as_slice() {
        [left, right] if (left - right).abs() > 1e-9 => format!(" at the crown, {} and {} mm at the edges, radial", mm(*left), mm(*right)),
        [edge, _] if (edge - shape.thickness).abs() > 1e-9 => format!(" at the crown, {} mm at the edge, radial", mm(*edge)),
        _ => String::new(),
    }
}

/// A field as written, with its deviation.
fn field(page: &mut Page, evaluation: &Evaluation, path: &str) -> String {
    let Some(field) = evaluation.band.field(path) else {
        return String::new();
    };
    match &field.value {
        Value::Quantity { quantity, unit } => {
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

fn weights(page: &mut Page, evaluation: &Evaluation) {
    page.heading("weights");
    let finished = page.result(evaluation, "weight");
    if evaluation.band.pattern.is_some() {
        let uncut = page.result(evaluation, "weight.uncut");
        page.row("uncut", &uncut);
        let cut = page.result(evaluation, "weight.cut");
        page.row("cut away", &cut);
    }
    page.row("finished", &finished);
    let density = page.result(evaluation, "density");
    let basis = match &evaluation.band.alloy.density {
        AlloyDensity::Stated { basis, .. } => basis.clone(),
        AlloyDensity::Derived(_) => "derived by ideal mixing: weights may be off by up to about 2.5 %; state a measured density if you have one".to_owned(),
    };
    page.row("density", &density);
    for line in wrapped(&basis, 76 - LABEL) {
        page.row("", &line);
    }
}

fn limits(page: &mut Page, evaluation: &Evaluation) {
    page.heading("limits");
    let wall = page.result(evaluation, "wall.least");
    let limit = evaluation.band.least_wall.value().normalize();
    let verdict = if evaluation.limits.is_empty() {
        "holds"
    } else {
        "falls short"
    };
    let place = if evaluation.band.pattern.is_some() {
        "under the cut"
    } else {
        "at its thinnest"
    };
    let basis = if evaluation
        .band
        .field("limit.wall")
        .is_some_and(|field| field.at.is_some())
    {
        ""
    } else {
        ", common practice"
    };
    page.row(
        "wall",
        &format!("{wall} {place}; at least {limit} mm wanted{basis}: {verdict}"),
    );
}

/// Text in lines of at most `width` cells.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        if !line.is_empty() && cells(&line) + 1 + cells(word) > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}
