//! A small drawing of a section in text: half blocks, the finger below, the outside above.

use crate::kernel::section::curve::height;
use crate::kernel::section::{Catch, Cavity, Hollow, Roof, Shape};

/// A section in text.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sketch {
    /// The lines.
    pub text: String,
    /// How much larger heights are drawn than widths: 1 to scale, as far as characters allow.
    pub stretched: f64,
}

/// Lines that a drawing has at least, where the band is so flat that it would have fewer; and at most.
const LINES: (usize, usize) = (2, 24);

/// Draws a section, `columns` wide; each character is two squares high.
///
/// `█` is metal; shell and sleeve of a hollow band stand apart by `▓` for the sleeve. Heights and widths are to one
/// scale, unless the drawing would be too low or too high.
#[must_use]
pub(super) fn sketch(shape: &Shape, columns: usize) -> Sketch {
    let half = shape.half();
    let outside = shape.eased(&shape.outside_curve(), shape.ease_outer, -1.0);
    let inside = shape.eased(&shape.inside_curve(), shape.ease_bore, 1.0);
    let cavity = shape
        .hollow
        .filter(|hollow| hollow.roof != Roof::Full)
        .and_then(|hollow| {
            Cavity::of(shape, &hollow, &shape.outside_curve()).map(|cavity| (hollow, cavity))
        });
    let square = shape.width / columns as f64;
    let wanted = (shape.thickness / square).ceil();
    let (least, most) = (2 * LINES.0, 2 * LINES.1);
    let squares = (wanted as usize).clamp(least, most);
    let squares = squares + squares % 2;
    let (up, stretched) = if wanted > most as f64 || wanted < least as f64 {
        let up = shape.thickness / squares as f64;
        (up, square / up)
    } else {
        (square, 1.0)
    };
    let fill = |column: usize, row: usize| -> Fill {
        let x = -half + (column as f64 + 0.5) * square;
        let y = (row as f64 + 0.5) * up;
        if y > height(&outside, x) || y < height(&inside, x) {
            return Fill::Empty;
        }
        let Some(hollow) = &shape.hollow else {
            return Fill::Metal;
        };
        let ridge = cavity
            .as_ref()
            .is_some_and(|(hollow, cavity)| on_ridge(hollow, cavity, x, y));
        let hole = cavity.as_ref().is_some_and(|(hollow, cavity)| {
            y > hollow.sleeve && x > cavity.left && x < cavity.right && y < height(&cavity.roof, x)
        });
        match (ridge, hole, y <= hollow.sleeve) {
            (true, ..) | (_, _, true) => Fill::Sleeve,
            (false, true, false) => Fill::Empty,
            (false, false, false) => Fill::Metal,
        }
    };
    let mut text = String::new();
    for pair in (0..squares / 2).rev() {
        let line: String = (0..columns)
            .map(|column| character(fill(column, 2 * pair + 1), fill(column, 2 * pair)))
            .collect();
        let line = line.trim_end();
        if !line.is_empty() || !text.is_empty() {
            text.push_str(line);
            text.push('\n');
        }
    }
    Sketch { text, stretched }
}

fn on_ridge(hollow: &Hollow, cavity: &Cavity, x: f64, y: f64) -> bool {
    let Catch::Ridge { height, .. } = hollow.catch else {
        return false;
    };
    y <= hollow.sleeve + height
        && cavity
            .ridges(hollow)
            .iter()
            .any(|(from, to)| x >= *from && x <= *to)
}

#[derive(Clone, Copy, PartialEq)]
enum Fill {
    Empty,
    Metal,
    Sleeve,
}

fn character(upper: Fill, lower: Fill) -> char {
    match (upper, lower) {
        (Fill::Empty, Fill::Empty) => ' ',
        (Fill::Sleeve, Fill::Sleeve | Fill::Empty) | (Fill::Empty, Fill::Sleeve) => '\u{2593}',
        (Fill::Metal, Fill::Empty) => '\u{2580}',
        (Fill::Empty, Fill::Metal) => '\u{2584}',
        (Fill::Metal, _) | (Fill::Sleeve, Fill::Metal) => '\u{2588}',
    }
}
