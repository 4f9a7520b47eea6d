//! Dotted heads to the blocks that they lead through: `profile.edge 1 mm` stands as if in `profile { … }`.
//!
//! Input: a tree as written. Output: the same tree without any dotted head, which is all that later readers
//! see, so that none of them can pass one by. What a block says in both ways is given twice, and found where
//! blocks are laid. A head that leads nowhere stays as it is, and is no field where it stands.

use std::borrow::Cow;
use std::ops::Deref;

use rustc_hash::FxHashMap;

use crate::schema::{self, BlockId, Naming};
use crate::source::{Span, Spanned};
use crate::syntax::TOP_WORDS;
use crate::syntax::ast::{
    Block, Entry, Expr, ExprKind, Item, Path, Tree, entries, entry_name, first_word,
};

use super::laid::Holder;

/// A tree whose dotted heads all stand as blocks.
#[derive(Debug)]
pub struct Nested {
    tree: Tree,
    /// No line of the top level was dotted, so that its items stand in the order written.
    in_order: bool,
}

impl Deref for Nested {
    type Target = Tree;

    fn deref(&self) -> &Tree {
        &self.tree
    }
}

impl Nested {
    /// Items that were nested before, changed in their values alone.
    pub(super) fn as_read(items: Vec<Item>) -> Self {
        Self {
            tree: Tree { items },
            in_order: false,
        }
    }

    /// Whether its items stand in the order written, each for itself.
    #[must_use]
    pub fn is_in_order(&self) -> bool {
        self.in_order
    }

    /// A tree of some of its items, and those of another behind them.
    #[must_use]
    pub fn with_last(&self, keep: &dyn Fn(&Item) -> bool, last: &Self) -> Self {
        let kept = self.items.iter().filter(|item| keep(item));
        let items = kept.chain(&last.items).cloned().collect();
        Self {
            tree: Tree { items },
            in_order: self.in_order && last.in_order,
        }
    }

    /// Puts the items of another in the place of those behind the first so many.
    pub fn put_last(&mut self, kept: usize, last: Self) {
        self.in_order &= last.in_order;
        self.tree.items.truncate(kept);
        self.tree.items.extend(last.tree.items);
    }

    /// Puts every dotted line where it leads.
    #[must_use]
    pub fn of(tree: Tree) -> Self {
        let Tree { mut items } = tree;
        let mut more: FxHashMap<usize, Vec<Entry>> = FxHashMap::default();
        let in_order = !entries(&items).any(is_dotted);
        if !in_order {
            let names = TopNames::of(&items);
            let led: Vec<Option<Lead>> = items
                .iter()
                .map(|item| match item {
                    Item::Entry(entry) => names.leads(entry),
                    Item::Comment(_) | Item::Broken(_) => None,
                })
                .collect();
            let mut dotted = Vec::new();
            let mut kept = Vec::new();
            for (item, lead) in items.into_iter().zip(led) {
                match (item, lead) {
                    (Item::Entry(entry), Some(lead)) => dotted.push((entry, lead)),
                    (item, _) => kept.push(item),
                }
            }
            items = kept;
            let mut places: FxHashMap<(&'static str, Option<String>), usize> = FxHashMap::default();
            for (place, item) in items.iter().enumerate() {
                if let Item::Entry(entry) = item
                    && let Some(known) = top_key(entry)
                {
                    places.entry(known).or_insert(place);
                }
            }
            for (entry, lead) in dotted {
                let key = lead.key();
                let place = *places.entry(key.clone()).or_insert_with(|| {
                    let (word, name) = key;
                    items.push(Item::Entry(top_opened(word, name, &entry, lead.skip)));
                    items.len() - 1
                });
                match split(entry.clone(), lead.skip) {
                    Some((_, inner)) => more.entry(place).or_default().push(inner),
                    // `alloy.rose { … }` is the block itself.
                    None => {
                        if let (Some(Item::Entry(known)), Some(block)) =
                            (items.get_mut(place), entry.block)
                        {
                            block_of(known, block.open).items.extend(block.items);
                        }
                    }
                }
            }
        }
        for (place, item) in items.iter_mut().enumerate() {
            if let Item::Entry(entry) = item {
                let block = entry.head_name().and_then(BlockId::of_word);
                let more = more.remove(&place).unwrap_or_default();
                inside(entry, more, &|word| {
                    block.is_some_and(|block| block.tells_apart(word))
                });
            }
        }
        Self {
            tree: Tree { items },
            in_order,
        }
    }
}

/// Words of the top level that open no block.
const STATEMENTS: &[&str] = &["annulet", "use", "let", "require"];
/// How a block of the top level is named, by its word; none for what holds no fields.
fn naming(word: &str) -> Option<Naming> {
    BlockId::of_word(word).map(BlockId::naming)
}

/// Words of a head; whoever writes more means no field.
const MOST_WORDS: usize = 8;

/// The block that a dotted line of the top level leads into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// The block.
    pub holder: Holder,
    /// How many words of the line's head it takes.
    skip: usize,
}

