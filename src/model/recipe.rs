//! A whole recipe: goes through the top level, merges what is laid over it, builds the bands.

use std::collections::HashMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::{Finding, settle};
use crate::quantity::{Dimension, Length, Number, Quantity, Ratio};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::TOP_WORDS;
use crate::syntax::ast::{Entry, ExprKind, Item, Number as Written, Operator, Tree, entries};

use super::alloy::{self, Alloy, NoNames};
use super::band::{Band, FieldValue, Inside, Pattern, Profile};
use super::error::ModelError;
use super::fields::{self, FIELDS};
use super::merge::{self, Node};
use super::resolve::{Let, Resolver, Settings, name_of, review};
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
            .extend(band(&mut resolver, place, &mut metals, &mut findings).map(Arc::new));
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

/// Alloys by name, each built once.
struct Metals {
    written: HashMap<String, Option<Arc<Alloy>>>,
}

impl Metals {
    fn add(
        &mut self,
        name: &str,
        entry: &Entry,
        resolver: &mut Resolver<'_>,
        recipe: &mut Recipe,
        findings: &mut Vec<Finding>,
    ) {
        let mut nodes: Vec<Node<'_>> = Vec::new();
        if let Some(block) = &entry.block {
            merge::lay(&mut nodes, &block.items, &|head| head == "temper", findings);
        }
        let at = entry
            .values
            .first()
            .map_or(entry.head_span(), |value| value.span);
        let mut scope = LetNames { resolver };
        let alloy = alloy::written(name, at, &nodes, &mut scope, findings).map(Arc::new);
        recipe.alloys.extend(alloy.clone());
        self.written.insert(name.to_owned(), alloy);
    }

    /// The alloy of a name: the recipe's own before a built-in one.
    fn find(&mut self, name: &str, at: Span, findings: &mut Vec<Finding>) -> Option<Arc<Alloy>> {
        if let Some(known) = self.written.get(name) {
            return known.clone();
        }
        if let Some(alloy) = alloy::built_in(name) {
            let alloy = Some(Arc::new(alloy));
            self.written.insert(name.to_owned(), alloy.clone());
            return alloy;
        }
        let names = catalogue::alloy_names();
        let known = self
            .written
            .keys()
            .map(String::as_str)
            .chain(names.iter().map(String::as_str));
        let near = nearest(name, known).map(str::to_owned);
        let help = match &near {
            Some(near) => {
                format!("did you mean `{near}`? `annulet list alloys` shows the built-in ones")
            }
            None => format!(
                "define it with `alloy {name} {{ … }}`; `annulet list alloys` shows the built-in ones"
            ),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: name.to_owned(),
                kind: "the alloy",
                help,
                nearest: near,
            }
            .into(),
        );
        None
    }
}

/// Names that an alloy's values may use: `let`s.
struct LetNames<'r, 't> {
    resolver: &'r mut Resolver<'t>,
}

impl super::expression::Scope for LetNames<'_, '_> {
    fn name(
        &mut self,
        path: &crate::syntax::ast::Path,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        match self
            .resolver
            .lets
            .iter()
            .position(|one| Some(one.name) == path.single())
        {
            Some(place) => self.resolver.let_value(place, at, findings),
            None => super::expression::Scope::name(&mut NoNames, path, at, findings),
        }
    }
}

/// Resolves and types one band.
fn band(
    resolver: &mut Resolver<'_>,
    place: usize,
    metals: &mut Metals,
    findings: &mut Vec<Finding>,
) -> Option<Band> {
    let before = findings.len();
    let (name, at, written, broken) = {
        let settings = resolver.bands.get(place)?;
        if !settings.damaged {
            review(&settings.nodes, "", None, false, findings);
        }
        let written: Vec<bool> = FIELDS
            .iter()
            .map(|field| super::resolve::node(&settings.nodes, field.path).is_some())
            .collect();
        (settings.name.clone(), settings.at, written, settings.broken)
    };
    let mut values: Vec<FieldValue> = Vec::new();
    for (field, written) in FIELDS.iter().zip(&written) {
        if *written || field.default.is_some() {
            values.extend(
                resolver
                    .field(place, field, at, findings)
                    .map(|value| (*value).clone()),
            );
        }
    }
    // What was meant by a slip is not missing, and nobody knows what stood in broken text.
    let slips: Vec<String> = findings
        .iter()
        .skip(before)
        .filter_map(Finding::repair)
        .map(|repair| repair.text)
        .collect();
    let is_written = |path: &str| {
        broken
            || slips
                .iter()
                .any(|slip| path.rsplit('.').next() == Some(slip))
            || FIELDS
                .iter()
                .zip(&written)
                .any(|(field, written)| field.path == path && *written)
    };
    missing(&name, at, &is_written, &values, findings);
    let alloy_field = values.iter().find(|value| value.field.path == "alloy");
    let alloy = alloy_field.and_then(|value| match &value.value {
        Value::Word(word) => metals.find(word, value.at.unwrap_or(at), findings),
        _ => None,
    });
    if let Some(alloy) = &alloy {
        temper(alloy, &values, at, findings);
    }
    if findings
        .iter()
        .skip(before)
        .any(|finding| finding.weight() == crate::finding::Weight::Wrong)
    {
        return None;
    }
    build(name, at, alloy?, values)
}

