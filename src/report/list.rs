//! What the program knows, as tables with sources: alloys, sizes, units, results, fields.

use crate::catalogue::{self, AlloyRow, CitedFigure};
use crate::model::mixed_density;

use crate::quantity::{Number, RingSize, designated, from_f64};

use super::list_vocabulary::{fields, results, units};
use super::number::{Digits, shown};
use super::page::lines_fitted;
use super::table::{banks, fitted, listed, row};

/// What can be listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Listing {
    /// Built-in alloys.
    Alloys,
    /// Ring sizes in all systems, side by side.
    Sizes,
    /// Outsides, each with a small drawing.
    Profiles,
    /// Units.
    Units,
    /// Result paths.
    Results,
    /// Fields of a band.
    Fields,
    /// Results that moved from one version to the next.
    Moved,
    /// Rulebooks of fineness.
    Rules,
    /// The schema of the machine output.
    Schema,
}

impl Listing {
    /// What each lists, in a line.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Self::Alloys => "built-in metals: parts, density, strengths, each with its source",
            Self::Sizes => "ring sizes of all systems side by side",
            Self::Profiles => "kinds of outside, each with a drawing",
            Self::Units => "units, and what they are",
            Self::Results => "everything that can be asked for",
            Self::Fields => "everything that can be written, with its default",
            Self::Moved => "results that moved from one version to the next, and why",
            Self::Rules => "rulebooks of fineness, each value with its clause",
            Self::Schema => "the schema of the machine output",
        }
    }

    /// All listings with their words.
    pub const ALL: &[(&str, Self)] = &[
        ("alloys", Self::Alloys),
        ("fields", Self::Fields),
        ("moved", Self::Moved),
        ("profiles", Self::Profiles),
        ("results", Self::Results),
        ("rules", Self::Rules),
        ("schema", Self::Schema),
        ("sizes", Self::Sizes),
        ("units", Self::Units),
    ];
}

/// A listing as text; `of` narrows it to one row, which is then shown whole.
///
/// # Errors
/// None where there is no such row.
#[must_use]
pub fn listing(what: Listing, of: Option<&str>, width: usize) -> Option<String> {
    let text = match (what, of) {
        (Listing::Alloys, None) => Some(alloys(width)),
        (Listing::Alloys, Some(name)) => catalogue::alloy(name).map(|row| alloy(row, width)),
        (Listing::Sizes, None) => Some(sizes(width)),
        (Listing::Sizes, Some(word)) => system(word, width),
        (Listing::Profiles, None) => Some(super::list_profiles::all()),
        (Listing::Profiles, Some(kind)) => super::list_profiles::one(kind),
        (Listing::Rules, None) => Some(super::list_rules::all(width)),
        (Listing::Rules, Some(word)) => super::list_rules::one(word),
        (Listing::Units, None) => Some(format!("{}\n{QUOTIENTS}", fitted(&units(), 0, width))),
        (Listing::Results, None) => Some(format!("{}\n{READ_ALIKE}", fitted(&results(), 0, width))),
        (Listing::Fields, None) => Some(fitted(&fields(), 0, width)),
        (Listing::Moved, None) => Some(fitted(&moved(), 0, width)),
        (Listing::Schema, None) => Some(super::document::SCHEMA.to_owned()),
        (Listing::Units | Listing::Results | Listing::Fields | Listing::Moved, Some(name)) => {
            among(what, &|row| row == name, width)
        }
        (Listing::Schema, Some(_)) => None,
    }?;
    Some(match what {
        // What a machine reads is no text to be laid out.
        Listing::Schema => text,
        _ => lines_fitted(&text, width),
    })
}

const QUOTIENTS: &str = "quotients are written with a tight stroke (g/cm3, mm/min, EUR/g); areas and volumes as mm2, cm3; money by its ISO 4217 code\na bare `oz` is refused (write ozt or ozav), so is `ct`, the weight of a stone (fineness is `karat`), and `gr`\n";

const READ_ALIKE: &str = "fields are read the same way: `annulet list fields`\n";

/// The rows of a listing, the header first; none where it has none.
pub(super) fn table(what: Listing) -> Option<Vec<Vec<String>>> {
    Some(match what {
        Listing::Alloys => alloy_rows(),
        Listing::Sizes => system_rows(),
        Listing::Rules => super::list_rules::rows(),
        Listing::Units => units(),
        Listing::Results => results(),
        Listing::Fields => fields(),
        Listing::Moved => moved(),
        Listing::Profiles | Listing::Schema => return None,
    })
}

