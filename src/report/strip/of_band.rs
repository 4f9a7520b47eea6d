//! The strip of one evaluated band in one form.

use crate::evaluate::Evaluation;
use crate::kernel::join::early;
use crate::kernel::pattern::results::grid;
use crate::kernel::pattern::{Layout, Relief, ToolCut};
use crate::kernel::{outside_as_cut, outside_finished};
use crate::model::BandCut;

use super::sheet::Sheet;
use super::{dxf, finished, svg, terminal};

/// The form of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawing {
    /// SVG, in true scale.
    Svg,
    /// DXF R12, in mm.
    Dxf,
    /// Characters, shaded by depth.
    Text,
}

/// The strip of a band as it is when cut, or `finished`; `None` where it has no outside. `columns` is for characters.
#[must_use]
pub fn strip(
    evaluation: &Evaluation,
    form: Drawing,
    as_finished: bool,
    columns: u32,
) -> Option<String> {
    let input = &evaluation.input;
    let drawn = input.drawn.as_ref();
    let on_band = drawn.and_then(|drawn| drawn.worked.as_ref());
    let stretched = early(input).is_some();
    let outside = match stretched && !as_finished {
        true => outside_as_cut(input)?,
        false => outside_finished(input)?,
    };
    let repeats = on_band.map(|on_band| on_band.repeats).or(input.repeats);
    let cuts: &[ToolCut] = drawn.map_or(&[], |drawn| &drawn.cuts);
    let called: Vec<String> = evaluation.band.cuts.iter().map(BandCut::called).collect();
    let names: Vec<&str> = called.iter().map(String::as_str).collect();
    let empty = Layout::default();
    let mut layout = on_band.map_or(&empty, |on_band| &on_band.worked.layout);
    let moved;
    if let (Some(on_band), true) = (on_band, stretched && as_finished) {
        moved = finished::layout(layout, &on_band.outside, &outside);
        layout = &moved;
    }
    let relief = on_band.map(|on_band| {
        let mut relief = Relief::default();
        grid(&mut relief, &on_band.outside, cuts, &on_band.worked);
        relief
    });
    let sheet = Sheet {
        name: &evaluation.band.name,
        outside: &outside,
        repeats: repeats.unwrap_or(1),
        cuts,
        names: &names,
        layout,
        relief: relief.as_ref(),
    };
    Some(match form {
        Drawing::Svg => svg::svg(&sheet),
        Drawing::Dxf => dxf::dxf(&sheet),
        Drawing::Text => text(&sheet, columns),
    })
}

/// The picture in characters, with the lengths beside it.
fn text(sheet: &Sheet<'_>, columns: u32) -> String {
    let (length, width) = (sheet.outside.length(), sheet.outside.width());
    let pitch = sheet.pitch();
    let mut text = format!(
        "{}: strip {length:.3} mm long, {width:.3} mm high",
        sheet.name
    );
    if sheet.repeats > 1 {
        text.push_str(&format!(", {} repeats of {pitch:.3} mm", sheet.repeats));
    }
    text.push('\n');
    let Some(relief) = sheet.relief else {
        text.push_str("no drawn cuts: the strip is blank\n");
        return text;
    };
    let (span, spans) = sheet.span();
    for line in terminal::picture(relief, span, width, spans, columns, true) {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    for (place, name) in sheet.names.iter().enumerate() {
        let deep = sheet.cuts.get(place).map_or(0.0, ToolCut::deepest);
        text.push_str(&format!("  {name}, {deep:.3} mm deep\n"));
    }
    text
}
