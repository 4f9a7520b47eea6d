//! The parts of the machine output: values, bands, verdicts, findings; [`super::document`] lays them out.
//!
//! Written quantities are exact decimal strings with their unit; computed ones are the shortest numbers
//! that read back the same. Nothing depends on where or when the recipe is evaluated.

use crate::schema;
use serde_json::{Map, Value as Json, json};

use crate::evaluate::{Evaluation, Rest, Spread, Verdict, Why, range_of, rests};
use crate::finding::{Finding, Weight};
use crate::model::{FieldValue, Value, check};
use crate::quantity::{Number, Quantity};
use crate::source::{Sources, Span, printable};
use crate::words::fineness;

use super::number::{Digits, shown_in};

/// What stands in place of an answer that there is not.
pub const NO_ANSWER: &str = "\u{2014}";

/// Answers to questions, in order, each with what it rests on; a question that has none keeps its place.
#[must_use]
pub fn answers(answers: &[(String, Option<Value>, Vec<&'static str>)]) -> Vec<Json> {
    let answer = |(question, value, rests): &(String, Option<Value>, Vec<&'static str>)| {
        let mut object = Map::new();
        object.insert("question".to_owned(), json!(question));
        match value {
            Some(value) => {
                object.extend(self::value(value));
                add_rests(&mut object, rests.iter().copied());
            }
            None => {
                object.insert("value".to_owned(), Json::Null);
            }
        }
        Json::Object(object)
    };
    answers.iter().map(answer).collect()
}

/// One requirement with its verdict.
#[must_use]
pub fn verdict(verdict: &Verdict, sources: &Sources) -> Json {
    let place = Place::of(Some(verdict.at), sources);
    json!({
        "requirement": verdict.what,
        "holds": verdict.holds.unwrap_or(false),
        "decided": verdict.holds.is_some(),
        "found": verdict.found,
        "margin": verdict.margin,
        "file": place.file,
        "line": place.line,
        "column": place.column,
    })
}

/// Why a value is what it is.
#[must_use]
pub fn why(why: &Why) -> Json {
    let places: Vec<Json> = why
        .places
        .iter()
        .map(|place| json!({ "place": place.place, "text": place.text }))
        .collect();
    let value = why.value.as_ref().map(|found| {
        let mut object = value(found);
        if why.formula.is_none() && why.is_default {
            object.insert("default".to_owned(), json!(true));
        }
        Json::Object(object)
    });
    json!({
        "path": why.path,
        "value": value,
        "meaning": why.meaning,
        "formula": why.formula,
        "places": places,
        "inputs": why.inputs.iter().map(self::why).collect::<Vec<_>>(),
    })
}

/// One band: what it is, and the words of the cautions that it calls for.
#[must_use]
pub fn band(evaluation: &Evaluation) -> Json {
    let band = &evaluation.band;
    let cautions: Vec<&str> = evaluation.cautions.iter().map(|one| one.name).collect();
    json!({
        "name": band.name,
        "title": band.title(),
        "build": if band.hollow.is_some() { "hollow" } else { "solid" },
        "alloy": band.alloy.name,
        "holds": evaluation.holds(),
        "cautions": cautions,
        "weighed": super::weighed::json(evaluation),
    })
}

/// Fields and results of a band by their full path, behind those that are there.
pub fn add(values: &mut Map<String, Json>, evaluation: &Evaluation) {
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
        let mut object = quantity_json(number, &evaluation.unit(entry));
        if let Some(range) = range_of(evaluation, entry) {
            let mut spread = spread_json(range.spread());
            if let Some(object) = spread.as_object_mut() {
                object.insert("way".to_owned(), json!(range.way.word()));
            }
            object.insert("spread".to_owned(), spread);
        }
        let rests = rests(evaluation, entry).into_iter();
        add_rests(&mut object, rests.map(Rest::word));
        values.insert(format!("{name}.{}", entry.path), Json::Object(object));
    }
    // Rulebooks of the recipe's own are no part of the catalogue of results.
    let own = evaluation.band.marking.own_words();
    let mut paths: Vec<String> = fineness::paths(own).collect();
    let asked = evaluation.band.marking.asked.iter();
    paths.extend(asked.map(|word| format!("fineness.{word}.verdict")));
    for path in paths {
        if let Some(found) = fineness::asked(evaluation, &path) {
            values.insert(format!("{name}.{path}"), Json::Object(value(&found)));
        }
    }
}

/// What a value rests on, where it rests on anything that must be said.
pub(super) fn add_rests(object: &mut Map<String, Json>, rests: impl Iterator<Item = &'static str>) {
    let rests: Vec<&str> = rests.collect();
    if !rests.is_empty() {
        object.insert("rests".to_owned(), json!(rests));
    }
}

pub(super) fn spread_json(spread: Spread) -> Json {
    json!({ "low": spread.low, "high": spread.high, "deviation": spread.deviation })
}

fn field(field: &FieldValue) -> Map<String, Json> {
    let mut object = value(&field.value);
    if field.at.is_none() {
        object.insert("default".to_owned(), json!(true));
    }
    object
}

/// A value: of a quantity with unit and display text, of all else as a recipe writes it.
pub(super) fn value(value: &Value) -> Map<String, Json> {
    let mut object = Map::new();
    match value {
        Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
            let (number, word) = check::in_unit(quantity, unit.as_deref());
            object = quantity_json(number, &word);
            if !quantity.deviations.is_empty() {
                let worst = Quantity::new(Number::Computed(quantity.worst()), quantity.dimension);
                let (worst, _) = check::in_unit(&worst, Some(word.as_str()));
                object.insert("display".to_owned(), json!(check::shown(value)));
                object.insert("within".to_owned(), json!(worst.to_f64()));
            }
        }
        other => {
            let plain = match other {
                Value::Text(text) => text.clone(),
                other => check::written(other),
            };
            object.insert("value".to_owned(), json!(plain));
            if matches!(other, Value::Size { off: Some(_), .. }) {
                object.insert("exact".to_owned(), json!(false));
                object.insert("display".to_owned(), json!(check::shown(other)));
            }
        }
    }
    object
}

