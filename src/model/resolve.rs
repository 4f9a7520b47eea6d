//! Settings to values: evaluates fields and `let`s on demand, whatever their order.
//!
//! A bare name is sought in its own block, outward to the band, then among `let`s, then as
//! `band.field`. Each is evaluated once; a value that needs itself is a finding that shows the way round.

use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

use crate::finding::Finding;
use crate::quantity::Length;
use crate::source::{Span, Spanned};
use crate::suggest::{listed, nearest};
use crate::syntax;
use crate::syntax::ast::{Entry, Expr, ExprKind, Path};

use super::alloy::NoNames;
use super::band::{Band, FieldValue};
use super::build;
use super::check;
use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::fields::{self, FIELDS, Field, PROFILES, Takes};
use super::merge::Node;
use super::metals::Metals;
use super::outline::{self, Outline};
use super::value::Value;

/// A `let` as written.
pub(super) struct Let<'t> {
    pub name: &'t str,
    pub at: Span,
    pub value: &'t Expr,
}

/// A band's settings, merged.
pub(super) struct Settings<'t> {
    pub name: String,
    pub at: Span,
    pub nodes: Vec<Node<'t>>,
    /// Some of its text could not be read.
    pub broken: bool,
    /// A brace was missing, so its entries may stand in the wrong place.
    pub damaged: bool,
    /// What it is made of is not there.
    pub orphan: bool,
    /// The band that a variant is made of.
    pub parent: Option<usize>,
    /// It comes from a used file.
    pub used: bool,
}

/// Results of bands, which a later layer computes.
pub trait BandResults {
    /// Full paths of the results that a path behind a band's name could mean.
    fn matching(&self, path: &str) -> Vec<&'static str>;

    /// A result by its full path; `None` when the band cannot be evaluated, or has no such result.
    fn value(&self, band: &Arc<Band>, path: &str) -> Option<Value>;
}

/// No results at all: for recipes whose fields refer to none.
pub struct NoResults;

impl BandResults for NoResults {
    fn matching(&self, _path: &str) -> Vec<&'static str> {
        Vec::new()
    }

    fn value(&self, _band: &Arc<Band>, _path: &str) -> Option<Value> {
        None
    }
}

/// What is asked for: a `let`, or a field of a band.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Key {
    Let(usize),
    Field(usize, &'static str),
    Band(usize),
}

enum State {
    Working,
    Done(Option<Rc<FieldValue>>),
    DoneLet(Value),
    DoneBand(Option<Arc<Band>>),
    /// It has a mistake, which was reported.
    Refused,
}

/// How many values may need each other in a row. Each is looked up inside the one that needs it, and a
/// chain made to exhaust the stack must end before it does.
const LONGEST_CHAIN: usize = 24;

/// Evaluates on demand.
pub(super) struct Resolver<'t> {
    pub lets: Vec<Let<'t>>,
    pub bands: Vec<Settings<'t>>,
    /// Names of `profile` blocks, for suggestions.
    pub profiles: Vec<String>,
    /// The place of each `let`.
    places: HashMap<&'t str, usize>,
    pub metals: Metals<'t>,
    results: &'t dyn BandResults,
    states: HashMap<Key, State>,
    /// Defaults that were read already.
    defaults: HashMap<&'static str, Option<FieldValue>>,
    /// What is being evaluated, outermost first, for showing a circle.
    chain: Vec<Key>,
}

