//! A whole recipe: merges what is laid over what, and resolves bands, alloys, `let`s and requirements.
//!
//! Order, weakest first: default, used file, this file, parent to child, what is laid over each of them
//! from outside. An override on a parent reaches the variants that do not restate the field.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, OnceLock};

use rustc_hash::FxHashSet;

use crate::catalogue::{self, Own, Rulebook};
use crate::finding::{Finding, is_full, settle};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, Item};

use super::alloy::Alloy;
use super::assayed;
use super::band::Band;
use super::descent::Descent;
use super::drawings::Drawings;
use super::error::ModelError;
use super::laid::{self, Holder, Override};
use super::laid_measured::{lay_measured, lay_of_ring, of_rings, without};
use super::meets::{self, Meets};
use super::merge::{self, Node, has_broken};
use super::money::{self, Money, Order};
use super::nested::Nested;
use super::program::Program;
use super::resolve::{BandResults, Resolver, Rules, Settings};
use super::rulebooks;
use super::stand_in;
use super::top::{Top, WrittenRequirement};
use super::value::Value;
use super::word_lets::{self, Placed};
use super::written::Written;
use super::written_cuts;
use super::written_cutter;

/// Everything that a recipe defines.
#[derive(Clone, Debug, Default)]
pub struct Recipe {
    /// The bands that could be resolved, in the order written; those of used files behind the recipe's own.
    pub bands: Vec<Arc<Band>>,
    /// The names of the recipe's own bands, faulty ones too, with their places.
    pub names: Vec<Named>,
    /// The names of the bands of used files.
    pub used_names: Vec<Named>,
    /// The alloys that could be resolved.
    pub alloys: Vec<Arc<Alloy>>,
    /// The values of its `let`s.
    pub lets: Vec<LetValue>,
    /// The names of those that have none, which was said.
    pub faulty_lets: Vec<String>,
    /// What must hold.
    pub requirements: Vec<Requirement>,
    /// Prices and the workshop.
    pub money: Option<Arc<Money>>,
    /// Something is wrong with prices, workshop or stock, so that nothing of them is known.
    pub money_is_faulty: bool,
    /// What is ordered.
    pub orders: Vec<Order>,
    /// Its own rulebooks.
    pub rules: Arc<[Arc<Rulebook>]>,
    /// What follows from what.
    pub program: Program,
    /// The names of all bands, from the first time on that one is looked up.
    pub(super) known: OnceLock<Arc<FxHashSet<String>>>,
}

impl Recipe {
    /// Whether a name is that of a band, its own or of a used file, faulty ones too.
    #[must_use]
    pub fn is_band(&self, name: &str) -> bool {
        let known = self.known.get_or_init(|| {
            let all = self.names.iter().chain(&self.used_names);
            Arc::new(all.map(|named| named.name.clone()).collect())
        });
        known.contains(name)
    }

    /// Puts the names of bands in the place of others among those that are known.
    pub fn rename(&mut self, gone: &BTreeSet<String>, new: &[Named]) {
        if let Some(known) = self.known.get_mut() {
            let known = Arc::make_mut(known);
            for name in gone {
                known.remove(name);
            }
            known.extend(new.iter().map(|named| named.name.clone()));
        }
    }
}

/// A `let` with its value.
#[derive(Clone, Debug)]
pub struct LetValue {
    /// The name.
    pub name: String,
    /// The value.
    pub value: Value,
    /// Every place that gives it one, weakest first; the last one holds.
    pub places: Vec<Span>,
    /// Whether it is a share, or a bare number that could be one.
    pub written: Written,
}

/// A name and where it is given.
#[derive(Clone, Debug)]
pub struct Named {
    /// The name.
    pub name: String,
    /// Its place.
    pub at: Span,
}

/// Something that must hold, not yet judged.
#[derive(Clone, Debug)]
pub struct Requirement {
    /// What the maker calls it.
    pub title: Option<String>,
    /// The comparison; none where it is a rule to be met, or could not be read.
    pub condition: Option<Expr>,
    /// The rule to be met.
    pub meets: Option<Meets>,
    /// Its place, without its title.
    pub at: Span,
}

