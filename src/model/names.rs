//! What a name means: sought in its own block, outward to the band, then among `let`s, then behind a band.

use crate::finding::{Finding, is_full};
use crate::schema::{self, Field, FieldId};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Expr, ExprKind, Path};

use super::error::ModelError;
use super::expression::Scope;
use super::merge::node;
use super::program;
use super::resolve::{Progress, Resolver, Sought};
use super::sizes;
use super::value::Value;
use super::written::{self, Written};

/// Names as seen from a block of a band, or from the top level.
pub(super) struct At<'r, 't> {
    pub resolver: &'r mut Resolver<'t>,
    pub band: Option<usize>,
    pub holder: &'static str,
    /// The field whose value is being read: its name in there never means itself.
    pub own: Option<FieldId>,
}

impl Scope for At<'_, '_> {
    fn name(&mut self, path: &Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        if let Some(problem) = self.hidden(path, at) {
            findings.push(problem.into());
            return None;
        }
        if let Some(band) = self.band
            && let Some(field) = self.field(path)
        {
            self.resolver
                .note(path, program::Key::Field(band, field.id));
            return self.of_band(band, field, at, findings);
        }
        if let Some(place) = self.resolver.let_named(path) {
            self.resolver.note(path, program::Key::Let(place));
            return self.resolver.let_value(place, at, findings);
        }
        if let Some((band, rest)) = path.0.split_once('.')
            && let Some(band) = self.resolver.band_named(band)
        {
            return self.of_other(band, rest, path, at, findings);
        }
        if self.band.is_some() && schema::find_result(&path.0).is_some() {
            findings.push(
                ModelError::OwnResult {
                    at,
                    name: path.0.clone(),
                }
                .into(),
            );
            return None;
        }
        if let Some(problem) = sizes::without_size(&path.0, at) {
            findings.push(problem.into());
            return None;
        }
        let mut known: Vec<&str> = self.resolver.lets.iter().map(|one| one.name).collect();
        if self.band.is_some() {
            let measured = schema::of_band()
                .iter()
                .filter(|field| field.takes.is_measured());
            known.extend(measured.map(|field| -> &str { field.word() }));
        }
        known.retain(|word| *word != path.0);
        let near = match is_full(findings) {
            true => None,
            false => nearest(&path.0, known).map(str::to_owned),
        };
        let of_band = self.band.is_none() && !schema::matching(&path.0).is_empty();
        let band = self.resolver.bands.iter().find(|band| !band.used);
        let help = match (&near, band) {
            (_, Some(band)) if of_band => {
                let (band, path) = (&band.name, &path.0);
                format!("here a field stands after its band, as in `{band}.{path}`")
            }
            (Some(near), _) => format!("did you mean `{near}`?"),
            (None, _) => format!("give it a value with `let {} = …` at the top level", path.0),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: path.0.clone(),
                kind: "the name",
                help,
                nearest: near,
            }
            .into(),
        );
        None
    }

    fn written(&self, path: &Path) -> Written {
        if let Some(field) = self.field(path) {
            return written::of_field(field.takes);
        }
        self.resolver.written_name(path)
    }
}

impl Resolver<'_> {
    /// How the value of a `let` that was looked up, or of a field behind a band's name, is written.
    pub fn written_name(&self, path: &Path) -> Written {
        if let Some(place) = self.let_named(path) {
            return self.written.get(&place).copied().unwrap_or_default();
        }
        let behind = path.0.split_once('.');
        let found = behind.map(|(_, rest)| schema::matching(rest));
        match found.as_deref() {
            Some([field]) => written::of_field(field.takes),
            _ => Written::Other,
        }
    }
}

