//! Settings to values: evaluates fields, `let`s and bands on demand, whatever their order.
//!
//! Each is evaluated once; a value that needs itself is a finding that shows the way round. What a name
//! means is settled in `names`.

use crate::schema::{Field, FieldId, ResultId, Takes};
use std::collections::HashMap;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::catalogue::Rulebook;
use crate::finding::Finding;
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, ExprKind, Path};

use super::band::Band;
use super::build;
use super::check;
use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::field_value::{choose, default, single, word};
use super::laid::Override;
use super::merge::{Node, node};
use super::metals::Metals;
use super::money;
use super::names::At;
use super::outline::{self, Outline};
use super::program::{self, Notes};
use super::share::{self, Written};
use super::value::Value;
use super::values::FieldValue;

/// A `let` as written.
pub(super) struct Let<'t> {
    pub name: &'t str,
    pub at: Span,
    pub value: &'t Expr,
    /// Every place that gives it a value, weakest first.
    pub places: Vec<Span>,
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
    /// A result; `None` when the band cannot be evaluated, or has no such result.
    fn value(&self, band: &Arc<Band>, id: ResultId) -> Option<Value>;

    /// Whether the band can be evaluated at all.
    fn possible(&self, band: &Arc<Band>) -> bool;
}

/// No results at all: for recipes whose fields refer to none.
pub struct NoResults;

impl BandResults for NoResults {
    fn value(&self, _band: &Arc<Band>, _id: ResultId) -> Option<Value> {
        None
    }

    fn possible(&self, _band: &Arc<Band>) -> bool {
        true
    }
}

/// What is asked for: a `let`, or a field of a band.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Key {
    Let(usize),
    Field(usize, FieldId),
    Band(usize),
    Alloy(usize),
}

pub(super) enum State {
    Working,
    Done(Option<Arc<FieldValue>>),
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
    pub money: money::State<'t>,
    /// What is laid over the recipe from outside.
    pub overrides: &'t [Override],
    pub results: &'t dyn BandResults,
    pub states: FxHashMap<Key, State>,
    /// Defaults that were read already.
    defaults: FxHashMap<&'static str, Option<Arc<FieldValue>>>,
    /// What is being evaluated, outermost first, for showing a circle.
    pub chain: Vec<Key>,
    /// What is noted for the recipe's program.
    pub notes: Notes,
    /// The setting whose value is being read.
    pub reader: Option<program::Key>,
    /// How the value of each `let` is written, by its place.
    pub written: FxHashMap<usize, Written>,
    pub rules: Rules,
}

