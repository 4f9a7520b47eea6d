//! Questions about a recipe: expressions over the fields and results of its bands.

use crate::evaluate::{self, Evaluation, Target, find_target as find};
use crate::finding::Finding;
use crate::model::fields::{self, Field};
use crate::model::{Evaluator, ModelError, Scope, Value};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::{self, ast};

use super::{Outcome, Session};

impl Session {
    /// The value of a question: an expression over fields and results of an outcome.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn ask(&mut self, question: &str, outcome: &Outcome) -> (Option<Value>, Vec<Finding>) {
        let id = self.sources.add("question", question);
        let Some(source) = self.sources.get(id) else {
            return (None, Vec::new());
        };
        let parsed = syntax::parse_query(source);
        let mut findings = parsed.findings;
        let wrong = !findings.is_empty();
        let value = match parsed.value {
            Some(expr) if !wrong => {
                let mut scope = Results { outcome };
                Evaluator {
                    scope: &mut scope,
                    findings: &mut findings,
                }
                .value(&expr, None)
            }
            _ => None,
        };
        (value, findings)
    }
}

pub(super) fn ambiguous<'a>(
    name: &str,
    at: Span,
    choices: impl Iterator<Item = &'a str>,
) -> ModelError {
    let choices: Vec<String> = choices.map(|path| format!("`{path}`")).collect();
    ModelError::AmbiguousName {
        at,
        name: name.to_owned(),
        choices: crate::suggest::listed(choices.iter().map(String::as_str)),
    }
}

/// The band that an unqualified path means.
pub(super) fn choose(
    bands: &[String],
    wanted: Option<&str>,
    path: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    match (wanted, bands) {
        (Some(wanted), _) => return Some(wanted.to_owned()),
        (None, [only]) => return Some(only.clone()),
        (None, []) => {
            let help = "the recipe defines no band".to_owned();
            let name = path.to_owned();
            findings.push(
                ModelError::UnknownName {
                    at,
                    name,
                    kind: "the path",
                    help,
                    nearest: None,
                }
                .into(),
            );
        }
        (None, _) => {
            let choices: Vec<String> = bands.iter().map(|band| format!("{band}.{path}")).collect();
            findings.push(ambiguous(path, at, choices.iter().map(String::as_str)).into());
        }
    }
    None
}

/// Names in a question: results and fields of bands.
pub(super) struct Results<'a> {
    pub outcome: &'a Outcome,
}

impl Scope for Results<'_> {
    fn name(&mut self, path: &ast::Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        let recipe = &self.outcome.recipe;
        let name = path.0.as_str();
        let bands: Vec<String> = recipe
            .names
            .iter()
            .map(|named| named.name.clone())
            .collect();
        let qualified = name
            .split_once('.')
            .filter(|(band, _)| bands.iter().any(|known| known == band));
        if let Some((band, rest)) = qualified {
            return self.of_band(band, rest, at, findings);
        }
        if find(name).is_empty()
            && let Some((_, value)) = recipe.lets.iter().find(|(known, _)| known == name)
        {
            return Some(value.clone());
        }
        // What is no path of the band meant, and begins almost like a band's name, was to begin with it.
        if find(name).is_empty()
            && let Some((band, rest)) = name.split_once('.')
            && !find(rest).is_empty()
            && let Some(near) = nearest(band, bands.iter().map(String::as_str))
        {
            let help = format!("did you mean `{near}`?");
            let at = Span {
                end: at.start + u32::try_from(band.len()).unwrap_or(0),
                ..at
            };
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: band.to_owned(),
                    kind: "the band",
                    help,
                    nearest: Some(near.to_owned()),
                }
                .into(),
            );
            return None;
        }
        let band = choose(&bands, self.outcome.chosen.as_deref(), name, at, findings)?;
        self.of_band(&band, name, at, findings)
    }
}

impl Results<'_> {
    fn of_band(
        &self,
        band: &str,
        path: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let Some(evaluation) = self
            .outcome
            .evaluations
            .iter()
            .find(|evaluation| evaluation.band.name == band)
        else {
            return self.missing_band(band, at, findings);
        };
        let targets = find(path);
        match targets.as_slice() {
            [target] => value_of(target, evaluation, at, findings),
            [] => {
                let known = evaluate::RESULTS.iter().map(|result| result.path);
                let known = known
                    .chain(fields::FIELDS.iter().map(|field| field.path))
                    .chain(fields::FIELDS.iter().map(Field::word));
                let near = nearest(path, known).map(str::to_owned);
                let help = near.as_ref().map_or_else(
                    || "`annulet list results` and `annulet list fields` show all paths".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                findings.push(
                    ModelError::UnknownName {
                        at,
                        name: path.to_owned(),
                        kind: "the path",
                        help,
                        nearest: near,
                    }
                    .into(),
                );
                None
            }
            several => {
                findings.push(ambiguous(path, at, several.iter().map(Target::path)).into());
                None
            }
        }
    }

    /// A band that is not there, or could not be evaluated (which was reported).
    fn missing_band(&self, band: &str, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        let names = &self.outcome.recipe.names;
        if !names.iter().any(|named| named.name == band) {
            let near =
                nearest(band, names.iter().map(|named| named.name.as_str())).map(str::to_owned);
            let help = near.as_ref().map_or_else(
                || {
                    format!(
                        "bands are {}",
                        crate::suggest::listed(names.iter().map(|named| named.name.as_str()))
                    )
                },
                |near| format!("did you mean `{near}`?"),
            );
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: band.to_owned(),
                    kind: "the band",
                    help,
                    nearest: near,
                }
                .into(),
            );
        }
        None
    }
}

fn value_of(
    target: &Target,
    evaluation: &Evaluation,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let value = match target {
        Target::Result(result) => {
            let unit = (!result.unit.is_empty()).then(|| result.unit.to_owned());
            evaluation
                .result(result)
                .map(|quantity| Value::Quantity { quantity, unit })
        }
        Target::Field(field) => evaluation
            .band
            .field(field.path)
            .map(|field| field.value.clone()),
    };
    if value.is_none() {
        let path = target.path();
        let help = match target {
            Target::Field(field) => format!("the recipe does not state `{}`", field.path),
            Target::Result(result) => {
                format!("the band states nothing that gives its {}", result.meaning)
            }
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: format!("{}.{path}", evaluation.band.name),
                kind: "a value of",
                help,
                nearest: None,
            }
            .into(),
        );
    }
    value
}