impl Lead {
    /// The path of the line in there.
    #[must_use]
    pub fn inside<'p>(&self, path: &'p Path) -> &'p str {
        let mut points = path.0.match_indices('.');
        let end = self.skip.checked_sub(1).and_then(|last| points.nth(last));
        end.and_then(|(place, _)| path.0.get(place + 1..))
            .unwrap_or("")
    }

    fn key(&self) -> (&'static str, Option<String>) {
        match &self.holder {
            Holder::Lets => ("let", None),
            Holder::Band(name) => ("band", Some(name.clone())),
            Holder::Block(word, name) => (word, name.clone()),
        }
    }
}

/// What gives a block of the top level its key: its word, variants as bands, and its name.
fn top_key(entry: &Entry) -> Option<(&'static str, Option<String>)> {
    let head = entry.head_name()?;
    let head = if head == "variant" { "band" } else { head };
    let word = TOP_WORDS.iter().find(|word| **word == head)?;
    Some((word, first_word(&entry.values).map(str::to_owned)))
}

/// The names of blocks at the top level of one file.
#[derive(Debug, Default)]
pub struct TopNames(FxHashMap<&'static str, Vec<String>>);

impl TopNames {
    /// Reads the items of a tree.
    #[must_use]
    pub fn of(items: &[Item]) -> Self {
        let mut names: FxHashMap<&'static str, Vec<String>> = FxHashMap::default();
        for (word, name) in entries(items).filter_map(top_key) {
            names.entry(word).or_default().extend(name);
        }
        for names in names.values_mut() {
            names.sort_unstable();
        }
        Self(names)
    }

    fn has(&self, word: &str, name: &str) -> bool {
        let names = self.0.get(word);
        names.is_some_and(|names| names.binary_search_by(|known| (**known).cmp(name)).is_ok())
    }

    /// The block that a dotted line leads into: that of a band's name, of a block's word with its name, or of the
    /// name alone, as `--set` and the prompt read it too.
    #[must_use]
    pub fn leads(&self, entry: &Entry) -> Option<Lead> {
        if !is_dotted(entry) {
            return None;
        }
        let path = &entry.head.as_ref()?.value;
        let words: Vec<&str> = path.names().collect();
        let (first, second) = (*words.first()?, *words.get(1)?);
        let lead = |holder: Holder, skip: usize| Some(Lead { holder, skip });
        // `alloy.rose { … }` says something of the block itself.
        let whole = entry.values.is_empty() && entry.block.is_some();
        let of_band = |name: &str, skip: usize| match words.get(skip..) {
            Some([word, rest @ ..]) => match BlockId::of_ring(word).filter(|_| !rest.is_empty()) {
                Some(word) => lead(Holder::Block(word, Some(name.to_owned())), skip + 1),
                None => lead(Holder::Band(name.to_owned()), skip),
            },
            Some([]) if whole => lead(Holder::Band(name.to_owned()), skip),
            _ => None,
        };
        if self.has("band", first) {
            return of_band(first, 1);
        }
        if let Some(word) = TOP_WORDS.iter().find(|word| **word == first) {
            let is_order = *word == "order" && !self.has("order", second);
            let of_order = |word: &str| schema::find_in_blocks(&format!("order.{word}")).is_some();
            let name = Some(second.to_owned());
            return match *word {
                _ if STATEMENTS.contains(word) => None,
                _ if naming(word) == Some(Naming::Never) => lead(Holder::Block(word, None), 1),
                "band" | "variant" => of_band(second, 2),
                // An order needs no name.
                _ if is_order && (of_order(second) || self.has("band", second)) => {
                    lead(Holder::Block(word, None), 1)
                }
                _ if words.len() < 3 && !whole => None,
                _ if schema::find(&path.0).is_some() && !self.has(word, second) => None,
                _ => lead(Holder::Block(word, name), 2),
            };
        }
        let alone = |word: &&str| naming(word) == Some(Naming::Alone) && self.has(word, first);
        let mut of_name = TOP_WORDS.iter().filter(|word| alone(word));
        match (of_name.next(), of_name.next()) {
            (Some(word), None) => lead(Holder::Block(word, Some(first.to_owned())), 1),
            _ => None,
        }
    }
}

/// Puts every dotted line of a block, and of the blocks inside it, where it leads. `tells_apart` says of which words,
/// or of which paths that begin with one, a name stands behind the word, as in `operation.turning.run`.
pub fn nest(items: &mut Vec<Item>, tells_apart: &dyn Fn(&str) -> bool) {
    gather(items, Vec::new(), tells_apart);
}

/// The same, with lines from outside that lead into this block.
fn gather(items: &mut Vec<Item>, mut more: Vec<Entry>, tells_apart: &dyn Fn(&str) -> bool) {
    let of_items = |item: &Item| matches!(item, Item::Entry(entry) if is_dotted(entry));
    let mut deeper: FxHashMap<usize, Vec<Entry>> = FxHashMap::default();
    if !more.is_empty() || items.iter().any(of_items) {
        let mut kept = Vec::new();
        let mut dotted = Vec::new();
        for item in std::mem::take(items) {
            match item {
                Item::Entry(entry) if is_dotted(&entry) => dotted.push(entry),
                item => kept.push(item),
            }
        }
        *items = kept;
        dotted.append(&mut more);
        // What says a value itself comes before what leads deeper, and so opens no second entry of its word.
        dotted.sort_by_key(is_dotted);
        let mut level = Level {
            places: FxHashMap::default(),
            items,
            tells_apart,
        };
        level.index();
        for entry in dotted {
            if let Some((place, inner)) = level.put(entry) {
                deeper.entry(place).or_default().push(inner);
            }
        }
    }
    for (place, item) in items.iter_mut().enumerate() {
        if let Item::Entry(entry) = item {
            inside(
                entry,
                deeper.remove(&place).unwrap_or_default(),
                tells_apart,
            );
        }
    }
}

/// Goes on inside an entry, whose block is opened where lines lead into it.
fn inside(entry: &mut Entry, more: Vec<Entry>, tells_apart: &dyn Fn(&str) -> bool) {
    if let Some(first) = more.first() {
        block_of(entry, first.head_span());
    }
    if let Some(block) = &mut entry.block {
        gather(&mut block.items, more, tells_apart);
    }
}

/// One block while lines are put into it.
struct Level<'a> {
    items: &'a mut Vec<Item>,
    tells_apart: &'a dyn Fn(&str) -> bool,
    /// The place of each word, and of its name where one tells it apart.
    places: FxHashMap<(String, Option<String>), usize>,
}