/// Rulebooks of the recipe, and what it requires of which band.
#[derive(Default)]
pub(super) struct Rules {
    pub own: Arc<[Arc<Rulebook>]>,
    /// Band and word of a rulebook.
    pub asked: Vec<(String, String)>,
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
            money: money::State::default(),
            overrides: &[],
            results,
            states: FxHashMap::default(),
            defaults: FxHashMap::default(),
            chain: Vec::new(),
            notes: Notes::default(),
            reader: None,
            written: FxHashMap::default(),
            rules: Rules::default(),
        }
    }

    /// Names as seen from the top level.
    pub fn top_scope(&mut self) -> impl Scope {
        At {
            resolver: self,
            band: None,
            holder: "",
            own: None,
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
        // Its fields stand in the band from now on.
        for value in band.iter().flat_map(|band| band.fields.iter()) {
            self.states.remove(&Key::Field(place, value.field.id));
        }
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
    ) -> Option<Arc<FieldValue>> {
        let key = Key::Field(band, field.id);
        match self.states.get(&key) {
            Some(State::Done(value)) => return value.clone(),
            Some(State::Refused) => return refused(at, findings),
            Some(State::Working) => return self.circle(key, at, findings),
            Some(State::DoneLet(_) | State::DoneBand(_)) | None => {}
        }
        if let Some(State::DoneBand(Some(band))) = self.states.get(&Key::Band(band))
            && let Some(value) = band.fields.shared(field.id)
        {
            return Some(value.clone());
        }
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, State::Working);
        self.chain.push(key);
        let before = findings.len();
        let value = self.written(band, field, findings);
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
        // It must span the width.
        self.notes.fix(program::Key::Field(band, FieldId::Width));
        let mut scope = At {
            resolver: self,
            band: Some(band),
            holder: "profile",
            own: None,
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
        let mut scope = At {
            resolver: self,
            band: None,
            holder: "",
            own: None,
        };
        let value = Evaluator {
            scope: &mut scope,
            findings,
        }
        .value(expr, None);
        let written = share::written(expr, &scope);
        self.written.insert(place, written);
        self.chain.pop();
        self.notes.worked_out(program::Key::Let(place), expr);
        let state = value.clone().map_or(State::Refused, State::DoneLet);
        self.states.insert(key, state);
        value
    }

    /// Notes that what is being worked out mentions a name.
    pub fn note(&mut self, name: &Path, means: program::Key) {
        let reader = match self.chain.last() {
            Some(Key::Let(place)) => Some(program::Key::Let(*place)),
            Some(Key::Field(band, id)) => Some(program::Key::Field(*band, *id)),
            Some(Key::Band(_) | Key::Alloy(_)) => None,
            None => self.reader,
        };
        self.notes.read(reader, name, means);
    }

    /// The place of a `let`.
    pub fn let_named(&self, path: &Path) -> Option<usize> {
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
            Key::Field(place, id) => format!("{}.{}", band(place), id.path()),
            Key::Band(place) => band(place).to_owned(),
            Key::Alloy(place) => self.metals.called(place).to_owned(),
        }
    }

    /// The finding that a value needs itself, with the way round. A band is not named beside its own field.
    pub fn circle<T>(&self, key: Key, at: Span, findings: &mut Vec<Finding>) -> Option<T> {
        let from = self
            .chain
            .iter()
            .position(|known| *known == key)
            .unwrap_or(0);
        let within: Vec<Key> = self.chain.iter().skip(from).copied().collect();
        let behind = within.iter().cycle().skip(1);
        let way: Vec<Key> = within
            .iter()
            .zip(behind)
            .filter(|pair| !matches!(pair, (Key::Band(band), Key::Field(of, _)) if band == of))
            .map(|(key, _)| *key)
            .collect();
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
    ) -> Option<Arc<FieldValue>> {
        let Some(node) = self
            .bands
            .get(band)
            .and_then(|settings| node(&settings.nodes, field.path))
        else {
            return self
                .defaults
                .entry(field.path)
                .or_insert_with(|| default(field).map(Arc::new))
                .clone();
        };
        let Some(place) = node.winner().copied() else {
            // A block without values of its own, such as `pattern { … }`.
            return None;
        };
        let places = node.places.iter().map(|place| place.at).collect();
        let value = single(
            field,
            without_stretch(field, place.values),
            place.at,
            findings,
        )?;
        let expr = value;
        let at = expr.span;
        let holder = field.holder();
        let stretched = place.values.len() > 1;
        let value = match word(field, expr) {
            Some(word) => choose(field, word, &self.profiles, at, findings)?,
            None => {
                let (_, dimension) = check::due(field.takes);
                let mut scope = At {
                    resolver: self,
                    band: Some(band),
                    holder,
                    own: Some(field.id),
                };
                let mut evaluator = Evaluator {
                    scope: &mut scope,
                    findings,
                };
                let found = evaluator.value(expr, dimension)?;
                let found = evaluator.due(field, expr, found, stretched)?;
                self.notes
                    .worked_out(program::Key::Field(band, field.id), expr);
                check::take(field, found, at, findings)?
            }
        };
        Some(Arc::new(FieldValue {
            field,
            value,
            at: Some(at),
            places,
        }))
    }
}

/// The values of a field without the word `stretch`, which says of a start that a part of the bore follows.
fn without_stretch<'e>(field: &Field, values: &'e [Expr]) -> &'e [Expr] {
    match values {
        [first, rest @ ..] if field.takes == Takes::Start && !rest.is_empty() => {
            match &first.kind {
                ExprKind::Path(path) if path.single() == Some("stretch") => rest,
                _ => values,
            }
        }
        _ => values,
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
