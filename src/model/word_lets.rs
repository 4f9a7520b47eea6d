//! `let`s that stand for a word: `let metal = rose-585`, used as `alloy metal`.
//!
//! A word is nothing that an expression reckons with, and what a block holds depends on it. So such a `let` is put in
//! place before anything is read: wherever a field takes a word, and in what is required. The word keeps the place
//! where it is written, so that what is wrong with it is found there. A recipe without such a `let` is read as it is.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalogue;
use crate::finding::Finding;
use crate::quantity::Currency;
use crate::schema::{self, Field, PROFILES, Takes};
use crate::source::Span;
use crate::syntax::ast::{Block, Entry, Expr, ExprKind, Item, Operator, entries, first_word};

use super::error::ModelError;
use super::laid::{Holder, Override};
use super::nested::Nested;

/// A recipe with the words of its `let`s in place.
pub(super) struct Placed {
    pub tree: Nested,
    pub used: Vec<Nested>,
    pub overrides: Vec<Override>,
    /// The `let`s whose words were put somewhere, or are known.
    pub words: BTreeSet<String>,
}

/// What a `let` stands for: its own place, and the word where it is written.
struct Word {
    at: Span,
    value: Expr,
}

/// Puts the words of `let`s in place; none where no `let` stands for a word.
pub(super) fn place(
    tree: &Nested,
    used: &[Nested],
    overrides: &[Override],
    findings: &mut Vec<Finding>,
) -> Option<Placed> {
    let words = words(tree, used, overrides);
    if words.is_empty() {
        return None;
    }
    let trees = || std::iter::once(tree).chain(used);
    let names = trees().flat_map(|tree| entries(&tree.items));
    let mut putting = Putting {
        own: names
            .filter_map(|entry| {
                let word = entry.head_name()?;
                Some((word.to_owned(), first_word(&entry.values)?.to_owned()))
            })
            .collect(),
        put: BTreeSet::new(),
        words,
        findings,
    };
    let mut placed = Placed {
        tree: putting.tree(tree),
        used: used.iter().map(|tree| putting.tree(tree)).collect(),
        overrides: overrides.to_vec(),
        words: BTreeSet::new(),
    };
    for layer in &mut placed.overrides {
        match &layer.holder {
            Holder::Lets => {}
            Holder::Band(_) => putting.block(&mut layer.items, ""),
            Holder::Block(word, _) => putting.block(&mut layer.items, word),
        }
    }
    placed.words = putting.known();
    Some(placed)
}

/// The `let`s that stand for a word, also by way of others; the strongest layer of each.
fn words(tree: &Nested, used: &[Nested], overrides: &[Override]) -> BTreeMap<String, Word> {
    let mut lets: BTreeMap<&str, (Span, &Expr)> = BTreeMap::new();
    for tree in used.iter().chain([tree]) {
        for entry in entries(&tree.items) {
            if let Some((name, at, value)) = written(entry) {
                lets.insert(name, (at, value));
            }
        }
    }
    for layer in overrides.iter().filter(|one| one.holder == Holder::Lets) {
        for entry in entries(&layer.items) {
            if let (Some(name), [value]) = (entry.head_name(), entry.values.as_slice())
                && let Some((_, known)) = lets.get_mut(name)
            {
                *known = value;
            }
        }
    }
    // Where each leads in the end; none where that is no word, or it leads round in a circle.
    let mut ends: BTreeMap<&str, Option<&Expr>> = BTreeMap::new();
    for name in lets.keys() {
        let (mut way, mut next) = (Vec::new(), *name);
        let end = loop {
            if let Some(end) = ends.get(next) {
                break *end;
            }
            ends.insert(next, None);
            way.push(next);
            let value = lets.get(next).map(|(_, value)| *value);
            match value.and_then(single) {
                Some(said) if lets.contains_key(said) => next = said,
                Some(_) => break value,
                None => break None,
            }
        };
        ends.extend(way.into_iter().map(|name| (name, end)));
    }
    let words = lets.iter().filter_map(|(name, (at, _))| {
        let value = ends.get(name).copied().flatten()?.clone();
        Some(((*name).to_owned(), Word { at: *at, value }))
    });
    words.collect()
}

/// The name, its place, and the value of a `let` as written.
fn written(entry: &Entry) -> Option<(&str, Span, &Expr)> {
    let [value] = entry.values.as_slice() else {
        return None;
    };
    match &value.kind {
        ExprKind::Binary {
            operator,
            left,
            right,
        } if entry.head_name() == Some("let") && operator.value == Operator::Equal => {
            Some((single(left)?, left.span, right))
        }
        _ => None,
    }
}

fn single(expr: &Expr) -> Option<&str> {
    match &expr.kind {
        ExprKind::Path(path) => path.single(),
        _ => None,
    }
}

