//! Layers of entries to one tree of settings: which place says what, and which wins.
//!
//! Input: blocks, weakest first (a file, then overrides; later a parent before its child). Output: nodes,
//! one a field, each with every place that set it, the winner last. Blocks merge entry by entry; a kind
//! that changes (`domed` to `flat`) empties its block; the same field twice in one block is a finding.

use std::borrow::Cow;
use std::collections::HashMap;

use crate::finding::Finding;
use crate::schema::{BlockId, CutKind, DRAWS, FieldId};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::ast::{
    Block, Entry, Expr, ExprKind, Item, entries, entry_name, exchange, first_word,
};

use super::error::ModelError;

/// One field with all its places.
#[derive(Clone, Debug)]
pub struct Node<'t> {
    /// The word.
    pub head: &'t str,
    /// Where the word stands in the strongest layer that has it.
    pub at: Span,
    /// What was said, weakest first.
    pub places: Vec<Statement<'t>>,
    /// The fields of its block.
    pub children: Vec<Node<'t>>,
    /// The strongest layer's opening brace, when it has a block.
    pub block: Option<Span>,
    /// The entries of an outline, a path or a pocket, which replaces another whole.
    pub outline: Option<&'t [Item]>,
}

/// One place that says something of a field.
#[derive(Clone, Copy, Debug)]
pub struct Statement<'t> {
    /// What is said.
    pub values: &'t [Expr],
    /// Head and values.
    pub at: Span,
}

impl<'t> Node<'t> {
    /// The place that wins.
    #[must_use]
    pub fn winner(&self) -> Option<&Statement<'t>> {
        self.places.last()
    }

    /// The first value, when it is a bare word.
    #[must_use]
    pub fn word(&self) -> Option<&'t str> {
        first_word(self.winner()?.values)
    }

    /// What tells it from others of its word.
    pub(super) fn name(&self) -> Option<Cow<'t, str>> {
        entry_name(self.winner()?.values)
    }
}

/// Lays one more block over what is there already.
///
/// `tells_apart` says whether entries of a head are told apart by their first word, as tempers are.
pub fn lay<'t>(
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    tells_apart: &dyn Fn(&str) -> bool,
    findings: &mut Vec<Finding>,
) {
    lay_some(nodes, items, &|_| true, tells_apart, findings);
}

/// Whether entries of a word are told apart by a name in a band, as its drawn cuts are.
#[must_use]
pub fn of_band(word: &str) -> bool {
    BlockId::Band.tells_apart(word)
}

/// The word of an entry, and its name where entries of the word are told apart by one.
type Called<'t> = (&'t str, Option<Cow<'t, str>>);

/// Lays those entries over what is there that some words begin.
fn lay_some<'t>(
    nodes: &mut Vec<Node<'t>>,
    items: &'t [Item],
    taken: &dyn Fn(&str) -> bool,
    tells_apart: &dyn Fn(&str) -> bool,
    findings: &mut Vec<Finding>,
) {
    make_room(nodes, items, findings);
    // What is there, by its place, and where this layer has said it.
    let mut known: HashMap<Called<'_>, (usize, Option<Span>)> =
        HashMap::with_capacity(nodes.len() + items.len());
    for (place, node) in nodes.iter().enumerate() {
        let name = if tells_apart(node.head) {
            node.name()
        } else {
            None
        };
        known.entry((node.head, name)).or_insert((place, None));
    }
    for entry in entries(items) {
        let Some(head) = entry.head.as_ref() else {
            // A header that could not be read was reported; it has no values either.
            if let Some(first) = entry.values.first() {
                let at = first.span.to(entry.header_span());
                findings.push(ModelError::NoWord { at }.into());
            }
            continue;
        };
        let word = head.value.0.as_str();
        if word == "without" || !taken(word) {
            continue;
        }
        let name = if tells_apart(word) {
            entry_name(&entry.values)
        } else {
            None
        };
        let (place, said) = known
            .entry((word, name.clone()))
            .or_insert((nodes.len(), None));
        if let Some(first) = said {
            // What could not be read, such as a step, was refused as such.
            let unread = |value: &Expr| matches!(value.kind, ExprKind::Unread(_));
            if entry.values.iter().any(unread) {
                continue;
            }
            findings.push(
                ModelError::GivenTwice {
                    again: head.span,
                    first: *first,
                    name: match &name {
                        Some(name) => format!("{word} {name}"),
                        None => word.to_owned(),
                    },
                }
                .into(),
            );
            continue;
        }
        *said = Some(head.span);
        lay_entry(nodes, *place, entry, word, tells_apart, findings);
    }
}

