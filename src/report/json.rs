//! Machine output: one flat map by full path, versioned, in a fixed order.
//!
//! Written quantities are exact decimal strings with their unit; computed ones are the shortest numbers
//! that read back the same. Nothing depends on where or when the recipe is evaluated.

use crate::schema;
use serde_json::{Map, Value as Json, json};

use crate::evaluate::{Evaluation, Spread, Verdict, Why, spread_of};
use crate::finding::{Finding, Weight};
use crate::model::{FieldValue, Value, check};
use crate::quantity::{Number, Quantity};
use crate::source::{Sources, Span, is_safe};
use crate::words::fineness;

use super::number::{Digits, shown_in};

/// Version of the output's shape; it changes only additively within an edition of the language.
pub(super) const VERSION: u32 = 1;

/// The published schema of the output (JSON Schema, draft 2020-12).
pub const SCHEMA: &str = include_str!("results.schema.json");

/// Results of some bands and the findings about them, in order.
#[must_use]
pub fn results<'a>(
    evaluations: impl Iterator<Item = &'a Evaluation>,
    verdicts: &[Verdict],
    findings: impl Iterator<Item = &'a Finding>,
    sources: &Sources,
    on: Option<&str>,
) -> Json {
    let mut bands = Vec::new();
    let mut values = Map::new();
    for evaluation in evaluations {
        bands.push(band(evaluation));
        add(&mut values, evaluation);
    }
    let problems: Vec<Json> = findings.map(|one| finding(one, sources)).collect();
    json!({
        "annulet": "results",
        "version": VERSION,
        "edition": 1,
        "on": on,
        "bands": bands,
        "results": values,
        "requirements": verdicts.iter().map(|one| verdict(one, sources)).collect::<Vec<_>>(),
        "findings": problems,
    })
}

/// A document as text, lines indented. What could upset a terminal is written as its code point, which says the same
/// to whoever reads JSON.
#[must_use]
pub fn text(json: &Json) -> String {
    let text = format!("{json:#}\n");
    if text.chars().all(|c| is_safe(c) || c == '\n') {
        return text;
    }
    let written = |c: char| match c {
        '\n' => c.to_string(),
        c if is_safe(c) => c.to_string(),
        c => format!("\\u{:04x}", u32::from(c)),
    };
    text.chars().map(written).collect()
}

/// What stands in place of an answer that there is not.
pub const NO_ANSWER: &str = "\u{2014}";

/// Answers to questions, in order; a question that has none keeps its place.
#[must_use]
pub fn answers(answers: &[(String, Option<Value>)], on: Option<&str>) -> Json {
    let list: Vec<Json> = answers
        .iter()
        .map(|(question, value)| {
            let mut object = Map::new();
            object.insert("question".to_owned(), json!(question));
            match value {
                Some(value) => object.extend(self::value(value, "answer")),
                None => object.extend(no_value()),
            }
            Json::Object(object)
        })
        .collect();
    json!({ "annulet": "answers", "version": VERSION, "edition": 1, "on": on, "answers": list })
}

fn no_value() -> Map<String, Json> {
    let pairs = [
        ("kind", json!("none")),
        ("value", Json::Null),
        ("unit", Json::Null),
        ("exact", json!(false)),
        ("display", json!(NO_ANSWER)),
    ];
    let pairs = pairs.map(|(key, value)| (key.to_owned(), value));
    pairs.into_iter().collect()
}

/// Findings and requirements alone, in order.
#[must_use]
pub fn findings(findings: Vec<Json>, requirements: Vec<Json>) -> Json {
    json!({
        "annulet": "findings",
        "version": VERSION,
        "edition": 1,
        "findings": findings,
        "requirements": requirements,
    })
}

/// One requirement with its verdict.
#[must_use]
pub fn verdict(verdict: &Verdict, sources: &Sources) -> Json {
    json!({
        "requirement": verdict.what,
        "holds": verdict.holds.unwrap_or(false),
        "decided": verdict.holds.is_some(),
        "found": verdict.found,
        "margin": verdict.margin,
        "place": place(verdict.at, sources),
    })
}

/// Why a value is what it is.
#[must_use]
pub fn why(why: &Why, on: Option<&str>) -> Json {
    json!({ "annulet": "why", "version": VERSION, "edition": 1, "on": on, "why": why_node(why) })
}

fn why_node(why: &Why) -> Json {
    let places: Vec<Json> = why
        .places
        .iter()
        .map(|place| json!({ "place": place.place, "text": place.text }))
        .collect();
    let value = why.value.as_ref().map(|found| {
        let kind = match (&why.formula, why.is_default) {
            (Some(_), _) => "computed",
            (None, true) => "default",
            (None, false) => "written",
        };
        Json::Object(value(found, kind))
    });
    json!({
        "path": why.path,
        "value": value,
        "meaning": why.meaning,
        "formula": why.formula,
        "places": places,
        "inputs": why.inputs.iter().map(why_node).collect::<Vec<_>>(),
    })
}

