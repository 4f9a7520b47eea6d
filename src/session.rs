//! One entry for files, standard input, overrides and questions: text in, evaluations and findings out.
//!
//! A [`Session`] keeps the sources, so that findings can point into any of them. It does no input or
//! output: whoever owns it reads the files and prints what comes back.

use crate::evaluate::{self, Evaluation, ResultEntry};
use crate::finding::{Finding, Weight, settle};
use crate::model::fields::{self, Field, Takes};
use crate::model::{Band, Evaluator, FieldValue, ModelError, Override, Recipe, Scope, Value};
use crate::source::{SourceId, Sources, Span};
use crate::suggest::nearest;
use crate::syntax::{self, ast};

/// What is asked of a recipe beside its text.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// Overrides as `PATH=VALUE`, in order.
    pub sets: Vec<String>,
    /// The band that unqualified paths mean.
    pub band: Option<String>,
}

/// Sources of one run.
#[derive(Clone, Debug, Default)]
pub struct Session {
    /// All texts, for findings to point into.
    pub sources: Sources,
}

/// What a recipe came to.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What it defines.
    pub recipe: Recipe,
    /// Its bands, evaluated, in the order written; impossible ones left out.
    pub evaluations: Vec<Evaluation>,
    /// All findings, in the order of the text.
    pub findings: Vec<Finding>,
    /// The band that unqualified paths mean, when the request names one.
    pub chosen: Option<String>,
}

impl Session {
    /// Reads, resolves and evaluates a recipe.
    ///
    /// # Example
    /// ```
    /// use annulet::session::{Request, Session};
    /// let mut session = Session::default();
    /// let text = "band b {\n  size 16 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy sterling\n}";
    /// let outcome = session.run("r", text, &Request::default());
    /// assert!(outcome.findings.is_empty());
    /// // A pipe: pi * 5 * (10^2 - 8^2) mm3 of 10.36 g/cm3.
    /// assert!((outcome.evaluations[0].figures.weight - 5.858_442).abs() < 1e-6);
    /// ```
    pub fn run(&mut self, name: &str, text: &str, request: &Request) -> Outcome {
        let id = self.sources.add(name, text);
        let mut findings = Vec::new();
        let Some(source) = self.sources.get(id).cloned() else {
            return Outcome::default();
        };
        let parsed = syntax::parse(&source);
        findings.extend(parsed.findings);
        let tree = parsed.value;
        let overrides = self.overrides(&tree, request, &mut findings);
        let (recipe, problems) = crate::model::resolve(&tree, &overrides);
        findings.extend(problems);
        self.nothing_to_do(id, &recipe, &mut findings);
        forget_unread(&mut findings);
        let broken = Broken::of(&tree, &findings);
        let mut evaluations = Vec::new();
        for band in recipe.bands.iter().filter(|band| !broken.holds(band)) {
            match evaluate::evaluate(band) {
                Ok(evaluation) => {
                    findings.extend(evaluation.limits.iter().cloned());
                    evaluations.push(evaluation);
                }
                Err(impossible) => findings.extend(impossible),
            }
        }
        settle(&mut findings);
        Outcome {
            recipe,
            evaluations,
            findings,
            chosen: request.band.clone(),
        }
    }

    /// A recipe without any band, and without a mistake that would explain it.
    fn nothing_to_do(&self, id: SourceId, recipe: &Recipe, findings: &mut Vec<Finding>) {
        let wrong = findings
            .iter()
            .any(|finding| finding.weight() == Weight::Wrong);
        if let Some(source) = self.sources.get(id)
            && recipe.names.is_empty()
            && !wrong
        {
            let end = source.text.len();
            let problem = ModelError::NoBand {
                at: source.span(end..end),
                source_name: source.name.to_string(),
            };
            findings.push(problem.into());
        }
    }