/// Some rows of a listing, by their names, under its header; none where there is none.
pub(super) fn among(what: Listing, wanted: &dyn Fn(&str) -> bool, width: usize) -> Option<String> {
    let rows = table(what)?;
    let (head, rows) = rows.split_first()?;
    let names = |row: &&Vec<String>| row.first().is_some_and(|first| wanted(of_band(first)));
    let found = std::iter::once(head).chain(rows.iter().filter(names));
    let found: Vec<Vec<String>> = found.cloned().collect();
    (found.len() > 1).then(|| fitted(&found, 0, width))
}

/// The path of a field or result behind the band that it is of.
pub(super) fn of_band(path: &str) -> &str {
    path.strip_prefix("BAND.").unwrap_or(path)
}

/// Results that moved: a path and what else moved for the same reason, since when, and why.
fn moved() -> Vec<Vec<String>> {
    let mut rows = vec![row(["result", "since", "why it is another than before"])];
    for one in catalogue::moved() {
        let results = one.results.iter();
        rows.extend(results.map(|path| vec![path.clone(), one.version.clone(), one.why.clone()]));
    }
    rows
}

fn alloy_rows() -> Vec<Vec<String>> {
    let mut rows = vec![row([
        "alloy",
        "title",
        "parts per thousand",
        "density g/cm3",
        "basis",
    ])];
    for alloy in catalogue::alloys() {
        let (density, basis) = density(alloy);
        rows.push(vec![
            alloy.name.clone(),
            alloy.title.clone(),
            parts(alloy),
            density,
            basis,
        ]);
    }
    rows
}

fn alloys(width: usize) -> String {
    format!(
        "{}\n`annulet list alloys NAME` shows one with all its figures and sources\n",
        fitted(&alloy_rows(), 0, width)
    )
}

fn parts(alloy: &AlloyRow) -> String {
    let mut parts: Vec<_> = alloy.parts.iter().collect();
    parts.sort_by_key(|(_, part)| std::cmp::Reverse(**part));
    parts
        .into_iter()
        .map(|(element, part)| format!("{element} {}", part.normalize()))
        .collect::<Vec<_>>()
        .join(", ")
}

fn density(alloy: &AlloyRow) -> (String, String) {
    match &alloy.density {
        Some(figure) => (figure.value.to_string(), figure.status.clone()),
        None => {
            let parts: Vec<_> = alloy.parts.clone().into_iter().collect();
            let mixed = mixed_density(&parts).map_or_else(String::new, |mixed| {
                shown(Number::Computed(mixed), 2, Digits::Useful).marked()
            });
            (mixed, "derived, \u{B1} 2.5 %".to_owned())
        }
    }
}

/// One alloy with every figure and its source.
fn alloy(alloy: &AlloyRow, width: usize) -> String {
    let mut rows = vec![
        row(["alloy", &alloy.name, ""]),
        row(["also", &alloy.also.join(", "), ""]),
        row(["title", &alloy.title, ""]),
        vec![
            "parts".to_owned(),
            parts(alloy),
            cited(
                &alloy.composition.source,
                &alloy.composition.status,
                alloy.composition.note.as_deref(),
            ),
        ],
    ];
    let (value, basis) = density(alloy);
    match &alloy.density {
        Some(figure) => rows.push(figure_row("density", figure, "g/cm3")),
        None => rows.push(vec!["density".to_owned(), format!("{value} g/cm3"), basis]),
    }
    rows.extend(
        alloy
            .density_also
            .iter()
            .map(|figure| figure_row("  other reading", figure, "g/cm3")),
    );
    rows.extend(
        alloy
            .modulus
            .iter()
            .map(|figure| figure_row("modulus", figure, "GPa")),
    );
    rows.extend(
        alloy
            .modulus_also
            .iter()
            .map(|figure| figure_row("  other reading", figure, "GPa")),
    );
    for melting in alloy.melting.iter().chain(&alloy.melting_also) {
        let ends: Vec<String> = [melting.solidus, melting.liquidus]
            .iter()
            .flatten()
            .map(ToString::to_string)
            .collect();
        let value = format!("{} \u{B0}C", ends.join(" to "));
        rows.push(vec![
            "melts".to_owned(),
            value,
            cited(&melting.source, &melting.status, melting.note.as_deref()),
        ]);
    }
    rows.extend(
        alloy
            .anneal
            .iter()
            .map(|figure| figure_row("anneal", figure, "\u{B0}C")),
    );
    for (name, state) in [
        ("annealed", &alloy.annealed),
        ("hard", &alloy.hard),
        ("aged", &alloy.aged),
    ] {
        let figures = [
            (
                "yield",
                state.yield_stress.iter().collect::<Vec<_>>(),
                "MPa",
            ),
            (
                "tensile",
                state.tensile.iter().chain(&state.tensile_also).collect(),
                "MPa",
            ),
            (
                "elongation",
                state
                    .elongation
                    .iter()
                    .chain(&state.elongation_also)
                    .collect(),
                "%",
            ),
            (
                "hardness",
                state.hardness.iter().chain(&state.hardness_also).collect(),
                "HV",
            ),
        ];
        for (word, readings, unit) in figures {
            rows.extend(
                readings
                    .into_iter()
                    .map(|figure| figure_row(&format!("{name} {word}"), figure, unit)),
            );
        }
    }
    let note = alloy
        .note
        .as_ref()
        .map(|note| format!("\n{note}\n"))
        .unwrap_or_default();
    format!("{}{note}", listed(&rows, width))
}

