//! Whether the built-in tables are whole: every row readable, unique, in range, adding up, with its basis.
//!
//! Walks the TOML files beside the catalogue's code, and holds each against what the library makes of it,
//! so that no row is silently left out. What the figures themselves should be is held against outside
//! tables in `densities.rs` and `sizes.rs`.

use std::collections::BTreeSet;
use std::str::FromStr;

use annulet::catalogue;
use rust_decimal::{Decimal, dec};
use toml::{Table, Value};

use crate::support::read;

const STATUSES: &[&str] = &["read", "common practice", "from memory", "computed"];

fn text_of(file: &str) -> String {
    read(&format!("src/catalogue/{file}.toml"))
}

/// The rows of one `[[mark]]` of a table.
fn rows(file: &str, mark: &str) -> Vec<Table> {
    let table: Table = text_of(file).parse().unwrap();
    let rows: Vec<Table> = table[mark]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row.as_table().unwrap().clone())
        .collect();
    let marked = text_of(file)
        .lines()
        .filter(|line| *line == format!("[[{mark}]]"))
        .count();
    assert_eq!(rows.len(), marked, "{file}");
    assert!(marked > 0, "{file}");
    rows
}

fn text<'a>(row: &'a Table, key: &str) -> &'a str {
    row.get(key)
        .and_then(Value::as_str)
        .unwrap_or_else(|| panic!("no {key} in {row:?}"))
}

fn decimal(value: &Value) -> Decimal {
    Decimal::from_str(value.as_str().expect("figures are written as text")).unwrap()
}

/// All tables inside a row, the row itself among them: figures carry their own source and status.
fn tables_in(row: &Table) -> Vec<&Table> {
    let mut all = vec![row];
    for value in row.values() {
        match value {
            Value::Table(inner) => all.extend(tables_in(inner)),
            Value::Array(items) => {
                all.extend(items.iter().filter_map(Value::as_table).flat_map(tables_in));
            }
            _ => {}
        }
    }
    all
}

fn is_number(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_digit())
}

fn assert_sorted_and_unique(names: &[&str]) {
    let mut sorted = names.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(names, sorted);
}

#[test]
fn every_alloy_is_read_by_the_library() {
    let rows = rows("alloys", "alloy");
    let names: Vec<&str> = rows.iter().map(|row| text(row, "name")).collect();
    let read: Vec<&str> = catalogue::alloys()
        .map(|alloy| alloy.name.as_str())
        .collect();
    assert_eq!(read, names);
    assert_sorted_and_unique(&names);
    for row in &rows {
        let also = row.get("also").and_then(Value::as_array);
        let also = also.into_iter().flatten().filter_map(Value::as_str);
        for name in also.chain([text(row, "name")]) {
            let found = catalogue::alloy(name).unwrap_or_else(|| panic!("no alloy {name}"));
            assert_eq!(found.name, text(row, "name"), "{name} means two alloys");
        }
    }
    let all: Vec<&str> = catalogue::alloy_names().collect();
    let distinct: BTreeSet<&&str> = all.iter().collect();
    assert_eq!(all.len(), distinct.len(), "a name is given to two alloys");
}

#[test]
fn every_composition_adds_up_to_a_thousand() {
    for row in rows("alloys", "alloy") {
        let name = text(&row, "name").to_owned();
        let parts = row["parts"].as_table().unwrap();
        let total: Decimal = parts.values().map(decimal).sum();
        assert_eq!(total, dec!(1000), "{name}");
        for (element, part) in parts {
            assert!(catalogue::element(element).is_some(), "{name}: {element}");
            assert!(decimal(part) > Decimal::ZERO, "{name}: {element}");
        }
        let alloy = catalogue::alloy(&name).unwrap();
        let read: Vec<(String, Decimal)> = alloy.parts.clone().into_iter().collect();
        let written: Vec<(String, Decimal)> = parts
            .iter()
            .map(|(element, part)| (element.clone(), decimal(part)))
            .collect();
        assert_eq!(read, written, "{name}");
    }
}

#[test]
fn alloy_figures_are_in_range() {
    // Lowest and highest figure that a jewellery alloy can have, generous on both sides.
    let ranges = [
        ("density", dec!(8), dec!(23)),
        ("modulus", dec!(40), dec!(300)),
        ("anneal", dec!(200), dec!(1200)),
        ("yield", dec!(20), dec!(1500)),
        ("tensile", dec!(50), dec!(2000)),
        ("elongation", dec!(0), dec!(80)),
        ("hardness", dec!(10), dec!(500)),
    ];
    for row in rows("alloys", "alloy") {
        let name = text(&row, "name");
        for (key, least, most) in ranges {
            for figure in figures(&row, key) {
                let low = decimal(&figure["value"]);
                assert!(low >= least && low <= most, "{name}: {key} {low}");
                if let Some(high) = figure.get("value_max").map(decimal) {
                    assert!(high > low && high <= most, "{name}: {key} {low} to {high}");
                }
            }
        }
        for melting in figures(&row, "melting") {
            let ends: Vec<Decimal> = ["solidus", "liquidus"]
                .iter()
                .filter_map(|end| melting.get(*end).map(decimal))
                .collect();
            assert!(
                !ends.is_empty() && ends.is_sorted(),
                "{name}: melting {ends:?}"
            );
            assert!(
                ends[0] > dec!(600) && ends[0] < dec!(2500),
                "{name}: melting {ends:?}"
            );
        }
    }
}