    /// Overrides as entries laid over the tree.
    fn overrides(
        &mut self,
        tree: &ast::Tree,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Vec<Override> {
        let mut overrides: Vec<Override> = Vec::new();
        let names = Names::of(tree);
        for set in &request.sets {
            let id = self.sources.add("--set", &set.replacen('=', " ", 1));
            let Some(source) = self.sources.get(id) else {
                continue;
            };
            let parsed = syntax::parse(source);
            let broken = !parsed.findings.is_empty();
            findings.extend(parsed.findings);
            let entry = match parsed.value.items.as_slice() {
                [ast::Item::Entry(entry)] if entry.head.is_some() && set.contains('=') => {
                    entry.clone()
                }
                _ if broken => continue,
                _ => {
                    let at = source.span(0..source.text.len());
                    findings.push(
                        ModelError::ValueCount {
                            at,
                            field: "--set".to_owned(),
                            wanted: "one field and its value, joined by `=`".to_owned(),
                            label: "not `PATH=VALUE`",
                            help: "as in `--set \"width=4.5 mm\"`".to_owned(),
                        }
                        .into(),
                    );
                    continue;
                }
            };
            overrides.extend(names.place(entry, request, findings));
        }
        // A later override of the same field replaces an earlier one, whatever its path was written like.
        overrides
    }

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

impl Outcome {
    /// The heaviest finding.
    #[must_use]
    pub fn weight(&self) -> Option<Weight> {
        self.findings.iter().map(Finding::weight).max()
    }

    /// The evaluations that a report shows: all, or the chosen band.
    pub fn shown(&self) -> impl Iterator<Item = &Evaluation> {
        self.evaluations.iter().filter(|evaluation| {
            self.chosen
                .as_ref()
                .is_none_or(|name| *name == evaluation.band.name)
        })
    }
}

/// What rests on a value that was refused is not computed, but no mistake of its own: the one behind it is
/// in the list.
fn forget_unread(findings: &mut Vec<Finding>) {
    let is_unread = |finding: &Finding| finding.code() == "model::unread";
    let wrong = |finding: &&Finding| finding.weight() == Weight::Wrong && !is_unread(finding);
    if findings.iter().any(|finding| wrong(&finding)) {
        findings.retain(|finding| !is_unread(finding));
    }
}

/// The bands and alloys in whose text something could not be read: what they would come to is not known.
struct Broken {
    bands: Vec<String>,
    alloys: Vec<String>,
}

impl Broken {
    fn of(tree: &ast::Tree, findings: &[Finding]) -> Self {
        let mut broken = Self {
            bands: Vec::new(),
            alloys: Vec::new(),
        };
        let mut places: Vec<Span> = findings
            .iter()
            .filter(|finding| finding.code().starts_with("syntax::"))
            .filter_map(Finding::span)
            .collect();
        places.sort_unstable();
        for entry in ast::entries(&tree.items) {
            let behind = places.partition_point(|place| place.start < entry.span.start);
            let first = places.get(behind);
            if first.is_none_or(|place| place.start >= entry.span.end) {
                continue;
            }
            let name = entry.values.first().and_then(single_name);
            match entry.head_name() {
                Some("band" | "variant") => broken.bands.extend(name),
                Some("alloy") => broken.alloys.extend(name),
                _ => {}
            }
        }
        broken
    }

    fn holds(&self, band: &Band) -> bool {
        let of_alloy = |field: &FieldValue| {
            matches!(&field.value, Value::Word(name)
                if field.field.takes == Takes::Alloy && self.alloys.contains(name))
        };
        self.bands.contains(&band.name) || band.fields.iter().any(of_alloy)
    }
}

/// Names at the top level of a tree.
struct Names {
    bands: Vec<String>,
    lets: Vec<String>,
}

impl Names {
    fn of(tree: &ast::Tree) -> Self {
        let (mut bands, mut lets) = (Vec::new(), Vec::new());
        for entry in ast::entries(&tree.items) {
            match (entry.head_name(), entry.values.as_slice()) {
                (Some("band" | "variant"), [first, ..]) => bands.extend(single_name(first)),
                (Some("let"), [first]) => {
                    if let ast::ExprKind::Binary { left, .. } = &first.kind {
                        lets.extend(single_name(left));
                    }
                }
                _ => {}
            }
        }
        Self { bands, lets }
    }

    /// Where an override belongs.
    fn place(
        &self,
        mut entry: ast::Entry,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Option<Override> {
        let head = entry.head.clone()?;
        let path = head.value.0.as_str();
        let qualified = path
            .split_once('.')
            .filter(|(band, _)| self.bands.iter().any(|name| name == band));
        let (band, path) = match qualified {
            Some((band, rest)) => (Some(band.to_owned()), rest),
            None => (None, path),
        };
        if band.is_none()
            && fields::find(path).is_none()
            && self.lets.iter().any(|name| name == path)
        {
            return Some(Override {
                band: None,
                items: vec![ast::Item::Entry(entry)],
            });
        }
        let field = field_named(path, head.span, &self.lets, findings)?;
        let band = match band {
            Some(band) => band,
            None => choose(&self.bands, request.band.as_deref(), head.span, findings)?,
        };
        for (depth, word) in field.path.rsplit('.').enumerate() {
            let name = crate::source::Spanned::new(ast::Path(word.to_owned()), head.span);
            entry = if depth == 0 {
                ast::Entry {
                    head: Some(name),
                    ..entry
                }
            } else {
                around(name, entry)
            };
        }
        Some(Override {
            band: Some(band),
            items: vec![ast::Item::Entry(entry)],
        })
    }
}

/// An entry whose block holds only another.
fn around(head: crate::source::Spanned<ast::Path>, inner: ast::Entry) -> ast::Entry {
    let span = inner.span;
    let block = ast::Block {
        items: vec![ast::Item::Entry(inner)],
        comment: None,
        inline: true,
        open: span,
        damaged: false,
    };
    ast::Entry {
        head: Some(head),
        values: Vec::new(),
        block: Some(block),
        comment: None,
        joined: false,
        spaced: false,
        span,
    }
}

fn single_name(expr: &ast::Expr) -> Option<String> {
    match &expr.kind {
        ast::ExprKind::Path(path) => path.single().map(str::to_owned),
        _ => None,
    }
}

/// The field of a full or short path.
fn field_named(
    path: &str,
    at: Span,
    lets: &[String],
    findings: &mut Vec<Finding>,
) -> Option<&'static Field> {
    let found = fields::matching(path);
    match found.as_slice() {
        [field] => Some(field),
        [] => {
            let known: Vec<&str> = fields::FIELDS
                .iter()
                .flat_map(|field| [field.path, field.word()])
                .collect();
            let lets = lets.iter().map(String::as_str);
            let near = nearest(path, known.into_iter().chain(lets)).map(str::to_owned);
            let help = near.as_ref().map_or_else(
                || "`annulet list fields` shows all of them".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: path.to_owned(),
                    kind: "the field",
                    help,
                    nearest: near,
                }
                .into(),
            );
            None
        }
        several => {
            findings.push(ambiguous(path, at, several.iter().map(|field| field.path)).into());
            None
        }
    }
}

fn ambiguous<'a>(name: &str, at: Span, choices: impl Iterator<Item = &'a str>) -> ModelError {
    let choices: Vec<String> = choices.map(|path| format!("`{path}`")).collect();
    ModelError::AmbiguousName {
        at,
        name: name.to_owned(),
        choices: crate::suggest::listed(choices.iter().map(String::as_str)),
    }
}

