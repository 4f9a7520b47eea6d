//! Ring sizes against tables published outside the project.
//!
//! `outside/ring_sizes.toml` holds one printed figure a row with its source (standards as far as they
//! could be read, trade tables, articles) and says whether the system's definition gives that figure;
//! where it does not, the disagreement is kept and checked too. Below that: arithmetic in steps,
//! trade fractions, and systems that no source defines.

use annulet::catalogue;
use annulet::quantity::RingSize;
use serde::Deserialize;

use crate::support::{ask, band_with, findings, plain, read};

#[derive(Deserialize)]
struct Outside {
    size: Vec<Row>,
    convert: Vec<Conversion>,
}

/// One printed figure.
#[derive(Deserialize)]
struct Row {
    system: String,
    designation: String,
    diameter: Option<String>,
    circumference: Option<String>,
    unit: String,
    #[serde(default)]
    printed_decimals: i32,
    #[serde(default)]
    exact: bool,
    agrees: bool,
    source: String,
}

#[derive(Deserialize)]
struct Conversion {
    from: String,
    diameter: Option<String>,
    circumference: Option<String>,
    to: String,
    size: Option<String>,
    nearest: Option<String>,
    #[serde(default)]
    out_of_range: bool,
}

fn outside() -> Outside {
    toml::from_str(&read("tests/suite/outside/ring_sizes.toml")).unwrap()
}

/// A printed figure as a number: `17.35`, `13 1/3`.
fn printed(text: &str) -> f64 {
    text.split(' ')
        .map(|part| match part.split_once('/') {
            Some((above, below)) => above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap(),
            None => part.parse().unwrap(),
        })
        .sum()
}

/// Decimals that a figure is printed with.
fn decimals(text: &str) -> i32 {
    text.split_once('.')
        .map_or(0, |(_, behind)| behind.len() as i32)
}

/// Whether a computed figure stands printed so: within half a unit of the last decimal.
fn gives(computed: f64, printed: f64, decimals: i32) -> bool {
    (computed - printed).abs() <= 0.5 * 10_f64.powi(-decimals) + 1e-9
}

fn size(system: &str, designation: &str) -> RingSize {
    let known = catalogue::system(system).unwrap_or_else(|| panic!("no system {system}"));
    RingSize::read(known, designation).unwrap_or_else(|e| panic!("{system} {designation}: {e:?}"))
}