impl<'t> Resolver<'t> {
    pub fn new(
        lets: Vec<Let<'t>>,
        bands: Vec<Settings<'t>>,
        alloys: Vec<(String, &'t Entry)>,
        profiles: Vec<String>,
        results: &'t dyn BandResults,
    ) -> Self {
        let places = lets
            .iter()
            .enumerate()
            .map(|(place, one)| (one.name, place))
            .collect();
        Self {
            lets,
            bands,
            profiles,
            places,
            metals: Metals::new(alloys),
            results,
            states: HashMap::new(),
            defaults: HashMap::new(),
            chain: Vec::new(),
        }
    }

    /// Names as seen from the top level.
    pub fn top_scope(&mut self) -> impl Scope {
        At {
            resolver: self,
            band: None,
            holder: "",
            own: "",
        }
    }

    /// A band, resolved and typed once.
    pub fn band(&mut self, place: usize, findings: &mut Vec<Finding>) -> Option<Arc<Band>> {
        let key = Key::Band(place);
        if let Some(State::DoneBand(band)) = self.states.get(&key) {
            return band.clone();
        }
        let at = self.bands.get(place).map(|settings| settings.at)?;
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, State::Working);
        self.chain.push(key);
        let band = build::band(self, place, findings).map(Arc::new);
        self.chain.pop();
        self.states.insert(key, State::DoneBand(band.clone()));
        band
    }

    /// The value of a field: written, or its default; none when it has neither, or is faulty.
    pub fn field(
        &mut self,
        band: usize,
        field: &'static Field,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Rc<FieldValue>> {
        let key = Key::Field(band, field.path);
        match self.states.get(&key) {
            Some(State::Done(value)) => return value.clone(),
            Some(State::Refused) => return refused(at, findings),
            Some(State::Working) => return self.circle(key, at, findings),
            Some(State::DoneLet(_) | State::DoneBand(_)) | None => {}
        }
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, State::Working);
        self.chain.push(key);
        let before = findings.len();
        let value = self.written(band, field, findings).map(Rc::new);
        self.chain.pop();
        let state = if value.is_none() && findings.len() > before {
            State::Refused
        } else {
            State::Done(value.clone())
        };
        self.states.insert(key, state);
        value
    }

    /// The custom outline of a band, when it has one.
    pub fn outline(
        &mut self,
        band: usize,
        width: Option<Length>,
        findings: &mut Vec<Finding>,
    ) -> Option<Outline> {
        let node = self
            .bands
            .get(band)
            .and_then(|settings| node(&settings.nodes, "profile"))?;
        let (items, at) = (node.outline?, node.at);
        let mut scope = At {
            resolver: self,
            band: Some(band),
            holder: "profile",
            own: "",
        };
        outline::read(items, at, width, &mut scope, findings)
    }

    /// The value of a `let`.
    pub fn let_value(
        &mut self,
        place: usize,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let key = Key::Let(place);
        let expr = self.lets.get(place).map(|one| one.value)?;
        match self.states.get(&key) {
            Some(State::DoneLet(value)) => return Some(value.clone()),
            Some(State::Refused) => return refused(at, findings),
            Some(State::Working) => return self.circle(key, at, findings),
            Some(State::Done(_) | State::DoneBand(_)) | None => {}
        }
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, State::Working);
        self.chain.push(key);
        let value = Evaluator {
            scope: &mut At {
                resolver: self,
                band: None,
                holder: "",
                own: "",
            },
            findings,
        }
        .value(expr, None);
        self.chain.pop();
        let state = value.clone().map_or(State::Refused, State::DoneLet);
        self.states.insert(key, state);
        value
    }

    /// The place of a `let`.
    fn let_named(&self, path: &Path) -> Option<usize> {
        self.places.get(path.single()?).copied()
    }

    /// What a key is called.
    fn called(&self, key: Key) -> String {
        let band = |place: usize| {
            self.bands
                .get(place)
                .map_or("", |settings| settings.name.as_str())
        };
        match key {
            Key::Let(place) => self.lets.get(place).map_or("", |one| one.name).to_owned(),
            Key::Field(place, path) => format!("{}.{path}", band(place)),
            Key::Band(place) => band(place).to_owned(),
        }
    }

    /// The finding that a value needs itself, with the way round. Bands in it stand for their fields.
    fn circle<T>(&self, key: Key, at: Span, findings: &mut Vec<Finding>) -> Option<T> {
        let from = self
            .chain
            .iter()
            .position(|known| *known == key)
            .unwrap_or(0);
        let within = self.chain.iter().skip(from).copied();
        let fields: Vec<Key> = within
            .clone()
            .filter(|key| !matches!(key, Key::Band(_)))
            .collect();
        let way: Vec<Key> = if fields.is_empty() {
            within.collect()
        } else {
            fields
        };
        let name = self.called(way.first().copied().unwrap_or(key));
        let mut words: Vec<String> = way.iter().map(|key| self.called(*key)).collect();
        words.push(name.clone());
        findings.push(
            ModelError::Circle {
                at,
                name,
                chain: words.join(" needs "),
            }
            .into(),
        );
        None
    }

    fn written(
        &mut self,
        band: usize,
        field: &'static Field,
        findings: &mut Vec<Finding>,
    ) -> Option<FieldValue> {
        let Some(node) = self
            .bands
            .get(band)
            .and_then(|settings| node(&settings.nodes, field.path))
        else {
            return self
                .defaults
                .entry(field.path)
                .or_insert_with(|| default(field))
                .clone();
        };
        let Some(place) = node.winner().copied() else {
            // A block without values of its own, such as `pattern { … }`.
            return None;
        };
        let places = node.places.iter().map(|place| place.at).collect();
        let value = single(field, place.values, place.at, findings)?;
        let at = value.span;
        let holder = field.holder();
        let value = match word(field, value) {
            Some(word) => choose(field, word, &self.profiles, at, findings)?,
            None => {
                let (_, dimension) = check::due(field.takes);
                let mut scope = At {
                    resolver: self,
                    band: Some(band),
                    holder,
                    own: field.path,
                };
                let value = Evaluator {
                    scope: &mut scope,
                    findings,
                }
                .value(value, dimension)?;
                check::take(field, value, at, findings)?
            }
        };
        Some(FieldValue {
            field,
            value,
            at: Some(at),
            places,
        })
    }
}

