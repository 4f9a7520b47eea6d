//! Which names of the top level a change can reach: what mentions what, by words alone.
//!
//! Input: the trees of a recipe. Output: for some names, all that depends on them and all that they need.
//! A word that only looks like a name counts too, so both sets may be larger than they must be, and are
//! never smaller.

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::FxHashSet;

use crate::source::Span;
use crate::syntax::ast::{self, Entry, Expr, ExprKind, Item, ListItem, Path, entries};

use super::laid::COMMON;
use super::nested::Nested;

/// What each name of the top level mentions.
#[derive(Clone, Debug, Default)]
pub struct Mentions {
    names: BTreeMap<String, BTreeSet<String>>,
    /// The other way round.
    by: BTreeMap<String, BTreeSet<String>>,
    /// Which of the names are those of bands.
    bands: BTreeSet<String>,
    /// Words that are mentioned and are no names, some of which may be gone.
    others: FxHashSet<String>,
}

impl Mentions {
    /// Reads the trees of a recipe and of the files that it uses.
    #[must_use]
    pub fn of(trees: &[Nested]) -> Self {
        let mut known: BTreeSet<&str> = BTreeSet::new();
        for entry in trees.iter().flat_map(|tree| entries(&tree.items)) {
            known.extend(name(entry));
        }
        let mut found = Self::default();
        for entry in trees.iter().flat_map(|tree| entries(&tree.items)) {
            found.read(entry, &|word| known.contains(word));
        }
        for (name, mentioned) in &found.names {
            for other in mentioned {
                let by = found.by.entry(other.clone()).or_default();
                by.insert(name.clone());
            }
        }
        found
    }

    /// Takes in what an entry of the top level mentions.
    fn read(&mut self, entry: &Entry, is_known: &dyn Fn(&str) -> bool) {
        if matches!(entry.head_name(), Some("require" | "use" | "annulet")) {
            return;
        }
        let own = name(entry).unwrap_or(COMMON);
        let found = self.names.entry(own.to_owned()).or_default();
        if is_band(entry) {
            found.insert(COMMON.to_owned());
            self.bands.extend(name(entry).map(str::to_owned));
        }
        let others = &mut self.others;
        let mut each = |word: &str| match is_known(word) {
            true if word == own => {}
            true => drop(found.insert(word.to_owned())),
            false if others.contains(word) => {}
            false => drop(others.insert(word.to_owned())),
        };
        in_entry(entry, &mut each);
        // Bands of an order and alloys with a price stand as words of their block.
        if own == COMMON {
            in_heads(entry, &mut each);
        }
    }

    /// Puts bands in the place of others, which nothing but one another mentions.
    pub fn put(&mut self, gone: &BTreeSet<String>, new: &Nested) {
        for name in gone {
            self.bands.remove(name);
            for other in self.names.remove(name).into_iter().flatten() {
                if let Some(by) = self.by.get_mut(&other) {
                    by.remove(name);
                }
            }
        }
        let names: BTreeSet<&str> = entries(&new.items).filter_map(name).collect();
        let mut found = Self::default();
        for entry in entries(&new.items) {
            found.read(entry, &|word| {
                names.contains(word) || self.names.contains_key(word)
            });
        }
        for (name, mentioned) in &found.names {
            for other in mentioned {
                let by = self.by.entry(other.clone()).or_default();
                by.insert(name.clone());
            }
        }
        self.names.append(&mut found.names);
        self.bands.append(&mut found.bands);
        self.others.extend(found.others);
    }

    /// Whether a word is a name of the top level, or is mentioned as if it were one.
    #[must_use]
    pub fn knows(&self, word: &str) -> bool {
        self.names.contains_key(word) || self.others.contains(word)
    }

    /// All that some bands rest on that are not among those read, and what stands in blocks without a name.
    #[must_use]
    pub fn under(&self, bands: &Nested) -> BTreeSet<String> {
        let mentioned = entries(&bands.items).flat_map(mentioned_in);
        let known = mentioned.filter(|word| self.names.contains_key(word));
        self.rests_on(known.chain([COMMON.to_owned()]))
    }

    /// Whether a change that reaches these names reaches what stands in blocks without a name: prices, the shop,
    /// orders.
    #[must_use]
    pub fn reach_common(names: &BTreeSet<String>) -> bool {
        names.contains(COMMON)
    }

    /// All that a change of some names can reach, they themselves included.
    #[must_use]
    pub fn dependents(&self, of: impl IntoIterator<Item = String>) -> BTreeSet<String> {
        closure(&self.by, of, &|_, _| true)
    }

