//! A pattern shaded by depth for a terminal of some columns: as many repeats as show it well.

use crate::kernel::pattern::relief::Relief;

/// Shades from uncut to deepest, in characters that every font has.
const PLAIN: [char; 6] = [' ', '.', ':', '+', '#', '@'];
/// The same in blocks.
const BLOCKS: [char; 5] = [' ', '\u{2591}', '\u{2592}', '\u{2593}', '\u{2588}'];
/// Lines of the picture at most.
const LINES: f64 = 16.0;

/// The picture, line by line, +v on top; a character is taken to be twice as high as wide.
///
/// `length` and `width` are those of the grid's span, mm; `spans` how many there are round the band.
///
/// # Example
/// ```
/// use annulet::kernel::pattern::{ToolCut, CutterForm, StripOutside, Relief, CutShape, Accuracy, work};
/// let outside = StripOutside::flat(10.0, 6.0).unwrap();
/// let flutes = ToolCut::new(CutShape::Flutes { count: 2 }, CutterForm::Flat { half: 0.5 }, 0.2);
/// let mut grid = Relief::default();
/// let worked = work(&outside, &[flutes], 16, Accuracy::default(), &mut grid);
/// let lines = annulet::report::strip::terminal::picture(&grid, worked.layout.length, 6.0, 16, 40, false);
/// assert!(lines.iter().all(|line| line.chars().count() == 40));
/// ```
#[must_use]
pub fn picture(
    relief: &Relief,
    length: f64,
    width: f64,
    spans: u32,
    columns: u32,
    blocks: bool,
) -> Vec<String> {
    let shades: &[char] = if blocks { &BLOCKS } else { &PLAIN };
    let columns = columns.clamp(8, 1000);
    let cells = f64::from(columns);
    // Spans shown: so many that the picture is no higher than it may be, and no more than there are.
    let most = f64::from(spans.max(1));
    let shown = (width * cells / (2.0 * LINES * length))
        .max(1.0)
        .ceil()
        .min(most);
    let lines = (width * cells / (2.0 * shown * length))
        .round()
        .clamp(3.0, LINES) as u32;
    let at = |column: u32, line: u32| {
        // The deepest of some places of the character, so that fine lines do not vanish.
        let mut depth: f64 = 0.0;
        for (a, b) in [
            (0.17, 0.25),
            (0.5, 0.25),
            (0.83, 0.25),
            (0.17, 0.75),
            (0.5, 0.75),
            (0.83, 0.75),
        ] {
            let along = (f64::from(column) + a) / cells * shown;
            let across = 1.0 - (f64::from(line) + b) / f64::from(lines);
            depth += relief.depth(along - along.floor(), across) / 6.0;
        }
        depth
    };
    let depths: Vec<Vec<f64>> = (0..lines)
        .map(|line| (0..columns).map(|column| at(column, line)).collect())
        .collect();
    let deepest = depths.iter().flatten().copied().fold(1e-9, f64::max);
    let shade = |depth: &f64| {
        let level = (depth / deepest * (shades.len() - 1) as f64).round() as usize;
        shades.get(level).copied().unwrap_or(' ')
    };
    depths
        .iter()
        .map(|line| line.iter().map(shade).collect())
        .collect()
}
