//! A whole recipe: goes through the top level, merges what is laid over it, builds the bands.

use std::collections::HashMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::finding::{Finding, settle};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::TOP_WORDS;
use crate::syntax::ast::{Entry, ExprKind, Item, Number as Written, Operator, Tree, entries};

use super::alloy::Alloy;
use super::band::Band;
use super::build;
use super::error::ModelError;
use super::fields::{self, PROFILES};
use super::merge;
use super::metals::Metals;
use super::resolve::{Let, Resolver, Settings, name_of};
use super::value::Value;

/// Everything that a recipe defines.
#[derive(Clone, Debug, Default)]
pub struct Recipe {
    /// The bands that could be resolved, in the order written.
    pub bands: Vec<Arc<Band>>,
    /// The names of all bands, faulty ones too, with their places.
    pub names: Vec<Named>,
    /// The alloys that the recipe defines.
    pub alloys: Vec<Arc<Alloy>>,
    /// The values of its `let`s.
    pub lets: Vec<(String, Value)>,
}

/// A name and where it is given.
#[derive(Clone, Debug)]
pub struct Named {
    /// The name.
    pub name: String,
    /// Its place.
    pub at: Span,
}

/// Entries laid over a band, or over a `let`, as if they had been written there.
#[derive(Clone, Debug)]
pub struct Override {
    /// The band that it belongs to; none: a `let`.
    pub band: Option<String>,
    /// The entries.
    pub items: Vec<Item>,
}

/// Resolves a tree with what is laid over it.
///
/// # Errors
/// None: findings are collected, and what is sound is resolved all the same.
#[must_use]
pub fn resolve(tree: &Tree, overrides: &[Override]) -> (Recipe, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut top = Top::default();
    top.read(&tree.items, &mut findings);
    for over in overrides.iter().filter(|over| over.band.is_none()) {
        top.override_let(&over.items);
    }
    let names: Vec<Named> = top
        .bands
        .iter()
        .map(|(name, entry)| Named {
            name: name.clone(),
            at: entry.header_span(),
        })
        .collect();
    let mut settings = Vec::new();
    for (name, entry) in &top.bands {
        let mut nodes = Vec::new();
        let layers = entry.block.iter().map(|block| block.items.as_slice());
        let over = overrides
            .iter()
            .filter(|over| over.band.as_ref() == Some(name))
            .map(|over| over.items.as_slice());
        for items in layers.chain(over) {
            merge::lay(&mut nodes, items, &|_| false, &mut findings);
        }
        merge::stand_in(&mut nodes, &top.profiles, &mut findings);
        let broken = entry
            .block
            .as_ref()
            .is_some_and(|block| block.damaged || has_broken(&block.items));
        let damaged = entry.block.as_ref().is_some_and(|block| block.damaged);
        settings.push(Settings {
            name: name.clone(),
            at: entry.header_span(),
            nodes,
            broken,
            damaged,
        });
    }
    let mut resolver = Resolver::new(top.lets, settings);
    resolver.profiles = top.profiles.iter().map(|(name, _)| name.clone()).collect();
    let mut recipe = Recipe {
        names,
        ..Recipe::default()
    };
    for place in 0..resolver.lets.len() {
        let at = resolver
            .lets
            .get(place)
            .map_or(Span { start: 0, end: 0 }, |one| one.at);
        if let Some(value) = resolver.let_value(place, at, &mut findings) {
            let name = resolver
                .lets
                .get(place)
                .map_or_else(String::new, |one| one.name.to_owned());
            recipe.lets.push((name, value));
        }
    }
    let mut metals = Metals {
        written: HashMap::new(),
    };
    for (name, entry) in &top.alloys {
        metals.add(name, entry, &mut resolver, &mut recipe, &mut findings);
    }
    for place in 0..resolver.bands.len() {
        recipe
            .bands
            .extend(build::band(&mut resolver, place, &mut metals, &mut findings).map(Arc::new));
    }
    settle(&mut findings);
    (recipe, findings)
}