/// The band that an unqualified path means.
fn choose(
    bands: &[String],
    wanted: Option<&str>,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    match (wanted, bands) {
        (Some(wanted), _) => Some(wanted.to_owned()),
        (None, [only]) => Some(only.clone()),
        (None, _) => {
            let choices: Vec<String> = bands.iter().map(|band| format!("`{band}`")).collect();
            let choices = crate::suggest::listed(choices.iter().map(String::as_str));
            let help = if bands.is_empty() {
                "the recipe defines no band".to_owned()
            } else {
                format!(
                    "put the band's name and a point before it, or use `--band`; bands are {choices}"
                )
            };
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: "band".to_owned(),
                    kind: "which",
                    help,
                    nearest: None,
                }
                .into(),
            );
            None
        }
    }
}

/// Names in a question: results and fields of bands.
struct Results<'a> {
    outcome: &'a Outcome,
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
        if bands.len() != 1
            && self.outcome.chosen.is_none()
            && let Some((band, _)) = name.split_once('.')
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
        let band = choose(&bands, self.outcome.chosen.as_deref(), at, findings)?;
        self.of_band(&band, name, at, findings)
    }
}

/// What a path behind a band's name can be.
enum Target {
    Result(&'static ResultEntry),
    Field(&'static Field),
}

impl Target {
    fn path(&self) -> &'static str {
        match self {
            Self::Result(result) => result.path,
            Self::Field(field) => field.path,
        }
    }
}

/// Everything that a full or short path could be.
fn find(path: &str) -> Vec<Target> {
    if let Some(result) = evaluate::find(path) {
        return vec![Target::Result(result)];
    }
    if let Some(field) = fields::find(path) {
        return vec![Target::Field(field)];
    }
    let results = evaluate::matching(path).into_iter().map(Target::Result);
    results
        .chain(fields::matching(path).into_iter().map(Target::Field))
        .collect()
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
