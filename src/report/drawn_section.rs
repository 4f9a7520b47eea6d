//! The section of a band in a report: the drawing, with the diameters that matter beside it.

use crate::evaluate::Evaluation;
use crate::kernel::section::Catch;
use crate::schema::{FieldId, ResultId};
use crate::source::cells;

use super::page::Page;
use super::sketch::sketch;

/// The section, with the diameters that matter beside it or, on a narrow page, under it; `indent`, columns and the
/// most lines.
pub(super) fn drawing(
    page: &mut Page,
    evaluation: &Evaluation,
    (indent, columns, most): (usize, usize, usize),
) {
    let columns = columns.min(page.width - indent);
    let drawing = sketch(&evaluation.input.shape, columns, most);
    let mut under = Vec::new();
    let legend = drawing.legend();
    if drawing.stretched != 1.0 {
        under.push(format!(
            "not to scale: heights \u{D7} {}",
            significant(drawing.stretched)
        ));
    }
    let said = diameters(page, evaluation);
    let beside = indent + columns + 2;
    let room = page.width.saturating_sub(beside);
    let fitting = spread(&said, &legend, drawing.lines.len())
        .filter(|texts| texts.iter().all(|text| cells(text) <= room));
    if fitting.is_none() {
        under.insert(0, said.join(", "));
        if !legend.is_empty() {
            under.push(legend);
        }
    }
    let texts = fitting.unwrap_or_default();
    for (place, line) in drawing.lines.iter().enumerate() {
        let text = texts.get(place).map_or("", String::as_str);
        let pad = (beside - indent).saturating_sub(cells(line));
        page.line(&format!("{:indent$}{line}{:pad$}{text}", "", ""));
    }
    if !under.is_empty() {
        page.indented(indent, &under.join("; "));
    }
}

/// Diameters over the lines of a drawing, the last beside its last line with what its characters mean; none where
/// they are too many.
fn spread(said: &[String], legend: &str, lines: usize) -> Option<Vec<String>> {
    let (last, above) = said.split_last()?;
    let rows = lines.checked_sub(1).filter(|rows| *rows > 0)?;
    let each = above.len().div_ceil(rows);
    let mut texts: Vec<String> = above
        .chunks(each.max(1))
        .map(|some| some.join(", "))
        .collect();
    texts.resize(rows, String::new());
    let gap = if legend.is_empty() { "" } else { "  " };
    texts.push(format!("{last}{gap}{legend}"));
    Some(texts)
}

/// The diameters of the finished ring that a section shows, from the outside to the bore.
fn diameters(page: &mut Page, evaluation: &Evaluation) -> Vec<String> {
    let shape = &evaluation.input.shape;
    let mut said = Vec::new();
    let outside = page.mm(2.0 * (shape.radius + shape.thickness));
    said.push(format!("outside \u{D8} {outside}"));
    if let Some(cut) = shape.cut.filter(|cut| cut.depth > 0.0) {
        let depth = match cut.drawn {
            true => page.result(evaluation, ResultId::PatternDeepest),
            false => format!("{} mm", evaluation.band.written(FieldId::PatternDepth)),
        };
        said.push(format!("cut {depth} deep"));
    }
    if let Some(hollow) = &shape.hollow {
        if let Some(roof) = evaluation
            .figures
            .hollow
            .as_ref()
            .and_then(|h| h.parts.roof)
        {
            let roof = page.mm(2.0 * (shape.radius + roof));
            said.push(format!("channel \u{D8} {roof}"));
        }
        let over = match hollow.catch {
            Catch::Ridge { height, .. } => Some(("ridge", hollow.sleeve + height)),
            Catch::Lip { height, .. } => Some(("lips", hollow.sleeve - height)),
            Catch::None => None,
        };
        if let Some((what, height)) = over {
            let diameter = page.mm(2.0 * (shape.radius + height));
            said.push(format!("{what} \u{D8} {diameter}"));
        }
        let feet = page.mm(2.0 * (shape.radius + hollow.foot()));
        said.push(format!("feet \u{D8} {feet}"));
    }
    let bore = page.mm(2.0 * shape.radius);
    said.push(format!("bore \u{D8} {bore}"));
    said
}

/// A ratio to two digits that say something.
fn significant(ratio: f64) -> String {
    let places = (1.0 - libm::floor(libm::log10(ratio))).clamp(0.0, 9.0);
    format!("{ratio:.*}", places as usize)
}