/// Fields that say the same thing in two ways: a layer that states one does away with the other below it.
const ALTERNATIVES: &[(&str, &str)] = &[
    ("thickness", "outside"),
    ("outside", "thickness"),
    ("repeats", "motif"),
    ("repeats", "multiple"),
    ("motif", "repeats"),
    ("ridge", "lip"),
    ("lip", "ridge"),
    ("markup", "margin"),
    ("markup", "at"),
    ("margin", "markup"),
    ("margin", "at"),
    ("at", "markup"),
    ("at", "margin"),
];

/// Fields whose word says what their block can hold: another word starts with an empty block.
const KINDS: &[&str] = &["profile", "stage", "sale"];

/// The field that gives way to one by its full path, because both say the same thing.
#[must_use]
pub fn alternative(path: &str) -> Option<&'static str> {
    let (holder, word) = path.rsplit_once('.').unwrap_or(("", path));
    let found = ALTERNATIVES.iter().find(|(stated, _)| *stated == word);
    found.map(|(_, other)| *other).filter(|other| {
        let other = if holder.is_empty() {
            (*other).to_owned()
        } else {
            format!("{holder}.{other}")
        };
        crate::schema::find(&other).is_some()
    })
}

/// Whether a field's word, by its full path, says what its block can hold.
#[must_use]
pub fn says_kind(path: &str) -> bool {
    KINDS.contains(&path.rsplit('.').next().unwrap_or(path))
}

/// Whether laying some entries over what is there takes away a written `±`: where, and where it is written.
pub fn dropped(
    nodes: &[Node<'_>],
    items: &[Item],
    tells_apart: &dyn Fn(&str) -> bool,
) -> Vec<(Span, Span)> {
    let mut found = Vec::new();
    for entry in entries(items) {
        let is_it = |node: &&Node<'_>| {
            let of_name = || node.name() == entry_name(&entry.values);
            entry.head_name() == Some(node.head) && (!tells_apart(node.head) || of_name())
        };
        let Some(node) = nodes.iter().find(is_it) else {
            continue;
        };
        if let Some(before) = node.winner()
            && deviates(before.values)
            && !entry.values.is_empty()
            && !deviates(&entry.values)
        {
            found.push((entry.header_span(), before.at));
        }
        if let Some(block) = &entry.block {
            found.extend(dropped(&node.children, &block.items, tells_apart));
        }
    }
    found
}

/// Whether some value has a `±` written behind it.
pub(super) fn deviates(values: &[Expr]) -> bool {
    let mut values = values.iter();
    values.any(|value| matches!(value.kind, ExprKind::Tolerance { .. }))
}

/// Takes away what a block leaves out (`without hollow`) or says in another way.
fn make_room(nodes: &mut Vec<Node<'_>>, items: &[Item], findings: &mut Vec<Finding>) {
    if nodes.is_empty() && !entries(items).any(|entry| entry.head_name() == Some("without")) {
        return;
    }
    let states = |word: &str| entries(items).any(|entry| entry.head_name() == Some(word));
    for (stated, other) in ALTERNATIVES {
        if states(stated) && !states(other) {
            nodes.retain(|node| node.head != *other);
        }
    }
    // A rate says the same thing from either side.
    let pairs: Vec<(&str, &str)> = entries(items)
        .filter_map(|entry| exchange(&entry.values))
        .collect();
    if !pairs.is_empty() {
        nodes.retain(|node| {
            let pair = node.winner().and_then(|place| exchange(place.values));
            pair.is_none_or(|(one, other)| {
                !pairs.contains(&(other, one)) || pairs.contains(&(one, other))
            })
        });
    }
    for entry in entries(items).filter(|entry| entry.head_name() == Some("without")) {
        if entry.values.is_empty() || entry.block.is_some() {
            findings.push(
                ModelError::ValueCount {
                    at: entry.head_span().after(),
                    field: "without".to_owned(),
                    wanted: "the name of a field".to_owned(),
                    label: "here",
                    help: "as in `without hollow`".to_owned(),
                }
                .into(),
            );
        }
        for value in &entry.values {
            let gone = match &value.kind {
                // Parts as made are laid in last, and left out there.
                ExprKind::Path(path) => {
                    BlockId::of_ring(&path.0).is_some() || take_away(nodes, &path.0)
                }
                _ => false,
            };
            if !gone {
                findings.push(
                    ModelError::NothingToLeaveOut {
                        at: value.span,
                        help: to_leave_out(nodes, &crate::syntax::print_expression(value)),
                        name: crate::syntax::print_expression(value),
                    }
                    .into(),
                );
            }
        }
    }
}