impl Level<'_> {
    fn key(&self, entry: &Entry) -> Option<(String, Option<String>)> {
        let head = entry.head_name()?;
        let name = (self.tells_apart)(head)
            .then(|| entry_name(&entry.values))
            .flatten();
        Some((head.to_owned(), name.map(Cow::into_owned)))
    }

    fn index(&mut self) {
        for (place, item) in self.items.iter().enumerate() {
            if let Item::Entry(entry) = item
                && let Some(key) = self.key(entry)
            {
                self.places.entry(key).or_insert(place);
            }
        }
    }

    /// Puts a line into the block; what leads deeper is given back, with the place of its block.
    fn put(&mut self, entry: Entry) -> Option<(usize, Entry)> {
        let Some((head, mut inner)) = split(entry.clone(), 1) else {
            self.join(entry);
            return None;
        };
        let path = entry.head.as_ref().map_or("", |head| &head.value.0);
        let mut name = None;
        if (self.tells_apart)(path) {
            let Some((own, behind)) = split(inner.clone(), 1) else {
                // The name is all that follows: the line says something of the block as a whole.
                let own = inner.head.take();
                let own = own.map(|own| name_of(&own.value.0, own.span));
                inner.values = own.into_iter().chain(inner.values).collect();
                inner.head = Some(head);
                self.join(inner);
                return None;
            };
            name = Some(name_of(&own.value.0, own.span));
            inner = behind;
        }
        let holder = Entry::opening(head, name, entry.span);
        let key = self.key(&holder)?;
        let place = *self.places.entry(key).or_insert_with(|| {
            self.items.push(Item::Entry(holder));
            self.items.len() - 1
        });
        Some((place, inner))
    }

    /// Adds an entry to a block that may say the rest of it already: its value here, its block there. What is
    /// said both times stays twice.
    fn join(&mut self, entry: Entry) {
        let apart = entry.head_name().is_some_and(self.tells_apart);
        // A name says only which one it is.
        let says = |one: &Entry| one.values.len() > usize::from(apart);
        let key = self.key(&entry);
        let place = key.as_ref().and_then(|key| self.places.get(key).copied());
        let known = place.and_then(|place| match self.items.get_mut(place) {
            Some(Item::Entry(known)) => Some(known),
            _ => None,
        });
        match known {
            Some(known) if entry.block.is_some() && !says(&entry) => {
                let at = entry.head_span();
                let inner = entry.block.into_iter().flat_map(|block| block.items);
                block_of(known, at).items.extend(inner);
            }
            Some(known) if known.block.is_some() && !says(known) => {
                known.head = entry.head;
                known.values = entry.values;
                if let Some(block) = entry.block {
                    block_of(known, block.open).items.extend(block.items);
                }
            }
            _ => {
                if let Some(key) = key {
                    self.places.entry(key).or_insert(self.items.len());
                }
                self.items.push(Item::Entry(entry));
            }
        }
    }
}