impl At<'_, '_> {
    /// The field that a name means here, if it means one.
    fn field(&self, path: &Path) -> Option<&'static Field> {
        self.band?;
        field_from(self.holder, &path.0).filter(|field| self.means(field, path))
    }

    /// The finding for the name of a `let` that a field written in the band has too: nobody could say which of them
    /// is meant. Inside its own value a field's name is the `let`; where the field is that `let`, both are one.
    fn hidden(&self, path: &Path, at: Span) -> Option<ModelError> {
        let band = self.resolver.bands.get(self.band?)?;
        let one = self.resolver.lets.get(self.resolver.let_named(path)?)?;
        let field = field_from(self.holder, &path.0)?;
        if Some(field.id) == self.own || !field.takes.is_measured() {
            return None;
        }
        let values = node(&band.nodes, field.path)?.winner()?.values;
        let is_it = |value: &Expr| matches!(&value.kind, ExprKind::Path(said) if said == path);
        if matches!(values, [value] if is_it(value)) {
            return None;
        }
        let name = &path.0;
        Some(ModelError::TwoMeanings {
            at,
            other: Some(one.at),
            name: name.clone(),
            meanings: format!("the field `{}`, and a `let`", field.path),
            help: format!("give the `let` a name of its own, as in `let my-{name} = \u{2026}`"),
        })
    }

    /// Whether a name in an expression means a field: one that takes a quantity or a size. Where a `let` has
    /// the name too, neither the very field being read is meant, nor one that only ends in the name.
    fn means(&self, field: &Field, path: &Path) -> bool {
        let is_let = self.resolver.let_named(path).is_some();
        let own = Some(field.id) == self.own;
        let elsewhere = outwards(self.holder, &path.0).is_none();
        field.takes.is_measured() && !(is_let && (own || elsewhere))
    }

    /// A field or a result behind a band's name.
    fn of_other(
        &mut self,
        band: usize,
        rest: &str,
        path: &Path,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let results = schema::matching_results(rest);
        // What is stated of a pattern is computed of drawn cuts.
        let stated = schema::find(rest).filter(|field| {
            field.holder() == FieldId::Pattern.path() && self.is_written(band, field)
        });
        let exact = schema::find_result(rest).filter(|_| stated.is_none());
        let result = match (
            exact,
            schema::find(rest),
            schema::matching(rest).as_slice(),
            results.as_slice(),
        ) {
            (Some(result), ..) => result,
            (None, None, [], [result]) => *result,
            (None, None, [field], [result])
                if field.path == result.path && !self.is_written(band, field) =>
            {
                *result
            }
            (None, None, [field], [result]) if field.path == result.path => {
                self.resolver
                    .note(path, program::Key::Field(band, field.id));
                return self.of_band(band, field, at, findings);
            }
            (None, Some(field), ..) => {
                self.resolver
                    .note(path, program::Key::Field(band, field.id));
                return self.of_band(band, field, at, findings);
            }
            (None, None, [field], []) => {
                self.resolver
                    .note(path, program::Key::Field(band, field.id));
                return self.of_band(band, field, at, findings);
            }
            (None, None, [], []) => {
                let known = schema::of_band()
                    .iter()
                    .map(|field| -> &str { field.word() });
                let near = nearest(rest, known).map(str::to_owned);
                let help = near.as_ref().map_or_else(
                    || "`annulet list results` and `annulet list fields` show all paths".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                let nearest = near.and_then(|near| {
                    path.0
                        .strip_suffix(rest)
                        .map(|band| format!("{band}{near}"))
                });
                findings.push(
                    ModelError::UnknownName {
                        at,
                        name: path.0.clone(),
                        kind: "the path",
                        help,
                        nearest,
                    }
                    .into(),
                );
                return None;
            }
            (None, None, fields, results) => {
                let choices: Vec<String> = fields
                    .iter()
                    .map(|field| field.path)
                    .chain(results.iter().map(|result| result.path))
                    .map(|path| format!("`{path}`"))
                    .collect();
                let choices = listed(choices.iter().map(String::as_str));
                findings.push(
                    ModelError::AmbiguousName {
                        at,
                        name: path.0.clone(),
                        choices,
                    }
                    .into(),
                );
                return None;
            }
        };
        if self.band == Some(band) {
            findings.push(
                ModelError::OwnResult {
                    at,
                    name: path.0.clone(),
                }
                .into(),
            );
            return None;
        }
        self.resolver
            .note(path, program::Key::Result(band, result.id));
        let key = Sought::Band(band);
        if matches!(self.resolver.states.get(&key), Some(Progress::Working)) {
            return self.resolver.circle(key, at, findings);
        }
        let before = findings.len();
        let band = self.resolver.band(band, findings);
        let value = match &band {
            Some(band) => self.resolver.results.value(band, result.id),
            None => None,
        };
        if value.is_none() && findings.len() == before {
            let possible = !self.resolver.money.is_faulty
                && band.is_some_and(|band| self.resolver.results.possible(&band));
            findings.push(if possible {
                ModelError::UnknownName {
                    at,
                    name: path.0.clone(),
                    kind: "the value of",
                    help: "the other band states nothing that gives it one".to_owned(),
                    nearest: None,
                }
                .into()
            } else {
                ModelError::Unread { at }.into()
            });
        }
        value
    }

    fn of_band(
        &mut self,
        band: usize,
        field: &'static Field,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let before = findings.len();
        let value = self.resolver.field(band, field, at, findings);
        let orphan = self
            .resolver
            .bands
            .get(band)
            .is_some_and(|settings| settings.orphan);
        let written = orphan || self.is_written(band, field);
        if value.is_none() && findings.len() == before && !written {
            let help = format!(
                "state `{}` in the band, or write a value here",
                schema::example(field)
            );
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: field.path.to_owned(),
                    kind: "the value of",
                    help,
                    nearest: None,
                }
                .into(),
            );
        }
        if value.is_none() && findings.len() == before {
            findings.push(ModelError::Unread { at }.into());
        }
        value.map(|value| value.value.clone())
    }

    /// A written field without a value was reported where it stands; what a parent that is not there would
    /// have said was reported as the parent.
    fn is_written(&self, band: usize, field: &Field) -> bool {
        self.resolver
            .bands
            .get(band)
            .is_some_and(|settings| node(&settings.nodes, field.path).is_some())
    }
}

/// The field that a name means inside a block: sought outwards, then by its unique end.
fn field_from(holder: &str, name: &str) -> Option<&'static Field> {
    outwards(holder, name).or_else(|| match *schema::matching(name) {
        [field] => Some(field),
        _ => None,
    })
}

/// The field of a name in a block, or in the blocks around it.
fn outwards(holder: &str, name: &str) -> Option<&'static Field> {
    let mut holder = holder;
    while !holder.is_empty() {
        if let Some(field) = schema::find(&format!("{holder}.{name}")) {
            return Some(field);
        }
        holder = holder.rsplit_once('.').map_or("", |(outer, _)| outer);
    }
    schema::find(name)
}
