//! What is known while a recipe is resolved, and what is being worked out.
//!
//! Each value is worked out once; one that needs itself is a finding that shows the way round. How values of fields,
//! names, alloys, bands and money come about stands in files of their own, as methods of the [`Resolver`], through
//! which alone they ask each other.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::catalogue::Rulebook;
use crate::finding::Finding;
use crate::schema::{FieldId, ResultId};
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, Path};

use super::alloy::Alloy;
use super::band::Band;
use super::cuts::Cutter;
use super::drawings::Drawings;
use super::error::ModelError;
use super::laid::Override;
use super::merge::Node;
use super::money;
use super::program::{self, Notes};
use super::value::Value;
use super::values::FieldValue;
use super::written::Written;

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
    /// Cuts of its pattern that bear a name.
    pub named_cuts: Vec<Node<'t>>,
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
    /// A result; `None` when the band cannot be worked out, or has no such result.
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

/// What can be asked for, and is worked out once.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Sought {
    Let(usize),
    Field(usize, FieldId),
    Band(usize),
    Alloy(usize),
}

/// How far it is worked out.
pub(super) enum Progress {
    Working,
    Done(Option<Arc<FieldValue>>),
    DoneLet(Value),
    DoneBand(Option<Arc<Band>>),
    /// It has a mistake, which was reported.
    Refused,
}

/// How many values may need each other in a row. Each is looked up inside the one that needs it, and a
/// chain made to exhaust the stack must end before it does.
pub(super) const LONGEST_CHAIN: usize = 24;

/// Alloys by name: as written, and as built.
pub(super) struct Metals<'t> {
    pub written: Vec<(String, &'t Entry)>,
    pub places: HashMap<String, usize>,
    pub built: HashMap<String, Option<Arc<Alloy>>>,
}

impl<'t> Metals<'t> {
    pub fn new(written: Vec<(String, &'t Entry)>) -> Self {
        let places = written
            .iter()
            .enumerate()
            .map(|(place, (name, _))| (name.clone(), place))
            .collect();
        Self {
            written,
            places,
            built: HashMap::new(),
        }
    }

    /// The name of the alloy at a place.
    pub fn called(&self, place: usize) -> &str {
        self.written.get(place).map_or("", |(name, _)| name)
    }
}

/// Evaluates on demand.
pub(super) struct Resolver<'t> {
    pub lets: Vec<Let<'t>>,
    pub bands: Vec<Settings<'t>>,
    /// Names of `profile` blocks, for suggestions.
    pub profiles: Vec<String>,
    /// The place of each `let`.
    places: HashMap<&'t str, usize>,
    /// The place of each band.
    band_places: HashMap<String, usize>,
    pub metals: Metals<'t>,
    pub money: money::MoneyState<'t>,
    /// What is laid over the recipe from outside.
    pub overrides: &'t [Override],
    pub results: &'t dyn BandResults,
    pub states: FxHashMap<Sought, Progress>,
    /// Defaults that were read already.
    pub defaults: FxHashMap<&'static str, Option<Arc<FieldValue>>>,
    /// What is being evaluated, outermost first, for showing a circle.
    pub chain: Vec<Sought>,
    /// What is noted for the recipe's program.
    pub notes: Notes,
    /// The setting, or the number of an alloy, that is being read, while one is.
    pub reader: Option<program::Key>,
    /// How the value of each `let` is written, by its place.
    pub written: FxHashMap<usize, Written>,
    /// The `let`s that stand for a word.
    pub words: &'t BTreeSet<String>,
    pub rules: Rules,
    /// Cutters by name; none for one with a mistake.
    pub cutters: Vec<(String, Option<Arc<Cutter>>)>,
    /// The drawings that the recipe names.
    pub drawings: &'t Drawings,
}

/// Fields of a plain band, and the band.
const OF_A_BAND: usize = 28;

/// Rulebooks of the recipe, and what it requires of which band.
#[derive(Default)]
pub(super) struct Rules {
    pub own: Arc<[Arc<Rulebook>]>,
    /// Words of rulebooks, by the band that is to meet them.
    pub asked: HashMap<String, Vec<String>>,
}