/// Which bands and `let`s are to be resolved.
#[derive(Clone, Copy)]
pub enum Wanted<'a> {
    /// All.
    All,
    /// Those of some names.
    Only {
        /// The names.
        names: &'a BTreeSet<String>,
        /// Everything that these need, themselves included ([`super::Mentions::needs`]).
        needed: &'a BTreeSet<String>,
    },
}

impl Wanted<'_> {
    fn has(self, name: &str) -> bool {
        match self {
            Self::All => true,
            Self::Only { names, .. } => names.contains(name),
        }
    }

    fn needs(self, name: &str) -> bool {
        match self {
            Self::All => true,
            Self::Only { needed, .. } => needed.contains(name),
        }
    }
}

/// Resolves a tree, the trees that it uses (each once, in any order) and what is laid over it.
///
/// `results` answers for results of other bands, which this layer cannot compute; `drawings` were read with the trees.
///
/// # Errors
/// None: findings are collected, and what is sound is resolved all the same.
#[must_use]
pub fn resolve(
    tree: &Nested,
    used: &[Nested],
    overrides: &[Override],
    results: &dyn BandResults,
    drawings: &Drawings,
    wanted: Wanted<'_>,
) -> (Recipe, Vec<Finding>) {
    let mut findings = Vec::new();
    let recipe = match word_lets::place(tree, used, overrides, &mut findings) {
        Some(placed) => {
            let Placed {
                tree,
                used,
                overrides,
                words,
            } = &placed;
            resolved(
                tree,
                (used, words),
                overrides,
                results,
                drawings,
                wanted,
                &mut findings,
            )
        }
        None => {
            let used = (used, &BTreeSet::new());
            resolved(
                tree,
                used,
                overrides,
                results,
                drawings,
                wanted,
                &mut findings,
            )
        }
    };
    settle(&mut findings);
    (recipe, findings)
}

