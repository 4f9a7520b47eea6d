//! What blocks state, by path and by meaning, so that two texts can be told apart by what they say and not by how it
//! is written: `1.5 mm` and `0.15 cm` are the same, so are a dotted line and a block, and a default that is written
//! out.

use rustc_hash::FxHashMap;

use crate::quantity::{Deviation, Number};
use crate::schema::{self, BlockId, Field, Takes};
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, ExprKind, entries, entry_name, first_word};
use crate::syntax::print_expression;

use super::expression::{Evaluator, NoNames};
use super::nested::Nested;
use super::value::Value;
use super::{check, field_value, fineness};

/// One path of a text with what it states; what has a name of its own carries it, as in `shop.operation.turning.run`.
#[derive(Clone, Debug)]
pub struct StatedPath {
    /// The band that it stands in, whose name is no part of the path.
    pub band: Option<String>,
    /// The path.
    pub path: String,
    /// Its row of the vocabulary, where it has one.
    pub field: Option<&'static Field>,
    /// What is stated, in the order written.
    pub values: Vec<Meaning>,
    /// Where it is first written.
    pub at: Span,
}

/// One value as stated.
#[derive(Clone, Debug)]
pub enum Meaning {
    /// A value that rests on nothing else.
    Plain(Value),
    /// A word, or an expression in its canonical form.
    Written(String),
}

impl PartialEq for Meaning {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Plain(one), Self::Plain(other)) => one.means_as(other),
            (Self::Written(one), Self::Written(other)) => one == other,
            _ => false,
        }
    }
}

impl StatedPath {
    /// Its values as a recipe writes them.
    #[must_use]
    pub fn written(&self) -> String {
        let word = |one: &Meaning| match one {
            Meaning::Plain(value) => check::written(value),
            Meaning::Written(text) => text.clone(),
        };
        self.values.iter().map(word).collect::<Vec<_>>().join(" ")
    }

    /// Its values with figures in base units, one text for all that mean the same.
    #[must_use]
    pub fn meant(&self) -> String {
        let word = |one: &Meaning| match one {
            Meaning::Plain(value) => in_base(value),
            Meaning::Written(text) => text.clone(),
        };
        self.values.iter().map(word).collect::<Vec<_>>().join(" ")
    }

    /// Whether two say the same; what is not said is its default.
    #[must_use]
    pub fn same(one: Option<&Self>, other: Option<&Self>) -> bool {
        match (one, other) {
            (Some(one), Some(other)) => one.values == other.values,
            (Some(only), None) | (None, Some(only)) => {
                // A block that holds nothing by itself says nothing by being there.
                only.values.is_empty() || only.is_default()
            }
            (None, None) => true,
        }
    }

    fn is_default(&self) -> bool {
        let default = self.field.and_then(field_value::default);
        match (default.map(|default| default.value), self.values.as_slice()) {
            (Some(Value::Word(word)), [Meaning::Written(written)]) => word == *written,
            (Some(value), [Meaning::Plain(plain)]) => value.means_as(plain),
            _ => false,
        }
    }
}

impl Value {
    /// Whether it means the same as another, in whatever unit either is written.
    #[must_use]
    pub fn means_as(&self, other: &Self) -> bool {
        let amounts =
            |of: &[Deviation]| -> Vec<Number> { of.iter().map(|one| one.amount).collect() };
        match (self, other) {
            (
                Self::Size {
                    size, deviations, ..
                },
                Self::Size {
                    size: other,
                    deviations: others,
                    ..
                },
            ) => size == other && amounts(deviations) == amounts(others),
            (Self::List(all), Self::List(others)) => {
                let mut pairs = all.iter().zip(others);
                all.len() == others.len() && pairs.all(|(one, other)| one.means_as(other))
            }
            _ => match (self.measured(), other.measured()) {
                (Some((one, _)), Some((other, _))) => {
                    (one.number, one.dimension) == (other.number, other.dimension)
                        && amounts(&one.deviations) == amounts(&other.deviations)
                }
                _ => self == other,
            },
        }
    }
}

/// Everything that a text states in blocks, in its order; `let`s, requirements and what a file uses are no blocks.
#[must_use]
pub fn stated(tree: &Nested) -> Vec<StatedPath> {
    let mut all = All::default();
    for entry in entries(&tree.items) {
        let Some(word) = entry.head_name() else {
            continue;
        };
        if matches!(word, "annulet" | "use" | "let" | "require") {
            continue;
        }
        let block = BlockId::of_word(word);
        let name = entry_name(&entry.values).map(std::borrow::Cow::into_owned);
        let is_band = block == Some(BlockId::Band);
        let path = match &name {
            _ if is_band => String::new(),
            Some(name) => format!("{word}.{name}"),
            None => word.to_owned(),
        };
        all.band = name.filter(|_| is_band);
        let holder = match block {
            Some(block) if !block.is_of_band() => word,
            _ => "",
        };
        // What stands behind a name, as `tube` behind `stock strip`, is said of the block.
        let named = usize::from(!is_band && path.contains('.'));
        let behind = entry.values.get(named..).unwrap_or_default();
        if !is_band && !behind.is_empty() {
            all.put(path.clone(), None, behind, entry.head_span());
        }
        let inside = Inside {
            block,
            holder,
            path,
        };
        all.within(entry, &inside);
    }
    all.found
}