fn figure_row(label: &str, figure: &CitedFigure, unit: &str) -> Vec<String> {
    let range = figure
        .value_max
        .map(|most| format!(" to {most}"))
        .unwrap_or_default();
    vec![
        label.to_owned(),
        format!("{}{range} {unit}", figure.value),
        cited(&figure.source, &figure.status, figure.note.as_deref()),
    ]
}

fn cited(source: &str, status: &str, note: Option<&str>) -> String {
    let note = note.map(|note| format!("; {note}")).unwrap_or_default();
    let title = catalogue::source(source);
    if title == status {
        format!("{status}{note}")
    } else {
        format!("{status}: {title}{note}")
    }
}

/// All systems side by side, by the whole millimetre of circumference that ISO counts in.
/// Size systems: word, from, to, step, status, what they are.
fn system_rows() -> Vec<Vec<String>> {
    let mut basis = vec![row([
        "system",
        "from",
        "to",
        "step",
        "status",
        "what it is",
    ])];
    for system in catalogue::systems() {
        let status =
            catalogue::system_basis(&system.word).map_or("", |basis| basis.status.as_str());
        let (low, high) = (
            designated(system, system.lowest),
            designated(system, system.highest),
        );
        basis.push(row([
            &system.word,
            &low,
            &high,
            &system.grain.to_string(),
            status,
            &system.name,
        ]));
    }
    basis
}

fn sizes(width: usize) -> String {
    let systems = catalogue::systems();
    let mut rows = vec![
        ["inside \u{D8} mm".to_owned(), "circumference mm".to_owned()]
            .into_iter()
            .chain(systems.iter().map(|system| system.word.clone()))
            .collect::<Vec<_>>(),
    ];
    for circumference in 41..=76 {
        let circumference = f64::from(circumference);
        let diameter = shown(
            Number::Computed(circumference / std::f64::consts::PI),
            2,
            Digits::Useful,
        )
        .text;
        let near = systems.iter().map(|system| {
            RingSize::nearest(system, circumference)
                .map_or_else(|| "-".to_owned(), |size| size.designation())
        });
        rows.push(
            [diameter, circumference.to_string()]
                .into_iter()
                .chain(near)
                .collect(),
        );
    }
    let mut text = banks(&rows, 2, width);
    text.push_str("\neach column shows the nearest size of its system; `annulet list sizes US` shows one system whole, `annulet list sizes US 7 1/2` one size\n\n");
    text.push_str(&fitted(&system_rows(), 0, width));
    text.push_str("\nnot defined anywhere, and refused:\n");
    let refused: Vec<Vec<String>> = catalogue::undefined()
        .iter()
        .map(|one| row([&one.word, &one.reason]))
        .collect();
    text.push_str(&listed(&refused, width));
    text
}

/// One system: every size, its source, where it is read.
fn system(word: &str, width: usize) -> Option<String> {
    let system = catalogue::system(word)?;
    let basis = catalogue::system_basis(word)?;
    let mut text = format!(
        "{}\n{}: {}\nread: {}\n\n",
        system.name, basis.status, basis.source, basis.reading
    );
    let mut rows = vec![row(["size", "inside \u{D8} mm", "circumference mm"])];
    let mut at = system.lowest;
    while at <= system.highest {
        let size = RingSize { system, at };
        let circumference = match size.circumference() {
            Number::Exact(value) => value.normalize().to_string(),
            Number::Computed(value) => shown(Number::Computed(value), 3, Digits::Useful).marked(),
        };
        let diameter =
            from_f64(size.diameter()).map_or(Number::Computed(size.diameter()), Number::Exact);
        rows.push(vec![
            size.to_string(),
            shown(diameter, 4, Digits::Useful).marked(),
            circumference,
        ]);
        at += system.grain;
    }
    text.push_str(&fitted(&rows, 0, width));
    Some(text)
}
