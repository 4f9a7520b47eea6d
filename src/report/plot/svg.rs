//! Plots as SVG: black on white, with what is drawn said in words too.

use plotters::coord::Shift;
use plotters::prelude::*;

use crate::drawing::escape;

use super::curve::{Curve, shown};
use super::map::Map;

/// Width and height of a plot.
const SIZE: (u32, u32) = (760, 480);

/// Letters of labels, and of the title.
const LETTERS: (&str, u32) = ("sans-serif", 14);
const TITLE: (&str, u32) = ("sans-serif", 17);

/// What says that all limits hold.
const FEASIBLE: RGBColor = RGBColor(226, 236, 226);

/// What a map's least and greatest figure are filled with.
const LIGHT: f64 = 245.0;
const DARK: f64 = 90.0;

/// Labels along an axis at most.
const LABELS: usize = 9;

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// A curve; none where it cannot be drawn.
pub(super) fn curve(curve: &Curve) -> Option<String> {
    let up = named(&curve.up, &curve.unit);
    let across = named(&curve.across, &curve.across_unit);
    let said = [
        curve.is_shaded().then_some("shaded: all limits hold"),
        curve
            .points
            .iter()
            .any(|point| point.short)
            .then_some("crosses: a limit falls short"),
        curve.now.map(|_| curve.marks),
    ];
    let said: Vec<&str> = said.into_iter().flatten().collect();
    let (from, to) = &curve.ends;
    let about = format!(
        "{up} over {across}, from {from} to {to}. {}",
        said.join("; ")
    );
    drawn(
        &format!("{up} over {across}"),
        &about,
        &said.join("; "),
        |area| {
            let (least, most) = curve.range();
            let along = curve
                .points
                .iter()
                .map(|point| point.x)
                .chain(curve.now.map(|now| now.0));
            let x = match curve.names.len() {
                0 => room(along),
                names => (-0.5, number(names) - 0.5),
            };
            let marked = curve.now.map(|now| now.1);
            let y = room([least, most].into_iter().chain(marked));
            let mut chart = ChartBuilder::on(area)
                .margin(12)
                .x_label_area_size(46)
                .y_label_area_size(70)
                .build_cartesian_2d(x.0..x.1, y.0..y.1)
                .ok()?;
            let held = if curve.is_shaded() {
                held(curve)
            } else {
                Vec::new()
            };
            let bands = held
                .into_iter()
                .map(|(from, to)| Rectangle::new([(from, y.0), (to, y.1)], FEASIBLE.filled()));
            chart.draw_series(bands).ok()?;
            let x_range = x;
            let place = |x: &f64| match curve.names.is_empty() {
                true => tick(*x, x_range),
                false => named_place(&curve.names, *x),
            };
            chart
                .configure_mesh()
                .x_desc(across.as_str())
                .y_desc(up.as_str())
                .x_labels(match curve.names.len() {
                    0 => LABELS,
                    names => names.min(LABELS),
                })
                .y_labels(LABELS)
                .x_label_formatter(&place)
                .y_label_formatter(&|at| tick(*at, y))
                .label_style(LETTERS)
                .axis_desc_style(LETTERS)
                .light_line_style(TRANSPARENT)
                .bold_line_style(BLACK.mix(0.12))
                .draw()
                .ok()?;
            let places = match curve.names.is_empty() {
                true => curve.places(),
                false => Vec::new(),
            };
            for line in places.split(|(_, point)| point.is_none()) {
                let line = line.iter().flat_map(|(_, point)| *point);
                let line = line.map(|point| (point.x, point.y));
                chart
                    .draw_series(LineSeries::new(line, BLACK.stroke_width(1)))
                    .ok()?;
            }
            let kept = curve.points.iter().filter(|point| !point.short);
            let kept = kept.map(|point| Circle::new((point.x, point.y), 3, BLACK.filled()));
            chart.draw_series(kept).ok()?;
            let short = curve.points.iter().filter(|point| point.short);
            let short = short.map(|point| Cross::new((point.x, point.y), 4, BLACK.stroke_width(2)));
            chart.draw_series(short).ok()?;
            let now = curve
                .now
                .map(|at| Circle::new(at, 8, BLACK.stroke_width(2)));
            chart.draw_series(now).ok()?;
            Some(())
        },
    )
}