/// The same, with the words of `let`s in place, and the names of those that are known to be words.
fn resolved(
    tree: &Nested,
    (used, words): (&[Nested], &BTreeSet<String>),
    overrides: &[Override],
    results: &dyn BandResults,
    drawings: &Drawings,
    wanted: Wanted<'_>,
    findings: &mut Vec<Finding>,
) -> Recipe {
    let mut top = Top::default();
    top.read(&tree.items, false, findings);
    for tree in used {
        top.read(&tree.items, true, findings);
    }
    for items in laid::over(overrides, &Holder::Lets) {
        top.override_let(items, findings);
    }
    let settings = settings(&top, overrides, wanted, findings);
    let own = rulebooks::read(&top.rules, overrides, findings);
    let requirements: Vec<Requirement> = {
        let mut books: Vec<&str> = catalogue::rulebook_words().collect();
        for book in own.iter().filter(|book| book.own == Some(Own::New)) {
            books.push(&book.word);
        }
        let bands: Vec<&str> = top.bands.iter().map(|band| band.name.as_str()).collect();
        let known = meets::Known {
            named: bands.iter().copied().collect(),
            bands,
            books,
        };
        let mut all = Vec::new();
        for one in &top.requirements {
            all.extend(requirement(one, &known, findings));
        }
        all
    };
    let mut asked: HashMap<String, Vec<String>> = HashMap::new();
    for meets in requirements.iter().filter_map(|one| one.meets.as_ref()) {
        let words = asked.entry(meets.band.value.clone()).or_default();
        words.push(meets.book.value.clone());
    }
    let mut recipe = Recipe {
        names: names(&top, false),
        used_names: names(&top, true),
        requirements,
        rules: Arc::clone(&own),
        ..Recipe::default()
    };
    let profiles = top.profiles.iter().map(|(name, _)| name.clone()).collect();
    let mut resolver = Resolver::new(top.lets, settings, top.alloys, profiles, results, drawings);
    resolver.words = words;
    resolver.money = top.money;
    resolver.overrides = overrides;
    resolver.settle_lets(&|name| wanted.has(name) || wanted.needs(name), findings);
    recipe.money = money::money(&mut resolver, findings);
    recipe.money_is_faulty = resolver.money.is_faulty;
    resolver.rules = Rules { own, asked };
    written_cutter::read(&mut resolver, &top.cutters, findings);
    let mut lets = Vec::new();
    for place in 0..resolver.lets.len() {
        let Some((name, at, places)) = resolver
            .lets
            .get(place)
            .map(|one| (one.name.to_owned(), one.at, one.places.clone()))
        else {
            continue;
        };
        if !wanted.has(&name) {
            lets.push(None);
            continue;
        }
        let value = resolver.let_value(place, at, findings);
        if value.is_none() {
            recipe.faulty_lets.push(name.clone());
        }
        lets.push(value.is_some().then_some(recipe.lets.len()));
        let written = resolver.written.get(&place).copied().unwrap_or_default();
        recipe.lets.extend(value.map(|value| LetValue {
            name,
            value,
            places,
            written,
        }));
    }
    let mut alloys = Vec::new();
    for alloy in resolver.alloys(&|name| wanted.has(name), findings) {
        alloys.push(alloy.is_some().then_some(recipe.alloys.len()));
        recipe.alloys.extend(alloy);
    }
    if matches!(wanted, Wanted::All) {
        recipe.orders = money::orders(&mut resolver, findings);
    }
    let mut bands = Vec::new();
    for place in 0..resolver.bands.len() {
        let is_wanted = |band: &Settings<'_>| wanted.has(&band.name);
        if !resolver.bands.get(place).is_some_and(is_wanted) {
            bands.push(None);
            continue;
        }
        let band = resolver.band(place, findings);
        bands.push(band.is_some().then_some(recipe.bands.len()));
        recipe.bands.extend(band);
    }
    let parents = resolver.bands.iter().map(|band| band.parent).collect();
    recipe.program = resolver.notes.program(bands, parents, lets, alloys);
    recipe
}

/// The names of the recipe's own bands, or of those of used files.
fn names(top: &Top<'_>, used: bool) -> Vec<Named> {
    let bands = top.bands.iter().filter(|band| band.used == used);
    bands
        .map(|band| Named {
            name: band.name.clone(),
            at: band.entry.header_span(),
        })
        .collect()
}