/// A value with a mistake that was reported: whatever needs it is not computed.
fn refused<T>(at: Span, findings: &mut Vec<Finding>) -> Option<T> {
    findings.push(ModelError::Unread { at }.into());
    None
}

fn too_long<T>(at: Span, findings: &mut Vec<Finding>) -> Option<T> {
    findings.push(
        ModelError::NoResult {
            at,
            message: "too many values need each other in a row to get here",
            help: "give one of them a value of its own",
        }
        .into(),
    );
    None
}

/// The node of a full path.
pub(super) fn node<'a, 't>(nodes: &'a [Node<'t>], path: &str) -> Option<&'a Node<'t>> {
    let (first, rest) = path
        .split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)));
    let found = nodes.iter().find(|node| node.head == first)?;
    match rest {
        Some(rest) => node(&found.children, rest),
        None => Some(found),
    }
}

/// The default of a field, read by the same reader as a recipe.
fn default(field: &'static Field) -> Option<FieldValue> {
    let (text, _) = field.default?;
    let mut sources = crate::source::Sources::default();
    let id = sources.add("default", text);
    let values = syntax::parse_setting(sources.get(id)?).value;
    let value = values.first()?;
    let value = match word(field, value) {
        Some(word) => Value::Word(word.to_owned()),
        None => Evaluator {
            scope: &mut NoNames,
            findings: &mut Vec::new(),
        }
        .value(value, None)?,
    };
    Some(FieldValue {
        field,
        value,
        at: None,
        places: Vec::new(),
    })
}