/// All figures of a key in a row and its states, other readings among them.
fn figures<'a>(row: &'a Table, key: &str) -> Vec<&'a Table> {
    let also = format!("{key}_also");
    tables_in(row)
        .into_iter()
        .flat_map(|table| {
            let one = table.get(key).and_then(Value::as_table);
            let others = table.get(&also).and_then(Value::as_array);
            one.into_iter()
                .chain(others.into_iter().flatten().filter_map(Value::as_table))
                .collect::<Vec<_>>()
        })
        .collect()
}

#[test]
fn every_element_is_read_by_the_library() {
    let rows = rows("elements", "element");
    let names: Vec<&str> = rows.iter().map(|row| text(row, "name")).collect();
    assert_eq!(catalogue::element_names().collect::<Vec<_>>(), names);
    assert_sorted_and_unique(&names);
    let symbols: BTreeSet<&str> = rows.iter().map(|row| text(row, "symbol")).collect();
    assert_eq!(symbols.len(), rows.len(), "a symbol is given twice");
    for row in &rows {
        let name = text(row, "name");
        let element = catalogue::element(name).unwrap();
        assert_eq!(element.density, decimal(&row["density"]), "{name}");
        assert!(
            element.density > dec!(1) && element.density < dec!(23),
            "{name}"
        );
        let symbol = catalogue::element(text(row, "symbol")).unwrap();
        assert_eq!(symbol.name, name);
        if let Some(poisson) = element.poisson {
            assert!(
                poisson > dec!(0.1) && poisson < dec!(0.5),
                "{name}: {poisson}"
            );
        }
        // Readings of one element may differ by a few per cent, never by a misprint's tenfold.
        for other in element.also.iter().filter_map(|reading| reading.density) {
            let off = (other / element.density - dec!(1)).abs();
            assert!(
                off < dec!(0.06),
                "{name}: {other} beside {}",
                element.density
            );
        }
    }
}

#[test]
fn every_source_is_found_and_used() {
    let rows = rows("sources", "source");
    let ids: Vec<&str> = rows.iter().map(|row| text(row, "id")).collect();
    let distinct: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), distinct.len(), "an id is given twice");
    for row in &rows {
        assert_eq!(catalogue::source(text(row, "id")), text(row, "title"));
    }
    let mut cited = BTreeSet::new();
    for (file, mark) in [("alloys", "alloy"), ("elements", "element")] {
        for row in self::rows(file, mark) {
            for table in tables_in(&row) {
                let Some(source) = table.get("source").and_then(Value::as_str) else {
                    continue;
                };
                assert!(distinct.contains(source), "{file}: source {source}");
                assert!(
                    STATUSES.contains(&text(table, "status")),
                    "{file}: {table:?}"
                );
                cited.insert(source.to_owned());
            }
        }
    }
    // Notes speak of sources by their ids too, as `S71`.
    let words = text_of("alloys") + &text_of("elements");
    let notes = words.split(|c: char| !c.is_ascii_alphanumeric());
    let is_id = |word: &&str| word.len() == 3 && word.strip_prefix('S').is_some_and(is_number);
    for id in notes.filter(is_id) {
        assert!(distinct.contains(id), "source {id}");
        cited.insert(id.to_owned());
    }
    let idle: Vec<&&str> = distinct.iter().filter(|id| !cited.contains(**id)).collect();
    assert_eq!(idle, Vec::<&&str>::new(), "sources that nothing cites");
}

#[test]
fn every_figure_has_a_basis() {
    for row in rows("alloys", "alloy") {
        for table in tables_in(&row) {
            let is_figure = ["value", "solidus", "liquidus"]
                .iter()
                .any(|key| table.contains_key(*key));
            if is_figure {
                assert!(
                    table.contains_key("source"),
                    "{}: {table:?}",
                    text(&row, "name")
                );
            }
        }
        assert!(
            row["composition"]
                .as_table()
                .unwrap()
                .contains_key("source")
        );
    }
}

#[test]
fn every_size_system_is_read_by_the_library() {
    let rows = rows("sizes", "system");
    let words: Vec<&str> = rows.iter().map(|row| text(row, "word")).collect();
    assert_eq!(catalogue::system_words().collect::<Vec<_>>(), words);
    let distinct: BTreeSet<&&str> = words.iter().collect();
    assert_eq!(distinct.len(), words.len());
    for row in &rows {
        let word = text(row, "word");
        let system = catalogue::system(word).unwrap();
        let basis = catalogue::system_basis(word).unwrap();
        assert!(STATUSES.contains(&basis.status.as_str()), "{word}");
        assert!(
            !basis.source.is_empty() && !basis.reading.is_empty(),
            "{word}"
        );
        assert_eq!(basis.source, text(row, "source"), "{word}");
        assert!(system.lowest < system.highest, "{word}");
        assert!(system.grain > 0.into(), "{word}");
        for end in [system.lowest, system.highest] {
            assert!(
                (end / system.grain).is_integer(),
                "{word}: {end} is no size"
            );
            let diameter = system.law.diameter(end);
            assert!(diameter > 11.0 && diameter < 26.0, "{word}: {diameter} mm");
        }
    }
    let undefined = self::rows("sizes", "undefined");
    assert_eq!(catalogue::undefined().len(), undefined.len());
    for row in catalogue::undefined() {
        assert!(!row.reason.is_empty() && catalogue::system(&row.word).is_none());
    }
}