/// Where entries stand.
struct Inside<'a> {
    block: Option<BlockId>,
    /// The path that the vocabulary knows.
    holder: &'a str,
    /// The path with the names of this text.
    path: String,
}

#[derive(Default)]
struct All {
    band: Option<String>,
    found: Vec<StatedPath>,
    places: FxHashMap<(Option<String>, String), usize>,
}

impl All {
    fn within(&mut self, entry: &Entry, inside: &Inside<'_>) {
        for entry in entry.block.iter().flat_map(|block| block.entries()) {
            let word = entry.head.as_ref().map(|head| head.value.0.as_str());
            let Some(word) = word else {
                // Lines without a word of their own, as those of an order, are values of what holds them.
                self.put(inside.path.clone(), None, &entry.values, entry.span);
                continue;
            };
            let field = inside.block.and_then(|block| match block {
                BlockId::Alloy if inside.holder == "alloy" => Some(super::alloy_field(word)),
                block if block.is_of_band() => {
                    let rows = schema::held_by(inside.holder);
                    rows.into_iter().find(|field| field.word() == word)
                }
                block => schema::held_in_block(block, inside.holder, word),
            });
            let apart = inside.block.is_some_and(|block| block.tells_apart(word));
            let name = first_word(&entry.values).filter(|_| apart);
            let mut path = match inside.path.as_str() {
                "" => word.to_owned(),
                path => format!("{path}.{word}"),
            };
            let mut values = entry.values.as_slice();
            if let Some(name) = name {
                path = format!("{path}.{name}");
                values = values.get(1..).unwrap_or_default();
            }
            if !values.is_empty() || entry.block.is_none() {
                self.put(path.clone(), field, values, entry.head_span());
            }
            let holder = field.map_or_else(String::new, |field| field.path.to_owned());
            let deeper = Inside {
                block: field.and(inside.block),
                holder: &holder,
                path,
            };
            self.within(entry, &deeper);
        }
    }

    fn put(&mut self, path: String, field: Option<&'static Field>, values: &[Expr], at: Span) {
        let read = values.iter().map(|value| meaning(field, value));
        let key = (self.band.clone(), path.clone());
        let place = *self.places.entry(key).or_insert(self.found.len());
        match self.found.get_mut(place) {
            Some(known) => known.values.extend(read),
            None => self.found.push(StatedPath {
                band: self.band.clone(),
                path,
                field,
                values: read.collect(),
                at,
            }),
        }
    }
}

/// A value with its figures in base units.
fn in_base(value: &Value) -> String {
    let number = |of: Number| match of {
        Number::Exact(exact) => exact.normalize().to_string(),
        Number::Computed(computed) => computed.to_string(),
    };
    let amounts = |of: &[Deviation]| -> String {
        let each = of
            .iter()
            .map(|one| format!(" \u{B1} {}", number(one.amount)));
        each.collect()
    };
    match value {
        Value::Size {
            size, deviations, ..
        } => format!("{size}{}", amounts(deviations)),
        Value::List(all) => {
            let all: Vec<String> = all.iter().map(in_base).collect();
            format!("[{}]", all.join(", "))
        }
        _ => match value.measured() {
            Some((quantity, _)) => format!(
                "{} {}{}",
                number(quantity.number),
                quantity.dimension,
                amounts(&quantity.deviations)
            ),
            None => check::written(value),
        },
    }
}

/// An expression with its figures in base units, one text for all that mean the same.
#[must_use]
pub fn meant(expr: &Expr) -> String {
    match &expr.kind {
        ExprKind::Group(inner) => meant(inner),
        ExprKind::Binary {
            operator,
            left,
            right,
        } => format!(
            "({} {} {})",
            meant(left),
            operator.value.sign(),
            meant(right)
        ),
        _ => match meaning(None, expr) {
            Meaning::Plain(value) => in_base(&value),
            Meaning::Written(text) => text,
        },
    }
}

/// Whether two expressions say the same, in whatever units their figures are written.
#[must_use]
pub fn says_same(one: &Expr, other: &Expr) -> bool {
    match (&one.kind, &other.kind) {
        (ExprKind::Group(one), _) => says_same(one, other),
        (_, ExprKind::Group(other)) => says_same(one, other),
        (
            ExprKind::Binary {
                operator,
                left,
                right,
            },
            ExprKind::Binary {
                operator: other,
                left: other_left,
                right: other_right,
            },
        ) => {
            operator.value == other.value
                && says_same(left, other_left)
                && says_same(right, other_right)
        }
        (ExprKind::Quantity { .. }, ExprKind::Quantity { .. }) => {
            meaning(None, one) == meaning(None, other)
        }
        _ => one == other,
    }
}

fn meaning(field: Option<&'static Field>, value: &Expr) -> Meaning {
    let plain = match &value.kind {
        ExprKind::Path(_) => None,
        _ => Evaluator {
            scope: &mut NoNames,
            findings: &mut Vec::new(),
        }
        .value(value, None),
    };
    match plain {
        Some(value) => Meaning::Plain(match field.map(|field| field.takes) {
            Some(Takes::Fineness) => fineness::read(&value).unwrap_or(value),
            _ => value,
        }),
        None => Meaning::Written(print_expression(value)),
    }
}
