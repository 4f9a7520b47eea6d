//! Why a value is what it is: its formula and inputs, or every place that set it and the one that won.

use crate::model::money::Setting;
use crate::model::{Alloy, AlloyDensity, FieldValue, LetValue, Value};
use crate::schema::{BlockId, FieldId, Need, Subject};
use crate::source::{Sources, Span};

use super::evaluation::Evaluation;

/// A value and why it is that.
#[derive(Clone, Debug)]
pub struct Why {
    /// Full path, with its band.
    pub path: String,
    /// The value.
    pub value: Option<Value>,
    /// What it means.
    pub meaning: String,
    /// How it is computed; none for a field.
    pub formula: Option<String>,
    /// Whether the recipe says nothing of it, so that its default holds.
    pub is_default: bool,
    /// Where a field is set, weakest first; the last one wins.
    pub places: Vec<WhyPlace>,
    /// What it is computed from.
    pub inputs: Vec<Why>,
}

/// A place that sets a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhyPlace {
    /// `file:line:column`, `--set`, or the basis of a default.
    pub place: String,
    /// What is said there.
    pub text: String,
}

/// The tree of a value; inputs are followed `depth` levels down.
#[must_use]
pub fn explain(
    subject: Subject,
    evaluation: &Evaluation,
    sources: &Sources,
    depth: usize,
) -> Option<Why> {
    let band = &evaluation.band;
    match subject {
        Subject::Field(id) => {
            let field = id.row();
            let value = band.field(field.id)?;
            Some(Why {
                path: format!("{}.{}", band.name, field.path),
                value: Some(value.value.clone()),
                meaning: field.meaning.to_owned(),
                formula: None,
                is_default: value.at.is_none(),
                places: places(value, sources),
                inputs: if field.id == FieldId::Alloy {
                    let density = explain_alloy(&band.alloy, "density", sources);
                    density.into_iter().collect()
                } else {
                    Vec::new()
                },
            })
        }
        Subject::Result(id) => {
            let entry = id.row();
            let quantity = evaluation.result(entry)?;
            let unit = evaluation.unit(entry).into_owned();
            let unit = Some(unit).filter(|unit| !unit.is_empty());
            let (formula, needs) = evaluation.formula(entry);
            let inputs = needs.iter().filter(|_| depth > 0).flat_map(|need| {
                let why = |subject| explain(subject, evaluation, sources, depth.saturating_sub(1));
                match need {
                    Need::R(id) => why(Subject::Result(*id)).into_iter().collect(),
                    Need::F(id) if id.row().block == BlockId::Band => {
                        why(Subject::Field(*id)).into_iter().collect()
                    }
                    Need::F(id) => settings(id.path(), evaluation, sources),
                    Need::B(block) => settings(block.word(), evaluation, sources),
                }
            });
            Some(Why {
                path: format!("{}.{}", band.name, entry.path),
                value: Some(Value::Quantity { quantity, unit }),
                meaning: entry.meaning.to_owned(),
                formula: Some(formula.to_owned()),
                is_default: false,
                places: Vec::new(),
                inputs: inputs.collect(),
            })
        }
    }
}

/// Everything under a path of `prices` or `shop` that the recipe states.
fn settings(path: &str, evaluation: &Evaluation, sources: &Sources) -> Vec<Why> {
    let Some(terms) = &evaluation.band.terms else {
        return Vec::new();
    };
    let under = |known: &str| {
        known
            .strip_prefix(path)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    let stated = terms.money.said.settings();
    stated
        .filter(|one| one.value.at.is_some() && under(&one.path()))
        .map(|one| explain_setting(one, sources))
        .collect()
}

/// What `prices` or `shop` says, and every place that says it.
#[must_use]
pub fn explain_setting(setting: Setting<'_>, sources: &Sources) -> Why {
    Why {
        path: setting.path(),
        value: Some(setting.value.value.clone()),
        meaning: setting.value.field.meaning.to_owned(),
        formula: None,
        is_default: setting.value.at.is_none(),
        places: places(setting.value, sources),
        inputs: Vec::new(),
    }
}

/// A `let` and every place that gives it a value.
#[must_use]
pub fn explain_let(one: &LetValue, sources: &Sources) -> Why {
    Why {
        path: one.name.clone(),
        value: Some(one.value.clone()),
        meaning: "a value that the recipe names".to_owned(),
        formula: None,
        is_default: false,
        places: one
            .places
            .iter()
            .map(|span| why_place(*span, sources))
            .collect(),
        inputs: Vec::new(),
    }
}

/// Every place that set a field, weakest first; a default under them all.
fn places(value: &FieldValue, sources: &Sources) -> Vec<WhyPlace> {
    let default = value.field.default.map(|(text, basis)| WhyPlace {
        place: format!("default ({basis})"),
        text: text.to_owned(),
    });
    let written = value.places.iter().map(|span| why_place(*span, sources));
    default.into_iter().chain(written).collect()
}

fn why_place(span: Span, sources: &Sources) -> WhyPlace {
    WhyPlace {
        place: locate(span, sources),
        text: sources.slice(span).to_owned(),
    }
}

/// Where something is written: `file:line:column`, `--set`, or `try`.
#[must_use]
pub fn locate(span: Span, sources: &Sources) -> String {
    match sources.holding(span) {
        Some(source) if matches!(&*source.name, "--set" | "try") => source.name.to_string(),
        _ => sources.locate(span),
    }
}

/// A value of an alloy by its path, and every place that says it.
#[must_use]
pub fn explain_alloy(alloy: &Alloy, path: &str, sources: &Sources) -> Option<Why> {
    let value = alloy.value(path)?;
    let parts: Vec<String> = alloy
        .parts
        .iter()
        .map(|(element, part)| format!("{element} {}", part.normalize()))
        .collect();
    let parts = parts.join(", ");
    let written = alloy.places.iter().find(|(known, _)| known == path);
    let mut places: Vec<WhyPlace> = written
        .iter()
        .flat_map(|(_, places)| places)
        .map(|span| why_place(*span, sources))
        .collect();
    if places.is_empty() {
        let mixed = "derived by ideal mixing of the elements, may be off by about 2.5 %";
        let mut figures = alloy.tempers.iter().flat_map(|temper| {
            let all = temper.figures.iter();
            all.map(|(field, _, basis)| (format!("temper.{}.{}", temper.name, field.word()), basis))
        });
        let text = match (&alloy.density, figures.find(|(known, _)| known == path)) {
            (_, Some((_, basis))) => basis,
            (AlloyDensity::Stated { basis, .. }, _) if path == "density" => basis,
            (AlloyDensity::Derived(_), _) if path == "density" => mixed,
            _ => parts.as_str(),
        };
        places.push(WhyPlace {
            place: alloy
                .at
                .map_or_else(|| "built-in alloy".to_owned(), |at| locate(at, sources)),
            text: text.to_owned(),
        });
    }
    let meaning = match path.rsplit_once('.') {
        Some((temper, field)) => {
            format!(
                "{field} of {} in its {}",
                alloy.name,
                temper.replace('.', " ")
            )
        }
        None if path == "density" => format!("density of {} ({parts})", alloy.name),
        None => format!("parts per thousand of {path} in {}", alloy.name),
    };
    Some(Why {
        path: format!("{}.{path}", alloy.name),
        value: Some(value),
        meaning,
        formula: None,
        is_default: false,
        places,
        inputs: Vec::new(),
    })
}