#[test]
fn published_tables_agree_where_they_should() {
    let rows = outside().size;
    assert!(rows.len() > 300);
    let mut wrong = Vec::new();
    for row in rows {
        let size = size(&row.system, &row.designation);
        let (figure, mm) = match (&row.diameter, &row.circumference) {
            (Some(figure), None) => (figure, size.diameter()),
            (None, Some(figure)) => (figure, size.circumference().to_f64()),
            _ => panic!("a row has one figure"),
        };
        let computed = match row.unit.as_str() {
            "mm" => mm,
            "in" => mm / 25.4,
            other => panic!("unit {other}"),
        };
        let agrees = if row.exact {
            (computed - printed(figure)).abs() < 1e-12 * computed
        } else {
            gives(computed, printed(figure), row.printed_decimals)
        };
        if agrees != row.agrees {
            let (system, designation) = (&row.system, &row.designation);
            wrong.push(format!(
                "{system} {designation}: {computed} against {figure} ({})",
                row.source
            ));
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn sizes_defined_by_circumference_are_exact() {
    for system in ["ISO", "JIS", "CN", "UK", "IT", "ES", "NL", "CH"] {
        let designation = if system == "UK" { "N 1/2" } else { "41" };
        let designation = if "IT ES NL CH".contains(system) {
            "14"
        } else {
            designation
        };
        let exact = size(system, designation).circumference().exact();
        assert!(exact.is_some(), "{system} {designation}");
    }
    assert_eq!(
        plain(&band_with(&["size UK N 1/2"]), "b.size.circumference"),
        "54.375"
    );
}

#[test]
fn conversions_between_systems() {
    for row in outside().convert {
        let circumference = match row.from.strip_prefix("circumference ") {
            Some(length) => length.strip_suffix(" mm").unwrap().parse().unwrap(),
            None => {
                let (system, designation) = row.from.split_once(' ').unwrap();
                let size = size(system, designation);
                if let Some(text) = &row.diameter {
                    assert!(
                        gives(size.diameter(), printed(text), decimals(text)),
                        "{}",
                        row.from
                    );
                }
                size.circumference().to_f64()
            }
        };
        if let Some(text) = &row.circumference {
            assert!(
                gives(circumference, printed(text), decimals(text)),
                "{}",
                row.from
            );
        }
        let to = catalogue::system(&row.to).unwrap();
        if let Some(text) = &row.size {
            let found = to.law.designation(circumference);
            assert!(
                gives(found, printed(text), decimals(text)),
                "{}: {found}",
                row.from
            );
        }
        let nearest = RingSize::nearest(to, circumference);
        assert_eq!(nearest.is_none(), row.out_of_range, "{}", row.from);
        if let (Some(wanted), Some(found)) = (&row.nearest, nearest) {
            assert_eq!(found, size(&row.to, wanted), "{} in {}", row.from, row.to);
        }
    }
}

#[test]
fn questions_convert_sizes() {
    let cases = [
        ("US 7", "size in ISO", "ISO 54"),
        ("ISO 54", "size in US", "US 6 3/4"),
        ("UK P", "size in ISO", "ISO 56"),
        ("JP 27", "size in ISO", "ISO 68"),
        ("CH 14", "size in ISO", "ISO 54"),
        ("ISO 54", "size in UK", "UK N"),
        ("UK Z+6", "size in ISO", "ISO 76"),
    ];
    for (size, question, answer) in cases {
        let found = ask(&band_with(&[&format!("size {size}")]), question);
        // Only sticks of one scale agree; elsewhere the nearest is marked, with the distance.
        let rounded = found.starts_with(&format!("\u{2248} {answer} (\u{D8} 0."));
        assert_eq!(rounded, size != "CH 14", "{size}: {found}");
        assert!(rounded || found == answer, "{size}: {found}");
    }
}

#[test]
fn steps_move_a_size_in_its_own_system() {
    let cases = [
        ("ISO 54", "size + 1", "ISO 55"),
        ("ISO 54", "size - 3", "ISO 51"),
        ("US 7", "size + 1/2", "US 7 1/2"),
        ("US 7 1/2", "size + 1/4", "US 7 3/4"),
        ("US 1/4", "size - 1/4", "US 0"),
        ("US 7", "size + 0.25", "US 7 1/4"),
        ("UK N", "size + 1/2", "UK N 1/2"),
        ("UK Z", "size + 1/2", "UK Z 1/2"),
        ("UK Z", "size + 1", "UK Z+1"),
        ("UK Z+1", "size - 1 1/2", "UK Y 1/2"),
        ("UK-old N", "size + 1", "UK-old O"),
        ("JP 14", "size + 2", "JP 16"),
        ("ISO 56", "size - ISO 54", "2 mm"),
        ("UK O", "size - UK N", "1.25 mm"),
        ("JIS 56", "size - CN 54", "2 mm"),
    ];
    for (size, question, answer) in cases {
        let recipe = band_with(&[&format!("size {size}")]);
        assert_eq!(ask(&recipe, question), answer, "{size}: {question}");
    }
    // One third of a millimetre of diameter a number: pi / 3 of circumference.
    let step = plain(&band_with(&["size JP 15"]), "size - JP 14");
    assert!((step.parse::<f64>().unwrap() - std::f64::consts::PI / 3.0).abs() < 1e-12);
}

#[test]
fn steps_that_lead_to_no_size_are_refused() {
    let cases = [
        ("ISO 54", "ISO 54 + 1/2", "model::"),
        ("ISO 54", "ISO 76 + 1", "model::"),
        ("ISO 54", "ISO 54 + 1 mm", "model::mixed_kinds"),
        ("ISO 54", "ISO 54 + ISO 2", "model::"),
        ("ISO 54", "ISO 54 * 2", "model::mixed_kinds"),
        ("ISO 54", "1 - ISO 54", "model::mixed_kinds"),
    ];
    for (_, value, code) in cases {
        let found = findings(&band_with(&[&format!("size {value}")]));
        assert_eq!(found.len(), 1, "{value}: {found:?}");
        assert!(found[0].code.starts_with(code), "{value}: {found:?}");
        assert!(!found[0].help.is_empty(), "{value}");
    }
}

#[test]
fn a_size_may_be_off_by_steps_or_on_the_diameter() {
    for (written, least) in [("UK N \u{B1} 1/2", 0.19), ("UK N \u{B1} 0.05 mm", 0.049)] {
        let results = crate::support::results(&band_with(&[&format!("size {written}")]));
        let spread = &results["b.bore"]["spread"];
        let high = spread["high"].as_f64().unwrap();
        assert!(high > least && high < least + 0.02, "{written}: {high}");
    }
    let found = findings(&band_with(&["size UK N \u{B1} 1 g"]));
    assert_eq!(found[0].code, "model::wrong_kind");
}

#[test]
fn trade_fractions_are_read_alike() {
    let alike = [
        (
            "US",
            ["7 1/2", "7.5", "7\u{BD}", "7 \u{BD}"].as_slice(),
            "US 7 1/2",
        ),
        ("US", &["1/2", "0.5", "0\u{BD}"], "US 1/2"),
        ("US", &["7.25", "7 1/4", "7\u{BC}"], "US 7 1/4"),
        (
            "UK",
            &["N 1/2", "N.5", "N\u{BD}", "N1/2", "N \u{BD}"],
            "UK N 1/2",
        ),
        ("UK", &["Z+3", "Z+3.0"], "UK Z+3"),
        ("UK", &["Z+3 1/2", "Z+3.5", "Z+3\u{BD}"], "UK Z+3 1/2"),
        ("UK", &["Z+1/2", "Z 1/2", "Z\u{BD}"], "UK Z 1/2"),
    ];
    for (system, forms, wanted) in alike {
        for form in forms {
            let recipe = band_with(&[&format!("size {system} {form}")]);
            assert_eq!(
                findings(&recipe).len(),
                0,
                "{system} {form}: {:?}",
                findings(&recipe)
            );
            assert_eq!(ask(&recipe, "size"), wanted, "{system} {form}");
        }
    }
}

#[test]
fn what_is_no_size_is_refused_with_what_would_do() {
    // Written, place of the caret, a part of the message, a part of the help.
    let cases = [
        (
            "US 7 1/3",
            "US has no size 7 1/3",
            "`US 7 1/4` or `US 7 1/2`",
        ),
        ("US 7.3", "US has no size 7.3", "`US 7 1/4` or `US 7 1/2`"),
        ("ISO 54.5", "ISO has no size 54.5", "`ISO 54` or `ISO 55`"),
        ("ISO 40", "ISO sizes run from 41 to 76", "inside diameter"),
        ("US 17", "US sizes run from 0 to 16", "inside diameter"),
        ("UK Z+7", "UK sizes run from A to Z+6", "inside diameter"),
        (
            "UK 7",
            "is not how UK sizes are written",
            "`UK N 1/2` or `UK Z+3`",
        ),
        ("US N", "is not how US sizes are written", "write a number"),
        ("UK N+1", "is not how UK sizes are written", "`UK Z+3`"),
        ("JP 14 1/2", "JP has no size 14 1/2", "`JP 14` or `JP 15`"),
        (
            "HK 14",
            "`HK` is not a defined size system: no definition",
            "inside diameter",
        ),
        (
            "IN 14",
            "`IN` is not a defined size system: no Indian standard",
            "inside diameter",
        ),
        (
            "FR 54",
            "France uses both ISO and the circumference less 40",
            "inside diameter",
        ),
        ("EU 54", "there is no European size", "inside diameter"),
        (
            "EUR 54",
            "`EUR` is a currency, not a size system",
            "`54 EUR`",
        ),
        (
            "IOS 54",
            "`IOS` is not a size system",
            "did you mean `ISO`?",
        ),
        ("XX 54", "`XX` is not a size system", "systems are ISO"),
        ("iso 54", "a ring size is written in capitals", "`ISO 54`"),
        ("uk n", "a ring size is written in capitals", "`UK N`"),
    ];
    for (written, message, help) in cases {
        let found = findings(&band_with(&[&format!("size {written}")]));
        assert_eq!(found.len(), 1, "{written}: {found:?}");
        assert_eq!(found[0].code, "model::size", "{written}");
        assert!(found[0].message.contains(message), "{written}: {found:?}");
        assert!(found[0].help.contains(help), "{written}: {found:?}");
    }
}