/// What a band has that can be left out, nearest first.
fn to_leave_out(nodes: &[Node<'_>], name: &str) -> String {
    let heads: Vec<&str> = nodes.iter().map(|node| node.head).collect();
    match nearest(name, heads) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`without` takes away a field of the band that the variant is made of".to_owned(),
    }
}

/// Takes a field away by its path; whether it was there.
fn take_away(nodes: &mut Vec<Node<'_>>, path: &str) -> bool {
    match path.split_once('.') {
        Some((first, rest)) => nodes
            .iter_mut()
            .find(|node| node.head == first)
            .is_some_and(|node| take_away(&mut node.children, rest)),
        None => {
            let before = nodes.len();
            nodes.retain(|node| node.head != path);
            nodes.len() < before
        }
    }
}

/// Lays one entry over the node at a place, or makes that node.
fn lay_entry<'t>(
    nodes: &mut Vec<Node<'t>>,
    place: usize,
    entry: &'t Entry,
    word: &'t str,
    tells_apart: &dyn Fn(&str) -> bool,
    findings: &mut Vec<Finding>,
) {
    if place == nodes.len() {
        nodes.push(Node {
            head: word,
            at: entry.head_span(),
            places: Vec::new(),
            children: Vec::new(),
            block: None,
            outline: None,
        });
    }
    let Some(node) = nodes.get_mut(place) else {
        return;
    };
    node.at = entry.head_span();
    // Where entries are told apart by a name, that name alone says nothing new of the one that has it.
    let one = matches!(entry.values.as_slice(), [_]) && entry.block.is_some();
    let is_name = one && first_word(&entry.values).is_some();
    let names_only = tells_apart(word) && is_name && !node.places.is_empty();
    if !names_only && (!entry.values.is_empty() || entry.block.is_none()) {
        // Words elsewhere are values like others: `ridge tall` to `ridge 0.12 mm` changes no kind.
        let before = node.word().filter(|_| KINDS.contains(&word));
        let changed = before.is_some() && before != first_word(&entry.values);
        if changed {
            node.children.clear();
            node.outline = None;
        }
        node.places.push(Statement {
            values: &entry.values,
            at: entry.header_span(),
        });
    }
    if let Some(block) = &entry.block {
        node.block = Some(block.open);
        if word == "profile" && first_word(&entry.values) == Some("custom") {
            node.children.clear();
            node.outline = Some(&block.items);
            return;
        }
        if !CutKind::of_word(word).is_some_and(CutKind::is_drawn) {
            lay(&mut node.children, &block.items, tells_apart, findings);
            return;
        }
        let draws = |word: &str| DRAWS.contains(&word);
        let mut heads = entries(&block.items).filter_map(Entry::head_name);
        if heads.any(draws) {
            node.outline = Some(&block.items);
        }
        let fields = |word: &str| !draws(word);
        lay_some(
            &mut node.children,
            &block.items,
            &fields,
            tells_apart,
            findings,
        );
        ramp(&mut node.children);
    }
}

/// `depth 0 mm to 0.3 mm` says two fields: where a path begins, and where it ends.
fn ramp(nodes: &mut Vec<Node<'_>>) {
    let depth = FieldId::PatternPathDepth.word();
    let Some(node) = nodes.iter_mut().find(|node| node.head == depth) else {
        return;
    };
    let at = node.at;
    let Some(place) = node.places.last_mut() else {
        return;
    };
    let is_to = |value: &Expr| matches!(&value.kind, ExprKind::Path(path) if path.0 == "to");
    if let [first, to, last] = place.values
        && is_to(to)
    {
        let whole = place.at;
        place.values = std::slice::from_ref(first);
        let head = FieldId::PatternPathRamp.word();
        nodes.retain(|node| node.head != head);
        nodes.push(Node {
            head,
            at,
            places: vec![Statement {
                values: std::slice::from_ref(last),
                at: whole,
            }],
            children: Vec::new(),
            block: None,
            outline: None,
        });
    }
}

/// The node of a full path.
pub fn node<'a, 't>(nodes: &'a [Node<'t>], path: &str) -> Option<&'a Node<'t>> {
    let (first, rest) = path
        .split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)));
    let found = nodes.iter().find(|node| node.head == first)?;
    match rest {
        Some(rest) => node(&found.children, rest),
        None => Some(found),
    }
}

/// Whether some text in a block could not be read.
pub fn has_broken(block: &Block) -> bool {
    block.damaged
        || block.items.iter().any(|item| match item {
            Item::Broken(_) => true,
            Item::Entry(entry) => {
                entry.head.is_none() || entry.block.as_ref().is_some_and(has_broken)
            }
            Item::Comment(_) => false,
        })
}