fn is_dotted(entry: &Entry) -> bool {
    let points = |path: &Path| path.0.matches('.').count();
    let head = entry.head.as_ref().map(|head| points(&head.value));
    head.is_some_and(|points| (1..MOST_WORDS).contains(&points))
}

/// The first words of a dotted head, and the entry with the rest of it; each with its own place.
fn split(mut entry: Entry, words: usize) -> Option<(Spanned<Path>, Entry)> {
    let head = entry.head.take()?;
    let (end, _) = head.value.0.match_indices('.').nth(words.checked_sub(1)?)?;
    let at = |place: usize| head.span.start + u32::try_from(place).unwrap_or(0);
    let first = head.value.0.get(..end)?.to_owned();
    let rest = head.value.0.get(end + 1..)?.to_owned();
    let start = at(end + 1);
    entry.head = Some(Spanned::new(Path(rest), Span { start, ..head.span }));
    entry.span = Span {
        start,
        ..entry.span
    };
    let before = Span {
        end: at(end),
        ..head.span
    };
    Some((Spanned::new(Path(first), before), entry))
}

fn name_of(name: &str, span: Span) -> Expr {
    let kind = ExprKind::Path(Path(name.to_owned()));
    Expr { kind, span }
}

/// A block of the top level that only dotted lines speak of.
fn top_opened(word: &str, name: Option<String>, entry: &Entry, words: usize) -> Entry {
    let before = split(entry.clone(), words).map(|(before, _)| before.span);
    let at = before.unwrap_or(entry.head_span());
    let name = name.map(|name| name_of(&name, at));
    Entry::opening(Spanned::new(Path(word.to_owned()), at), name, entry.span)
}

/// The block of an entry, opened at a place if there is none.
pub fn block_of(entry: &mut Entry, open: Span) -> &mut Block {
    entry.block.get_or_insert_with(|| Block {
        items: Vec::new(),
        comment: None,
        inline: true,
        open,
        damaged: false,
    })
}