/// The one value that a field takes.
fn single<'e>(
    field: &'static Field,
    values: &'e [Expr],
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<&'e Expr> {
    let problem = match values {
        [value] => return Some(value),
        [] => ModelError::ValueCount {
            at: at.after(),
            field: field.word().to_owned(),
            wanted: check::due(field.takes).0.to_owned(),
            label: "a value is missing",
            help: format!("as in `{}`", check::example(field)),
        },
        [first, second, ..] => match size_in_small_letters(field, first, second) {
            Some(problem) => problem,
            None if is_exponent(first) => return Some(first),
            None => ModelError::ValueCount {
                at: second.span,
                field: field.word().to_owned(),
                wanted: "one value".to_owned(),
                label: "one too many",
                help: "a comma or a new line starts the next field; an operator has spaces on both sides".to_owned(),
            },
        },
    };
    findings.push(problem.into());
    None
}

/// `1e3 mm`: the exponent was read as a unit, and the unit as one value too many. The first says more.
fn is_exponent(first: &Expr) -> bool {
    let ExprKind::Quantity {
        unit: Some(unit), ..
    } = &first.kind
    else {
        return false;
    };
    let refused = crate::quantity::unit::scale(&unit.value);
    matches!(refused, Err((crate::quantity::unit::Refused::Exponent, ..)))
}

/// `size iso 54`: a system word is written in capitals.
fn size_in_small_letters(field: &Field, first: &Expr, second: &Expr) -> Option<ModelError> {
    let ExprKind::Path(path) = &first.kind else {
        return None;
    };
    let capitals = path.0.to_uppercase();
    let system = crate::catalogue::system_words().find(|word| word.to_uppercase() == capitals);
    let system = system.filter(|_| field.takes == Takes::Size)?;
    let rest = match &second.kind {
        ExprKind::Path(letter) => letter.0.to_uppercase(),
        _ => syntax::print_expression(second),
    };
    Some(ModelError::Size {
        at: first.span.to(second.span),
        message: "a ring size is written in capitals".to_owned(),
        label: "not capitals",
        help: format!("write `{system} {rest}`"),
        nearest: Some(format!("{system} {rest}")),
    })
}

/// The bare word that a field takes instead of a value, when one stands there.
fn word<'e>(field: &Field, value: &'e Expr) -> Option<&'e str> {
    let ExprKind::Path(path) = &value.kind else {
        return None;
    };
    let word = path.single()?;
    match field.takes {
        Takes::Word(_) | Takes::Profile | Takes::Alloy | Takes::Temper => Some(word),
        Takes::LengthOr(only) => Some(word).filter(|word| *word == only),
        Takes::Anything => Some(word),
        _ => None,
    }
}

/// Checks a word against the choices of its field.
fn choose(
    field: &Field,
    word: &str,
    profiles: &[String],
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let choices: &[&str] = match field.takes {
        Takes::Word(choices) => choices,
        Takes::Profile => PROFILES,
        _ => return Some(Value::Word(word.to_owned())),
    };
    if choices.contains(&word) {
        return Some(Value::Word(word.to_owned()));
    }
    let named = if field.takes == Takes::Profile {
        profiles
    } else {
        &[]
    };
    let known = choices
        .iter()
        .copied()
        .chain(named.iter().map(String::as_str));
    let near = nearest(word, known.clone()).map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write {}", listed(known)),
    };
    let kind = if field.takes == Takes::Profile {
        "the profile"
    } else {
        "the word"
    };
    findings.push(
        ModelError::UnknownName {
            at,
            name: word.to_owned(),
            kind,
            help,
            nearest: near,
        }
        .into(),
    );
    None
}

/// Names as seen from a block of a band, or from the top level.
struct At<'r, 't> {
    resolver: &'r mut Resolver<'t>,
    band: Option<usize>,
    holder: &'static str,
    /// The field whose value is being read: its name in there never means itself.
    own: &'static str,
}