/// The merged settings of every band, in the order of the top level.
fn settings<'t>(
    top: &Top<'t>,
    overrides: &'t [Override],
    wanted: Wanted<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Settings<'t>> {
    let descent = Descent::of(&top.bands, findings);
    let named: BTreeSet<&str> = top.bands.iter().map(|band| band.name.as_str()).collect();
    for (_, name, _) in &top.of_rings {
        if !named.contains(name.value.as_str()) {
            let bands = top.bands.iter().map(|band| band.name.as_str());
            let near = match is_full(findings) {
                true => None,
                false => crate::suggest::nearest(&name.value, bands.clone()).map(str::to_owned),
            };
            findings.push(
                ModelError::UnknownName {
                    at: name.span,
                    name: name.value.clone(),
                    kind: "the band",
                    help: crate::suggest::of_bands(near.as_deref(), bands),
                    nearest: near,
                }
                .into(),
            );
        }
    }
    let mut merged: Vec<Option<Merged<'t>>> = top.bands.iter().map(|_| None).collect();
    // Each band is laid over a copy of its parent once; parents come first.
    for place in &descent.order {
        let Some(band) = top.bands.get(*place) else {
            continue;
        };
        if !wanted.needs(&band.name) {
            continue;
        }
        let parent = descent.parents.get(*place).copied().flatten();
        let mut own = parent
            .and_then(|parent| merged.get(parent)?.clone())
            .unwrap_or_default();
        let block = band.entry.block.as_ref();
        own.broken |= block.is_some_and(has_broken);
        own.damaged |= block.is_some_and(|block| block.damaged);
        let written = block.iter().map(|block| block.items.as_slice());
        for items in written {
            assayed::kept(&mut own.nodes, findings, |nodes, findings| {
                merge::lay(nodes, items, &merge::of_band, findings);
            });
        }
        for items in laid::over(overrides, &Holder::Band(band.name.clone())) {
            assayed::kept(&mut own.nodes, findings, |nodes, findings| {
                laid::lay_over(nodes, items, &merge::of_band, findings);
            });
        }
        if let Some(place) = merged.get_mut(*place) {
            *place = Some(own);
        }
    }
    let mut measured: BTreeMap<(&str, &str), Vec<&'t [Item]>> = BTreeMap::new();
    for (word, name, items) in &top.of_rings {
        let own = measured.entry((word, &name.value)).or_default();
        own.push(items);
    }
    let mut all = Vec::new();
    for (place, (band, merged)) in top.bands.iter().zip(merged).enumerate() {
        let Merged {
            mut nodes,
            broken,
            damaged,
        } = merged.unwrap_or_default();
        for word in of_rings() {
            let holder = Holder::Block(word, Some(band.name.clone()));
            let own = measured.get(&(word, band.name.as_str()));
            let own = own.filter(|_| !band.used);
            if let Some(at) = without(word, band, overrides) {
                if own.is_none() {
                    findings.push(
                        ModelError::NothingToLeaveOut {
                            at,
                            name: word.to_owned(),
                            help: format!("the recipe has no block `{word}` of this band"),
                        }
                        .into(),
                    );
                }
                continue;
            }
            for items in own.into_iter().flatten() {
                lay_measured(word, &mut nodes, items, findings);
            }
            for items in laid::over(overrides, &holder) {
                lay_of_ring(word, &mut nodes, items, findings);
            }
        }
        stand_in::stand_in(&mut nodes, &top.profiles, overrides, findings);
        let named_cuts = written_cuts::named(&mut nodes);
        all.push(Settings {
            named_cuts,
            name: band.name.clone(),
            at: band.entry.header_span(),
            nodes,
            broken,
            damaged,
            orphan: descent.orphans.get(place) == Some(&true),
            parent: descent.parents.get(place).copied().flatten(),
            used: band.used,
        });
    }
    all
}

/// What a band comes to when it is laid over what it is made of.
#[derive(Clone, Default)]
struct Merged<'t> {
    nodes: Vec<Node<'t>>,
    /// Some of its text could not be read.
    broken: bool,
    /// A brace was missing, so its entries may stand in the wrong place.
    damaged: bool,
}

/// `require "title" left <= right`.
fn requirement(
    written: &WrittenRequirement<'_>,
    known: &meets::Known<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Requirement> {
    let (title, rest) = match written.values {
        [first, rest @ ..] => match &first.kind {
            ExprKind::Text(title) => (Some(title.clone()), rest),
            // A title that could not be read was reported.
            ExprKind::Unread(_) if !rest.is_empty() => (None, rest),
            _ => (None, written.values),
        },
        [] => (None, written.values),
    };
    match rest {
        [condition] => Some(Requirement {
            title,
            condition: Some(condition.clone()),
            meets: None,
            at: condition.span,
        }),
        [subject, word, rest @ ..] if matches!(&word.kind, ExprKind::Path(path) if path.0 == "meets") =>
        {
            let at = subject.span.to(rest.last().unwrap_or(word).span);
            Some(Requirement {
                title,
                condition: None,
                meets: meets::read(subject, rest, known, findings),
                at,
            })
        }
        _ => {
            findings.push(
                ModelError::ValueCount {
                    at: rest.get(1).map_or(written.at, |value| value.span),
                    field: "require".to_owned(),
                    wanted: "a comparison".to_owned(),
                    label: "here",
                    help: "as in `require \"light enough\" harvest.weight <= 2.9 g`".to_owned(),
                }
                .into(),
            );
            None
        }
    }
}
