//! The machine output: one document of one shape for every command, laid out recipe by recipe.
//!
//! Whoever prints it writes a [`head`], a [`recipe`] for each, and a [`tail`], so that no more than one recipe is in
//! memory beside the findings. What a command does not give is an empty list: a reader finds every key in every document.

use serde_json::{Map, Value as Json, json};

use crate::evaluate::{Evaluation, stopped};
use crate::source::is_safe;

use super::json::add;

/// Version of the document's shape; it changes only additively within an edition of the language.
pub const VERSION: u32 = 2;

/// The published schema of the document (JSON Schema, draft 2020-12).
pub const SCHEMA: &str = include_str!("document.schema.json");

/// What a document says of one recipe.
#[derive(Clone, Debug, Default)]
pub struct RecipePart {
    /// How the recipe was named.
    pub file: String,
    /// It and the files that it uses, as findings name them.
    pub files: Vec<String>,
    /// Its bands.
    pub bands: Vec<Json>,
    /// The bands whose fields and results are said, by their full path.
    pub results: Vec<Evaluation>,
    /// What it requires.
    pub requirements: Vec<Json>,
    /// Its orders with their totals.
    pub orders: Vec<Json>,
    /// Answers to what was asked of it.
    pub answers: Vec<Json>,
    /// Reasons of values.
    pub reasons: Vec<Json>,
    /// Bands side by side.
    pub comparisons: Vec<Json>,
    /// Bands over many sizes.
    pub runs: Vec<Json>,
    /// How sure the figures of its bands are.
    pub sure: Vec<Json>,
    /// What fits readings of a ring in the hand.
    pub gauged: Vec<Json>,
    /// A number that a reading of the scale settles.
    pub settled: Vec<Json>,
    /// Batches of readings.
    pub tallies: Vec<Json>,
    /// Rows of many what-ifs.
    pub sweeps: Vec<Json>,
    /// Numbers sought for a target.
    pub solutions: Vec<Json>,
    /// Values chosen for an aim.
    pub choices: Vec<Json>,
    /// Contour points of parts, for the turning program.
    pub contours: Vec<Json>,
    /// What it differs in from another state of it.
    pub differences: Vec<Json>,
    /// The fingerprints of the recipe and of the program.
    pub fingerprints: Option<(String, String)>,
    /// Orders as they are handed to the customer.
    pub offers: Vec<Json>,
}

impl RecipePart {
    /// A recipe of these files, its own first, of which nothing is said.
    #[must_use]
    pub fn of(files: &[String]) -> Self {
        Self {
            file: files.first().cloned().unwrap_or_default(),
            files: files.to_vec(),
            ..Self::default()
        }
    }

    /// All of it, every key whether it is asked for or not.
    #[must_use]
    pub fn json(mut self) -> Json {
        let mut results = Map::new();
        for evaluation in std::mem::take(&mut self.results) {
            add(&mut results, &evaluation);
        }
        let mut json = self.beside_results();
        if let Some(place) = json.get_mut(RESULTS) {
            *place = Json::Object(results);
        }
        json
    }

    /// The same without its results, of which the place is kept.
    fn beside_results(self) -> Json {
        let fingerprints = self
            .fingerprints
            .map(|(recipe, program)| json!({"recipe": recipe, "program": program}));
        json!({
                "file": self.file,
                "files": self.files,
                "bands": self.bands,
                RESULTS: {},
                "requirements": self.requirements,
                "orders": self.orders,
                "answers": self.answers,
                "reasons": self.reasons,
                "comparisons": self.comparisons,
                "runs": self.runs,
                "sure": self.sure,
                "gauged": self.gauged,
                "settled": self.settled,
                "tallies": self.tallies,
                "sweeps": self.sweeps,
                "solutions": self.solutions,
                "choices": self.choices,
                "contours": self.contours,
                "offers": self.offers,
                "differences": self.differences,
                "fingerprints": fingerprints,
        })
    }
}

/// The key of what takes the most room, so that it is written band by band.
const RESULTS: &str = "results";

/// How a document begins.
#[must_use]
pub fn head(command: &str, on: Option<&str>) -> String {
    let mut text = String::from("{\n");
    let pairs = [
        ("annulet", json!(command)),
        ("version", json!(VERSION)),
        ("edition", json!(1)),
        ("on", json!(on)),
    ];
    for (key, value) in pairs {
        text.push_str(&format!(" \"{key}\": {},\n", inline(&value)));
    }
    text.push_str(" \"recipes\": [");
    text
}