impl Scope for At<'_, '_> {
    fn name(&mut self, path: &Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        if let Some(band) = self.band
            && let Some(field) =
                field_from(self.holder, &path.0).filter(|field| self.means(field, path))
        {
            return self.of_band(band, field, at, findings);
        }
        if let Some(place) = self.resolver.let_named(path) {
            return self.resolver.let_value(place, at, findings);
        }
        if let Some((band, rest)) = path.0.split_once('.')
            && let Some(band) = self
                .resolver
                .bands
                .iter()
                .position(|settings| settings.name == band)
        {
            return self.of_other(band, rest, path, at, findings);
        }
        if self.band.is_some()
            && self
                .resolver
                .results
                .matching(&path.0)
                .iter()
                .any(|found| *found == path.0)
        {
            findings.push(
                ModelError::OwnResult {
                    at,
                    name: path.0.clone(),
                }
                .into(),
            );
            return None;
        }
        let mut known: Vec<&str> = self.resolver.lets.iter().map(|one| one.name).collect();
        if self.band.is_some() {
            let measured = FIELDS.iter().filter(|field| field.takes.is_measured());
            known.extend(measured.map(|field| -> &str { field.word() }));
        }
        known.retain(|word| *word != path.0);
        let near = nearest(&path.0, known).map(str::to_owned);
        let help = match &near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("give it a value with `let {} = …` at the top level", path.0),
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
}

impl At<'_, '_> {
    /// Whether a name in an expression means a field: one that takes a quantity or a size, and is not the
    /// very field being read when a `let` has that name too.
    fn means(&self, field: &Field, path: &Path) -> bool {
        let is_let = self.resolver.let_named(path).is_some();
        let own = field.path == self.own;
        field.takes.is_measured() && !(own && is_let)
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
        let results = self.resolver.results.matching(rest);
        let exact = results.iter().find(|found| **found == rest).copied();
        let result = match (
            exact,
            fields::find(rest),
            fields::matching(rest).as_slice(),
            results.as_slice(),
        ) {
            (Some(result), ..) => result,
            (None, None, [], [result]) => *result,
            (None, Some(field), ..) => return self.of_band(band, field, at, findings),
            (None, None, [field], []) => return self.of_band(band, field, at, findings),
            (None, None, [], []) => {
                let known = FIELDS.iter().map(|field| -> &str { field.word() });
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
                    .chain(results.iter().copied())
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
        let key = Key::Band(band);
        if matches!(self.resolver.states.get(&key), Some(State::Working)) {
            return self.resolver.circle(key, at, findings);
        }
        let before = findings.len();
        let value = self
            .resolver
            .band(band, findings)
            .and_then(|band| self.resolver.results.value(&band, result));
        if value.is_none() && findings.len() == before {
            findings.push(ModelError::Unread { at }.into());
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
        if value.is_none() && findings.len() == before && !self.is_written(band, field) {
            let help = format!(
                "state `{}` in the band, or write a value here",
                check::example(field)
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

    /// A written field without a value was reported where it stands.
    fn is_written(&self, band: usize, field: &Field) -> bool {
        self.resolver
            .bands
            .get(band)
            .is_some_and(|settings| node(&settings.nodes, field.path).is_some())
    }
}

/// The field that a name means inside a block: sought outwards, then by its unique end.
fn field_from(holder: &str, name: &str) -> Option<&'static Field> {
    let mut holder = holder;
    loop {
        let path = if holder.is_empty() {
            name.to_owned()
        } else {
            format!("{holder}.{name}")
        };
        if let Some(field) = fields::find(&path) {
            return Some(field);
        }
        if holder.is_empty() {
            break;
        }
        holder = holder.rsplit_once('.').map_or("", |(outer, _)| outer);
    }
    match *fields::matching(name) {
        [field] => Some(field),
        _ => None,
    }
}

/// Reports every word of a band that is no field where it stands, and every field not evaluated yet.
pub(super) fn review(
    nodes: &[Node<'_>],
    holder: &'static str,
    kind: Option<&str>,
    quiet: bool,
    findings: &mut Vec<Finding>,
) {
    for node in nodes {
        let path = if holder.is_empty() {
            node.head.to_owned()
        } else {
            format!("{holder}.{}", node.head)
        };
        let fits = |field: &&Field| {
            field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
        };
        let Some(field) = fields::find(&path).filter(fits) else {
            findings.push(unknown_field(node, holder, kind).into());
            continue;
        };
        if field.later && !quiet {
            findings.push(
                ModelError::NotEvaluated {
                    at: node.at,
                    name: node.head.to_owned(),
                    help: "the results below do not take it into account",
                }
                .into(),
            );
        }
        if let Some(brace) = node.block.filter(|_| node.outline.is_none()) {
            let mut held = fields::held_by(field.path).peekable();
            if held.peek().is_none() && field.takes != Takes::Anything {
                findings.push(
                    ModelError::ValueCount {
                        at: brace,
                        field: node.head.to_owned(),
                        wanted: "no block".to_owned(),
                        label: "no block stands here",
                        help: format!("as in `{}`", check::example(field)),
                    }
                    .into(),
                );
                continue;
            }
            // A kind that is itself a slip says nothing about the fields of its block.
            let kind = node
                .word()
                .filter(|word| field.takes != Takes::Profile || PROFILES.contains(word));
            review(
                &node.children,
                field.path,
                kind,
                quiet || field.later,
                findings,
            );
        }
        if field.takes == Takes::Block
            && let Some(place) = node.winner()
        {
            let at = place
                .values
                .first()
                .map_or(node.at.after(), |value| value.span);
            findings.push(
                ModelError::ValueCount {
                    at,
                    field: node.head.to_owned(),
                    wanted: "a block".to_owned(),
                    label: "a block in braces is due",
                    help: format!("as in `{} {{ … }}`", node.head),
                }
                .into(),
            );
        }
    }
}

fn unknown_field(node: &Node<'_>, holder: &'static str, kind: Option<&str>) -> ModelError {
    let fits = |field: &&Field| {
        field.only.is_empty() || kind.is_none_or(|kind| field.only.contains(&kind))
    };
    let here: Vec<&str> = fields::held_by(holder)
        .filter(fits)
        .map(Field::word)
        .collect();
    let near = nearest(node.head, here.iter().copied()).map(str::to_owned);
    let elsewhere = fields::matching(node.head);
    let owner = match (holder.is_empty(), kind) {
        (true, _) => "band",
        (false, Some(kind)) => kind,
        (false, None) => holder,
    };
    let help = match (&near, elsewhere.first()) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, Some(field)) if field.holder() != holder => match field.holder() {
            "" => format!("`{}` stands in the band itself", node.head),
            other => format!("`{}` stands in the block of `{other}`", node.head),
        },
        (None, _) if here.is_empty() => format!("`{owner}` has no fields of its own"),
        (None, _) => format!("fields here are {}", listed(here)),
    };
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: owner.to_owned(),
        help,
        nearest: near,
    }
}

/// The name that follows a block's word, as in `band harvest {`.
pub(super) fn name_of(
    values: &[Expr],
    word: &str,
    at: Span,
    example: &str,
    findings: &mut Vec<Finding>,
) -> Option<Spanned<String>> {
    let wrong = |at: Span, label: &'static str| ModelError::ValueCount {
        at,
        field: word.to_owned(),
        wanted: "a name and a block".to_owned(),
        label,
        help: format!("as in `{example}`"),
    };
    match values {
        [first] => match &first.kind {
            ExprKind::Path(path) if path.single().is_some() => {
                Some(Spanned::new(path.0.clone(), first.span))
            }
            _ => {
                findings.push(wrong(first.span, "not a name: a name begins with a letter").into());
                None
            }
        },
        [] => {
            findings.push(wrong(at.after(), "a name is missing").into());
            None
        }
        [_, second, ..] => {
            findings.push(wrong(second.span, "one too many").into());
            None
        }
    }
}