/// The top level, sorted by what its entries are.
#[derive(Default)]
struct Top<'t> {
    lets: Vec<Let<'t>>,
    alloys: Vec<(String, &'t Entry)>,
    bands: Vec<(String, &'t Entry)>,
    profiles: Vec<(String, &'t Entry)>,
}

impl<'t> Top<'t> {
    fn read(&mut self, items: &'t [Item], findings: &mut Vec<Finding>) {
        let mut seen: HashMap<(&str, String), Span> = HashMap::new();
        for entry in entries(items) {
            // A header that could not be read was reported, and its block goes with it.
            let Some(head) = entry.head.as_ref() else {
                if !entry.values.is_empty() {
                    findings.push(unknown_block(entry.span, "…", findings.len()).into());
                }
                continue;
            };
            let word = head.value.0.as_str();
            let named = match word {
                "annulet" => {
                    edition(entry, findings);
                    Some("annulet".to_owned())
                }
                "let" => self.read_let(entry, findings),
                "alloy" => {
                    let name = block_name(entry, word, "alloy rose-585 { … }", findings);
                    self.alloys.extend(name.clone().map(|name| (name, entry)));
                    name
                }
                "profile" => {
                    let name = profile_name(entry, findings);
                    self.profiles.extend(name.clone().map(|name| (name, entry)));
                    name
                }
                "band" => {
                    let name = block_name(entry, word, "band harvest { … }", findings);
                    self.bands.extend(name.clone().map(|name| (name, entry)));
                    name
                }
                _ if TOP_WORDS.contains(&word) => {
                    let help = "the results do not take it into account";
                    findings.push(
                        ModelError::NotEvaluated {
                            at: entry.header_span(),
                            name: word.to_owned(),
                            help,
                        }
                        .into(),
                    );
                    None
                }
                _ => {
                    findings.push(unknown_block(head.span, word, 0).into());
                    None
                }
            };
            let Some(name) = named else { continue };
            let key = (if word == "variant" { "band" } else { word }, name.clone());
            match seen.get(&key) {
                Some(first) => {
                    findings.push(
                        ModelError::GivenTwice {
                            again: entry.header_span(),
                            first: *first,
                            name,
                        }
                        .into(),
                    );
                    self.drop_last(word);
                }
                None => {
                    seen.insert(key, entry.header_span());
                }
            }
        }
    }

    fn drop_last(&mut self, word: &str) {
        match word {
            "let" => drop(self.lets.pop()),
            "alloy" => drop(self.alloys.pop()),
            "band" => drop(self.bands.pop()),
            "profile" => drop(self.profiles.pop()),
            _ => {}
        }
    }

    /// `let name = value`.
    fn read_let(&mut self, entry: &'t Entry, findings: &mut Vec<Finding>) -> Option<String> {
        if let [value] = entry.values.as_slice()
            && let ExprKind::Binary {
                operator,
                left,
                right,
            } = &value.kind
            && operator.value == Operator::Equal
            && let ExprKind::Path(path) = &left.kind
            && let Some(name) = path.single()
        {
            self.lets.push(Let {
                name,
                at: left.span,
                value: right,
            });
            return Some(name.to_owned());
        }
        findings.push(
            ModelError::ValueCount {
                at: entry
                    .values
                    .first()
                    .map_or(entry.head_span().after(), |value| value.span),
                field: "let".to_owned(),
                wanted: "a name, `=` and a value".to_owned(),
                label: "here",
                help: "as in `let cut = 0.30 mm`".to_owned(),
            }
            .into(),
        );
        None
    }

    /// A `let` of the same name takes the overriding value.
    fn override_let(&mut self, items: &'t [Item]) {
        for entry in entries(items) {
            let (Some(head), Some(value)) = (entry.head_name(), entry.values.first()) else {
                continue;
            };
            for one in self.lets.iter_mut().filter(|one| one.name == head) {
                one.value = value;
            }
        }
    }
}

fn block_name(
    entry: &Entry,
    word: &str,
    example: &str,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    let name = name_of(&entry.values, word, entry.head_span(), example, findings)?;
    if entry.block.is_none() {
        findings.push(
            ModelError::ValueCount {
                at: name.span.after(),
                field: word.to_owned(),
                wanted: "a name and a block".to_owned(),
                label: "a block in braces is due",
                help: format!("as in `{example}`"),
            }
            .into(),
        );
        return None;
    }
    Some(name.value)
}

/// `profile soft domed { … }`: a name, then what a band's `profile` says.
fn profile_name(entry: &Entry, findings: &mut Vec<Finding>) -> Option<String> {
    if let [name, kind] = entry.values.as_slice()
        && let (ExprKind::Path(name), ExprKind::Path(kind)) = (&name.kind, &kind.kind)
        && PROFILES.contains(&kind.0.as_str())
        && name.single().is_some()
    {
        return Some(name.0.clone());
    }
    findings.push(
        ModelError::ValueCount {
            at: entry
                .values
                .last()
                .map_or(entry.head_span().after(), |value| value.span),
            field: "profile".to_owned(),
            wanted: "a name and a kind".to_owned(),
            label: "here",
            help: format!(
                "as in `profile soft domed {{ edge 1.2 mm }}`; kinds are {}",
                listed(PROFILES.iter().copied())
            ),
        }
        .into(),
    );
    None
}

fn edition(entry: &Entry, findings: &mut Vec<Finding>) {
    let one = Written::Decimal(Decimal::ONE);
    let first = matches!(entry.values.as_slice(), [value] if matches!(&value.kind, ExprKind::Quantity { number, unit: None } if *number == one));
    if !first {
        let at = entry
            .values
            .first()
            .map_or(entry.head_span().after(), |value| value.span);
        findings.push(ModelError::Edition { at }.into());
    }
}

fn unknown_block(at: Span, word: &str, _count: usize) -> ModelError {
    let near = nearest(word, TOP_WORDS.iter().copied()).map(str::to_owned);
    let is_field = fields::find(word).is_some();
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None if is_field => format!(
            "`{word}` is a field of a band: it stands between the braces of `band NAME {{ … }}`"
        ),
        None => format!("a recipe holds {}", listed(TOP_WORDS.iter().copied())),
    };
    let nearest = near.filter(|_| !is_field);
    ModelError::UnknownBlock {
        at,
        word: word.to_owned(),
        help,
        nearest,
    }
}

/// Whether some text in a block could not be read.
fn has_broken(items: &[Item]) -> bool {
    items.iter().any(|item| match item {
        Item::Broken(_) => true,
        Item::Entry(entry) => {
            entry.head.is_none()
                || entry
                    .block
                    .as_ref()
                    .is_some_and(|block| has_broken(&block.items))
        }
        Item::Comment(_) => false,
    })
}