/// A map; none where it cannot be drawn.
pub(super) fn map(map: &Map) -> Option<String> {
    let up = named(&map.up, &map.unit);
    let (least, most) = map.range();
    let low = format!("light {}", shown(least, &map.unit));
    let high = format!("dark {}", shown(most, &map.unit));
    let cells = || map.cells.iter().flatten().flatten();
    let said = [
        Some(low),
        Some(high),
        cells()
            .any(|cell| cell.short)
            .then(|| "crossed: a limit falls short".to_owned()),
        map.now
            .map(|_| "framed: the recipe as it stands".to_owned()),
    ];
    let said: Vec<String> = said.into_iter().flatten().collect();
    let title = format!("{up} over {} and {}", map.across.0, map.down.0);
    let about = format!("{title}. {}", said.join("; "));
    let (wide, high) = (number(map.across.1.len()), number(map.down.1.len()));
    drawn(&title, &about, &said.join("; "), |area| {
        // The first value downward stands at the top, as in a table.
        let mut chart = ChartBuilder::on(area)
            .margin(12)
            .x_label_area_size(46)
            .y_label_area_size(96)
            .build_cartesian_2d(-0.5..wide - 0.5, high - 0.5..-0.5)
            .ok()?;
        for (line, cells) in map.cells.iter().enumerate() {
            for (column, cell) in cells.iter().enumerate() {
                let Some(cell) = cell else { continue };
                let (x, y) = (number(column), number(line));
                let corners = [(x - 0.5, y - 0.5), (x + 0.5, y + 0.5)];
                let part = match most > least {
                    true => (cell.value - least) / (most - least),
                    false => 0.0,
                };
                let fill = grey(LIGHT + (DARK - LIGHT) * part);
                chart
                    .draw_series([Rectangle::new(corners, fill.filled())])
                    .ok()?;
                if cell.short {
                    let ink = if part > 0.5 { WHITE } else { BLACK };
                    let ways = [
                        vec![(x - 0.5, y - 0.5), (x + 0.5, y + 0.5)],
                        vec![(x - 0.5, y + 0.5), (x + 0.5, y - 0.5)],
                    ];
                    let ways = ways
                        .into_iter()
                        .map(|way| PathElement::new(way, ink.stroke_width(1)));
                    chart.draw_series(ways).ok()?;
                }
            }
        }
        let now = map.now.map(|(line, column)| {
            let (x, y) = (number(column), number(line));
            Rectangle::new(
                [(x - 0.45, y - 0.45), (x + 0.45, y + 0.45)],
                BLACK.stroke_width(3),
            )
        });
        chart.draw_series(now).ok()?;
        chart
            .configure_mesh()
            .disable_mesh()
            .x_desc(map.across.0.as_str())
            .y_desc(map.down.0.as_str())
            .x_labels(map.across.1.len().min(LABELS))
            .y_labels(map.down.1.len().min(LABELS))
            .x_label_formatter(&|x| named_place(&map.across.1, *x))
            .y_label_formatter(&|y| named_place(&map.down.1, *y))
            .label_style(LETTERS)
            .axis_desc_style(LETTERS)
            .draw()
            .ok()?;
        Some(())
    })
}

/// A plot with its title, and below that what its signs mean; the same in words for who does not see it.
fn drawn(
    title: &str,
    about: &str,
    signs: &str,
    draw: impl FnOnce(&Area<'_>) -> Option<()>,
) -> Option<String> {
    let mut text = String::new();
    {
        let area = SVGBackend::with_string(&mut text, SIZE).into_drawing_area();
        area.fill(&WHITE).ok()?;
        let area = area.titled(title, TITLE).ok()?;
        let area = match signs {
            "" => area,
            signs => area.titled(signs, LETTERS).ok()?,
        };
        draw(&area)?;
        area.present().ok()?;
    }
    let (head, rest) = text.split_once('>')?;
    Some(format!(
        "{head} role=\"img\" aria-labelledby=\"title about\">\n<title id=\"title\">{}</title>\n<desc id=\"about\">{}</desc>{rest}",
        escape(title),
        escape(about.trim_end_matches([' ', '.'])),
    ))
}

/// A little more than some numbers take.
fn room(numbers: impl Iterator<Item = f64>) -> (f64, f64) {
    let (least, most) = numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
        (least.min(one), most.max(one))
    });
    let more = match most > least {
        true => (most - least) * 0.05,
        false => least.abs().max(1.0) * 0.05,
    };
    (least - more, most + more)
}

/// Where along the axis all limits hold: from the first point that does to the last in a row, and half way to the next.
fn held(curve: &Curve) -> Vec<(f64, f64)> {
    let mut bands: Vec<(f64, f64)> = Vec::new();
    let mut open: Option<f64> = None;
    let mut before: Option<f64> = None;
    for (x, point) in curve.places() {
        let edge = before.map_or(x, |before| f64::midpoint(before, x));
        let holds = point.is_some_and(|point| !point.short);
        match (holds, open) {
            (true, None) => open = Some(edge),
            (false, Some(from)) => {
                bands.push((from, edge));
                open = None;
            }
            _ => {}
        }
        before = Some(x);
    }
    bands.extend(open.zip(before));
    bands
}

/// The name of a place along an axis; nothing between two places.
fn named_place(names: &[String], at: f64) -> String {
    let near = at.round();
    let found = names.iter().enumerate().find(|(place, _)| {
        let place = number(*place);
        (place - near).abs() < 0.5 && (at - near).abs() < 0.25
    });
    found.map_or_else(String::new, |(_, name)| name.clone())
}

/// A number along an axis, with the digits that its range asks for and no zeros behind them.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few digits"
)]
fn tick(at: f64, (least, most): (f64, f64)) -> String {
    let digits = (3.0 - libm::log10(most - least).floor()).clamp(0.0, 9.0) as usize;
    let text = format!("{at:.digits$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

fn named(name: &str, unit: &str) -> String {
    match unit {
        "" => name.to_owned(),
        unit => format!("{name}, {unit}"),
    }
}

fn number(place: usize) -> f64 {
    u32::try_from(place).map_or(f64::from(u32::MAX), f64::from)
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a level of grey from 0 to 255"
)]
fn grey(level: f64) -> RGBColor {
    let level = level.clamp(0.0, 255.0).round() as u8;
    RGBColor(level, level, level)
}
