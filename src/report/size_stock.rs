//! Which stocks serve which sizes of a run, and what one tube or rod for all of them would have to be.

use crate::evaluate::Serving;
use crate::explore::SizeRun;
use crate::quantity::Number;
use crate::schema::FieldId;

use super::number::{Digits, shown};
use super::page::wrapped;

/// What each turned diameter of a tube that nobody has yet needs to clean up, mm: the default of `stock.clean-up`.
const CLEAN_UP: f64 = 0.2;

/// Lines behind the table; nothing where the recipe has no stock.
pub(super) fn stocks(run: &SizeRun) -> String {
    let rows = run.rows.iter();
    let served: Vec<(&str, Vec<Serving>)> = rows
        .filter_map(|row| Some((row.size.as_str(), row.evaluation.as_ref()?.serving())))
        .collect();
    let Some((_, parts)) = served.iter().find(|(_, parts)| !parts.is_empty()) else {
        return String::new();
    };
    let mut text = String::from("\nstock, with what each turned diameter needs to clean up\n");
    for part in parts.iter().map(|one| one.part) {
        let of_part: Vec<(&str, &Serving)> = served
            .iter()
            .filter_map(|(size, parts)| Some((*size, parts.iter().find(|one| one.part == part)?)))
            .collect();
        let mut names: Vec<&str> = Vec::new();
        for name in of_part.iter().flat_map(|(_, one)| &one.stocks) {
            if !names.contains(&name.as_str()) {
                names.push(name);
            }
        }
        let mut lines: Vec<(String, String)> = Vec::new();
        for name in names {
            let serves = |one: &Serving| one.stocks.iter().any(|known| known == name);
            lines.push((format!("`{name}`"), sizes(&of_part, &serves)));
        }
        let unserved = sizes(&of_part, &|one: &Serving| one.stocks.is_empty());
        if !unserved.is_empty() {
            lines.push(("none".to_owned(), unserved));
        }
        lines.push(("one for all".to_owned(), one_for_all(&of_part)));
        for (place, (label, what)) in lines.iter().enumerate() {
            let head = if place == 0 { part.word() } else { "" };
            for (place, line) in wrapped(what, 52).iter().enumerate() {
                let (head, label) = if place == 0 {
                    (head, label.as_str())
                } else {
                    ("", "")
                };
                text.push_str(format!("    {head:<8}{label:<18}{line}").trim_end());
                text.push('\n');
            }
        }
    }
    text
}

/// The sizes for which something holds, runs of them by their ends.
fn sizes(all: &[(&str, &Serving)], holds: &dyn Fn(&Serving) -> bool) -> String {
    let mut runs: Vec<(usize, &str, &str)> = Vec::new();
    for (place, (size, one)) in all.iter().enumerate() {
        if !holds(one) {
            continue;
        }
        match runs.last_mut() {
            Some((last, _, end)) if *last + 1 == place => (*last, *end) = (place, size),
            _ => runs.push((place, size, size)),
        }
    }
    let runs = runs.iter().map(|(_, from, to)| match from == to {
        true => (*from).to_owned(),
        false => format!("{from} .. {to}"),
    });
    runs.collect::<Vec<_>>().join(", ")
}

/// What one tube, or rod, would have to be.
fn one_for_all(all: &[(&str, &Serving)]) -> String {
    let extents = || all.iter().map(|(_, one)| one.extent);
    let outside = extents().map(|one| one.outside).fold(0.0, f64::max) + CLEAN_UP;
    let bore = extents().map(|one| one.bore).fold(f64::INFINITY, f64::min) - CLEAN_UP;
    let mm = |value: f64, up: bool| {
        let hundredths = if up {
            libm::ceil(value * 100.0 - 1e-6)
        } else {
            libm::floor(value * 100.0 + 1e-6)
        };
        shown(Number::Computed(hundredths / 100.0), 2, Digits::Useful).text
    };
    let basis = match FieldId::StockCleanUp.row().default {
        Some((_, basis)) => basis,
        None => "from memory",
    };
    format!(
        "outside \u{D8} {} mm or more, bore \u{D8} {} mm or less or none, {CLEAN_UP} mm to clean up ({basis})",
        mm(outside, true),
        mm(bore, false)
    )
}