impl<'t> Resolver<'t> {
    pub fn new(
        lets: Vec<Let<'t>>,
        bands: Vec<Settings<'t>>,
        alloys: Vec<(String, &'t Entry)>,
        profiles: Vec<String>,
        results: &'t dyn BandResults,
        drawings: &'t Drawings,
    ) -> Self {
        let places = lets
            .iter()
            .enumerate()
            .map(|(place, one)| (one.name, place))
            .collect();
        // Of two of one name, which is a finding, the first counts.
        let named = bands.iter().enumerate().rev();
        let band_places = named
            .map(|(place, band)| (band.name.clone(), place))
            .collect();
        Self {
            band_places,
            lets,
            bands,
            profiles,
            places,
            metals: Metals::new(alloys),
            money: money::MoneyState::default(),
            overrides: &[],
            results,
            states: FxHashMap::with_capacity_and_hasher(OF_A_BAND, FxBuildHasher),
            defaults: FxHashMap::default(),
            chain: Vec::new(),
            notes: Notes::default(),
            reader: None,
            written: FxHashMap::default(),
            words: const { &BTreeSet::new() },
            rules: Rules::default(),
            cutters: Vec::new(),
            drawings,
        }
    }

    /// Notes that what is being worked out mentions a name.
    pub fn note(&mut self, name: &Path, means: program::Key) {
        let reader = match self.chain.last() {
            Some(Sought::Let(place)) => Some(program::Key::Let(*place)),
            Some(Sought::Field(band, id)) => Some(program::Key::Field(*band, *id)),
            Some(Sought::Band(_)) => None,
            Some(Sought::Alloy(_)) | None => self.reader,
        };
        self.notes.read(reader, name, means);
    }

    /// The place of a band.
    pub fn band_named(&self, name: &str) -> Option<usize> {
        self.band_places.get(name).copied()
    }

    /// The place of a `let`.
    pub fn let_named(&self, path: &Path) -> Option<usize> {
        self.places.get(path.single()?).copied()
    }

    /// What a key is called.
    fn called(&self, key: Sought) -> String {
        let band = |place: usize| {
            self.bands
                .get(place)
                .map_or("", |settings| settings.name.as_str())
        };
        match key {
            Sought::Let(place) => self.lets.get(place).map_or("", |one| one.name).to_owned(),
            Sought::Field(place, id) => format!("{}.{}", band(place), id.path()),
            Sought::Band(place) => band(place).to_owned(),
            Sought::Alloy(place) => self.metals.called(place).to_owned(),
        }
    }

    /// The finding that a value needs itself, with the way round. A band is not named beside its own field.
    pub fn circle<T>(&self, key: Sought, at: Span, findings: &mut Vec<Finding>) -> Option<T> {
        let from = self
            .chain
            .iter()
            .position(|known| *known == key)
            .unwrap_or(0);
        let within: Vec<Sought> = self.chain.iter().skip(from).copied().collect();
        let behind = within.iter().cycle().skip(1);
        let way: Vec<Sought> = within
            .iter()
            .zip(behind)
            .filter(
                |pair| !matches!(pair, (Sought::Band(band), Sought::Field(of, _)) if band == of),
            )
            .map(|(key, _)| *key)
            .collect();
        let name = self.called(way.first().copied().unwrap_or(key));
        let mut words: Vec<String> = way.iter().map(|key| self.called(*key)).collect();
        words.push(name.clone());
        let short = name.rsplit('.').next().unwrap_or(&name);
        let help = match way.len() {
            1 => format!(
                "give it a value of its own; a step from it is tried, as in `try {short} + 0.5 mm`"
            ),
            _ => "give one of them a value of its own".to_owned(),
        };
        findings.push(
            ModelError::Circle {
                at,
                help,
                name,
                chain: words.join(" needs "),
            }
            .into(),
        );
        None
    }
}

/// A value with a mistake that was reported: whatever needs it is not computed.
pub(super) fn refused<T>(at: Span, findings: &mut Vec<Finding>) -> Option<T> {
    findings.push(ModelError::Unread { at }.into());
    None
}

pub(super) fn too_long<T>(at: Span, findings: &mut Vec<Finding>) -> Option<T> {
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