pub(super) fn quantity_json(number: Number, unit: &str) -> Map<String, Json> {
    let display = shown_in(number, unit, Digits::Useful).marked();
    let display = if unit.is_empty() {
        display
    } else {
        format!("{display} {unit}")
    };
    let value = match number {
        Number::Exact(_) => json!(number.to_string()),
        Number::Computed(value) => json!(value),
    };
    let pairs = [
        ("value", value),
        ("unit", json!((!unit.is_empty()).then_some(unit))),
        ("display", json!(display)),
    ];
    let pairs = pairs.map(|(key, value)| (key.to_owned(), value));
    pairs.into_iter().collect()
}

/// A span as machine output has it; each is null where there is no such place.
#[derive(Default)]
struct Place {
    file: Json,
    line: Json,
    column: Json,
    end: Json,
    span: Json,
}

impl Place {
    fn of(span: Option<Span>, sources: &Sources) -> Self {
        let Some((span, source)) = span.and_then(|span| Some((span, sources.holding(span)?)))
        else {
            return Self::default();
        };
        let (start, end) = (source.place(span), source.place(span.after()));
        let range = source.range(span);
        Self {
            file: json!(&*source.name),
            line: json!(start.line),
            column: json!(start.column),
            end: json!({ "line": end.line, "column": end.column }),
            span: json!([range.start, range.end]),
        }
    }
}

/// How much a finding weighs, in a word.
#[must_use]
pub fn severity(weight: Weight) -> &'static str {
    match weight {
        Weight::Wrong => "error",
        Weight::Short => "warning",
        Weight::Note => "note",
    }
}

/// One finding with its places, its repair and what it is of.
#[must_use]
pub fn finding(finding: &Finding, sources: &Sources) -> Json {
    let mut labels = finding.labels().into_iter();
    let (main, label) = labels.next().unzip();
    let at = Place::of(main, sources);
    let with = |text: String, span: Span| {
        let at = Place::of(Some(span), sources);
        json!({
            "text": text, "file": at.file, "line": at.line, "column": at.column,
            "end": at.end, "span": at.span,
        })
    };
    let related: Vec<Json> = labels.map(|(span, text)| with(text, span)).collect();
    let repair = finding
        .repair()
        .map(|repair| with(repair.text, repair.span));
    let identity = finding.identity().cloned().unwrap_or_default();
    json!({
        "code": finding.code(),
        "severity": severity(finding.weight()),
        "message": finding.message(),
        "file": at.file, "line": at.line, "column": at.column,
        "end": at.end, "span": at.span,
        "label": label.filter(|label| !label.is_empty()),
        "related": related,
        "help": finding.help(),
        "repair": repair,
        "band": identity.band.as_deref(),
        "field": identity.field,
        "wall": identity.wall,
    })
}

/// What is wrong with a call, or with a file that cannot be read.
#[must_use]
pub fn told(code: &str, weight: Weight, file: Option<&str>, message: &str) -> Json {
    json!({
        "code": code,
        "severity": severity(weight),
        "message": printable(message),
        "file": file, "line": null, "column": null, "end": null, "span": null,
        "label": null, "related": [], "help": null, "repair": null,
        "band": null, "field": null, "wall": null,
    })
}