fn band(evaluation: &Evaluation) -> Json {
    let band = &evaluation.band;
    let cautions: Vec<Json> = evaluation
        .cautions
        .iter()
        .map(|one| json!({ "name": one.name, "text": one.text }))
        .collect();
    json!({
        "name": band.name,
        "title": band.title(),
        "build": if band.hollow.is_some() { "hollow" } else { "solid" },
        "alloy": band.alloy.name,
        "holds": evaluation.holds(),
        "cautions": cautions,
    })
}

fn add(values: &mut Map<String, Json>, evaluation: &Evaluation) {
    let name = &evaluation.band.name;
    for field in evaluation.band.fields.iter() {
        values.insert(
            format!("{name}.{}", field.field.path),
            Json::Object(self::field(field)),
        );
    }
    for entry in schema::RESULTS.iter() {
        let Some(number) = evaluation.number(entry.id) else {
            continue;
        };
        let mut object = quantity_json(number, &evaluation.unit(entry), "computed");
        if let Some(spread) = spread_of(evaluation, entry) {
            object.insert("spread".to_owned(), spread_json(spread));
        }
        values.insert(format!("{name}.{}", entry.path), Json::Object(object));
    }
    // Rulebooks of the recipe's own are no part of the catalogue of results.
    let own = evaluation.band.marking.own_words();
    let mut paths: Vec<String> = fineness::paths(own).collect();
    let asked = evaluation.band.marking.asked.iter();
    paths.extend(asked.map(|word| format!("fineness.{word}.verdict")));
    for path in paths {
        if let Some(found) = fineness::asked(evaluation, &path) {
            values.insert(
                format!("{name}.{path}"),
                Json::Object(value(&found, "computed")),
            );
        }
    }
}

fn spread_json(spread: Spread) -> Json {
    json!({ "low": spread.low, "high": spread.high, "deviation": spread.deviation })
}

fn field(field: &FieldValue) -> Map<String, Json> {
    value(
        &field.value,
        if field.at.is_some() {
            "written"
        } else {
            "default"
        },
    )
}

/// A value as an object of kind, value, unit and display text.
pub(super) fn value(value: &Value, kind: &str) -> Map<String, Json> {
    match value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            let (number, word) = check::in_unit(quantity, unit.as_deref());
            let mut object = quantity_json(number, &word, kind);
            if !quantity.deviations.is_empty() {
                let worst = Quantity::new(Number::Computed(quantity.worst()), quantity.dimension);
                let (worst, _) = check::in_unit(&worst, Some(word.as_str()));
                object.insert("within".to_owned(), json!(worst.to_f64()));
                object.insert("display".to_owned(), json!(check::shown(value)));
            }
            object
        }
        other => {
            let plain = match other {
                Value::Text(text) => text.clone(),
                other => check::written(other),
            };
            let display = match other {
                Value::Text(_) => plain.clone(),
                other => check::shown(other),
            };
            let mut object = Map::new();
            object.insert("kind".to_owned(), json!(kind));
            object.insert("value".to_owned(), json!(plain));
            object.insert("unit".to_owned(), Json::Null);
            let rounded = matches!(other, Value::Size { off: Some(_), .. });
            object.insert("exact".to_owned(), json!(!rounded));
            object.insert("display".to_owned(), json!(display));
            object
        }
    }
}

pub(super) fn quantity_json(number: Number, unit: &str, kind: &str) -> Map<String, Json> {
    let mut object = Map::new();
    let display = shown_in(number, unit, Digits::Useful).marked();
    let display = if unit.is_empty() {
        display
    } else {
        format!("{display} {unit}")
    };
    let (value, exact) = match number {
        Number::Exact(_) => (json!(number.to_string()), true),
        Number::Computed(value) => (json!(value), false),
    };
    object.insert("kind".to_owned(), json!(kind));
    object.insert("value".to_owned(), value);
    object.insert(
        "unit".to_owned(),
        if unit.is_empty() {
            Json::Null
        } else {
            json!(unit)
        },
    );
    object.insert("exact".to_owned(), json!(exact));
    object.insert("display".to_owned(), json!(display));
    object
}

/// A span as source, lines, columns and bytes.
fn place(span: Span, sources: &Sources) -> Option<Json> {
    let source = sources.holding(span)?;
    let (start, end) = (source.place(span), source.place(span.after()));
    let range = source.range(span);
    Some(json!({
        "source": &*source.name,
        "line": start.line, "column": start.column,
        "end-line": end.line, "end-column": end.column,
        "start-byte": range.start, "end-byte": range.end,
    }))
}

/// One finding with its places and its repair.
#[must_use]
pub fn finding(finding: &Finding, sources: &Sources) -> Json {
    let severity = match finding.weight() {
        Weight::Wrong => "wrong",
        Weight::Short => "short",
        Weight::Note => "note",
    };
    let labels: Vec<Json> = finding
        .labels()
        .into_iter()
        .map(|(span, text)| json!({ "text": text, "place": place(span, sources) }))
        .collect();
    let repair = finding
        .repair()
        .map(|repair| json!({ "text": repair.text, "place": place(repair.span, sources) }));
    json!({
        "code": finding.code(),
        "severity": severity,
        "message": finding.message(),
        "labels": labels,
        "help": finding.help(),
        "repair": repair,
    })
}