/// Fields that must be written, and those that a block or a kind asks for.
const REQUIRED: &[&str] = &["size", "width", "thickness", "profile", "alloy"];

fn missing(
    name: &str,
    at: Span,
    is_written: &dyn Fn(&str) -> bool,
    values: &[FieldValue],
    findings: &mut Vec<Finding>,
) {
    let mut lacking: Vec<&str> = REQUIRED
        .iter()
        .copied()
        .filter(|path| !is_written(path))
        .collect();
    let kind = values
        .iter()
        .find(|value| value.field.path == "profile")
        .map(|value| &value.value);
    if kind == Some(&Value::Word("domed".to_owned())) && !is_written("profile.edge") {
        lacking.push("profile.edge");
    }
    if is_written("pattern") {
        lacking.extend(
            ["pattern.depth", "pattern.cover"]
                .into_iter()
                .filter(|path| !is_written(path)),
        );
    }
    if lacking.is_empty() {
        return;
    }
    let words: Vec<String> = lacking.iter().map(|path| format!("`{path}`")).collect();
    let lines: Vec<String> = lacking
        .iter()
        .filter_map(|path| fields::find(path))
        .map(|field| format!("`{}`", super::check::example(field)))
        .collect();
    let fields = match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    };
    let help = format!("add {}", lines.join(", "));
    findings.push(
        ModelError::MissingField {
            at,
            band: name.to_owned(),
            fields,
            help,
        }
        .into(),
    );
}

/// A temper must be one that the alloy knows.
fn temper(alloy: &Alloy, values: &[FieldValue], at: Span, findings: &mut Vec<Finding>) {
    let Some(value) = values.iter().find(|value| value.field.path == "temper") else {
        return;
    };
    let Value::Word(word) = &value.value else {
        return;
    };
    let known: Vec<&str> = alloy
        .tempers
        .iter()
        .map(|temper| temper.name.as_str())
        .collect();
    if known.contains(&word.as_str()) || value.at.is_none() {
        return;
    }
    let near = nearest(word, known.iter().copied()).map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => format!(
            "`{}` states no tempers; add a `temper` block to it",
            alloy.name
        ),
        None => format!("`{}` has {}", alloy.name, listed(known)),
    };
    findings.push(
        ModelError::UnknownName {
            at: value.at.unwrap_or(at),
            name: word.clone(),
            kind: "the temper",
            help,
            nearest: near,
        }
        .into(),
    );
}

/// The typed band; every value was checked when its field was.
fn build(name: String, at: Span, alloy: Arc<Alloy>, values: Vec<FieldValue>) -> Option<Band> {
    let value = |path: &str| {
        values
            .iter()
            .find(|value| value.field.path == path)
            .map(|value| &value.value)
    };
    let length = |path: &str| {
        value(path)
            .and_then(Value::quantity)
            .and_then(Length::from_quantity)
    };
    let word = |path: &str| match value(path) {
        Some(Value::Word(word)) => Some(word.as_str()),
        _ => None,
    };
    let inside = match value("size")? {
        Value::Size { size, .. } => Inside {
            size: Some(*size),
            diameter: super::expression::diameter_of(size),
        },
        Value::Quantity { quantity, .. } => Inside {
            size: None,
            diameter: quantity.number,
        },
        _ => return None,
    };
    let profile = match word("profile")? {
        "flat" => Profile::Flat,
        "domed" => Profile::Domed {
            edge: length("profile.edge")?,
        },
        _ => return None,
    };
    let pattern = match (
        length("pattern.depth"),
        value("pattern.cover").and_then(Value::quantity),
    ) {
        (Some(depth), Some(cover)) => Some(Pattern {
            repeats: value("pattern.repeats")
                .and_then(Value::quantity)
                .and_then(count),
            depth,
            mean_depth: length("pattern.mean-depth").unwrap_or(depth),
            cover: Ratio::from_quantity(cover)?,
        }),
        _ => None,
    };
    let title = match value("title") {
        Some(Value::Text(title)) => Some(title.clone()),
        _ => None,
    };
    Some(Band {
        inside,
        width: length("width")?,
        thickness: length("thickness")?,
        profile,
        comfort: length("comfort")?,
        temper: word("temper")?.to_owned(),
        least_wall: length("limit.wall")?,
        pattern,
        title,
        alloy,
        name,
        at,
        fields: values,
    })
}

fn count(quantity: &Quantity) -> Option<u32> {
    debug_assert_eq!(quantity.dimension, Dimension::NONE);
    match quantity.number {
        Number::Exact(value) => u32::try_from(value.mantissa() / 10_i128.pow(value.scale())).ok(),
        Number::Computed(_) => None,
    }
}