/// One recipe of a document, handed over in pieces, so that of its bands no more than one stands in memory as text;
/// `first` where none stands before it.
pub fn recipe(mut part: RecipePart, first: bool, put: &mut dyn FnMut(&str)) {
    let bands = std::mem::take(&mut part.results);
    let Json::Object(map) = part.beside_results() else {
        return;
    };
    let mut text = String::from(if first { "\n  " } else { ",\n  " });
    let mut open = '{';
    let mut bands = bands.into_iter();
    for (key, member) in &map {
        text.push_str(&format!("{open}\n   {}: ", safe(&json!(key).to_string())));
        open = ',';
        if key != RESULTS {
            write(&mut text, member, 3, 1);
            continue;
        }
        let mut before = '{';
        for evaluation in bands.by_ref().take_while(|_| !stopped()) {
            put(&text);
            text.clear();
            let mut results = Map::new();
            add(&mut results, &evaluation);
            for (path, found) in &results {
                text.push_str(&format!(
                    "{before}\n    {}: ",
                    safe(&json!(path).to_string())
                ));
                write(&mut text, found, 4, 0);
                before = ',';
            }
        }
        text.push_str(if before == '{' { "{}" } else { "\n   }" });
    }
    text.push_str("\n  }");
    put(&text);
}

/// How a document ends: listings, findings each as text of its own, and the exit status.
#[must_use]
pub fn tail(recipes: usize, lists: &[Json], findings: &[String], status: u8) -> String {
    let mut text = String::from(if recipes == 0 { "],\n" } else { "\n ],\n" });
    text.push_str(" \"lists\": ");
    write(&mut text, &Json::Array(lists.to_vec()), 1, 3);
    text.push_str(",\n \"findings\": [");
    for (place, finding) in findings.iter().enumerate() {
        text.push_str(if place == 0 { "\n  " } else { ",\n  " });
        text.push_str(finding);
    }
    text.push_str(if findings.is_empty() {
        "],\n"
    } else {
        "\n ],\n"
    });
    text.push_str(&format!(" \"status\": {status}\n}}\n"));
    text
}

/// A whole document at once.
#[must_use]
pub fn whole(
    command: &str,
    on: Option<&str>,
    parts: Vec<RecipePart>,
    findings: &[String],
    status: u8,
) -> String {
    let count = parts.len();
    let mut text = head(command, on);
    for (place, part) in parts.into_iter().enumerate() {
        recipe(part, place == 0, &mut |piece| text.push_str(piece));
    }
    text.push_str(&tail(count, &[], findings, status));
    text
}

/// A value on one line.
#[must_use]
pub fn inline(json: &Json) -> String {
    let mut text = String::new();
    write(&mut text, json, 0, 0);
    text
}

/// Writes a value, so many levels of it with a line for each member.
fn write(text: &mut String, json: &Json, indent: usize, levels: usize) {
    let (open, close, members): (char, char, Vec<(Option<&String>, &Json)>) = match json {
        Json::Object(map) => (
            '{',
            '}',
            map.iter().map(|(key, one)| (Some(key), one)).collect(),
        ),
        Json::Array(all) => ('[', ']', all.iter().map(|one| (None, one)).collect()),
        plain => return text.push_str(&safe(&plain.to_string())),
    };
    text.push(open);
    let lines = levels > 0 && !members.is_empty();
    for (place, (key, member)) in members.iter().enumerate() {
        if place > 0 {
            text.push_str(if lines { "," } else { ", " });
        }
        if lines {
            text.push('\n');
            text.push_str(&" ".repeat(indent + 1));
        }
        if let Some(key) = key {
            text.push_str(&safe(&json!(key).to_string()));
            text.push_str(": ");
        }
        write(text, member, indent + 1, levels.saturating_sub(1));
    }
    if lines {
        text.push('\n');
        text.push_str(&" ".repeat(indent));
    }
    text.push(close);
}

/// What could upset a terminal is written as its code point, which says the same to whoever reads JSON.
fn safe(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if is_safe(c) {
            safe.push(c);
            continue;
        }
        let mut units = [0; 2];
        for unit in c.encode_utf16(&mut units) {
            safe.push_str(&format!("\\u{unit:04x}"));
        }
    }
    safe
}