struct Putting<'a> {
    words: BTreeMap<String, Word>,
    /// Blocks of the top level: word and name.
    own: BTreeSet<(String, String)>,
    /// The `let`s whose words were put somewhere.
    put: BTreeSet<String>,
    findings: &'a mut Vec<Finding>,
}

impl Putting<'_> {
    fn tree(&mut self, tree: &Nested) -> Nested {
        let mut items = tree.items.clone();
        for item in &mut items {
            let Item::Entry(entry) = item else { continue };
            let holder = match entry.head_name() {
                Some("band" | "variant") => "",
                Some("require") => {
                    for value in &mut entry.values {
                        self.compared(value);
                    }
                    continue;
                }
                Some("let" | "use" | "annulet") | None => continue,
                Some(word) => word,
            }
            .to_owned();
            if let Some(block) = &mut entry.block {
                self.block(&mut block.items, &holder);
            }
        }
        Nested::as_read(items)
    }

    fn block(&mut self, items: &mut [Item], holder: &str) {
        for item in items {
            let Item::Entry(entry) = item else { continue };
            let Some(head) = entry.head_name() else {
                continue;
            };
            let path = match holder {
                "" => head.to_owned(),
                _ => format!("{holder}.{head}"),
            };
            let field = schema::find(&path).or_else(|| schema::find_in_blocks(&path));
            if let (Some(field), [value]) = (field, entry.values.as_mut_slice()) {
                self.field(field, value);
            }
            if let Some(Block { items, .. }) = &mut entry.block {
                self.block(items, &path);
            }
        }
    }

    /// Puts a word in the place of its `let`, where the field takes one.
    fn field(&mut self, field: &Field, value: &mut Expr) {
        let Some(name) = single(value).filter(|_| field.takes.is_word()) else {
            return;
        };
        let Some(word) = self.words.get(name) else {
            return;
        };
        if let Some(meaning) = self.means(field.takes, name) {
            let name = name.to_owned();
            self.findings.push(
                ModelError::TwoMeanings {
                    at: value.span,
                    other: Some(word.at),
                    meanings: format!("{meaning} `{name}`, and a `let`"),
                    help: format!(
                        "give the `let` a name of its own, as in `let my-{name} = \u{2026}`"
                    ),
                    name,
                }
                .into(),
            );
            return;
        }
        self.put.insert(name.to_owned());
        *value = word.value.clone();
    }

    /// Puts words in the place of their `let`s in a requirement.
    fn compared(&mut self, expr: &mut Expr) {
        if let Some(name) = single(expr)
            && let Some(word) = self.words.get(name)
        {
            self.put.insert(name.to_owned());
            *expr = word.value.clone();
            return;
        }
        match &mut expr.kind {
            ExprKind::Group(inner) => self.compared(inner),
            ExprKind::Binary { left, right, .. } => {
                self.compared(left);
                self.compared(right);
            }
            _ => {}
        }
    }

    /// What a word means by itself where a field takes one; none where it means nothing.
    fn means(&self, takes: Takes, word: &str) -> Option<&'static str> {
        let own = |kind: &str| self.own.contains(&(kind.to_owned(), word.to_owned()));
        match takes {
            Takes::Word(choices) if choices.contains(&word) => Some("the word"),
            Takes::LengthOr(only) if only == word => Some("the word"),
            Takes::Profile if PROFILES.contains(&word) || own("profile") => Some("the profile"),
            Takes::Alloy if own("alloy") || catalogue::alloy(word).is_some() => Some("the alloy"),
            Takes::Temper if TEMPERS.contains(&word) => Some("the temper"),
            Takes::Stock if own("stock") => Some("the stock"),
            Takes::Band if own("band") || own("variant") => Some("the band"),
            Takes::Currency if Currency::new(word).is_some() => Some("the currency"),
            _ => None,
        }
    }

    /// The `let`s whose words were put somewhere, or mean something wherever they are put.
    fn known(&self) -> BTreeSet<String> {
        let fields = || schema::of_band().iter().chain(schema::of_blocks());
        let means = |word: &str| {
            let mut takes = fields().map(|field| field.takes);
            takes.any(|takes| self.means(takes, word).is_some())
        };
        let words = self.words.iter();
        let known = words.filter(|(name, word)| {
            self.put.contains(*name) || single(&word.value).is_some_and(means)
        });
        known.map(|(name, _)| name.clone()).collect()
    }
}

/// Tempers that metals of the catalogue have.
const TEMPERS: &[&str] = &["annealed", "hard", "aged"];

impl Takes {
    /// Whether its value is a word.
    fn is_word(self) -> bool {
        matches!(
            self,
            Self::Word(_)
                | Self::Profile
                | Self::Alloy
                | Self::Temper
                | Self::LengthOr(_)
                | Self::Currency
                | Self::Stock
                | Self::Band
                | Self::AnyWord
                | Self::Rulebook
        )
    }
}
