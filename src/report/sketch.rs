//! A small drawing of a section in text: half blocks, the finger below, the outside above.

use crate::kernel::section::curve::{Pieces, height};
use crate::kernel::section::{Catch, Cavity, Hollow, Roof, Shape};

/// A section in text.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sketch {
    /// The lines, from the outside to the finger.
    pub lines: Vec<String>,
    /// How much larger heights are drawn than widths: 1 to scale, as far as characters allow.
    pub stretched: f64,
}

impl Sketch {
    /// What its characters mean, where there is more than plain metal.
    #[must_use]
    pub fn legend(&self) -> String {
        let has = |c: char| self.lines.iter().any(|line| line.contains(c));
        let all = [
            ('\u{2588}', "shell"),
            ('\u{2593}', "sleeve"),
            ('\u{25B2}', "ridge"),
            ('\u{25BC}', "lip"),
            ('\u{2591}', "cut"),
        ];
        // The metal of a solid band needs no name.
        let hollow = has('\u{2593}');
        let named = all
            .iter()
            .filter(|(c, what)| has(*c) && (hollow || *what != "shell"));
        let named: Vec<String> = named.map(|(c, what)| format!("{c} {what}")).collect();
        named.join(" ")
    }
}

/// Lines that a drawing has at least, where the band is so flat that it would have fewer.
const LEAST: usize = 2;

/// Draws a section, `columns` wide and at most so many lines high; each character is two squares high.
///
/// `█` is metal; of a hollow band `▓` is the sleeve, `▲` its ridge, `▼` a lip; `░` is what the pattern may take.
/// Heights and widths are to one scale, unless the drawing would be too low or too high. What is narrower than a
/// character is drawn as one.
#[must_use]
pub(super) fn sketch(shape: &Shape, columns: usize, most: usize) -> Sketch {
    let section = Section::of(shape);
    let square = shape.width / columns as f64;
    let wanted = (shape.thickness / square).ceil();
    let (least, most) = (2 * LEAST, 2 * most.max(LEAST));
    let squares = (wanted as usize).clamp(least, most);
    let squares = squares + squares % 2;
    let (up, stretched) = if wanted > most as f64 || wanted < least as f64 {
        let up = shape.thickness / squares as f64;
        (up, square / up)
    } else {
        (square, 1.0)
    };
    let fill = |column: usize, row: usize| -> Fill {
        let x = (column as f64 + 0.5) * square - shape.half();
        section.fill(x, (row as f64 + 0.5) * up, square, up)
    };
    let mut lines = Vec::new();
    for pair in (0..squares / 2).rev() {
        let line: String = (0..columns)
            .map(|column| character(fill(column, 2 * pair + 1), fill(column, 2 * pair)))
            .collect();
        let line = line.trim_end();
        if !line.is_empty() || !lines.is_empty() {
            lines.push(line.to_owned());
        }
    }
    Sketch { lines, stretched }
}

/// A section with its curves.
struct Section<'s> {
    shape: &'s Shape,
    outside: Pieces,
    inside: Pieces,
    cavity: Option<Cavity>,
}

impl<'s> Section<'s> {
    fn of(shape: &'s Shape) -> Self {
        let curve = shape.outside_curve();
        let hollow = shape.hollow.filter(|hollow| hollow.roof != Roof::Full);
        Self {
            shape,
            outside: shape.eased(&curve, shape.ease_outer, -1.0),
            inside: shape.eased(&shape.inside_curve(), shape.ease_bore, 1.0),
            cavity: hollow.and_then(|hollow| Cavity::of(shape, &hollow, &curve)),
        }
    }

    /// What stands in a square around a place.
    fn fill(&self, x: f64, y: f64, wide: f64, high: f64) -> Fill {
        let top = height(&self.outside, x);
        if y > top || y < height(&self.inside, x) {
            return Fill::Empty;
        }
        let cut = self.shape.cut.filter(|cut| cut.depth > 0.0);
        // Less than a square is drawn as one.
        if cut.is_some_and(|cut| y > top - cut.depth.max(high)) {
            return Fill::Cut;
        }
        let Some(hollow) = &self.shape.hollow else {
            return Fill::Metal;
        };
        if let Catch::Lip {
            height,
            wide: lip,
            play,
        } = hollow.catch
        {
            let from_face = self.shape.half() - x.abs();
            if from_face < lip.max(wide) && y <= hollow.sleeve {
                let under = y + high / 2.0 < hollow.sleeve - height;
                return if under { Fill::Empty } else { Fill::Lip };
            }
            if from_face < lip + play / 2.0 && y <= hollow.sleeve {
                return Fill::Empty;
            }
        }
        let Some(cavity) = &self.cavity else {
            return match y <= hollow.sleeve {
                true => Fill::Sleeve,
                false => Fill::Metal,
            };
        };
        let between = x > cavity.left && x < cavity.right;
        if between && on_ridge(hollow, cavity, (x, y), (wide, high)) {
            return Fill::Ridge;
        }
        let relieved = hollow.relief.is_some_and(|wall| y > wall) && between;
        match y <= hollow.sleeve {
            true if relieved => Fill::Empty,
            true => Fill::Sleeve,
            false if between && y < height(&cavity.roof, x) => Fill::Empty,
            false => Fill::Metal,
        }
    }
}

/// Whether a square, with its middle and its sides, holds something of a ridge above the sleeve.
fn on_ridge(hollow: &Hollow, cavity: &Cavity, at: (f64, f64), sides: (f64, f64)) -> bool {
    let Catch::Ridge { height, .. } = hollow.catch else {
        return false;
    };
    let ((x, y), (wide, high)) = (at, sides);
    let stands = y > hollow.sleeve && y - high / 2.0 < hollow.sleeve + height;
    let near = |(from, to): &(f64, f64)| {
        (x - (from + to) / 2.0).abs() <= ((to - from) / 2.0).max(wide / 2.0)
    };
    stands && cavity.ridges(hollow).iter().any(near)
}

#[derive(Clone, Copy, PartialEq)]
enum Fill {
    Empty,
    Metal,
    Sleeve,
    Ridge,
    Lip,
    Cut,
}

fn character(upper: Fill, lower: Fill) -> char {
    match (upper, lower) {
        (Fill::Ridge, _) | (_, Fill::Ridge) => '\u{25B2}',
        (Fill::Lip, _) | (_, Fill::Lip) => '\u{25BC}',
        (Fill::Cut, _) | (_, Fill::Cut) => '\u{2591}',
        (Fill::Empty, Fill::Empty) => ' ',
        (Fill::Sleeve, Fill::Sleeve | Fill::Empty) | (Fill::Empty, Fill::Sleeve) => '\u{2593}',
        (Fill::Metal, Fill::Empty) => '\u{2580}',
        (Fill::Empty, Fill::Metal) => '\u{2584}',
        (Fill::Metal, _) | (Fill::Sleeve, Fill::Metal) => '\u{2588}',
    }
}