    /// All that some names need, they themselves included.
    #[must_use]
    pub fn needs(&self, of: impl IntoIterator<Item = String>) -> BTreeSet<String> {
        closure(&self.names, of, &|_, _| true)
    }

    /// All that what is said of some names rests on, they themselves included. Bands rest on prices and the shop;
    /// these mention bands (in an order) without resting on them.
    #[must_use]
    pub fn rests_on(&self, of: impl IntoIterator<Item = String>) -> BTreeSet<String> {
        closure(&self.names, of, &|from, to| {
            from != COMMON || !self.bands.contains(to)
        })
    }
}

/// Everything that some names lead to.
fn closure(
    leads: &BTreeMap<String, BTreeSet<String>>,
    from: impl IntoIterator<Item = String>,
    follows: &dyn Fn(&str, &str) -> bool,
) -> BTreeSet<String> {
    let mut found: BTreeSet<String> = from.into_iter().collect();
    let mut new: Vec<String> = found.iter().cloned().collect();
    while let Some(name) = new.pop() {
        for other in leads.get(&name).into_iter().flatten() {
            if follows(&name, other) && found.insert(other.clone()) {
                new.push(other.clone());
            }
        }
    }
    found
}

/// The names of the top level that an expression mentions.
#[must_use]
pub fn mentioned(expr: &Expr) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    in_expr(expr, &mut |word| {
        found.insert(word.to_owned());
    });
    found
}

/// The names that an entry mentions anywhere.
#[must_use]
pub fn mentioned_in(entry: &Entry) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    in_entry(entry, &mut |word| {
        found.insert(word.to_owned());
    });
    found
}

/// Whether an entry of the top level is a band, or a variant of one.
#[must_use]
pub fn is_band(entry: &Entry) -> bool {
    matches!(entry.head_name(), Some("band" | "variant"))
}

/// The name that an entry of the top level gives.
#[must_use]
pub fn name(entry: &Entry) -> Option<&str> {
    let first = &entry.values.first()?.kind;
    match (entry.head_name()?, first) {
        ("band" | "variant" | "alloy" | "profile" | "cutter", ExprKind::Path(path)) => {
            path.single()
        }
        ("let", ExprKind::Binary { left, .. }) => match &left.kind {
            ExprKind::Path(path) => path.single(),
            _ => None,
        },
        _ => None,
    }
}

fn in_entry(entry: &Entry, each: &mut dyn FnMut(&str)) {
    for value in &entry.values {
        in_expr(value, each);
    }
    for item in entry.block.iter().flat_map(|block| &block.items) {
        if let Item::Entry(entry) = item {
            in_entry(entry, each);
        }
    }
}

/// The words that the entries of a block begin with.
fn in_heads(entry: &Entry, each: &mut dyn FnMut(&str)) {
    for entry in entry.block.iter().flat_map(ast::Block::entries) {
        if let Some(word) = entry
            .head
            .as_ref()
            .and_then(|head| head.value.names().next())
        {
            each(word);
        }
        in_heads(entry, each);
    }
}

fn in_expr(expr: &Expr, each: &mut dyn FnMut(&str)) {
    paths(expr, &mut |path, _| {
        let mut names = path.names();
        match names.next() {
            // `let.cut` is `cut`.
            Some("let") => names.next().into_iter().for_each(&mut *each),
            Some(first) => each(first),
            None => {}
        }
    });
}

/// Every path that an expression mentions, with its place.
pub fn paths(expr: &Expr, each: &mut dyn FnMut(&Path, Span)) {
    match &expr.kind {
        ExprKind::Path(path) => each(path, expr.span),
        ExprKind::Negate(inner) | ExprKind::Group(inner) => paths(inner, each),
        ExprKind::Convert { value, .. } => paths(value, each),
        ExprKind::Binary { left, right, .. } => {
            paths(left, each);
            paths(right, each);
        }
        ExprKind::Tolerance { value, deviation } => {
            paths(value, each);
            paths(deviation, each);
        }
        ExprKind::Range { from, to, by } => {
            paths(from, each);
            paths(to, each);
            if let Some(by) = by {
                paths(by, each);
            }
        }
        ExprKind::Call { arguments, .. } => {
            for argument in arguments {
                paths(argument, each);
            }
        }
        ExprKind::List { items, .. } => {
            for item in items {
                if let ListItem::Value(value) = item {
                    paths(value, each);
                }
            }
        }
        ExprKind::Quantity { .. }
        | ExprKind::Size { .. }
        | ExprKind::Text(_)
        | ExprKind::Date(..)
        | ExprKind::Unread(_) => {}
    }
}
