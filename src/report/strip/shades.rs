//! How is one repeat shaded by depth in an SVG drawing?

use std::fmt::Write;

use crate::kernel::pattern::relief::Relief;

/// One repeat by depth: stretches of a row as rectangles.
pub(super) fn shades(
    out: &mut String,
    relief: &Relief,
    wide: f64,
    high: f64,
    share: f64,
) -> std::fmt::Result {
    const LEVELS: u32 = 12;
    let columns = (wide / 0.16).ceil().clamp(20.0, 400.0) as u32;
    let rows = (high / 0.16).ceil().clamp(10.0, 300.0) as u32;
    let depth = |column: u32, row: u32| {
        let along = (f64::from(column) + 0.5) / f64::from(columns) * share;
        relief.depth(along, 1.0 - (f64::from(row) + 0.5) / f64::from(rows))
    };
    let all = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
    let deepest = all
        .map(|(column, row)| depth(column, row))
        .fold(1e-9, f64::max);
    let (dx, dy) = (wide / f64::from(columns), high / f64::from(rows));
    writeln!(out, "<g transform=\"scale({dx:.6} {dy:.6})\">")?;
    // Layers upon layers, each over all that is at least so deep: no seams between shades, and few paths.
    for level in 1..=LEVELS {
        let deep = |column: u32, row: u32| {
            depth(column, row) / deepest * f64::from(LEVELS) + 0.5 >= f64::from(level)
        };
        let mut path = String::new();
        for row in 0..rows {
            let mut start = 0;
            while start < columns {
                let here = deep(start, row);
                let end = (start + 1..columns)
                    .find(|column| deep(*column, row) != here)
                    .unwrap_or(columns);
                if here {
                    let w = end - start;
                    write!(path, "M{start} {row}h{w}v1h-{w}z")?;
                }
                start = end;
            }
        }
        if !path.is_empty() {
            writeln!(out, "<path class=\"shade\" opacity=\"0.14\" d=\"{path}\"/>")?;
        }
    }
    writeln!(out, "</g>")?;
    writeln!(
        out,
        "<text class=\"s\" fill=\"#8a94a3\" x=\"0\" y=\"{:.3}\">strongest shade: {deepest:.3} mm deep</text>",
        high + 3.0
    )
}
